"""The greatest eigenvalue against LAPACK's dense solver."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import cho_factor, cho_solve, eigh

from hatchwright.errors import SolveError
from hatchwright.fem.lanczos import greatest


def found(work, stiff):
    factor = cho_factor(stiff)
    return greatest(lambda force: cho_solve(factor, force), lambda shape: work @ shape, len(work))


@pytest.mark.parametrize("seed", range(5))
def test_it_is_that_of_a_dense_solver(seed):
    """Work of either sign, as in shear, on a stiffness of a thousandfold spread; the vector to the residual's square
    root."""
    random = np.random.default_rng(seed)
    square = np.linalg.qr(random.normal(size=(120, 120)))[0]
    stiff = square * np.geomspace(1.0, 1e3, 120) @ square.T
    work = random.normal(size=(120, 120))
    work += work.T
    value, vector = found(work, stiff)
    values, vectors = eigh(work, stiff)
    assert value == pytest.approx(values[-1], rel=1e-5)
    along = vector @ stiff @ vectors[:, -1]
    assert abs(along) == pytest.approx(np.sqrt(vector @ stiff @ vector), rel=1e-3)


def test_two_symmetries_that_lie_close_are_told_apart():
    """Modes of a mirrored pair do not know of each other: the lower must be found though one per cent away."""
    stiff, work = np.eye(40), np.diag(np.concatenate([np.full(20, 0.99), np.full(19, 0.3), [1.0]]))
    assert found(work, stiff)[0] == pytest.approx(1.0, rel=1e-3)


def test_nothing_compressed_has_no_positive_one():
    assert found(-np.diag(np.arange(1.0, 31.0)), np.eye(30))[0] == pytest.approx(-1.0, rel=1e-3)


def test_what_does_not_settle_is_refused(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("hatchwright.fem.lanczos._MOST_STEPS", 3)
    with pytest.raises(SolveError, match="don't settle"):
        found(np.diag(np.linspace(0.0, 1.0, 40)), np.eye(40))
