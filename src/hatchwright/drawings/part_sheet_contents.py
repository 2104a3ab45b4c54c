"""What one part sheet tells of its pieces, in words and in tables."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Self

from msgspec import Struct

from hatchwright.drawings.block import Block
from hatchwright.drawings.part_sheet_holes import HoleGroup, has_rows, hole_groups
from hatchwright.drawings.part_sheet_patterns import Pattern, patterns
from hatchwright.drawings.part_sheet_pieces import Piece
from hatchwright.drawings.part_sheet_words import caption, material_said, notes, said_of_all, tables
from hatchwright.drawings.scale import Scale
from hatchwright.drawings.table import Table
from hatchwright.layout.layout import Layout
from hatchwright.recipe.recipe import Recipe
from hatchwright.said import Said


class Contents(Struct, frozen=True, dict=True):
    """The pieces of one sheet with their holes.

    Args:
        groups: of the holes of each piece, by the name of its file.
        patterns: the groups whose places the table of another one tells.
        is_brief: whether what the sheet tells elsewhere is left out: places that another table gives, and direction
            arrows beside the axes of each view.
    """

    layout: Layout
    pieces: Sequence[Piece]
    groups: dict[str, tuple[HoleGroup, ...]]
    patterns: tuple[Pattern, ...]
    is_brief: bool

    @classmethod
    def of(cls, pieces: Sequence[Piece], layout: Layout, recipe: Recipe, *, is_brief: bool) -> Self:
        """Those of some pieces."""
        groups = hole_groups(pieces, recipe)
        alike = patterns(pieces, groups, layout.job.unit) if is_brief else ()
        return cls(layout, pieces, groups, alike, is_brief)

    @cached_property
    def tables(self) -> tuple[Table, ...]:
        """The points and the holes of each piece."""
        return tuple(
            table for piece in self.pieces for table in tables(piece, self._listed(piece), self.layout)
        )

    def words(self, scale: Scale, width_in: float) -> tuple[Block, ...]:
        """What is said of each piece, and the notes of all, in columns of a width."""
        unit, of_all = self.layout.job.unit, said_of_all(self.pieces, self.layout)
        is_thinned = not scale.is_full and any(self.groups.values())
        is_spaced = any(map(has_rows, self.tables))
        # The block above the title names the material of one piece.
        elsewhere = of_all if len(self.pieces) > 1 else (material_said(self.pieces[0], unit),)
        of_pieces = (self._caption(piece, elsewhere, width_in) for piece in self.pieces)
        return (
            *of_pieces,
            notes(self.layout, of_all, is_thinned=is_thinned, has_rows=is_spaced, width_in=width_in),
        )

    def _caption(self, piece: Piece, elsewhere: Sequence[Said], width_in: float) -> Block:
        groups = self.groups[piece.file]
        letters = {group.letter for group in groups}
        also = tuple(one.said(self.layout.job.unit) for one in self.patterns if one.letter in letters)
        return caption(piece, groups, self.layout, width_in=width_in, but_for=elsewhere, also=also)

    def _listed(self, piece: Piece) -> tuple[HoleGroup, ...]:
        """The groups of a piece that have a table of their own."""
        told = {one.letter for one in self.patterns}
        return tuple(group for group in self.groups[piece.file] if group.letter not in told)
