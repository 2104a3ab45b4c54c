"""The flat pieces that a job cuts from sheet, as they lie before they are formed: doubler or halves, cover, plug."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

import numpy as np
from msgspec import Struct

from hatchwright.drawings.ink import Layer
from hatchwright.drawings.part_sheet_outline import plainest
from hatchwright.errors import GeometryError
from hatchwright.job.frame import OPPOSITE, Direction
from hatchwright.layout.flat_pattern import FlatPattern, flat_doubler
from hatchwright.layout.layout import Hole, Layout, Part, PartName
from hatchwright.layout.sizes import is_round
from hatchwright.said import Said, said
from hatchwright.shapes.boolean import difference
from hatchwright.shapes.corners import smallest_corner
from hatchwright.shapes.profile import Loop, Profile, profile_of

_LAYERS: dict[PartName, Layer] = {"doubler": Layer.DOUBLER, "cover": Layer.COVER, "plug": Layer.PLUG}

Place = tuple[float, float]


class Piece(Struct, frozen=True, dict=True):
    """One piece.

    Args:
        title: what it is, as its sheet is headed.
        file: what tells its files from those of the other pieces.
        outer: its edge, counter-clockwise, in the job's directions [in].
        windows: the edges of what is cut out of it [in].
        holes: the holes of the job that it gets, with their places on it [in].
        flat: how it is laid flat, None for what is flat where it lies.
        is_made: whether its edge was measured on a part that is made.
    """

    title: Said
    file: str
    part: Part
    outer: Loop
    windows: tuple[Loop, ...]
    holes: tuple[tuple[Hole, Place], ...]
    flat: FlatPattern | None = None
    is_made: bool = False

    @property
    def layer(self) -> Layer:
        """That of its edges in a machine file."""
        return _LAYERS[self.part.name]

    @cached_property
    def is_round(self) -> bool:
        """Whether its edge is a circle, which has no side to measure from."""
        return is_round(self.outer.bounds, smallest_corner(self.outer))

    @cached_property
    def datum(self) -> Place:
        """What its figures are from: the corner of its over-all size at the least X and Y, of a round one its center
        [in]."""
        x_min, y_min, x_max, y_max = self.outer.bounds
        return ((x_min + x_max) / 2.0, (y_min + y_max) / 2.0) if self.is_round else (x_min, y_min)

    def from_datum(self, place: Place) -> Place:
        """A place on it as its sheet tells it [in]."""
        x, y = self.datum
        return place[0] - x, place[1] - y


def pieces_of(layout: Layout) -> tuple[Piece, ...]:
    """Every piece of a job, in the order of its parts."""
    return tuple(piece for part in layout.parts if part.name != "skin" for piece in _pieces(part, layout))


def _pieces(part: Part, layout: Layout) -> Iterator[Piece]:
    """Those of one part; none of a doubler that has no flat pattern, as T701 says."""
    outer = part.edges[0]
    holes = tuple((hole, hole.place) for hole in layout.holes if part.name in hole.stack)
    if any(edge.is_split for edge in part.edges):
        yield from _halves(part, layout, holes)
        return
    title, edges, flat = said(f"part_sheet.{part.name}"), tuple(edge.loop for edge in part.edges), None
    if part.name == "doubler" and layout.job.skin.curvature is not None:
        try:
            flat = flat_doubler(layout)
        except GeometryError:
            return
    if flat is not None:
        title, edges, holes = said("part_sheet.flat_doubler"), tuple(map(plainest, flat.edges)), flat.holes
    is_made = outer.uncertainty_in > 0.0
    yield Piece(title, part.name.upper(), part, edges[0], edges[1:], holes, flat, is_made)


def _halves(part: Part, layout: Layout, holes: tuple[tuple[Hole, Place], ...]) -> Iterator[Piece]:
    """The two pieces of a split doubler, that at the lesser coordinate first, each with the holes that lie on it."""
    split = layout.job.patch and layout.job.patch.split
    assert split  # only then there is such an edge
    axis = split.axis
    strip = next(edge.loop for edge in part.edges if edge.is_split)
    whole = profile_of(*(edge.loop for edge in part.edges if not edge.is_split))
    loops = difference(whole, profile_of(strip)).loops
    outers = sorted((loop for loop in loops if loop.area_sq_in > 0.0), key=lambda loop: loop.bounds[axis])
    word: Direction = layout.frame.x if axis == 0 else layout.frame.y
    for place, (outer, way) in enumerate(zip(outers, (OPPOSITE[word], word), strict=True), start=1):
        region = Profile((outer,))
        inside = region.contains(np.array([at for _, at in holes]).reshape(-1, 2)).tolist()
        mine = tuple(one for one, is_on in zip(holes, inside, strict=True) if is_on)
        windows = tuple(
            loop.reversed()
            for loop in loops
            if loop.area_sq_in < 0.0 and region.contains([tuple(loop.rows[0, :2].tolist())])[0]
        )
        title = said("part_sheet.half", way=way)
        yield Piece(title, f"DOUBLER_{place}", part, outer, windows, mine)
