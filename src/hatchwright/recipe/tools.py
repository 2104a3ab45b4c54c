"""The tools that tasks take, each told in the same words on its step and on the tool list."""

from __future__ import annotations

import math
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, replace

from hatchwright.errors import TableError
from hatchwright.said import Said, Value, inch, said
from hatchwright.tables.drills import Drill
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables
from hatchwright.tables.temporary_fasteners import temporary_fastener

TEMPORARY = "tools.temporary"
"""The sentence that names a temporary fastener."""


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool, by what it is and its size; how many of it the task takes at once."""

    name: Said
    count: int = 1


def tool(what: str, **values: Value) -> Tool:
    """A tool by its name in the catalog."""
    return Tool(said(f"tools.{what}", **values))


def drill_of(drill: Drill) -> Tool:
    """A drill, by its name with its size."""
    return tool("drill", drill=str(drill), size=inch(drill.diameter_in, fine=True))


def held_with(
    hole_in: float, holes: int, shop: ShopTables | None = None, *, every: int | None = None
) -> tuple[Tool, ...]:
    """Temporary fasteners for so many holes of one size; none where none is listed.

    Args:
        every: which hole takes one, None for as dense as practice asks.

    >>> [one.count for one in held_with(0.098, 64)]
    [22]
    """
    with suppress(TableError):
        one = temporary_fastener(hole_in, shop)
        of = every or limit("temporary_fastener_every_min", shop).value
        name = said(TEMPORARY, size=inch(one.diameter_in), color=one.colour)
        return (Tool(name, math.ceil(holes / of)),)
    return ()


def tool_list(tools: Iterable[Tool]) -> tuple[Tool, ...]:
    """Every tool once, with the most that one task takes of it, in the order in which they are taken first."""
    found: dict[Said, Tool] = {}
    for one in tools:
        known = found.get(one.name)
        found[one.name] = one if known is None else replace(known, count=max(known.count, one.count))
    return tuple(found.values())
