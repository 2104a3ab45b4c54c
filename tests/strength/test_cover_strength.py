"""The cover: a plate under air load against closed forms and a series of its own, and the load that it draws."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.strength.cover_plate import (
    CoverPath,
    drawn_load,
    plate_edge_reaction,
    plate_moment,
    plate_stress,
)
from hatchwright.strength.worked import work_out

NU = 0.3


def levy_edge_reaction(side_ratio: float) -> float:
    """Reaction at the middle of the long side of a simply supported plate, p b = 1: Levy's series along the short side
    (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, art. 30), summed with its tail."""
    m = np.arange(1, 4001, 2, dtype=float)
    x = m * np.pi * side_ratio / 2
    decay = np.where(x < 300, 1 / np.cosh(np.minimum(x, 300)), 0.0)
    # On the line across the long side w = 4 p b^4 / (pi^5 D) sum (1 - (2 + x tanh x) sech x / 2) sin(m pi y / b) / m^5;
    # its third derivatives at y = 0 make V = -D (w_yyy + (2 - nu) w_yxx).
    bend = 1 - (2 + x * np.tanh(x)) * decay / 2
    across = (x * np.tanh(x)) * decay / 2
    return float(np.sum(4 / (np.pi**2 * m**2) * (bend + (2 - NU) * across)))


@pytest.mark.parametrize(
    ("side_ratio", "moment"),
    [(1.0, 0.0479), (1.5, 0.0812), (2.0, 0.1017)],
)
def test_plate_on_simple_supports(side_ratio: float, moment: float) -> None:
    """Timoshenko and Woinowsky-Krieger, table 8, nu .3: M = beta p b^2 (from memory, unverified)."""
    sides = (side_ratio, 1.0)
    assert plate_moment(sides_in=sides, pressure_psi=1.0, poisson_ratio=NU).value == pytest.approx(
        moment, rel=2e-3
    )


def test_a_very_long_plate_is_a_beam() -> None:
    """Strip across the short side: p b^2 / 8."""
    sides = (40.0, 1.0)
    assert plate_moment(sides_in=sides, pressure_psi=1.0, poisson_ratio=NU).value == pytest.approx(
        1 / 8, rel=2e-3
    )


def test_the_edge_reaction_covers_every_ratio_of_sides() -> None:
    found = plate_edge_reaction(sides_in=(1.0, 1.0), pressure_psi=1.0).value
    series = [levy_edge_reaction(ratio) for ratio in np.linspace(1.0, 8.0, 60)]
    assert series[0] == pytest.approx(0.420, abs=2e-3)  # table 8, square plate (from memory, unverified)
    assert found >= max(series)
    assert found == pytest.approx(max(series), rel=0.02)


def test_bending_stress() -> None:
    moment = work_out(1.0, "M = given [in-lbf/in]")
    assert plate_stress(moment, thickness_in=0.032).value == pytest.approx(6 / 0.032**2)


def path(slide: float, cover_lbf: float = 1.6e6) -> CoverPath:
    flexibility = work_out(slide, "C = given [in/lbf]")
    return CoverPath(length_in=4.0, doubler_lbf=1.2e6, cover_lbf=cover_lbf, screws=8, flexibility=flexibility)


def test_screws_without_slip_share_by_stiffness() -> None:
    """Two springs side by side: 1.6 / (1.6 + 1.2) of the load."""
    assert drawn_load(path(1e-15), load_lbf=1000.0).value == pytest.approx(1000 * 1.6 / 2.8)


def test_soft_screws_and_clearance_take_load_off_the_cover() -> None:
    tight, soft = (drawn_load(path(slide), load_lbf=1000.0).value for slide in (1e-7, 1e-5))
    assert soft < tight
    stretch_in = 1000.0 * 4.0 / 1.2e6  # of the doubler alone
    assert drawn_load(path(1e-7), load_lbf=1000.0, clearance_in=0.4 * stretch_in / 2).value < tight
    assert drawn_load(path(1e-7), load_lbf=1000.0, clearance_in=stretch_in / 2).value == 0.0
