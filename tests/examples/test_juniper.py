"""JUNIPER: an owner's inspection opening with known loads, sound throughout: what a stranger is shown first.

Expected figures are worked by hand from the entries of the job (invented); rivets per inch are those of [AC43.13-1B]
table 4-10, 4.9 an inch for .032 clad 2024-T3 with 1/8 rivets.
"""

from __future__ import annotations

import math

import pytest

from examples.answers import examined, found, one
from hatchwright.judged import Status
from hatchwright.making.guide import job_recipe


@pytest.fixture(scope="module")
def juniper():
    return examined("juniper")


def test_nothing_stops_and_nothing_is_not_shown(juniper):
    assert not any(finding.status.holds_back for finding in juniper.findings)
    assert juniper.strength is not None
    assert len(juniper.verdict.open_lines) <= 1


def test_the_doubler_goes_straight_through_and_leaves_room_for_a_hand(juniper):
    """Longest chord of 5.60 x 4.50 with corners of .50 for a sheet .040 thick; window 4.16 x 3.06
    over an oval of 74 x 104 mm."""
    through = one(juniper, "R304")
    assert through.limit == pytest.approx(math.hypot(4.60, 3.50) + 2 * math.sqrt(0.5**2 - 0.02**2), abs=3e-4)
    assert through.value == pytest.approx(6.70)
    assert one(juniper, "R303").status is Status.PASS


def test_the_circulars_table_is_met_on_all_four_sides(juniper):
    """.75 x 4.9 x 4.50 = 16.5 and .75 x 4.9 x 5.60 = 20.6, rounded up; 8 and 9 rivets, and 10 and 11, a side."""
    sides = found(juniper, "R601")
    assert sorted(side.limit for side in sides) == [17, 17, 21, 21]
    assert all(side.value >= side.limit for side in sides)


def test_the_metal_put_back_is_more_than_was_cut(juniper):
    """.040 x (6.70 - 3.06) over .032 x 4.50 along X, .040 x (8.66 - 4.16) over .032 x 5.60 along Y."""
    along_x, along_y = found(juniper, "S306")
    values = sorted((along_x.value, along_y.value))
    assert values == pytest.approx([0.040 * 4.50 / (0.032 * 5.60), 0.040 * 3.64 / (0.032 * 4.50)])


def test_every_step_of_its_card_is_told_with_a_drill_that_is_known(juniper):
    recipe = job_recipe(juniper.layout, juniper.making)
    made = [one for task in recipe.tasks for one in task.made]
    assert not [one for one in made if one.does == "not known"]
    names = [task.name for task in recipe.tasks]
    assert names.index("make_parts") < names.index("protect")
