"""From a model to its unit solutions: lay the grids, factorize each sheet, join them."""

from __future__ import annotations

import numpy as np

from hatchwright.errors import GeometryError, SolveError
from hatchwright.fem.curve import Array, Curve
from hatchwright.fem.free_mesh import free_mesh
from hatchwright.fem.mapping import map_grid
from hatchwright.fem.model import OpeningModel, Sheet
from hatchwright.fem.patch import patch_means
from hatchwright.fem.sheet import Mesh, edge_loads, give
from hatchwright.fem.solution import UnitSolution, couple
from hatchwright.fem.soundness import patch_radii, profile, refuse_unsound, surrounds
from hatchwright.fem.stations import Fineness
from hatchwright.fem.triangles import TriangleMesh
from hatchwright.said import said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.offset import grow
from hatchwright.shapes.outlines import circle
from hatchwright.shapes.profile import Loop, profile_of

_PINHOLE_RATIO = 0.02


def analyze(model: OpeningModel, *, fineness: Fineness | None = None, formula: str = "huth") -> UnitSolution:
    """Analyze an opening for the three unit running loads, to be combined for any load.

    Args:
        fineness: how fine the grids are; good for one per cent when left out.
        formula: flexibility formula of fasteners whose flexibility is not given, "huth" or "swift".
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
        mesh = _mesh(model, sheet, radius[own], fineness)
        if isinstance(mesh, TriangleMesh):
            cautions += (said("fem.triangles", sheet=sheet.name),)
        means = patch_means(mesh, model.centers[own], radius[own])
        loads = edge_loads(mesh) if sheet is model.skin else None
        gives[sheet.name] = give(
            mesh, means, poisson_ratio=sheet.poisson_ratio, loads=loads, where=sheet.name
        )
    return couple(model, gives, radius, formula, cautions)


def _mesh(model: OpeningModel, sheet: Sheet, radius_in: Array, fineness: Fineness) -> Mesh:
    """Mapped rings from the inner to the outer edge, or triangles where they cannot be mapped."""
    inner = sheet.inner or pinhole(sheet.outer)
    loops = [inner, sheet.outer]
    if sheet is model.skin and len(radius_in):
        reach = _fine_edge(model, radius_in)
        loops[1:1] = [reach] if reach else []
    cap_in = 2 * fineness.patch_share * float(radius_in.min()) if len(radius_in) else np.inf
    try:
        return map_grid(tuple(map(Curve.of, loops)), fineness=fineness, cap_in=cap_in, where=sheet.name)
    except SolveError:
        edges = [loop for loop in (sheet.inner, sheet.outer) if loop is not None]
        return free_mesh(
            profile(sheet),
            tuple(map(Curve.of, edges)),
            model.centers[model.holds(sheet)],
            fineness=fineness,
            cap_in=cap_in,
            where=sheet.name,
        )


def _fine_edge(model: OpeningModel, radius_in: Array) -> Loop | None:
    """How far the fine part of the skin's grid goes: to the edge of the widest doubler, or round all discs."""
    opening, skin = model.skin.inner, model.skin
    widest = max((sheet.outer for sheet in model.sheets[1:]), key=lambda loop: abs(loop.area_sq_in))
    if opening is None or surrounds(widest, opening):
        return widest
    hole = profile_of(opening)
    apart = distances(hole, model.centers[model.holds(skin)]).distance_in + radius_in
    try:
        grown = grow(hole, float(apart.max())).loops
    except GeometryError:
        return None
    return grown[0] if len(grown) == 1 and surrounds(skin.outer, grown[0]) else None


def pinhole(outer: Loop) -> Loop:
    """For the middle of a sheet that has no hole, one too small to matter: a fiftieth of the sheet's smaller size."""
    x_low, y_low, x_high, y_high = outer.bounds
    size = _PINHOLE_RATIO * min(x_high - x_low, y_high - y_low)
    return circle(diameter_in=size, center=((x_low + x_high) / 2, (y_low + y_high) / 2))
