"""Linear buckling of a panel: as it was, cut, and reinforced, with two bounds for how its sheets bend together.

Method: docs/theory/fem.md, section 7.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array
from scipy.sparse.linalg import LinearOperator, eigsh, splu

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array
from hatchwright.fem.element import elasticity
from hatchwright.fem.lattice import Lattice, four_sided, ringed
from hatchwright.fem.model import Sheet
from hatchwright.fem.plate import Triangles, geometric_matrix, stiffness_matrix, triangulate
from hatchwright.fem.running import running_loads
from hatchwright.fem.sheet import CASES
from hatchwright.fem.solution import UnitSolution


class State(Enum):
    """What is asked to buckle: the skin without an opening, the skin with its opening and nothing fastened to it, and
    the reinforced panel, each sheet bending by itself (a lower bound) or all as one (an upper bound, which rivets alone
    do not warrant).
    """

    AS_IT_WAS = "as_it_was"
    CUT = "cut"
    SHEETS_APART = "sheets_apart"
    SHEETS_TOGETHER = "sheets_together"


@dataclass(frozen=True, slots=True, eq=False)
class Buckling:
    """When a panel buckles.

    Args:
        factor: how many times the load buckles it; infinite when that load cannot.
        grid_error_ratio: by how much the last refinement of the grid still changed the factor [-].
        mesh: the plate, for pictures.
        mode: deflection of its corners at buckling, the greatest being 1, shape (n,) [-].
    """

    factor: float
    grid_error_ratio: float
    mesh: Triangles
    mode: Array

    @property
    def lowered(self) -> float:
        """The factor less the last step of the grid, on which a margin rests [-]."""
        return self.factor * (1 - self.grid_error_ratio)


@dataclass(frozen=True, slots=True, eq=False)
class Plate:
    """A panel ready to be buckled on one grid.

    Args:
        free: unknowns that are not held, shape (n,).
        stiff: bending stiffness of the free unknowns.
        factor: that stiffness, factorized.
        geometric: geometric stiffness of the free unknowns for each unit case.
        running: running loads of each unit case at the middles of sides, shape (t, 3, 3, 3) [lbf/in per lbf/in].
    """

    mesh: Triangles
    free: NDArray[np.intp]
    stiff: csc_array
    factor: Any
    geometric: tuple[csc_array, ...]
    running: Array

    def lowest(self, load_lbf_in: Array) -> tuple[float, Array]:
        """Lowest buckling factor of a load Nx, Ny, q of shape (3,) [lbf/in].

        Returns:
            tuple: the factor, infinite where nothing is compressed; deflection of the corners of the mesh.
        """
        mode = np.zeros(len(self.mesh.points))
        if not _pressed(self.running @ load_lbf_in):
            return np.inf, mode
        geometric = sum(part * load for part, load in zip(self.geometric, load_lbf_in, strict=True))
        inverse = LinearOperator(self.stiff.shape, matvec=self.factor.solve, dtype=float)
        start = np.sin(1.0 + np.arange(len(self.free)))
        value, vector = eigsh(-geometric, k=1, M=self.stiff, Minv=inverse, which="LA", v0=start, tol=1e-7)
        corner = self.free < len(mode)
        mode[self.free[corner]] = vector[corner, 0]
        return (1.0 / float(value[0]) if value[0] > 0 else np.inf), mode / mode[np.abs(mode).argmax()]


@dataclass(frozen=True, slots=True, eq=False)
class Panel:
    """A panel ready to be buckled by any load, also on a grid of twice the size."""

    fine: Plate
    coarse: Plate

    def buckle(self, *, nx_lbf_in: float = 0.0, ny_lbf_in: float = 0.0, q_lbf_in: float = 0.0) -> Buckling:
        """Find how many times a load buckles the panel; buckling loads do not superpose.

        Args:
            nx_lbf_in: running load along x, tension positive [lbf/in].
            ny_lbf_in: running load along y, tension positive [lbf/in].
            q_lbf_in: shear flow [lbf/in].
        """
        load = np.array([nx_lbf_in, ny_lbf_in, q_lbf_in], dtype=float)
        fine, mode = self.fine.lowest(load)
        coarse, _ = self.coarse.lowest(load)
        if not (np.isfinite(fine) and np.isfinite(coarse)):
            return Buckling(fine, 0.0, self.fine.mesh, mode)
        factor = fine + (fine - coarse) / 3.0
        return Buckling(factor, abs(factor - fine) / factor, self.fine.mesh, mode)


def panel(unit: UnitSolution, state: State, *, clamped: bool = False) -> Panel:
    """Prepare a panel for buckling under the running loads of its unit solutions. A cover is left out.

    Args:
        clamped: whether the panel's edges are held against turning; if not they are simply supported.
    Raises:
        SolveError: the panel's edges are not straight, or not four (only for `State.AS_IT_WAS`), or it cannot be
            mapped.
    """
    model = unit.model
    if model.skin.outer.rows[:, 2].any():
        raise SolveError.saying("error.curved_edge", where=f"{model.skin.name}.outer")
    if state is State.CUT:
        unit = replace(unit, fastener_in=np.zeros_like(unit.fastener_in))
    reinforced = state in (State.SHEETS_APART, State.SHEETS_TOGETHER)
    sheets = (model.skin, *model.doublers) if reinforced else (model.skin,)
    whole = state is State.AS_IT_WAS
    lattice = four_sided(model.skin) if whole else ringed(sheets)
    together = state is State.SHEETS_TOGETHER
    fine, coarse = (
        _plate(unit, sheets, grid, even=whole, together=together, clamped=clamped)
        for grid in (lattice, lattice.halved())
    )
    return Panel(fine, coarse)


def _plate(
    unit: UnitSolution,
    sheets: tuple[Sheet, ...],
    lattice: Lattice,
    *,
    even: bool,
    together: bool,
    clamped: bool,
) -> Plate:
    """Set up one grid; `even` takes the running loads of an uncut sheet."""
    mesh = triangulate(lattice.points, closed=lattice.closed)
    cover = np.tile(np.repeat(lattice.cover, lattice.cells_in_row, axis=0), (4, 1))
    stiffness = stiffness_matrix(mesh, _bending(sheets, cover, together=together))
    running = np.zeros((len(mesh.corners), 3, 3, CASES))
    if even:
        running[:] = np.eye(3)
    for sheet, covered in zip(() if even else sheets, cover.T, strict=False):
        used = np.unique(mesh.own_sides[covered])
        at_side = np.zeros((len(mesh.sides), 3, CASES))
        at_side[used] = running_loads(unit, sheet.name, mesh.middles[used])
        running[covered] += at_side[mesh.own_sides[covered]]

    at_rim = np.zeros(len(mesh.points), dtype=bool)
    at_rim[lattice.rim] = True
    held = at_rim[mesh.sides].all(axis=1) & clamped
    free = np.flatnonzero(~np.concatenate([at_rim, held]))
    geometric = tuple(geometric_matrix(mesh, running[..., case])[free][:, free] for case in range(CASES))
    stiff = stiffness[free][:, free]
    try:
        factor = splu(
            stiff, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True}
        )
    except RuntimeError as error:
        raise SolveError.saying("error.plate_singular", where="buckling") from error
    return Plate(mesh, free, stiff, factor, geometric, running)


def _bending(sheets: tuple[Sheet, ...], cover: NDArray[np.bool_], *, together: bool) -> Array:
    """Bending stiffness of each triangle from the sheets that cover it, shape (t, 3, 3) [lbf in]."""
    bending = np.zeros((len(cover), 3, 3))
    for pattern in np.unique(cover, axis=0):
        here = [sheet for sheet, covers in zip(sheets, pattern, strict=True) if covers]
        thickness = np.array([sheet.thickness_in for sheet in here])
        stretch = np.array([sheet.membrane_lbf_in for sheet in here])
        level = np.cumsum(thickness) - thickness / 2
        arm = level - (stretch @ level) / stretch.sum() if together and here else np.zeros(len(here))
        bending[(cover == pattern).all(axis=1)] = sum(
            stretch[k] * (thickness[k] ** 2 / 12 + arm[k] ** 2) * elasticity(sheet.poisson_ratio)
            for k, sheet in enumerate(here)
        )
    return bending


def _pressed(running: Array) -> bool:
    """Whether there is compression anywhere, in any direction."""
    nx, ny, nxy = np.moveaxis(running, -1, 0)
    least = (nx + ny) / 2 - np.hypot((nx - ny) / 2, nxy)
    return bool(least.min() < -1e-6 * np.abs(running).max())
