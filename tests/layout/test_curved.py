"""Single curvature: the antenna of the third scenario (radius 14), and arcs drawn point by point."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.errors import GeometryError
from hatchwright.job.skin import Curvature
from hatchwright.layout.curved import CurvedSkin, curved_skin, radius_from_chord_in
from hatchwright.layout.flat_pattern import Stretch

ROUND_14 = CurvedSkin(along="y", radius_in=14.0, thickness_in=0.025)


def test_radius_from_a_straightedge_of_eight_inches():
    """c^2/(8 h) + h/2 = 64/4.664 + .2915 = 14.01."""
    assert radius_from_chord_in(chord_in=8.0, rise_in=0.583) == pytest.approx(14.0136, abs=5e-5)


@pytest.mark.parametrize("radius", [5.0, 14.0, 80.0])
def test_radius_of_an_arc_that_was_drawn(radius):
    half = 0.2
    chord, rise = 2.0 * radius * math.sin(half), radius * (1.0 - math.cos(half))
    assert radius_from_chord_in(chord_in=chord, rise_in=rise) == pytest.approx(radius, rel=1e-12)


def test_rigid_template_of_the_third_scenario():
    """Arc 2.5 on radius 14: off by .0133, stands off .223, as printed with the scenario."""
    assert ROUND_14.rigid_error_in(2.5) == pytest.approx(0.0133, abs=5e-5)
    assert ROUND_14.stand_off_in(2.5) == pytest.approx(0.223, abs=5e-4)


def test_flexed_template_of_the_third_scenario():
    """4.40 shrinks by .0196 under .125 and by .0099 under .063; printed from L T/(2 R), which is .4 % more."""
    assert ROUND_14.flexed_shrink_in(4.40, template_in=0.125) == pytest.approx(0.0196, abs=1e-4)
    assert ROUND_14.flexed_shrink_in(4.40, template_in=0.063) == pytest.approx(0.0099, abs=1e-4)


def test_flat_drilled_doubler_of_the_third_scenario():
    """.0090 when skin and doubler are both drilled flat, as printed with the scenario; from lengths on the outer face
    4.40 x .041/13.959 = .0129, because the skin's own middle is shorter than its outer face."""
    both = ROUND_14.both_flat_growth_in(4.40, sheet_in=0.032, face="inside")
    assert both == pytest.approx(0.009, abs=5e-5)
    growth = ROUND_14.flat_drilled_growth_in(4.40, sheet_in=0.032, face="inside")
    assert growth == pytest.approx(4.40 * 0.041 / 13.959, abs=1e-9)
    assert growth - both == pytest.approx(4.40 * 0.0125 / 14.0, abs=5e-5)


def test_flat_base_of_the_third_scenario():
    """Base 2.20 across: .043 at the edges, .020 at screws 1.50 apart."""
    assert ROUND_14.gap_under_flat_in(1.10) == pytest.approx(0.043, abs=5e-4)
    assert ROUND_14.gap_under_flat_in(0.75) == pytest.approx(0.020, abs=5e-4)


def test_roll_radius_of_the_third_scenario():
    """14 - .025 at the outer face."""
    outer, inner = ROUND_14.roll_radii_in(sheet_in=0.032, face="inside")
    assert outer == pytest.approx(13.975)
    assert inner == pytest.approx(13.943)
    assert ROUND_14.roll_radii_in(sheet_in=0.032, face="outside") == pytest.approx((14.032, 14.0))


def length_of_arc(radius: float, angle: float) -> float:
    """By a polygon of many sides, without the formula for an arc."""
    at = np.linspace(0.0, angle, 20_001)
    return float(np.hypot(*np.diff(radius * np.column_stack([np.cos(at), np.sin(at)]), axis=0).T).sum())


@pytest.mark.parametrize(("radius", "thickness"), [(14.0, 0.125), (8.0, 0.25), (40.0, 0.063)])
def test_flexed_template_against_a_drawn_arc(radius, thickness):
    skin = CurvedSkin(along="x", radius_in=radius, thickness_in=0.025)
    angle = 4.0 / radius
    on_skin, in_template = length_of_arc(radius, angle), length_of_arc(radius + thickness / 2.0, angle)
    assert skin.flexed_shrink_in(in_template, template_in=thickness) == pytest.approx(
        in_template - on_skin, rel=1e-6
    )
    assert skin.flexed_pattern_ratio(template_in=thickness) == pytest.approx(in_template / on_skin, rel=1e-9)


