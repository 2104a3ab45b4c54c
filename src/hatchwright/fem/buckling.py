"""Linear buckling of a panel: as it was, cut, and reinforced, with two bounds for how its sheets bend together.

Method: docs/theory/fem.md, section 7.
"""

from __future__ import annotations

from dataclasses import replace
from enum import Enum
from typing import Any

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray
from scipy.sparse import csc_array
from scipy.sparse.linalg import splu

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array
from hatchwright.fem.element import elasticity
from hatchwright.fem.lanczos import greatest
from hatchwright.fem.lattice import Lattice, mesh_of, on_edge, ringed
from hatchwright.fem.model import Sheet
from hatchwright.fem.plate import Triangles, geometric_matrix, stiffness_matrix
from hatchwright.fem.running import running_loads
from hatchwright.fem.sheet import CASES
from hatchwright.fem.solution import UnitSolution
from hatchwright.fem.whole_plate import WholePlate, whole_plate


class State(Enum):
    """What is asked to buckle: the skin without an opening, the skin with its opening and nothing fastened to it, and
    the reinforced panel, each sheet bending by itself (a lower bound) or all as one (an upper bound, which rivets alone
    do not warrant).
    """

    AS_IT_WAS = "as_it_was"
    CUT = "cut"
    SHEETS_APART = "sheets_apart"
    SHEETS_TOGETHER = "sheets_together"


class Mode(Struct, frozen=True, eq=False):
    """How a panel deflects as it buckles.

    Args:
        mesh: the plate, for pictures.
        deflection: of its corners, the greatest being 1, shape (n,) [-].
        unknowns: all that are free, on the fine grid and on the coarse one, to begin another search by.
    """

    mesh: Triangles
    deflection: Array
    unknowns: tuple[Array, Array]


class Buckling(Struct, frozen=True, eq=False):
    """When a panel buckles.

    Args:
        factor: how many times the load buckles it; infinite when that load cannot.
        grid_error_ratio: by how much the last refinement of the grid still changed the factor [-].
        mode: None where it was not asked for, or nothing is compressed.
    """

    factor: float
    grid_error_ratio: float
    mode: Mode | None = None

    @property
    def lowered(self) -> float:
        """The factor less the last step of the grid, on which a margin rests [-]."""
        return self.factor * (1 - self.grid_error_ratio)


class Loaded(Struct, frozen=True, eq=False):
    """A panel under the running loads of its sheets, on one grid.

    Args:
        cover: which sheets cover each triangle, shape (t, sheets).
        free: unknowns that are not held, shape (n,).
        geometric: geometric stiffness of the free unknowns for each unit case.
        running: running loads of each unit case at the middles of sides, shape (t, 3, 3, 3) [lbf/in per lbf/in].
    """

    mesh: Triangles
    cover: NDArray[np.bool_]
    free: NDArray[np.intp]
    geometric: tuple[csc_array, ...]
    running: Array


class Plate(Struct, frozen=True, eq=False):
    """A panel ready to be buckled on one grid.

    Args:
        factor: bending stiffness of the free unknowns, factorized.
    """

    loaded: Loaded
    factor: Any

    def lowest(self, load_lbf_in: Array, near: Array | None = None) -> tuple[float, Array | None]:
        """Lowest buckling factor of a load Nx, Ny, q of shape (3,) [lbf/in].

        Args:
            near: deflection of the free unknowns that is like the one to be found, None for none.
        Returns:
            tuple: the factor, infinite where nothing is compressed; deflection of the free unknowns, None where it is
                infinite.
        """
        loaded = self.loaded
        if not _pressed(loaded.running @ load_lbf_in):
            return np.inf, None
        geometric = sum(
            part * -load for part, load in zip(loaded.geometric, load_lbf_in, strict=True) if load
        )
        value, vector = greatest(self.factor.solve, geometric.__matmul__, len(loaded.free), near)
        return (1.0 / value, vector) if value > 0 else (np.inf, None)

    def at_corners(self, unknowns: Array) -> Array:
        """Deflection of the corners of the mesh from that of all free unknowns, the greatest being 1 [-]."""
        loaded = self.loaded
        deflection = np.zeros(len(loaded.mesh.points))
        corner = loaded.free < len(deflection)
        deflection[loaded.free[corner]] = unknowns[corner]
        return np.asarray(deflection / deflection[np.abs(deflection).argmax()])


