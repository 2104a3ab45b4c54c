"""The sector solver against SciPy's general sparse solver on the same matrix."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.sparse import coo_array, csc_array, diags_array
from scipy.sparse.linalg import splu

from fem.test_mapping import DOUBLER, OPENING, PANEL, grid_of
from hatchwright.errors import SolveError
from hatchwright.fem.element import quad_stiffness
from hatchwright.fem.grid import gather
from hatchwright.fem.sector import factorize


def test_it_gives_the_displacements_of_a_general_sparse_solver():
    grid = grid_of(OPENING, DOUBLER, PANEL, cap_in=0.5)
    own = quad_stiffness(grid.elements(), poisson_ratio=0.33)
    springs = np.zeros((grid.lines, 2 * len(grid.nodes)))
    springs[[0, 0, grid.lines // 2], [-2, -1, -2]] = 1.0
    rows, columns = grid.nodes.shape[:2]
    loads = np.random.default_rng(3).normal(size=(rows, columns, 2, 4))
    loads[1::2, 1::2] = 0.0

    number = gather(np.arange(rows * columns, dtype=float).reshape(rows, columns, 1))[..., 0].astype(int)
    unknown = (2 * number[..., None] + np.arange(2)).reshape(-1, 16)
    places = np.repeat(unknown, 16, axis=1).ravel(), np.tile(unknown, (1, 16)).ravel()
    matrix = coo_array((own.ravel(), places), shape=(2 * rows * columns,) * 2).tocsc()
    extra = np.zeros((rows, columns, 2))
    extra[:, ::2] = springs.reshape(grid.lines, rows, 2).swapaxes(0, 1)
    used = np.unique(unknown)
    matrix = (matrix + diags_array(extra.ravel(), format="csc"))[used][:, used]
    wanted = splu(matrix).solve(loads.reshape(-1, 4)[used])

    found = factorize(own, springs, where="sheet").solve(loads.reshape(-1, 2, 4)).reshape(-1, 4)[used]
    assert found == pytest.approx(wanted, rel=1e-9, abs=1e-9 * np.abs(wanted).max())


def test_what_loads_do_along_each_other_is_half_a_solution_and_its_square():
    """Discs anywhere, on the seam where the last line meets the first too, and loads of the rim; F' K^-1 F solved
    whole."""
    grid = grid_of(OPENING, DOUBLER, PANEL, cap_in=0.5)
    own = quad_stiffness(grid.elements(), poisson_ratio=0.33)
    springs = np.zeros((grid.lines, 2 * len(grid.nodes)))
    springs[[0, 0, grid.lines // 2], [-2, -1, -2]] = 1.0
    factor = factorize(own, springs, where="sheet")
    rows, columns = grid.nodes.shape[:2]
    draw = np.random.default_rng(5)
    loads = np.zeros((rows, columns, 2, 40))
    loads[-1, :, :, :3] = draw.normal(size=(columns, 2, 3))
    for column in range(3, 40):
        row, around = draw.integers(rows - 5), draw.integers(columns) if column > 8 else columns - 3
        loads[row : row + 5, (around + np.arange(5)) % columns, :, column] = draw.normal(size=(5, 5, 2))
    loads[1::2, 1::2] = 0.0
    flat = loads.reshape(-1, 40)
    wanted = flat.T @ factor.solve(loads.reshape(-1, 2, 40)).reshape(-1, 40)
    found = factor.compliance(csc_array(flat))
    assert found == pytest.approx(wanted, rel=1e-9, abs=1e-9 * np.abs(wanted).max())


def test_a_sheet_that_floats_is_refused():
    grid = grid_of(OPENING, DOUBLER)
    own = quad_stiffness(grid.elements(), poisson_ratio=0.33)
    with pytest.raises(SolveError, match="cover: its stiffness is singular"):
        factorize(own, np.zeros((grid.lines, 2 * len(grid.nodes))), where="cover")
