"""The force method: sheets factorized alone are joined through the unknown forces of their fasteners.

A sheet gives in proportion to 1 / (E t); other thicknesses, moduli and fasteners need this small system only.
Method: docs/theory/fem.md, section 4.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array
from hatchwright.fem.flexibility import FORMULAS
from hatchwright.fem.model import OpeningModel, Sheet
from hatchwright.fem.sheet import CASES, Give
from hatchwright.said import Listed, said

_RESIDUAL = 1e-8


def flexibilities(model: OpeningModel, formula: str) -> Array:
    """Flexibility of every working fastener, by the named formula unless it is given, shape (working,) [in/lbf].

    Raises:
        SolveError: there is no such formula.
    """
    if formula not in FORMULAS:
        use = said("error.use", names=Listed(tuple(FORMULAS), "or"))
        raise SolveError(said("error.formula", formula=formula), where="flexibility", remedy=use)
    sheets = {sheet.name: sheet for sheet in model.sheets}
    found = []
    for k in model.working:
        fastener = model.fasteners[k]
        first, second = (sheets[name] for name in fastener.joins)
        given = fastener.flexibility_in_per_lbf
        found.append(
            FORMULAS[formula](
                thickness_in=(first.thickness_in, second.thickness_in),
                modulus_psi=(first.modulus_psi, second.modulus_psi),
                diameter_in=fastener.diameter_in,
                fastener_modulus_psi=fastener.modulus_psi,
                kind=fastener.kind,
            )
            if given is None
            else given
        )
    return np.array(found)


def fastener_forces(
    model: OpeningModel, gives: Mapping[str, Give], flexibility: Array
) -> tuple[Array, dict[str, Array]]:
    """Solve for the forces of the fasteners under the three unit cases.

    Args:
        flexibility: of the working fasteners, shape (working,) [in/lbf].
    Returns:
        tuple: `fastener_in` and `motions` of `UnitSolution`.
    Raises:
        SolveError: the fasteners do not hold the sheets together.
    """
    working, free, scale = model.working, model.sheets[1:], model.skin.membrane_lbf_in
    size = 2 * len(working)
    matrix, right = _system(model, gives, flexibility)
    try:
        found = np.asarray(np.linalg.solve(matrix, right), dtype=np.float64)
    except np.linalg.LinAlgError:
        found = np.full_like(right, np.nan)
    if not np.abs(matrix @ found - right).max(initial=0.0) <= _RESIDUAL * np.abs(right).max(initial=0.0):
        where = ", ".join(sheet.name for sheet in free)
        raise SolveError.saying("error.sheets_loose", where=where)
    forces = np.zeros((len(model.fasteners), 2, CASES))
    forces[working] = found[:size].reshape(-1, 2, CASES)
    motions = {sheet.name: found[size + 3 * n : size + 3 * n + 3] / scale for n, sheet in enumerate(free)}
    return forces, motions


def slip_influence(model: OpeningModel, gives: Mapping[str, Give], flexibility: Array) -> Array:
    """What the working fasteners lose of their forces for a slip of each by itself, shape (2 working, 2 working)
    [lbf/in].

    Args:
        flexibility: of the working fasteners, shape (working,) [in/lbf].
    """
    size = 2 * len(model.working)
    matrix, _ = _system(model, gives, flexibility)
    influence = model.skin.membrane_lbf_in * np.linalg.inv(matrix)[:size, :size]
    return np.asarray(influence, dtype=np.float64)


def _system(model: OpeningModel, gives: Mapping[str, Give], flexibility: Array) -> tuple[Array, Array]:
    """The condensed system, fastener by fastener x and y, then three motions a free sheet: matrix and right sides of
    the unit cases, both times E t of the skin."""
    position = {int(k): n for n, k in enumerate(model.working)}
    free = model.sheets[1:]
    size = 2 * len(position)
    matrix = np.zeros((size + 3 * len(free), size + 3 * len(free)))
    right = np.zeros((len(matrix), CASES))
    scale = model.skin.membrane_lbf_in
    np.fill_diagonal(matrix[:size, :size], scale * np.repeat(flexibility, 2))
    for sheet in model.sheets:
        own = model.holds(sheet)
        sign = np.repeat(signs(model, sheet), 2)
        rows = (2 * np.array([position[int(k)] for k in own], dtype=np.intp)[:, None] + np.arange(2)).ravel()
        give, ratio = gives[sheet.name], scale / sheet.membrane_lbf_in
        matrix[np.ix_(rows, rows)] += ratio * sign[:, None] * give.at_fasteners[:, CASES:] * sign
        right[rows] -= ratio * sign[:, None] * give.at_fasteners[:, :CASES]
        if sheet is not model.skin:
            start = size + 3 * free.index(sheet)
            matrix[rows, start : start + 3] = sign[:, None] * give.rigid
            matrix[start : start + 3, rows] = (sign[:, None] * give.rigid).T
    return matrix, right


def signs(model: OpeningModel, sheet: Sheet) -> Array:
    """Direction of each fastener's force on a sheet: -1 on the first it joins, +1 on the second."""
    return np.array([-1.0 if model.fasteners[k].joins[0] == sheet.name else 1.0 for k in model.holds(sheet)])
