"""How findings name holes, edges and parts."""

from __future__ import annotations

from functools import lru_cache

from hatchwright.layout.layout import Edge, Hole, Part, PartName
from hatchwright.said import Numbered, Said, said
from hatchwright.tables.rivet_part import parse_rivet

_FEW = 3
"""More holes than these are not named one by one in a sentence [-]."""


def numbered(*holes: Hole) -> Numbered:
    """Holes by number, such as rivets 4 and 5: holes of two kinds are called holes."""
    kinds = {hole.kind for hole in holes}
    return Numbered(kinds.pop() if len(kinds) == 1 else "hole", tuple(hole.number for hole in holes))


def some_numbered(*holes: Hole) -> Numbered | Said:
    """A few holes by number, more of them only counted."""
    named = numbered(*holes)
    return named if len(holes) <= _FEW else said(f"kind.{named.kind}.counted", n=len(holes))


def edge_named(edge: Edge) -> Said:
    """An edge in the trade's words."""
    return said(f"edge.{edge.name.replace(' ', '_')}")


def part_named(part: Part) -> Said:
    """Skin, doubler or cover."""
    return part_called(part.name)


def part_called(name: PartName) -> Said:
    """The same by the name alone, as a hole's stack has it."""
    return said(f"part.{name}")


def is_flush(hole: Hole) -> bool:
    """Whether a rivet's head is countersunk."""
    return _is_flush(hole.fastener)


@lru_cache(maxsize=256)
def _is_flush(part_number: str) -> bool:
    return parse_rivet(part_number).is_flush
