"""Scenario DOGWOOD: the numbered answers that the job must give.

Expected figures are those of the scenario sheet (invented job, its arithmetic made independently of this program).
"""

from __future__ import annotations

import itertools

import pytest

from examples.answers import examined, found, one
from hatchwright.judged import Status
from told import advice_of


@pytest.fixture(scope="module")
def dogwood():
    return examined("dogwood")


def spacings(holes, axis):
    """Distances between neighbors of one side, along it."""
    places = sorted(holes, key=lambda hole: (hole.x_in, hole.y_in)[axis])
    return [(b.x_in - a.x_in, b.y_in - a.y_in)[axis] for a, b in itertools.pairwise(places)]


def test_answer_3_twelve_clip_nuts_on_the_straights(dogwood):
    screws = dogwood.layout.holes_of("screw")
    assert len(screws) == 12
    for side in (1.0, -1.0):
        long_side = [hole for hole in screws if hole.y_in * side == pytest.approx(1.875)]
        short_side = [hole for hole in screws if hole.x_in * side == pytest.approx(4.375)]
        assert len(long_side) == 4
        assert spacings(long_side, 0) == pytest.approx([2.29] * 3, abs=0.005)
        assert len(short_side) == 2
        assert spacings(short_side, 1) == pytest.approx([1.875])
    assert one(dogwood, "R806", "clip nuts").status is Status.PASS


def test_answer_4_the_drain_line_behind(dogwood):
    line = one(dogwood, "R702")
    assert line.value == pytest.approx(0.60 - 0.165)
    assert "drill stop .165 in from the outer face, never past .475 in" in advice_of(line)
    assert "starter hole clear of it" in advice_of(line)


def test_answer_5_the_grip_and_the_edge_of_the_hole(dogwood):
    grip = one(dogwood, "R806", "grip")
    assert grip.status is Status.PASS
    assert grip.value == pytest.approx(0.040)
    edge = one(dogwood, "R103", "opening edge")
    assert edge.value == pytest.approx(0.375)
    assert edge.working[0].result.value == pytest.approx(2.3, abs=0.05)


def test_answer_6_the_lap_of_the_sides_and_of_the_corners(dogwood):
    assert found(dogwood, "R812")[0].value == pytest.approx(0.750)
    assert one(dogwood, "R812", "corners").value == pytest.approx(0.776, abs=0.0005)
    assert all(f.status is Status.PASS for f in found(dogwood, "R812"))


def test_answer_6_no_screw_stands_on_a_corner_arc(dogwood):
    width = one(dogwood, "R806", "width")
    assert width.status is Status.PASS
    # .25 from where the straight side ends, half the nut's width of .50
    assert width.value == pytest.approx(0.25)
