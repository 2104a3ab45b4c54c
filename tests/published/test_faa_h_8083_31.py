"""The U-channel of the airframe handbook, as far as tables go.

FAA-H-8083-31, Aviation Maintenance Technician Handbook: Airframe, Volume 1, 2012, chapter 4, U-channel example
(fig. 4-124): 2024-T3 of .040, bent 90 degrees, R + T = .2. Setback seen in public copies; bend allowance and developed
width from memory.
"""

from __future__ import annotations

import pytest

from hatchwright.job.mount import Bracket
from hatchwright.layout.bracket import bracket_flat
from hatchwright.tables.bends import bend_allowances, setback
from hatchwright.workings import Grade


def test_setback_of_the_channel() -> None:
    """Printed setback .2, K = 1. The radius .16 follows from the printed R + T."""
    assert setback(bend_deg=90, radius_in=0.16, thickness_in=0.040).value == pytest.approx(0.2, abs=1e-9)


def test_bend_allowance_of_the_channel() -> None:
    """Printed .27, by (.01743 R + .0078 T) N = .2791: the handbook cuts its digits off, hence .01."""
    seen, handbook = bend_allowances(bend_deg=90, radius_in=0.16, thickness_in=0.04)
    assert handbook.value == pytest.approx(0.2791, abs=5e-5)
    assert handbook.value == pytest.approx(0.27, abs=0.01)
    assert (handbook.source.key, handbook.grade) == ("FAA-H-8083-31", Grade.RESTATED)
    assert (seen.source.key, seen.grade) == ("NAVEDTRA-14018", Grade.PUBLISHED)


def test_developed_width_of_the_channel() -> None:
    """Printed: flats .80, 1.60 and .80 and two allowances of .27, 3.74; with allowances not cut off 3.758."""
    typed = {"alloy": "2024", "temper": "T3", "thickness": ".040", "radius": ".16", "legs": ["1", "2", "1"]}
    flat = bracket_flat(Bracket.model_validate(typed))
    assert flat.flats_in == pytest.approx((0.8, 1.6, 0.8))
    assert flat.developed_in[1] == pytest.approx(3.758, abs=5e-4)
    assert flat.developed_in[1] == pytest.approx(3.74, abs=0.02)
