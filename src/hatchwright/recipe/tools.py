"""The tools that tasks take, each told in the same words on its step and on the tool list."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from contextlib import suppress

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import TableError
from hatchwright.said import Said, Value, inch, said
from hatchwright.tables.drills import Drill
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables
from hatchwright.tables.temporary_fasteners import loose_over_in, temporary_fastener

TEMPORARY = "tools.temporary"
"""The sentence that names a temporary fastener."""


class Tool(Struct, frozen=True):
    """A tool, by what it is and its size.

    Args:
        count: how many of it the task takes at once.
        loose_over_in: of a temporary fastener in a hole too large for it, the greatest that it is meant for [in].
    """

    name: Said
    count: int = 1
    loose_over_in: float | None = None


def tool(what: str, **values: Value) -> Tool:
    """A tool by its name in the catalog."""
    return Tool(said(f"tools.{what}", **values))


def drill_of(drill: Drill) -> Tool:
    """A drill, by its name with its size."""
    return tool("drill", drill=str(drill), size=inch(drill.diameter_in, fine=True))


def held_with(
    holes_in: Iterable[float], shop: ShopTables | None = None, *, every: int | None = None
) -> tuple[Tool, ...]:
    """Temporary fasteners for some holes, by size; none for a hole for which none is listed.

    Args:
        holes_in: the size of each hole [in].
        every: which hole takes one, None for as dense as practice asks.

    >>> [one.count for one in held_with([0.098] * 64)]
    [22]
    """
    of, number = every or limit("temporary_fastener_every_min", shop).value, Counter[Tool]()
    for hole_in, holes in Counter(holes_in).items():
        with suppress(TableError):
            one = temporary_fastener(hole_in, shop)
            name = said(TEMPORARY, size=inch(one.diameter_in), color=one.colour)
            number[Tool(name, loose_over_in=loose_over_in(hole_in, one, shop))] += holes
    return tuple(replace(one, count=math.ceil(holes / of)) for one, holes in number.items())


def tool_list(tools: Iterable[Tool]) -> tuple[Tool, ...]:
    """Every tool once, with the most that one task takes of it, in the order in which they are taken first."""
    found: dict[Said, Tool] = {}
    for one in tools:
        known = found.setdefault(one.name, one)
        loose_in = known.loose_over_in or one.loose_over_in
        found[one.name] = replace(known, count=max(known.count, one.count), loose_over_in=loose_in)
    return tuple(found.values())
