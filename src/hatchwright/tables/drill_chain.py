"""The chain of drills for one layer of a rivet hole: pilot, dimple, final."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.errors import TableError
from hatchwright.tables.catalog import DRILL_CHAINS
from hatchwright.tables.drills import Drill, drill
from hatchwright.tables.table import Row, ShopTables
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class DrillStep:
    """One step.

    Args:
        operation: "pilot", "open", "dimple" or "final".
        drill: the drill, None for a dimple.
        note: what a reader must know beside it.
        source: where the step stands.
        grade: how far it is to be trusted.
    """

    operation: str
    drill: Drill | None
    note: str
    source: Source
    grade: Grade


def drill_methods(
    diameter_in: float, preparation: str = "plain", shop: ShopTables | None = None
) -> tuple[str, ...]:
    """By which methods a layer's hole can be made, the default first.

    Args:
        diameter_in: nominal rivet diameter [in].
        preparation: "plain" or "dimpled"; a countersunk layer is drilled as a plain one.
        shop: a shop's own rows, when there are any.
    Returns:
        tuple[str, ...]: "direct" or "undersize"; empty when none is listed.
    """
    return tuple(dict.fromkeys(row.text("method") for row in _steps(diameter_in, preparation, shop)))


def drill_chain(
    diameter_in: float, preparation: str = "plain", *, method: str = "", shop: ShopTables | None = None
) -> tuple[DrillStep, ...]:
    """The steps of one layer's hole.

    Args:
        diameter_in: nominal rivet diameter [in].
        preparation: "plain" or "dimpled"; a countersunk layer is drilled as a plain one.
        method: "direct" or "undersize" (pilot small enough that the dimple does not pass the final size); when ""
            the first listed.
        shop: a shop's own rows, when there are any.
    Returns:
        tuple[DrillStep, ...]: in the order of the work.
    Raises:
        TableError: no chain is listed.

    >>> [str(step.drill) for step in drill_chain(0.1875)]
    ['#40', '#21', '#11']
    """
    methods = drill_methods(diameter_in, preparation, shop)
    wanted = method or (methods[0] if methods else "direct")
    if wanted not in methods:
        raise TableError(
            f"no '{wanted}' chain of drills is listed for a {preparation} hole of a {diameter_in:.4f} in rivet",
            where="drill chains",
            remedy=f"Methods listed: {', '.join(methods) or 'none'}; make a trial piece, or add the shop's own rows",
        )
    steps = [row for row in _steps(diameter_in, preparation, shop) if row.text("method") == wanted]
    steps = [row for row in steps if row.grade is Grade.SHOP] or steps
    return tuple(
        DrillStep(
            operation=row.text("operation"),
            drill=drill(row.text("drill")) if row.text("drill") else None,
            note=row.text("note"),
            source=row.source,
            grade=row.grade,
        )
        for row in sorted(steps, key=lambda row: int(row.text("step")))
    )


def _steps(diameter_in: float, preparation: str, shop: ShopTables | None) -> list[Row]:
    layer = "plain" if preparation == "countersunk" else preparation
    return [
        row
        for row in DRILL_CHAINS.rows(shop)
        if row.is_size("diameter_in", diameter_in) and row.text("preparation") == layer
    ]
