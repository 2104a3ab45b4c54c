"""Masses of the sheet parts.

Expected figures: scenario ALDER, answer 9 (ring .127, skin removed .063, cover .062), worked out there from area,
thickness and .101 lb/in^3 (from memory, unverified).
"""

from __future__ import annotations

import math

import pytest

from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.mass import sheet_masses


def test_alder_answer_9(alder_drawn):
    masses = {mass.name: mass.mass_lb for mass in sheet_masses(lay_out(alder_drawn))}
    assert masses["doubler"] == pytest.approx(0.127, abs=0.0005)
    assert masses["skin taken away"] == pytest.approx(-0.063, abs=0.0005)
    assert masses["cover"] == pytest.approx(0.062, abs=0.0006)
    both_wings_lb = 2.0 * sum(masses.values())
    assert both_wings_lb < 1.0


def test_a_mass_is_area_times_thickness_times_density(alder_drawn):
    removed = next(m for m in sheet_masses(lay_out(alder_drawn)) if m.name == "skin taken away")
    area = 5.0 * 4.0 - (4.0 - math.pi) * 0.75**2
    assert removed.mass_lb == pytest.approx(-area * 0.032 * 0.101)
