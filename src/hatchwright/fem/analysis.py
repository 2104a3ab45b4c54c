"""From a model to its unit solutions: lay the grids, factorise each sheet, join them."""

from __future__ import annotations

import numpy as np

from hatchwright.fem.curve import Array, Curve
from hatchwright.fem.grid import Grid, map_grid
from hatchwright.fem.model import OpeningModel, Sheet
from hatchwright.fem.patch import patch_means
from hatchwright.fem.sheet import edge_loads, give
from hatchwright.fem.solution import UnitSolution, couple
from hatchwright.fem.soundness import patch_radii, refuse_unsound, surrounds
from hatchwright.fem.stations import Fineness
from hatchwright.shapes.outlines import circle
from hatchwright.shapes.profile import Loop

_PINHOLE_RATIO = 0.02


def analyse(model: OpeningModel, *, fineness: Fineness | None = None, formula: str = "huth") -> UnitSolution:
    """Analyse an opening for the three unit running loads.

    Args:
        model: sheets and fasteners.
        fineness: how fine the grids are; good for one per cent when left out.
        formula: flexibility formula of fasteners whose flexibility is not given, "huth" or "swift".
    Returns:
        UnitSolution: to be combined for any load.
    Raises:
        SolveError: the model is not sound, or no grid can be mapped; it says where and what to change.
    Method: docs/theory/fem.md.
    """
    fineness = fineness or Fineness()
    refuse_unsound(model)
    radius, cautions = patch_radii(model)
    gives = {}
    for sheet in model.sheets:
        own = model.holds(sheet)
        grid = lay_grid(model, sheet, radius[own], fineness)
        means = patch_means(grid, model.centres[own], radius[own])
        loads = edge_loads(grid) if sheet is model.skin else None
        gives[sheet.name] = give(
            grid, means, poisson_ratio=sheet.poisson_ratio, loads=loads, where=sheet.name
        )
    return couple(model, gives, radius, formula, cautions)


def lay_grid(model: OpeningModel, sheet: Sheet, radius_in: Array, fineness: Fineness) -> Grid:
    """Lay the grid of one sheet.

    Args:
        model: the model; the largest doubler sets how far the fine part of the skin's grid goes.
        sheet: the sheet.
        radius_in: radii of the discs on it, shape (k,) [in].
        fineness: how fine.
    Returns:
        Grid: from its inner to its outer edge.
    Raises:
        SolveError: no grid can be mapped.
    """
    inner = sheet.inner or pinhole(sheet.outer)
    loops = [inner, sheet.outer]
    if sheet is model.skin and model.doublers:
        widest = max((doubler.outer for doubler in model.doublers), key=lambda loop: abs(loop.area_sq_in))
        if surrounds(widest, inner):
            loops.insert(1, widest)
    cap = 2 * fineness.patch_share * float(radius_in.min()) if len(radius_in) else np.inf
    return map_grid(tuple(Curve.of(loop) for loop in loops), fineness=fineness, cap_in=cap, where=sheet.name)


def pinhole(outer: Loop) -> Loop:
    """A hole too small to matter, for the middle of a sheet that has none.

    Args:
        outer: edge of the sheet.
    Returns:
        Loop: a circle of a fiftieth of its smaller size.
    """
    x_low, y_low, x_high, y_high = outer.bounds
    size = _PINHOLE_RATIO * min(x_high - x_low, y_high - y_low)
    return circle(diameter_in=size, centre=((x_low + x_high) / 2, (y_low + y_high) / 2))