class Panel(Struct, frozen=True, eq=False):
    """A panel ready to be buckled by any load, also on a grid of twice the size."""

    fine: Plate
    coarse: Plate

    def buckle(self, load_lbf_in: Array, like: Mode | None = None) -> Buckling:
        """Find how many times a load buckles the panel; buckling loads do not superpose.

        Args:
            load_lbf_in: running loads Nx and Ny, tension positive, and shear flow q, shape (3,) [lbf/in].
            like: of the same grids, how the panel buckles in another state; None for none.
        """
        near_fine, near_coarse = like.unknowns if like else (None, None)
        fine, unknowns = self.fine.lowest(load_lbf_in, near_fine)
        coarse, of_coarse = self.coarse.lowest(load_lbf_in, near_coarse)
        if unknowns is None:
            return Buckling(np.inf, 0.0)
        if of_coarse is None:
            return Buckling(fine, 1.0)  # with one grid alone nothing is known of its error
        factor = fine + (fine - coarse) / 3.0
        mode = Mode(self.fine.loaded.mesh, self.fine.at_corners(unknowns), (unknowns, of_coarse))
        return Buckling(factor, abs(factor - fine) / factor, mode)


class UncutPanel(Struct, frozen=True, eq=False):
    """A panel as it was before its opening, ready to be buckled by any load."""

    plate: WholePlate

    def buckle(self, load_lbf_in: Array) -> Buckling:
        """Find how many times a load buckles it; arguments as for `Panel.buckle`."""
        return Buckling(*self.plate.factor(load_lbf_in))


def panel(unit: UnitSolution, state: State, *, like: Panel | None = None) -> Panel | UncutPanel:
    """Prepare a panel for buckling under the running loads of its unit solutions. A cover is left out.

    Args:
        like: the same reinforced panel with its sheets apart, whose grids and loads hold with its sheets together too.
    Raises:
        SolveError: the panel's edges are not straight, or no rectangle along the axes (only for `State.AS_IT_WAS`), or
            it cannot be mapped.
    """
    model = unit.model
    if model.skin.outer.rows[:, 2].any():
        raise SolveError.saying("error.curved_edge", where=f"{model.skin.name}.outer")
    if state is State.AS_IT_WAS:
        return UncutPanel(whole_plate(model.skin))
    sheets: tuple[Sheet, ...] = (model.skin, *model.doublers)
    if state is State.CUT:
        unit, sheets = replace(unit, fastener_in=np.zeros_like(unit.fastener_in)), sheets[:1]
    if like:
        grids = like.fine.loaded, like.coarse.loaded
    else:
        fine = ringed(sheets)
        coarse = tuple(one.halved() for one in fine)
        grids = _loaded(unit, sheets, fine), _loaded(unit, sheets, coarse)
    together = state is State.SHEETS_TOGETHER
    return Panel(*(_plate(sheets, loaded, together=together) for loaded in grids))


def _loaded(unit: UnitSolution, sheets: tuple[Sheet, ...], lattices: tuple[Lattice, ...]) -> Loaded:
    mesh, cover = mesh_of(lattices)
    running = np.zeros((len(mesh.corners), 3, 3, CASES))
    for sheet, covered in zip(sheets, cover.T, strict=True):
        used = np.unique(mesh.own_sides[covered])
        at_side = np.zeros((len(mesh.sides), 3, CASES))
        at_side[used] = running_loads(unit, sheet.name, mesh.middles[used])
        running[covered] += at_side[mesh.own_sides[covered]]
    free = np.ones(len(mesh.points) + len(mesh.sides), dtype=bool)
    free[: len(mesh.points)] = ~on_edge(mesh.points, unit.model.skin.outer)
    unknown = np.flatnonzero(free)
    geometric = tuple(
        geometric_matrix(mesh, running[..., case])[unknown][:, unknown] for case in range(CASES)
    )
    return Loaded(mesh, cover, unknown, geometric, running)


def _plate(sheets: tuple[Sheet, ...], loaded: Loaded, *, together: bool) -> Plate:
    stiff = stiffness_matrix(loaded.mesh, _bending(sheets, loaded.cover, together=together))
    try:
        factor = splu(
            stiff[loaded.free][:, loaded.free],
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            panel_size=1,  # its supernodes are narrow: half the time of the default
            options={"SymmetricMode": True},
        )
    except RuntimeError as error:
        raise SolveError.saying("error.plate_singular", where="buckling") from error
    return Plate(loaded, factor)


def _bending(sheets: tuple[Sheet, ...], cover: NDArray[np.bool_], *, together: bool) -> Array:
    """Bending stiffness of each triangle from the sheets that cover it, shape (t, 3, 3) [lbf in]."""
    bending = np.zeros((len(cover), 3, 3))
    for pattern in np.unique(cover, axis=0):
        here = [sheet for sheet, covers in zip(sheets, pattern, strict=True) if covers]
        thickness = np.array([sheet.thickness_in for sheet in here])
        stretch = np.array([sheet.stretch_in_bending_lbf_in for sheet in here])
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
