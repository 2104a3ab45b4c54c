"""The U-channel of the airframe handbook, as far as tables go.

FAA-H-8083-31, Aviation Maintenance Technician Handbook: Airframe, Volume 1, 2012, chapter 4, U-channel example
(fig. 4-124): 2024-T3 of .040, bent 90 degrees, R + T = .2.
"""

from __future__ import annotations

import pytest

from hatchwright.tables.bends import handbook_bend_radius, setback


def test_setback_of_the_channel() -> None:
    """Printed setback .2, K = 1. The radius .16 follows from the printed R + T and is the one of the chart."""
    radius_in = handbook_bend_radius("2024", "T3", thickness_in=0.040).value
    assert radius_in == 0.16
    assert setback(bend_deg=90, radius_in=radius_in, thickness_in=0.040).value == pytest.approx(0.2, abs=1e-9)
