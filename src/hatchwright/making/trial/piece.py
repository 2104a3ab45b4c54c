"""The trial piece: a small opening cut on scrap with a template of its own, and the places to measure it at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.making.template.guide_template import Guide, GuideChain, guide_chain
from hatchwright.said import inch, missing, said
from hatchwright.shapes.offset import erode
from hatchwright.shapes.outlines import circle, rounded_rectangle
from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.profile import Loop, profile_of
from hatchwright.units import Unit

PieceKind = Literal["square", "disc", "corner"]


@dataclass(frozen=True, slots=True)
class TrialPiece:
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
    rough = erode(profile_of(_finished(kind, size_in, radius_in + allowance_in)), allowance_in)
    width_in = size_in - 2.0 * allowance_in
    normals = _disc_normals() if kind == "disc" else _square_normals()
    places = normals * width_in / 2.0
    if kind != "disc":
        places += _along_sides() * (width_in / 2.0 - radius_in)
    return TrialPiece(
        kind=kind,
        size_in=size_in,
        width_in=width_in,
        finished_corner_in=0.0 if kind == "disc" else radius_in + allowance_in,
        chain=guide_chain(rough, guide, unit=unit),
        places=places,
        normals=normals,
    )


def _finished(kind: PieceKind, size_in: float, radius_in: float) -> Loop:
    if kind == "disc":
        return circle(diameter_in=size_in)
    return rounded_rectangle(width_in=size_in, height_in=size_in, radius_in=radius_in)


def _disc_normals() -> Floats:
    angles = np.arange(12) * np.pi / 6.0
    return np.column_stack([np.cos(angles), np.sin(angles)])


def _square_normals() -> Floats:
    return np.repeat([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]], 3, axis=0)


def _along_sides() -> Floats:
    """Three places a side, at its middle and half-way to both ends of its straight, as a share of half of it."""
    ahead = np.repeat([[0.0, 1.0], [-1.0, 0.0], [0.0, -1.0], [1.0, 0.0]], 3, axis=0)
    shares: Floats = ahead * np.tile([-0.5, 0.0, 0.5], 4)[:, None]
    return shares
