"""Rivets in a government repair manual of the 1940s, a fighter's, section on riveting, par. 14 to 16, text copy.

Shop heads in inches: .188, .234 and .281 wide and .063, .078 and .093 high for 1/8, 5/32 and 3/16, printed to the
thousandth, which cuts the next digit or rounds it: hence .001. Drills: No. 52 (.0635), 41 (.096), 30 (.1285), 22
(.157), 12 (.189) for 1/16 to 3/16.
"""

from __future__ import annotations

import pytest

from hatchwright.tables.drills import drill
from hatchwright.tables.driven_heads import driven_head_limits
from hatchwright.tables.rivets import hole_drill
from hatchwright.workings import Grade


@pytest.mark.parametrize(
    ("diameter_in", "wide_in", "high_in"),
    [(1 / 8, 0.188, 0.063), (5 / 32, 0.234, 0.078), (3 / 16, 0.281, 0.093)],
)
def test_shop_heads(diameter_in: float, wide_in: float, high_in: float) -> None:
    (found,) = [head for head in driven_head_limits(diameter_in) if head.document == "1940s manual"]
    assert found.head_aim_in == pytest.approx(wide_in, abs=0.001)
    assert found.height_aim_in == pytest.approx(high_in, abs=0.001)
    assert found.grade is Grade.PUBLISHED


@pytest.mark.parametrize(
    ("rivet_in", "name", "diameter_in"),
    [
        (1 / 16, "52", 0.0635),
        (3 / 32, "41", 0.096),
        (1 / 8, "30", 0.1285),
        (5 / 32, "22", 0.157),
        (3 / 16, "12", 0.189),
    ],
)
def test_drills_of_rivets(rivet_in: float, name: str, diameter_in: float) -> None:
    assert hole_drill(rivet_in, use="1940s").name == name
    found = drill(name)
    assert (found.diameter_in, found.grade) == (diameter_in, Grade.PUBLISHED)
