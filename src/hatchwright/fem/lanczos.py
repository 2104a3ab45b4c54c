"""Greatest eigenvalue of one symmetric matrix against another that is factorized: how buckling factors are found.

Each step costs one solution. A general eigenvalue solver takes at least twenty of them before it looks at its answer;
here it is looked at after every step, and six to twenty-five do.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from scipy.linalg import eigh_tridiagonal

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array

_RESIDUAL = 1e-3
"""Of the eigenvalue. There is an eigenvalue as near as that; in fact its square governs, parts in a million."""

_MOST_STEPS = 150


def greatest(
    solve: Callable[[Array], Array], times: Callable[[Array], Array], size: int
) -> tuple[float, Array]:
    """Find the greatest x for which A v = x K v.

    Args:
        solve: gives K^-1 f.
        times: gives A v.
        size: number of unknowns.
    Returns:
        tuple: the eigenvalue, and its vector of shape (size,).
    Raises:
        SolveError: it does not settle.
    """
    shapes, forces = np.empty((_MOST_STEPS + 1, size)), np.empty((_MOST_STEPS + 1, size))
    # A force that belongs to no symmetry, so that no mode is missed; its deflection is smooth, as modes are.
    force = np.sin(1.0 + np.arange(size))
    shape = solve(force)
    beyond = np.sqrt(shape @ force)
    along, across = np.empty(_MOST_STEPS), np.empty(_MOST_STEPS)
    for step in range(_MOST_STEPS):
        shapes[step], forces[step] = shape / beyond, force / beyond
        before, its = shapes[: step + 1], forces[: step + 1]
        force = times(shapes[step])
        shape = solve(force)
        along[step] = shapes[step] @ force
        for _ in range(2):  # twice is enough to stay square to all before
            shares = its @ shape
            shape -= shares @ before
            force = force - shares @ its
        beyond = np.sqrt(max(float(shape @ force), 0.0))
        values, parts = eigh_tridiagonal(along[: step + 1], across[:step])
        value, part = float(values[-1]), parts[:, -1]
        if beyond * abs(part[-1]) <= _RESIDUAL * abs(value):
            return value, np.asarray(part @ before)
        across[step] = beyond
    raise SolveError.saying("error.modes_apart", where="buckling")
