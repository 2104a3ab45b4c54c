"""The chain of drills for one layer of a rivet hole: pilot, dimple, final."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from hatchwright.tables.columns import OptionalText
from hatchwright.tables.drills import Drill, drill
from hatchwright.tables.table import Record, ShopTables, Table, shop_first
from hatchwright.workings import Grade, Source


class _Step(Record, frozen=True):
    diameter_in: float
    preparation: Literal["plain", "dimpled"]
    method: str
    step: Literal["1", "2", "3", "4", "5", "6"]
    operation: Literal["pilot", "open", "dimple", "final"]
    drill: OptionalText
    note: OptionalText


DRILL_CHAINS = Table(_Step, "drill_chains", named_by=4, otherwise=True, asks=("preparation", "diameter_in"))


class DrillStep(Struct, frozen=True):
    """One step.

    Args:
        operation: what is done; a countersink is never in the table, since it follows the last drill, nor is it that a
            dimpled hole is reamed where it is still tight.
        drill: None for what takes none, and where nobody knows it.
    """

    operation: Literal["pilot", "open", "dimple", "final", "countersink", "ream", "not known"]
    drill: Drill | None
    note: str
    source: Source
    grade: Grade


def drill_methods(
    diameter_in: float, preparation: str = "plain", shop: ShopTables | None = None
) -> tuple[str, ...]:
    """By which methods a layer's hole can be made, "direct" or "undersize", the default first; none when not listed.

    Args:
        preparation: "plain" or "dimpled"; a countersunk layer is drilled as a plain one.
    """
    steps = DRILL_CHAINS.all(shop, diameter_in=diameter_in, preparation=_layer(preparation))
    return tuple(dict.fromkeys(step.method for step in steps))


def drill_chain(
    diameter_in: float, preparation: str = "plain", *, method: str = "", shop: ShopTables | None = None
) -> tuple[DrillStep, ...]:
    """The steps of one layer's hole, in the order of the work.

    Args:
        preparation: "plain" or "dimpled"; a countersunk layer is drilled as a plain one.
        method: "direct" or "undersize" (pilot small enough that the dimple does not pass the final size); when ""
            the first listed.
    Raises:
        TableError: no chain is listed.

    >>> [str(step.drill) for step in drill_chain(0.1875)]
    ['#40', '#21', '#11']
    """
    steps = DRILL_CHAINS.some(
        shop, preparation=_layer(preparation), diameter_in=diameter_in, method=method or None
    )
    steps = tuple(step for step in steps if step.method == steps[0].method)
    return tuple(
        DrillStep(
            step.operation, drill(step.drill) if step.drill else None, step.note, step.source, step.grade
        )
        for step in sorted(shop_first(steps), key=lambda step: int(step.step))
    )


def _layer(preparation: str) -> str:
    return "plain" if preparation == "countersunk" else preparation
