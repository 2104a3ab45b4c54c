"""The sheared bay: nine cells in equilibrium, and a web in incomplete diagonal tension between its two ends."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.strength.panel_buckling import shear_buckling
from hatchwright.strength.shear_bay import BayCells, cell_flows, edge_rivet_load, tension_factor
from hatchwright.tables.allowables import allowables
from hatchwright.tables.materials import sheet

SIDE = st.floats(0.5, 20.0)


@pytest.mark.property
@given(d=st.tuples(SIDE, SIDE, SIDE), h=st.tuples(SIDE, SIDE, SIDE))
def test_every_cut_through_the_bay_carries_the_whole_shear(
    d: tuple[float, float, float], h: tuple[float, float, float]
) -> None:
    """Equilibrium of each row and column of cells: the shear on a full section is q0 times its length."""
    flows = cell_flows(BayCells(d, h), shear_lbf_in=100.0)
    through_corners = flows.corner.value * (d[0] + d[2]) + flows.over.value * d[1]
    through_opening = flows.beside.value * (d[0] + d[2])
    assert through_corners == pytest.approx(100.0 * sum(d), rel=1e-9)
    assert through_opening == pytest.approx(100.0 * sum(d), rel=1e-9)
    up_corners = flows.corner.value * (h[0] + h[2]) + flows.beside.value * h[1]
    up_opening = flows.over.value * (h[0] + h[2])
    assert up_corners == pytest.approx(100.0 * sum(h), rel=1e-9)
    assert up_opening == pytest.approx(100.0 * sum(h), rel=1e-9)


@pytest.mark.property
@given(d=st.tuples(SIDE, SIDE, SIDE), h=st.tuples(SIDE, SIDE, SIDE))
def test_framing_members_are_in_balance(d: tuple[float, float, float], h: tuple[float, float, float]) -> None:
    """A member along X at the opening's edge is pushed by the flows on its two sides: corner and beside cell
    past the opening, the cell over it and nothing along it. Over its whole length they cancel."""
    flows = cell_flows(BayCells(d, h), shear_lbf_in=100.0)
    past_x, past_y = flows.beside.value - flows.corner.value, flows.over.value - flows.corner.value
    assert past_x * (d[0] + d[2]) == pytest.approx(flows.over.value * d[1], rel=1e-9)
    assert past_y * (h[0] + h[2]) == pytest.approx(flows.beside.value * h[1], rel=1e-9)
    assert flows.frame_x.value == pytest.approx(past_x * max(d[0], d[2]), rel=1e-9)
    assert flows.frame_y.value == pytest.approx(past_y * max(h[0], h[2]), rel=1e-9)


def test_an_opening_that_leaves_no_skin_is_refused() -> None:
    with pytest.raises(GeometryError, match="all four sides"):
        BayCells((1.0, 4.0, -0.5), (1.0, 1.0, 1.0))


def test_k_runs_from_nothing_to_one() -> None:
    """tanh(0.5 log10(100)) = tanh(1) = 0.7616."""
    ks = [
        tension_factor(stress_psi=ratio * 500.0, critical_psi=500.0).value
        for ratio in (0.5, 1.0, 100.0, 1e12)
    ]
    assert ks == pytest.approx([0.0, 0.0, math.tanh(1.0), math.tanh(6.0)])


def test_the_plate_chart_agrees_with_the_buckling_formula_of_webs() -> None:
    """NACA TN 2661, eq. 32, simply supported: 5.03 + 3.26 (dc/hc)^2 is a fit of points with 2 percent of error, and
    its plates have nu .3 to the chart's .33."""
    clad = allowables(sheet("2024", "T3", True), thickness_in=0.032)
    formula_psi = (5.03 + 3.26 * (5.0 / 9.0) ** 2) * clad.ec_psi * (0.032 / 5.0) ** 2
    chart = shear_buckling(clad, thickness_in=0.032, sides_in=(5.0, 9.0)).value
    assert formula_psi == pytest.approx(chart * (1 - 0.33**2) / (1 - 0.3**2), rel=0.03)


def test_edge_rivets_of_a_web_in_pure_diagonal_tension() -> None:
    """k = 1: the fold pulls at 45 degrees, root two times the shear flow."""
    whole = tension_factor(stress_psi=1e15, critical_psi=1e-5)
    assert edge_rivet_load(shear_lbf_in=100.0, factor=whole).value == pytest.approx(141.4, rel=1e-3)
    none = tension_factor(stress_psi=1.0, critical_psi=10.0)
    assert edge_rivet_load(shear_lbf_in=100.0, factor=none).value == 100.0