@pytest.mark.parametrize("face", ["inside", "outside"])
def test_flat_sheet_against_drawn_arcs(face):
    angle, sheet = 4.4 / 14.0, 0.040
    middle = 14.0 - 0.0125
    sheet_middle = 14.0 - 0.025 - 0.020 if face == "inside" else 14.020
    on_skin, in_sheet = length_of_arc(middle, angle), length_of_arc(sheet_middle, angle)
    assert ROUND_14.both_flat_growth_in(on_skin, sheet_in=sheet, face=face) == pytest.approx(
        on_skin - in_sheet, rel=1e-6
    )
    on_face = length_of_arc(14.0, angle)
    too_long = (
        length_of_arc(14.0, angle * on_face / in_sheet) - on_face
    )  # on_face drilled flat turns through more
    assert ROUND_14.flat_drilled_growth_in(on_face, sheet_in=sheet, face=face) == pytest.approx(
        too_long, rel=1e-6
    )
    assert ROUND_14.flat_place_ratio(sheet_in=sheet, face=face) == pytest.approx(in_sheet / on_face, rel=1e-9)


def test_compensated_pattern_comes_out_right_when_it_is_flexed():
    pattern = np.array([[0.0, -2.2], [1.0, 0.3], [2.0, 2.2]])
    ratio = ROUND_14.flexed_pattern_ratio(template_in=0.125)
    flat = Stretch("y", ratio, about_in=0.0).points(pattern)
    spread = float(np.ptp(flat[:, 1]))
    assert spread - ROUND_14.flexed_shrink_in(spread, template_in=0.125) == pytest.approx(4.4, abs=1e-12)
    assert flat[:, 0] == pytest.approx(pattern[:, 0])


def curvature(**facts):
    return Curvature.model_validate(
        {"along": "y", "chord": "8", "rise": ".583", **facts}, context={"unit": "in"}
    )


@pytest.mark.parametrize(("unit", "radius"), [("in", "40.100 in"), ("mm", "1018.54 mm")])
def test_double_curvature_is_named_and_refused_in_the_unit_of_the_job(unit, radius):
    """R = 8^2 / (8 x .2) + .2 / 2 = 40.1 in, times 25.4 in millimeters."""
    with pytest.raises(GeometryError, match=f"double curvature.*radius {radius}; no flat"):
        curved_skin(curvature(other_rise=".2"), thickness_in=0.025, unit=unit)


@pytest.mark.parametrize(("unit", "words"), [("in", r"25\.000 in along"), ("mm", r"635\.00 mm along")])
def test_an_arc_past_a_quarter_round_is_told_in_the_unit_of_the_job(unit, words):
    skin = curved_skin(curvature(), thickness_in=0.025, unit=unit)
    with pytest.raises(GeometryError, match=words):
        skin.stand_off_in(25.0)


def test_a_hair_under_the_straightedge_is_no_curvature():
    assert curved_skin(
        curvature(other_rise=".010"), thickness_in=0.025, unit="in"
    ).radius_in == pytest.approx(14.0136, abs=1e-4)


def test_a_rise_that_is_none_is_refused():
    with pytest.raises(GeometryError, match=r"5\.000 in gap under a 8\.000 in straightedge is not an arc"):
        radius_from_chord_in(chord_in=8.0, rise_in=5.0)
    with pytest.raises(GeometryError, match=r"127\.00 mm gap under a 203\.20 mm straightedge is not an arc"):
        curved_skin(curvature(rise="5"), thickness_in=0.025, unit="mm")


def test_an_arc_more_than_a_quarter_round_is_refused():
    with pytest.raises(GeometryError, match="quarter turn"):
        ROUND_14.rigid_error_in(25.0)
    with pytest.raises(GeometryError, match="curve"):
        ROUND_14.gap_under_flat_in(15.0)
