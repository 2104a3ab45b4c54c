"""Weights of fasteners: volumes worked out here by hand, and a shop's own weights.

Head of MS20470AD4: .250 across, .054 high; MS20426AD3: .179 across, .036 high, 100 degrees (both from memory,
unverified). Densities: 2024 .100 lb/in^3 [MIL-HDBK-5J] table 3.2.3.0(b1), which stands in for 2117; steel .283 (from
memory, unverified). Shares and shapes: common practice, no source.
"""

from __future__ import annotations

import math

import pytest

from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.mass import weight_change
from hatchwright.tables.shop import load_shop_tables
from hatchwright.words.tell import tell
from hatchwright.workings import Grade

OURS = "OUR-SCALE,shelf 3,2025,the shop's own"


def by_name(change):
    return {mass.name: mass for mass in change.masses}


def test_the_rivets_of_alder_by_volume(alder_drawn):
    """64 of 1/8 x 1/4: shank .003068 in^3, head 3/4 of .002651; out by 1/16 of shank and a quarter of the cylinder."""
    mass = by_name(weight_change(lay_out(alder_drawn)))["64 x MS20470AD4"]
    shank, head = math.pi / 4 * 0.125**2 * 0.25, math.pi / 4 * 0.25**2 * 0.054
    assert mass.mass_lb == pytest.approx(64 * (shank + 0.75 * head) * 0.100)
    assert mass.uncertainty_lb == pytest.approx(64 * (shank / 4 + 0.25 * head) * 0.100)
    assert mass.working.grade is Grade.PRACTICE
    assert "MIL-HDBK-5J" in mass.working.formula


def test_a_flush_rivet_is_a_cylinder_over_all_and_the_rest_of_its_cone(alder_drawn):
    """Two a nutplate, 3/32 x 3/16: through .040 and .030 the length by formula is .2106, nearest 3/16."""
    mass = by_name(weight_change(lay_out(alder_drawn)))["32 x MS20426AD3"]
    d, across, high = 3 / 32, 0.179, 0.036
    shank = math.pi / 4 * d**2 * (3 / 16)
    cone = math.pi / 12 * high * (across**2 + across * d + d**2) - math.pi / 4 * d**2 * high
    assert mass.mass_lb == pytest.approx(32 * (shank + cone) * 0.100)


def test_screws_and_nuts_are_estimates_of_steel(alder_drawn):
    found = by_name(weight_change(lay_out(alder_drawn)))
    d = 0.164
    head = math.pi / 3 * d**2 * (d / 2 / math.tan(math.radians(50)))
    screw = found["16 x 8-32 x 1/2"]
    assert screw.mass_lb == pytest.approx(16 * (0.8 * math.pi / 4 * d**2 * 0.5 + head) * 0.283)
    assert screw.uncertainty_lb == pytest.approx(0.3 * screw.mass_lb)
    nut = found["16 x 100-degree two-lug nutplate 8-32"]
    barrel, plate = math.pi / 4 * ((1.6 * d) ** 2 - d**2) * d, 12 * d**2 * 0.03
    assert nut.mass_lb == pytest.approx(16 * (barrel + plate) * 0.283)
    assert nut.uncertainty_lb == pytest.approx(0.5 * nut.mass_lb)


def test_the_total_is_the_sum_and_so_is_what_it_may_be_out_by(alder_drawn):
    change = weight_change(lay_out(alder_drawn))
    assert change.total_lb == pytest.approx(sum(mass.mass_lb for mass in change.masses))
    assert change.uncertainty_lb == pytest.approx(sum(mass.uncertainty_lb for mass in change.masses))
    assert change.not_weighed == ()
    assert 0.071 < change.uncertainty_lb <= 0.072


def test_a_shop_that_weighs_its_fasteners_needs_no_estimate(alder_drawn, tmp_path):
    rows = [
        f"ms20470ad4-4,.0005,{OURS}",
        f"8-32 x 1/2,.0027,{OURS}",
        f"100-degree two-lug nutplate 8-32,.004,{OURS}",
    ]
    heading = "part,weight_lb,source,place,edition,basis"
    (tmp_path / "hardware_weights.csv").write_text("\n".join([heading, *rows]) + "\n", encoding="utf-8")
    found = by_name(weight_change(lay_out(alder_drawn, load_shop_tables(tmp_path))))
    for name, mass_lb in (
        ("64 x MS20470AD4-4", 0.032),
        ("16 x 8-32 x 1/2", 0.0432),
        ("16 x 100-degree two-lug nutplate 8-32", 0.064),
    ):
        mass = found[name]
        assert (mass.mass_lb, mass.uncertainty_lb) == (pytest.approx(mass_lb), 0.0)
        assert (mass.working.grade, mass.working.source.key) == (Grade.SHOP, "OUR-SCALE")


def test_what_cannot_be_weighed_is_named_with_the_reason(dogwood):
    change = weight_change(lay_out(dogwood))
    assert [tell(one) for one in change.not_weighed] == ["8-32 screws (the screw length is not entered)"]
