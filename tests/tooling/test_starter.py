"""Starter hole and corner holes: the fuel line of the fourth scenario, and what is clear, near, over or too deep."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.errors import GeometryError
from hatchwright.finding import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.shapes.distance import distances
from hatchwright.tooling.starter import best_starter, corner_holes, starter_hole
from hatchwright.tooling.starter_findings import starter_findings


def by_code(layout):
    found = {}
    for finding in starter_findings(layout):
        found.setdefault(finding.code, []).append(finding)
    return found


def wanting(job, x: str, y: str):
    """The same job with the starter hole wanted at a place."""
    cutter = job.cutter.model_validate(
        {**job.cutter.model_dump(exclude_none=True), "starter_at": [x, y], "starter": "1/2"},
        context={"unit": "in"},
    )
    return lay_out(job.model_copy(update={"cutter": cutter}))


def test_starter_over_the_fuel_line_is_moved(dogwood):
    """The line lies .60 behind the skin from X 3.2 to 4.0; the hole is moved to 3.2 - .25 - .25 = 2.70 or less."""
    (starter,) = by_code(wanting(dogwood, "3.6", "0"))["T601"]
    assert starter.status is Status.STOP
    assert "over or beside the fuel drain line, .60 behind the skin" in starter.advice
    assert "Move it to X 2.700 Y 0.000" in starter.advice


def test_drill_stop_stays_under_the_fuel_line(dogwood):
    """.040 + .125 = .165, at most .60 - .125."""
    (stop,) = by_code(wanting(dogwood, "3.6", "0"))["T602"]
    assert stop.status is Status.PASS
    assert stop.value == pytest.approx(0.165)
    assert stop.limit == pytest.approx(0.475)
    assert stop.limit < 0.60


def test_something_close_behind_leaves_no_room_for_the_drill(layout_of):
    (stop,) = by_code(layout_of("dogwood", bay__keep_outs__0__depth=".25"))["T602"]
    assert stop.status is Status.STOP


def test_starter_away_from_the_line_passes(dogwood):
    (starter,) = by_code(wanting(dogwood, "-2", "0.5"))["T601"]
    assert starter.status is Status.PASS
    assert starter.value == pytest.approx(1.5 - 0.5 - 0.25)


def test_starter_near_the_rough_line_is_moved_inwards(dogwood):
    (starter,) = by_code(wanting(dogwood, "0", "1.2"))["T601"]
    assert starter.status is Status.STOP
    assert starter.value == pytest.approx(0.05)
    assert "Move it to X 0.000 Y 1.000" in starter.advice


def test_proposed_place_keeps_every_distance(dogwood):
    layout = wanting(dogwood, "3.6", "1.4")
    hole = best_starter(layout)
    assert hole.to_line_in == pytest.approx(0.25)
    assert hole.centre[0] == pytest.approx(3.2 - 0.5)
    assert hole.over == ()
    assert distances(layout.rough_cut, [hole.centre]).distance_in[0] == pytest.approx(0.5)


def test_no_place_is_clear(layout_of):
    """The keep-out covers the whole bay."""
    covered = layout_of("dogwood", bay__keep_outs__0__x_from="-9", bay__keep_outs__0__x_to="9")
    (starter,) = by_code(covered)["T601"]
    assert starter.status is Status.STOP
    assert "No place in the waste is clear" in starter.advice


def test_corner_holes_over_the_line_are_named(layout_of):
    """D-holes at X +-3.6875: those at the right lie over the line, .60 deep."""
    (corner,) = by_code(layout_of("dogwood"))["T603"]
    assert corner.status is Status.CAUTION
    assert corner.value == pytest.approx(0.60)
    over = [hole for hole in corner_holes(layout_of("dogwood")) if hole.over]
    assert [np.sign(hole.centre[0]) for hole in over] == [1, 1]
    assert all(hole.mark in corner.subject for hole in over)


def test_corner_holes_against_something_on_the_skin_stop(layout_of):
    (corner,) = by_code(layout_of("dogwood", bay__keep_outs__0__depth="0"))["T603"]
    assert corner.status is Status.STOP


def test_unmeasured_starter_of_a_nibbler_is_asked_for(layout_of):
    starters = by_code(layout_of("alder"))["T601"]
    assert [finding.status for finding in starters] == [Status.PASS, Status.CAUTION]
    assert "cutter.starter" in starters[1].advice


def test_distances_from_landmark_rows_to_tape(layout_of):
    hole = starter_hole(layout_of("alder"), (5.5, 4.5))
    assert dict(hole.from_rows) == pytest.approx(
        {"rib 3": 5.5, "rib 4": 5.5, "spar, aft row": 4.5, "stringer": 4.5}
    )


def test_a_job_without_a_cutter(alder):
    layout = lay_out(alder.model_copy(update={"cutter": None, "template": None}))
    assert starter_findings(layout) == ()
    assert corner_holes(layout) == ()
    with pytest.raises(GeometryError, match="needs a cutter"):
        best_starter(layout)
