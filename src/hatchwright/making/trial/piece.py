"""The trial piece: a small opening cut on scrap with a template of its own, and the places to measure it at."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.making.template.guide_template import Guide, GuideChain, guide_chain
from hatchwright.said import inch, missing, said
from hatchwright.shapes.offset import erode
from hatchwright.shapes.outlines import circle, rounded_rectangle
from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.profile import profile_of
from hatchwright.units import Unit

PieceKind = Literal["square", "disc", "corner"]


class TrialPiece(Struct, frozen=True):
    """A trial opening round the datum cross at (0, 0).

    Args:
        kind: "square", "disc", or "corner", a square with the sharpest corner of the job.
        size_in: finished size, along X and Y alike [in].
        width_in: width of the rough cut that the template is made for [in].
        finished_corner_in: radius of its finished corners, 0 on a disc [in].
        places: numbered places on the rough line, counter-clockwise from the lower right, shape (12, 2) [in].
        normals: directions out of the opening there, shape (12, 2) [-].
    """

    kind: PieceKind
    size_in: float
    width_in: float
    finished_corner_in: float
    chain: GuideChain
    places: Floats
    normals: Floats

    @property
    def corner_in(self) -> float:
        """Radius of the corners that the cutter is to leave, 0 without corners [in]."""
        corner = self.chain.predicted_corner
        return corner.radius_in if corner and self.kind != "disc" else 0.0

    @property
    def template_in(self) -> float:
        """Width of the trial template's window or plug, along X and Y alike [in]."""
        x_min, _, x_max, _ = self.chain.machinable.bounds
        return x_max - x_min


def trial_piece(
    kind: PieceKind, *, size_in: float, allowance_in: float, corner_in: float, guide: Guide, unit: Unit = "in"
) -> TrialPiece:
    """Plan a trial opening for a cutter.

    Args:
        corner_in: sharpest corner of the job's rough line, for the piece "corner" [in].
        unit: in which a refusal tells lengths.
    Raises:
        GeometryError: the piece is too small for the cutter or for that corner.
    """
    sharpest_in = guide.cut_in / 2.0 if guide.kind == "female" else (guide.guide_in + guide.cut_in) / 2.0
    radius_in = max(corner_in if kind == "corner" else 0.0, sharpest_in)
    if size_in <= 4.0 * (radius_in + allowance_in):
        raise GeometryError(
            said("trial.no_sides", size=inch(size_in)),
            where="size",
            remedy=said("trial.no_sides.do", size=missing(4.0 * (radius_in + allowance_in))),
            unit=unit,
        )
    corner_radius_in, width_in = radius_in + allowance_in, size_in - 2.0 * allowance_in
    if kind == "disc":
        finished = circle(diameter_in=size_in)
        angles = np.arange(12) * np.pi / 6.0
        normals = np.column_stack([np.cos(angles), np.sin(angles)])
        places = normals * width_in / 2.0
    else:
        finished = rounded_rectangle(width_in=size_in, height_in=size_in, radius_in=corner_radius_in)
        normals = np.repeat(list(map(np.array, _SIDES)), 3, axis=0).astype(np.float64)
        # Three places a side: at its middle and half-way to both ends of its straight.
        along = np.tile([-0.5, 0.0, 0.5], 4)[:, None] * (width_in / 2.0 - radius_in)
        places = normals * width_in / 2.0 + np.column_stack([-normals[:, 1], normals[:, 0]]) * along
    return TrialPiece(
        kind=kind,
        size_in=size_in,
        width_in=width_in,
        finished_corner_in=0.0 if kind == "disc" else corner_radius_in,
        chain=guide_chain(erode(profile_of(finished), allowance_in), guide, unit=unit),
        places=places,
        normals=normals,
    )


_SIDES = {(1, 0): "right", (0, 1): "top", (-1, 0): "left", (0, -1): "bottom"}


def side_of(normal: Sequence[float] | Floats) -> str:
    """The side of a square that a direction leaves by: right, top, left or bottom."""
    return _SIDES[(round(float(normal[0])), round(float(normal[1])))]
