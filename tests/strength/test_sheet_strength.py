"""Net sections, buckling between rivets, panels, and the eccentric doubler."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.shapes.outlines import circle, rounded_rectangle
from hatchwright.strength.free_strip import free_edge_coefficient
from hatchwright.strength.net_section import (
    rigid_bending_ratio,
    row_efficiency,
    row_running_strength,
    strap_strength,
)
from hatchwright.strength.panel_buckling import free_edge_buckling, inter_rivet_stress
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


@pytest.mark.parametrize(("ratio", "known"), [(1.0, 1.440), (1.2, 1.135), (2.0, 0.698), (3.0, 0.564)])
def test_a_strip_with_a_free_edge(ratio: float, known: float) -> None:
    """Timoshenko and Gere, Theory of Elastic Stability, art. 9.4, nu .25 (from memory, unverified): within half a
    percent, and never above the sum of one term, (b/a)^2 + 6 (1 - nu)/pi^2, which comes from above.
    """
    found = free_edge_coefficient(length_in=ratio, width_in=1.0, poisson_ratio=0.25).value
    assert found == pytest.approx(known, rel=5e-3)
    assert found < 1 / ratio**2 + 6 * 0.75 / math.pi**2


def test_a_long_strip_with_a_free_edge() -> None:
    """.43 in handbooks (from memory, unverified); 6 (1 - nu)/pi^2 is .4255 with nu .3."""
    found = free_edge_coefficient(length_in=60.0, width_in=1.0, poisson_ratio=0.3).value
    assert found == pytest.approx(0.4255, rel=2e-3)


@pytest.mark.parametrize("shear", [0.2, 1.0, 4.0])
def test_shear_takes_from_a_strip(shear: float) -> None:
    def coefficient(ratio: float) -> float:
        return free_edge_coefficient(length_in=4.0, width_in=1.0, poisson_ratio=0.33, shear_ratio=ratio).value

    assert coefficient(shear) == coefficient(-shear)
    assert coefficient(shear) < coefficient(shear / 2) < coefficient(0.0)


def test_a_stub_strip_never_passes_compression_yield() -> None:
    found = free_edge_buckling(CLAD, thickness_in=0.032, length_in=0.3, width_in=0.15)
    assert found.value == CLAD.fcy_psi


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
