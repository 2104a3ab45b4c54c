"""The offset of a cutter by scan and by caliper, against draws of every error (JCGM 101:2008, Monte Carlo)."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.metrology.real_offset import real_offset
from hatchwright.metrology.scanned_offset import differ_by, scanned_offset, together

DRAWS = 200_000
OWN, EDGE, TEMPLATE = (0.0018, 0.0012), 0.0002, 0.0005


def scan(apart=(0.500, 0.504), **changes):
    given = {
        "own_in": OWN,
        "edge_in": EDGE,
        "template_standard_in": TEMPLATE,
        "scatter_in": 0.0003,
        "places": 160,
    }
    return scanned_offset(apart, **(given | changes))


def drawn(rng):
    """Offsets by scan and by the mean of five widths by caliper, of one cut and template, each with all its errors."""
    template = rng.normal(0.0, TEMPLATE, DRAWS)
    edge = rng.normal(0.0, EDGE, DRAWS)
    widths = [rng.normal(0.0, u, DRAWS) + 2.0 * edge for u in OWN]
    by_scan = 0.5 * (template - 0.5 * (widths[0] + widths[1]))
    gauge = rng.uniform(-0.001, 0.001, DRAWS)
    by_caliper = 0.5 * (template - gauge - rng.normal(0.0, 0.001 / math.sqrt(5.0), DRAWS))
    return by_scan, by_caliper


def test_an_offset_by_scan_errs_as_much_as_stated():
    by_scan, _ = drawn(np.random.default_rng(71))
    found = scan()
    assert found.offset_in == pytest.approx(0.251)
    assert np.std(by_scan) == pytest.approx(found.standard_in, rel=0.01)
    assert np.mean(np.abs(by_scan) <= found.expanded_in) == pytest.approx(0.95, abs=0.003)


def test_more_places_narrow_nothing_that_is_common():
    assert scan(places=4000).standard_in == scan(places=4).standard_in


def test_scan_and_caliper_together_are_the_better_for_it():
    caliper = real_offset(
        np.array([0.5000, 0.5010, 0.5020, 0.5030, 0.5040]),
        gauge_limit_in=0.001,
        template_standard_in=TEMPLATE,
    )
    both = together(caliper, scan(), template_standard_in=TEMPLATE)
    assert both.standard_in < min(caliper.standard_in, scan().standard_in)
    assert min(caliper.offset_in, 0.251) <= both.offset_in <= max(caliper.offset_in, 0.251)
    assert both.count == 165


def test_weights_by_variance_err_as_much_as_stated():
    by_scan, by_caliper = drawn(np.random.default_rng(72))
    spread = 0.001 * np.array([-1.2649, -0.6325, 0.0, 0.6325, 1.2649])  # a standard deviation of .001
    caliper = real_offset(0.502 + spread, gauge_limit_in=0.001, template_standard_in=TEMPLATE)
    both = together(caliper, scan(), template_standard_in=TEMPLATE)
    own = [one.standard_in**2 - (0.5 * TEMPLATE) ** 2 for one in (scan(), caliper)]
    mean = (by_scan / own[0] + by_caliper / own[1]) / sum(1.0 / each for each in own)
    assert np.std(mean) == pytest.approx(both.standard_in, rel=0.01)


def test_two_that_agree_differ_by_less_than_stated_in_95_of_100():
    by_scan, by_caliper = drawn(np.random.default_rng(73))
    spread = 0.001 * np.array([-1.2649, -0.6325, 0.0, 0.6325, 1.2649])
    caliper = real_offset(0.502 + spread, gauge_limit_in=0.001, template_standard_in=TEMPLATE)
    _, within = differ_by(caliper, scan(), template_standard_in=TEMPLATE)
    assert np.mean(np.abs(by_scan - by_caliper) <= within) == pytest.approx(0.95, abs=0.01)
