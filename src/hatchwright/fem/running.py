"""Running loads inside a sheet: at any point, along a row of fasteners, and at every crossing for pictures."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array
from hatchwright.fem.element import elasticity, gauss_points, shape_slopes, slopes_in_plane
from hatchwright.fem.grid import Grid, gather
from hatchwright.fem.sheet import CASES
from hatchwright.fem.solution import Response, UnitSolution

_ALONG = 12


def running_loads(unit: UnitSolution, name: str, points: Array) -> Array:
    """Nx, Ny and Nxy of a sheet at points under each unit case, shape (m, 3, 3) [lbf/in per lbf/in].

    Args:
        points: shape (m, 2) [in]; a point just off the sheet gets the value at its edge continued.
    """
    found = unit.gives[name].mesh.find(points)
    return _loads(unit, name, found.slope @ _moved(unit, name)[found.nodes])


def crossing_loads(unit: UnitSolution, name: str) -> tuple[Array, Array]:
    """Running loads of a sheet wherever a ring crosses a line, averaged over the elements that meet there.

    Returns:
        tuple: places, shape (n_layers + 1, n_lines + 1, 2) [in], the first line repeated at the end; Nx, Ny and Nxy
        there under each unit case, shape (n_layers + 1, n_lines + 1, 3, 3) [lbf/in per lbf/in].
    Raises:
        SolveError: the sheet was meshed with triangles, since its edges could not be mapped.
    """
    grid = unit.gives[name].mesh
    if not isinstance(grid, Grid):
        raise SolveError.saying("error.no_rings", where=name)
    at = gauss_points(2)[0]
    slope = slopes_in_plane(grid.elements(), shape_slopes(at))[0]
    moved = gather(_moved(unit, name).reshape(*grid.nodes.shape[:2], -1))
    inside = _loads(unit, name, slope @ moved[:, :, None])
    corner = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]], dtype=float) * np.sqrt(3.0)
    spread = np.prod(1.0 + corner[:, None] * at[None] * np.sqrt(3.0), axis=2) / 4.0
    at_corners = np.einsum("cg,jegab->jecab", spread, inside)
    total = np.zeros((grid.lines, grid.layers + 1, *inside.shape[-2:]))
    count = np.zeros((grid.lines, grid.layers + 1, 1, 1))
    for number, (outward, around) in enumerate(((0, 0), (1, 0), (1, 1), (0, 1))):
        lines = (np.arange(grid.lines) + around) % grid.lines
        total[lines, outward : grid.layers + outward] += at_corners[:, :, number]
        count[lines, outward : grid.layers + outward] += 1
    mean = (total / count).swapaxes(0, 1)
    closed = np.concatenate([mean, mean[:, :1]], axis=1)
    places = grid.nodes[::2, ::2]
    return np.concatenate([places, places[:, :1]], axis=1), closed


def net_loads(response: Response, name: str, row: Sequence[int]) -> Array:
    """Running loads of a sheet square to a row of two or more fasteners, by number and in order, over the metal left
    between its holes.

    The bay of a fastener reaches halfway to its neighbors; at the ends of the row it is as wide as the next pitch. The
    mean is taken along two straight lines that touch the fastener's disc on either side, and
    the side counts where it is greater.

    Returns:
        Array: with its sign, shape (k,) [lbf/in].
    Raises:
        SolveError: fewer than two fasteners, or two of them at one place.
    """
    model = response.unit.model
    centers = model.centers[list(row)]
    if len(centers) < 2:
        raise SolveError.saying("error.row_one", where="row")
    step = np.hypot(*np.diff(centers, axis=0).T)
    if not step.all():
        raise SolveError.saying("error.row_place", where="row")
    before, after = np.concatenate([step[:1], step]), np.concatenate([step, step[-1:]])
    along = np.gradient(centers, axis=0)
    along /= np.hypot(*along.T)[:, None]
    across = np.stack([-along[:, 1], along[:, 0]], axis=1)
    radius = response.unit.patch_radius_in[list(row)]
    share = (np.arange(_ALONG) + 0.5) / _ALONG
    at = -before[:, None] / 2 + share * (before + after)[:, None] / 2
    line = centers[:, None] + at[..., None] * along[:, None]
    sides = np.stack([line + (sign * radius[:, None] * across)[:, None] for sign in (1.0, -1.0)], axis=1)
    beyond = response.unit.gives[name].mesh.find(sides.reshape(-1, 2)).beyond
    load = running_loads(response.unit, name, sides.reshape(-1, 2)) @ response.load_lbf_in
    nx, ny, nxy = load.reshape(*sides.shape[:3], 3).transpose(3, 0, 1, 2)
    x, y = across.T[..., None, None]
    square = nx * x**2 + ny * y**2 + 2 * nxy * x * y
    mean = np.average(square, axis=2, weights=~beyond.reshape(square.shape) + 1e-9)
    gross = np.take_along_axis(mean, np.abs(mean).argmax(axis=1)[:, None], axis=1)[:, 0]
    pitch = (before + after) / 2
    diameter = np.array([model.fasteners[k].diameter_in for k in row])
    return np.asarray(gross * pitch / (pitch - diameter))


def _moved(unit: UnitSolution, name: str) -> Array:
    """Displacements for E t = 1, components and cases side by side, shape (nodes, 6) [lbf per lbf/in]."""
    return unit.moved(name).reshape(-1, 2 * CASES)


def _loads(unit: UnitSolution, name: str, gradient: Array) -> Array:
    """Running loads from displacement gradients, shape (..., 2, 2 * cases), slope first."""
    gradient = gradient.reshape(*gradient.shape[:-1], 2, -1)
    strain = np.stack(
        [gradient[..., 0, 0, :], gradient[..., 1, 1, :], gradient[..., 0, 1, :] + gradient[..., 1, 0, :]],
        axis=-2,
    )
    return elasticity(unit.sheet(name).poisson_ratio) @ strain
