"""Holes of two pieces of one sheet that lie alike, such as the screws of doubler and cover, with places told once.

Told so are only places for checking: what is drilled at the bench by its figures has them in its own table.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from hatchwright.drawings.part_sheet_holes import HoleGroup
from hatchwright.drawings.part_sheet_pieces import Piece, Place
from hatchwright.said import Said, said
from hatchwright.units import MM_PER_IN, Unit, figure

_OFF_IN = 1e-9
_LEAST = 4


class Pattern(Struct, frozen=True):
    """A group whose holes lie as those of another piece's group.

    Args:
        letter: of the group.
        other: the letter of the group whose table tells them.
        by: what is added to the places of that one [in].
    """

    letter: str
    other: str
    by: Place

    def said(self, unit: Unit) -> Said:
        """How their places follow from the table of the other group."""
        x, y = (f"{'-' if one < 0.0 else '+'} {figure(abs(one), unit)}" for one in self.by)
        return said("part_sheet.pattern", letter=self.letter, other=self.other, x=x, y=y)


def patterns(
    pieces: Sequence[Piece], groups: Mapping[str, tuple[HoleGroup, ...]], unit: Unit
) -> tuple[Pattern, ...]:
    """The groups of one sheet that need no table of their own, none of which another one refers to."""
    found: list[Pattern] = []
    for piece in pieces:
        for group in groups[piece.file]:
            if group.letter not in {one.other for one in found} and len(group.holes) >= _LEAST:
                told = {one.letter for one in found}
                alike = _alike(piece, group, pieces, groups, unit)
                found += [one for one in alike if one.other not in told][:1]
    return tuple(found)


def _alike(
    piece: Piece,
    group: HoleGroup,
    pieces: Sequence[Piece],
    groups: Mapping[str, tuple[HoleGroup, ...]],
    unit: Unit,
) -> Iterator[Pattern]:
    if group.at_bench or any(hole.is_made for hole, _ in group.holes):
        return
    mine = {hole.number: piece.from_datum(place) for hole, place in group.holes}
    for one in pieces:
        for other in groups[one.file] if one is not piece else ():
            theirs = {hole.number: one.from_datum(place) for hole, place in other.holes}
            by = _between(mine, theirs, unit) if mine.keys() == theirs.keys() else None
            if by is not None:
                yield Pattern(group.letter, other.letter, by)


def _between(mine: Mapping[int, Place], theirs: Mapping[int, Place], unit: Unit) -> Place | None:
    """What is to be added to their places to have mine, None where no printed figure does it for all [in]."""
    per_in = MM_PER_IN if unit == "mm" else 1.0
    x, y = ([mine[number][axis] - theirs[number][axis] for number in mine] for axis in (0, 1))
    by = tuple(float(figure(one[0], unit)) / per_in for one in (x, y))
    is_exact = all(abs(one - by[axis]) < _OFF_IN for axis, some in enumerate((x, y)) for one in some)
    return (by[0], by[1]) if is_exact else None
