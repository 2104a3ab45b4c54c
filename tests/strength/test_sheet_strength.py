"""Net sections, buckling between rivets, panels, and the eccentric doubler."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.shapes.outlines import circle, rounded_rectangle
from hatchwright.strength.net_section import (
    rigid_bending_ratio,
    row_efficiency,
    row_running_strength,
    strap_strength,
)
from hatchwright.strength.panel_buckling import compression_buckling, inter_rivet_stress, interaction
from hatchwright.strength.site import section_width_in
from hatchwright.strength.stress_concentration import peak_edge_load, rounded_box
from hatchwright.tables.allowables import allowables
from hatchwright.tables.materials import sheet

CLAD = allowables(sheet("2024", "T3", True), thickness_in=0.032)


def test_a_row_of_ad4_at_half_an_inch() -> None:
    """59 ksi x .032 x (.5 - .1285) = 701.4 lb a pitch; 74.3 percent of the sheet."""
    assert row_efficiency(pitch_in=0.5, hole_in=0.1285).value == pytest.approx(0.743)
    found = row_running_strength(CLAD, thickness_in=0.032, pitch_in=0.5, hole_in=0.1285)
    assert found.value * 0.5 == pytest.approx(701.4, abs=0.1)


def test_holes_that_run_into_each_other_are_refused() -> None:
    with pytest.raises(GeometryError, match="run into each other"):
        row_efficiency(pitch_in=0.12, hole_in=0.1285)


def test_a_strap_loses_every_hole_that_it_cuts() -> None:
    found = strap_strength(CLAD, thickness_in=0.040, width_in=3.0, holes_in=(0.1285, 0.1285))
    assert found.value == pytest.approx(59_000 * 0.040 * (3.0 - 0.257))
    assert strap_strength(CLAD, thickness_in=0.040, width_in=0.2, holes_in=(0.1285, 0.1285)).value == 0.0


@pytest.mark.parametrize(
    ("is_flush", "thickness_in", "pitch_in", "ec_psi", "expected"),
    [
        (False, 0.032, 1.0, 10.7e6, 27_035),
        (True, 0.032, 0.75, 10.7e6, 16_021),
        (False, 0.025, 0.75, 10.7e6, 29_335),
    ],
)
def test_inter_rivet_buckling(
    is_flush: bool, thickness_in: float, pitch_in: float, ec_psi: float, expected: float
) -> None:
    """c pi^2 Ec (t/p)^2 / 12 by hand with pi^2/12 = .8225; above .7 Fcy the column is not taken, so its step is
    read.
    """
    found = inter_rivet_stress(CLAD, thickness_in=thickness_in, pitch_in=pitch_in, is_flush=is_flush)
    column = next(step for step in found.working if step.result.symbol == "Fir")
    assert CLAD.ec_psi == ec_psi
    assert column.result.value == pytest.approx(expected, rel=1e-3)
    assert found.value == min(column.result.value, 0.7 * CLAD.fcy_psi)


def test_a_long_panel_in_compression() -> None:
    """4 pi^2 E / (12 (1 - nu^2)) (t/b)^2 by hand: 3.62 x 10.7e6 x ... with nu .33."""
    found = compression_buckling(CLAD, thickness_in=0.032, length_in=12.0, width_in=4.0)
    assert found.value == pytest.approx(4 * math.pi**2 * 10.7e6 / (12 * (1 - 0.33**2)) * (0.032 / 4) ** 2)


def test_a_stub_panel_never_passes_compression_yield() -> None:
    assert compression_buckling(CLAD, thickness_in=0.032, length_in=0.3, width_in=0.3).value == CLAD.fcy_psi


@pytest.mark.property
@given(rc=st.floats(0.0, 3.0), rs=st.floats(0.0, 3.0))
def test_interaction_lands_on_its_curve(rc: float, rs: float) -> None:
    if rc < 1e-3 and rs < 1e-3:
        return
    k = interaction(compression_ratio=rc, shear_ratio=rs).value
    assert k * rc + (k * rs) ** 2 == pytest.approx(1.0, rel=1e-6)


def test_tension_does_not_help_a_sheared_panel() -> None:
    assert interaction(compression_ratio=-0.5, shear_ratio=0.5).value == pytest.approx(2.0)


def test_one_sided_doubler() -> None:
    """Two sheets alike: e = t, half of the moment on each side of the end: fb/f = 6 (t/2) / t = 3."""
    assert rigid_bending_ratio(skin_in=0.032, doubler_in=0.032).value == pytest.approx(3.0)


def test_section_widths() -> None:
    box = rounded_rectangle(width_in=4.0, height_in=2.0, radius_in=0.5, center=(1.0, 1.0))
    assert section_width_in(box, axis=0, at_in=1.0) == pytest.approx(2.0)
    assert section_width_in(box, axis=1, at_in=1.0) == pytest.approx(4.0)
    ring = circle(diameter_in=2.0, center=(0.0, 0.0))
    assert section_width_in(ring, axis=0, at_in=0.6) == pytest.approx(1.6, abs=1e-4)
    assert section_width_in(ring, axis=0, at_in=1.5) == 0.0


@pytest.mark.property
@given(nx=st.floats(-200, 200), ny=st.floats(-200, 200), q=st.floats(-200, 200))
def test_peaks_of_a_box_turn_with_it(nx: float, ny: float, q: float) -> None:
    lying = rounded_box(rounded_rectangle(width_in=6.0, height_in=3.0, radius_in=0.5, center=(0.0, 0.0)))
    standing = rounded_box(rounded_rectangle(width_in=3.0, height_in=6.0, radius_in=0.5, center=(0.0, 0.0)))
    a = peak_edge_load(lying, nx_lbf_in=nx, ny_lbf_in=ny, q_lbf_in=q).value
    b = peak_edge_load(standing, nx_lbf_in=ny, ny_lbf_in=nx, q_lbf_in=q).value
    assert a == pytest.approx(b)
