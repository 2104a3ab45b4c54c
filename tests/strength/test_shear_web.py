"""The sheared bay: nine cells in equilibrium, and a web in incomplete diagonal tension between its two ends."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.errors import GeometryError, SolveError
from hatchwright.strength.diagonal_tension import (
    TensionField,
    Web,
    edge_rivet_load,
    flange_flexibility,
    greatest_upright_stress,
    tension_factor,
    tension_field,
    web_buckling_stress,
)
from hatchwright.strength.panel_buckling import shear_buckling
from hatchwright.strength.shear_bay import BayCells, cell_flows
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


WEB = Web(
    thickness_in=0.025, spacing_in=5.0, depth_in=9.0, upright_sq_in=0.09, flange_sq_in=0.6, modulus_psi=10.6e6
)


def fold(k: float, web: Web = WEB) -> TensionField:
    """A field at a wanted k; the stress that goes with it."""
    stress = 1000.0 * 10 ** (2 * math.atanh(k)) if k < 1 else 1e6
    factor = tension_factor(stress_psi=stress, critical_psi=1000.0)
    assert factor.value == pytest.approx(k, abs=1e-6) or k == 1
    return tension_field(web, stress_psi=10_000.0, factor=factor)


def test_k_runs_from_nothing_to_one() -> None:
    """tanh(0.5 log10(100)) = tanh(1) = 0.7616."""
    ks = [
        tension_factor(stress_psi=ratio * 500.0, critical_psi=500.0).value
        for ratio in (0.5, 1.0, 100.0, 1e12)
    ]
    assert ks == pytest.approx([0.0, 0.0, math.tanh(1.0), math.tanh(6.0)])


def test_pure_diagonal_tension_has_wagners_angle() -> None:
    """Closed form for k = 1: tan^4 alpha = (1 + h t / 2 AF) / (1 + d t / AU), Wagner 1929 (NACA TM 604; from
    memory, and derived: put k = 1 in equations 22 and 30). k = 1 is only neared, hence .1 percent."""
    field = tension_field(WEB, stress_psi=10_000.0, factor=tension_factor(stress_psi=1e15, critical_psi=1e-5))
    h, d, t = WEB.depth_in, WEB.spacing_in, WEB.thickness_in
    wagner = ((1 + h * t / (2 * WEB.flange_sq_in)) / (1 + d * t / WEB.upright_sq_in)) ** 0.25
    assert math.tan(math.radians(field.angle_deg)) == pytest.approx(wagner, rel=1e-3)


def test_pure_diagonal_tension_is_in_balance() -> None:
    """Uprights carry tau d t tan alpha between them, flanges tau h t cot alpha / 2 each: statics of a tension
    field.
    """
    field = tension_field(WEB, stress_psi=10_000.0, factor=tension_factor(stress_psi=1e15, critical_psi=1e-5))
    tangent = math.tan(math.radians(field.angle_deg))
    pull = 10_000.0 * WEB.thickness_in
    assert field.upright.value * WEB.upright_sq_in == pytest.approx(
        -pull * WEB.spacing_in * tangent, rel=1e-3
    )
    assert field.flange.value * WEB.flange_sq_in == pytest.approx(
        -pull * WEB.depth_in / tangent / 2, rel=1e-3
    )


def test_rigid_members_fold_at_45_degrees() -> None:
    stiff = Web(
        thickness_in=0.025,
        spacing_in=5.0,
        depth_in=9.0,
        upright_sq_in=1e6,
        flange_sq_in=1e6,
        modulus_psi=10.6e6,
    )
    assert fold(0.5, stiff).angle_deg == pytest.approx(45.0, abs=1e-3)


def test_more_tension_field_loads_the_members_more() -> None:
    fields = [fold(k) for k in (0.2, 0.4, 0.6, 0.8)]
    uprights = [field.upright.value for field in fields]
    assert all(b < a < 0 for a, b in itertools.pairwise(uprights))
    assert all(30.0 < field.angle_deg < 50.0 for field in fields)
    assert all(field.web.value >= 10_000.0 for field in fields)


def test_the_buckling_formula_agrees_with_the_plate_chart() -> None:
    """Simply supported, both are the same plate: 5.03 + 3.26 (dc/hc)^2 is a fit of points with 2 percent of
    error, and its plates have nu .3 to the chart's .33."""
    clad = allowables(sheet("2024", "T3", True), thickness_in=0.032)
    found = web_buckling_stress(thickness_in=0.032, spacing_in=5.0, depth_in=9.0, modulus_psi=clad.ec_psi)
    chart = shear_buckling(clad, thickness_in=0.032, sides_in=(5.0, 9.0)).value
    assert found.value == pytest.approx(chart * (1 - 0.33**2) / (1 - 0.3**2), rel=0.03)


def test_clamped_edges_raise_the_buckling_stress() -> None:
    plain, held = (
        web_buckling_stress(
            thickness_in=0.032,
            spacing_in=5.0,
            depth_in=9.0,
            modulus_psi=10.7e6,
            spacing_restraint_ratio=r,
            depth_restraint_ratio=r,
        ).value
        for r in (1.0, 1.62)
    )
    assert held == pytest.approx(1.62 * plain)


def test_edge_rivets_of_a_web_in_pure_diagonal_tension() -> None:
    """k = 1: the fold pulls at 45 degrees, root two times the shear flow."""
    whole = tension_factor(stress_psi=1e15, critical_psi=1e-5)
    assert edge_rivet_load(shear_lbf_in=100.0, factor=whole).value == pytest.approx(141.4, rel=1e-3)
    none = tension_factor(stress_psi=1.0, critical_psi=10.0)
    assert edge_rivet_load(shear_lbf_in=100.0, factor=none).value == 100.0


def test_uprights_peak_at_their_middle_and_flanges_bend_between_them() -> None:
    factor = tension_factor(stress_psi=5000.0, critical_psi=1000.0)
    field = tension_field(WEB, stress_psi=5000.0, factor=factor)
    assert greatest_upright_stress(field, WEB, factor).value <= field.upright.value < 0
    assert flange_flexibility(WEB, flange_inertias_in4=(10.0, 10.0)).value == 0.0
    soft = flange_flexibility(WEB, flange_inertias_in4=(0.002, 0.002)).value
    assert 0 < soft < 1
    with pytest.raises(SolveError, match="beyond the chart"):
        flange_flexibility(WEB, flange_inertias_in4=(1e-7, 1e-7))


def test_webs_that_cannot_be_are_refused() -> None:
    with pytest.raises(SolveError, match="not positive"):
        Web(
            thickness_in=0.0,
            spacing_in=5.0,
            depth_in=9.0,
            upright_sq_in=0.1,
            flange_sq_in=0.1,
            modulus_psi=1e7,
        )
    with pytest.raises(SolveError, match="farther apart"):
        web_buckling_stress(thickness_in=0.03, spacing_in=9.0, depth_in=5.0, modulus_psi=1e7)
