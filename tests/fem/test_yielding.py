"""Fasteners at their strength: springs by hand, and the least complementary energy that plasticity asks for."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize

from fem.models import reinforced
from hatchwright.fem.analysis import analyze
from hatchwright.fem.coupling import flexibilities, slip_influence
from hatchwright.fem.yielding import Yielding, yielding

SKIN, RIVET = 1e-6, 2e-6
"""How far the skin, and each rivet, give [in/lbf]."""


def parallel(load_lbf: float, strengths_lbf: list[float]) -> Yielding:
    """A stiff plate on rivets beside an elastic path: C f + slip = Cs (load - sum f)."""
    n = len(strengths_lbf)
    influence = np.linalg.inv(RIVET * np.eye(n) + SKIN * np.ones((n, n)))
    elastic = np.zeros((n, 2))
    elastic[:, 0] = influence @ np.full(n, SKIN * load_lbf)
    both = np.zeros((2 * n, 2 * n))
    both[::2, ::2], both[1::2, 1::2] = influence, np.eye(n) / RIVET
    return Yielding(elastic, np.array(strengths_lbf), np.full(n, RIVET), both)


def test_what_a_rivet_leaves_goes_to_the_others_and_to_the_skin() -> None:
    """1,500 lb on three: elastic, f = 1500 x 1 / (2 + 3 x 1) = 300 each. With one of 100: the two others take
    f = (1500 - 100) / (2 + 2) = 350; its slip is Cs (1500 - 100 - 700) - C 100 = 500 millionths."""
    assert parallel(1500.0, [500.0] * 3).at(1.0).force_lbf[:, 0] == pytest.approx(300.0)
    found = parallel(1500.0, [100.0, 500.0, 500.0]).at(1.0)
    assert found.force_lbf[:, 0] == pytest.approx([100.0, 350.0, 350.0], rel=1e-4)
    assert found.slip_in == pytest.approx([500e-6, 0.0, 0.0], rel=1e-3)
    assert found.at_strength.tolist() == [True, False, False]


def test_growth_until_a_slip() -> None:
    """All three at 200 lb carry 600; each slips Cs (P - 600) - C 200, which is .001 in at P = 2,000 lb."""
    joint = parallel(1000.0, [200.0] * 3)
    assert joint.first == pytest.approx(1.0)
    assert joint.growth_until(np.full(3, 0.001)) == pytest.approx(2.0, rel=1e-3)
    assert joint.growth_until(np.full(3, np.inf)) > 10.0


@pytest.mark.property
@given(
    strengths=st.lists(st.floats(50.0, 400.0), min_size=2, max_size=6),
    growth=st.floats(0.5, 4.0),
    least=st.integers(0, 5),
)
def test_a_weaker_rivet_never_lets_the_load_grow_farther(
    strengths: list[float], growth: float, least: int
) -> None:
    weaker = [0.8 * one if k == least % len(strengths) else one for k, one in enumerate(strengths)]
    limit = np.full(len(strengths), 0.002)
    before, after = (parallel(900.0, some).growth_until(limit) for some in (strengths, weaker))
    assert after <= before * (1.0 + 1e-3)
    held = parallel(900.0, strengths).at(growth)
    assert (np.hypot(*held.force_lbf.T) <= np.array(strengths) * (1.0 + 1e-4)).all()


def test_the_forces_have_the_least_complementary_energy() -> None:
    """Haar and Karman's principle: of all forces in balance and within strength, f' M f / 2 - b' f is least; found by a
    general optimizer of SciPy from nothing but the condensed system."""
    unit = analyze(reinforced())
    response = unit.combine(nx_lbf_in=100.0, q_lbf_in=40.0)
    strength = np.full(len(unit.model.fasteners), 0.7 * response.fastener_load_lbf.max())
    found = yielding(response, strength).at(1.0)
    assert 2 <= found.at_strength.sum() < len(strength)
    gives = flexibilities(unit.model, unit.formula)
    influence = slip_influence(unit.model, unit.gives, gives)
    # Forces in balance span the influence matrix; on them it is the inverse of the flexibility.
    values, vectors = np.linalg.eigh((influence + influence.T) / 2)
    balanced = vectors[:, values > 1e-9 * values.max()]
    flexible = np.linalg.inv(balanced.T @ influence @ balanced)
    elastic = balanced.T @ response.fastener_lbf.ravel()

    def energy(part: np.ndarray) -> float:
        return float((part - elastic) @ flexible @ (part - elastic)) / 2 / scale

    def slope(part: np.ndarray) -> np.ndarray:
        return np.asarray(flexible @ (part - elastic) / scale)

    def squares(part: np.ndarray) -> np.ndarray:
        force = (balanced @ part).reshape(-1, 2)
        return np.asarray((force**2).sum(axis=1) / strength**2)

    def slopes(part: np.ndarray) -> np.ndarray:
        force = (balanced @ part).reshape(-1, 2)
        rows = (2 * force / strength[:, None] ** 2)[:, :, None] * balanced.reshape(len(strength), 2, -1)
        return np.asarray(rows.sum(axis=1))

    scale = float(elastic @ flexible @ elastic)
    best = minimize(
        energy,
        0.5 * elastic,
        jac=slope,
        method="SLSQP",
        constraints=[{"type": "ineq", "fun": lambda p: 1.0 - squares(p), "jac": lambda p: -slopes(p)}],
        options={"maxiter": 500, "ftol": 1e-14},
    )
    assert best.success
    least = (balanced @ best.x).reshape(-1, 2)
    assert np.abs(found.force_lbf - least).max() < 2e-3 * strength[0]
