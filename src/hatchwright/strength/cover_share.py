"""What a cover that may carry takes over, by how its screws sit in their holes."""

from __future__ import annotations

from enum import StrEnum

import numpy as np
from msgspec import Struct

from hatchwright.fem.bound import TwiceSolved
from hatchwright.fem.clearance import settled
from hatchwright.fem.curve import Array
from hatchwright.fem.model import OpeningModel
from hatchwright.fem.solution import Response, UnitSolution
from hatchwright.strength.fastener_load import FastenerLoad, fastener_loads
from hatchwright.strength.site import Site, finished_hole_in


class CoverFit(StrEnum):
    """How the screws of a cover that carries sit in their holes."""

    CENTERED = "centered"
    TIGHT = "tight"


class CoverShare(Struct, frozen=True):
    """What the cover carries in one case.

    Args:
        direct_lbf: carried across its middle along X and along Y, tension positive [lbf].
        shear_lbf: shear across its middle, the greater of both sections [lbf].
    """

    fit: CoverFit
    screws: tuple[FastenerLoad, ...]
    direct_lbf: tuple[float, float]
    shear_lbf: float


class Band(Struct, frozen=True, eq=False):
    """A reinforced opening solved by both flexibility formulas, which make a band.

    Args:
        fit: how the screws of a cover that carries sit; None when the cover carries nothing.
    """

    huth: TwiceSolved
    swift: UnitSolution
    fit: CoverFit | None = None


def band_of(huth: TwiceSolved, fit: CoverFit | None = None) -> Band:
    """Add the other formula, without another factorization."""
    return Band(huth, huth.fine.changed(formula="swift"), fit)


def slides_in(site: Site, model: OpeningModel) -> Array:
    """How far each fastener slides before it bears when it sits in the middle of its hole.

    Returns:
        Array: nought for rivets, which fill their holes, shape (fasteners,) [in].
    Raises:
        TableError: the hole of a screw is not known.
    """
    screws = {f"screw {hole.number}": hole for hole in site.layout.holes_of("screw")}
    return np.array(
        [
            max(0.0, (finished_hole_in(site, hole) - hole.diameter_in) / 2)
            if (hole := screws.get(fastener.name))
            else 0.0
            for fastener in model.fasteners
        ]
    )


def centered(tight: Band, load_lbf_in: Array, slide_in: Array) -> Band:
    """The same with every screw in the middle of its hole.

    Args:
        tight: without clearance.
        load_lbf_in: Nx, Ny and q, shape (3,) [lbf/in].
        slide_in: as `slides_in` gives it.
    Returns:
        Band: for that load alone.
    Raises:
        SolveError: the forces do not settle.
    """
    fine, coarse, swift = (
        settled(unit, load_lbf_in, slide_in) for unit in (tight.huth.fine, tight.huth.coarse, tight.swift)
    )
    return Band(TwiceSolved(fine, coarse), swift, CoverFit.CENTERED)


def cover_share(
    fit: CoverFit, huth: Response, swift: Response, *, center_in: tuple[float, float]
) -> CoverShare:
    """Read what the cover carries.

    Args:
        center_in: middle of the opening [in].
    """
    unit, x, y = huth.unit, *center_in
    across_x = unit.pick_up_in("cover", x_in=x) @ huth.load_lbf_in
    across_y = unit.pick_up_in("cover", y_in=y) @ huth.load_lbf_in
    return CoverShare(
        fit=fit,
        screws=fastener_loads(huth, swift, "screw"),
        direct_lbf=(float(across_x[0]), float(across_y[1])),
        shear_lbf=float(max(abs(across_x[1]), abs(across_y[0]))),
    )
