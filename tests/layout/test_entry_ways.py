"""A row may be entered by count, by sides or in polar form: it gives the same job as its points typed one by one.

The points are worked by hand: on straights and circles they follow from the entries by nothing but sines.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.errors import JobError
from hatchwright.job.another_job import on_the_other_side
from hatchwright.job.file import read_job
from hatchwright.job.other_side import other_side
from hatchwright.layout.lay_out import lay_out
from job_text import job_text
from tests.told import remedy_of, what_of

SHEET = {"alloy": "2024", "temper": "T3", "clad": True}
ROUND = {
    "schema": 2,
    "title": "ways of entering",
    "aircraft": {"side": "left", "surface": "lower"},
    "frame": {"origin": "here", "x": "OUTBD", "y": "AFT"},
    "skin": {**SHEET, "thickness": ".032", "stressed": True},
    "opening": {"shape": "circle", "diameter": "4", "center": ["5", "4"]},
    "doubler": {**SHEET, "thickness": ".040", "outer": {"shape": "circle", "diameter": "8"}},
}
SQUARE = ROUND | {
    "opening": {
        "shape": "rounded rectangle",
        "width": "6",
        "height": "4",
        "radius": "0",
        "center": ["5", "4"],
    },
    "doubler": {
        **SHEET,
        "thickness": ".040",
        "outer": {"shape": "rounded rectangle", "width": "10", "height": "8", "radius": "0"},
    },
}
RING = {"name": "ring", "rivet": "MS20470AD4"}
OFFSET = RING | {"lay": "offset", "edge": "opening", "distance": "1"}
INSIDE = RING | {"lay": "offset", "edge": "doubler outer", "distance": "1"}
POLAR = RING | {"lay": "polar", "radius": "3"}


def laid(job, *rows, **sections):
    return lay_out(read_job(job_text(job | {"rows": rows} | sections)))


def circle(*degrees, radius=3.0, center=(5.0, 4.0)):
    turned = np.radians(degrees)
    return np.column_stack([center[0] + radius * np.cos(turned), center[1] + radius * np.sin(turned)])


def typed(points):
    return RING | {"lay": "points", "points": [[repr(float(x)), repr(float(y))] for x, y in points]}


TWELVE = [30.0 * k for k in range(12)]
OTHER_WAY = [-30.0 * k for k in range(12)]
"""X runs outboard and Y aft. The left lower skin is seen from outside with FWD up and outboard to the right, so aft is
down, and from X toward Y is clockwise there."""


@pytest.mark.parametrize(
    ("job", "row", "points"),
    [
        pytest.param(ROUND, POLAR | {"count": 12}, circle(*TWELVE), id="polar by count"),
        pytest.param(ROUND, POLAR | {"step": "30"}, circle(*TWELVE), id="polar by angle"),
        pytest.param(
            ROUND,
            RING | {"lay": "polar", "bolt_circle": "6", "count": 12, "start_at": "AFT"},
            circle(*(90 + at for at in TWELVE)),
            id="polar on a bolt circle from aft",
        ),
        pytest.param(
            ROUND,
            POLAR | {"center": ["4", "3"], "count": 4, "step": "22.5", "start_at": "-10"},
            circle(-10, 12.5, 35, 57.5, center=(4.0, 3.0)),
            id="an arc about a center of its own",
        ),
        pytest.param(
            ROUND,
            POLAR | {"count": 12, "direction": "clockwise"},
            circle(*TWELVE),
            id="polar clockwise",
        ),
        pytest.param(
            ROUND,
            POLAR | {"count": 12, "direction": "counterclockwise"},
            circle(*OTHER_WAY),
            id="polar counterclockwise",
        ),
        pytest.param(
            ROUND,
            OFFSET | {"count": 12, "start_at": 45},
            circle(*(45 + at for at in TWELVE)),
            id="around an edge by count",
        ),
        pytest.param(
            ROUND,
            OFFSET | {"count": 12, "start_at": "FWD", "direction": "counterclockwise"},
            circle(*(270 + at for at in OTHER_WAY)),
            id="around an edge from forward",
        ),
        pytest.param(
            SQUARE,
            INSIDE | {"per_side": [2, 4, 2, 4]},
            [(9, 1), (9, 4), (9, 7), (7, 7), (5, 7), (3, 7), (1, 7), (1, 4), (1, 1), (3, 1), (5, 1), (7, 1)],
            id="spaces on each side",
        ),
        pytest.param(
            SQUARE,
            INSIDE | {"per_side": [2, 2, 1, 1], "start_at": "AFT", "direction": "counterclockwise"},
            [(5, 7), (9, 7), (9, 4), (9, 1), (1, 1), (1, 7)],
            id="spaces on each side from aft",
        ),
        pytest.param(
            SQUARE,
            INSIDE | {"pitch": "4", "corners": "middles", "start_at": "INBD"},
            [(1, 4), (1, 1), (5, 1), (9, 1), (9, 4), (9, 7), (5, 7), (1, 7)],
            id="by pitch from inboard",
        ),
        pytest.param(
            SQUARE,
            RING | {"lay": "line", "start": ["1", "1"], "end": ["9", "1"], "count": 5},
            [(1, 1), (3, 1), (5, 1), (7, 1), (9, 1)],
            id="on a line by count",
        ),
    ],
)
def test_each_way_gives_the_same_job_as_points_typed(job, row, points):
    by_rule, by_hand = laid(job, row), laid(job, typed(points))
    told = [(hole.number, hole.row, hole.fastener, hole.stack) for hole in by_hand.holes]
    assert [(hole.number, hole.row, hole.fastener, hole.stack) for hole in by_rule.holes] == told
    assert np.array([hole.place for hole in by_rule.holes]) == pytest.approx(np.array(points), abs=1e-9)


def test_readings_in_polar_form_and_sizes_alone_give_the_same_job_as_places_typed():
    row = POLAR | {"count": 6}
    center = (5.0 + 0.25, 4.0)
    polar = [[1, "2.76", "0.5", ".129"], [2, "2.85", 61]]
    places = circle(0.5, radius=2.76, center=center), circle(61, radius=2.85, center=center)
    typed_in = [[n + 1, *map(repr, map(float, at[0]))] for n, at in enumerate(places)]
    typed_in[0].append(".129")
    u = {"uncertainty": ".005"}
    about = {"name": "tooling hole", "center": ["5.25", "4"], "holes": polar}
    by_angle = laid(ROUND, row, as_made=u | {"polar": [about], "sizes": [[4, ".136"]]}).holes
    by_place = laid(ROUND, row, as_made=u | {"holes": typed_in, "sizes": [[4, "#29"]]}).holes
    for one, other in zip(by_angle, by_place, strict=True):
        assert one.place == pytest.approx(other.place, abs=1e-9)
        assert (one.is_made, one.uncertainty_in, one.hole_in) == (
            other.is_made,
            other.uncertainty_in,
            other.hole_in,
        )
    four = by_angle[3]
    assert (four.is_made, four.is_drilled, four.hole_in) == (False, True, 0.136)
    # its place is the drawn one, on which no reading throws doubt; its size is as sure as the reading
    assert (four.uncertainty_in, four.size_uncertainty_in) == (0.0, 0.005)


def test_readings_about_no_center_of_their_own_are_taken_about_the_opening_s():
    made = {"uncertainty": ".005", "polar": [{"holes": [[1, "3.01", "0"]]}]}
    assert laid(ROUND, POLAR | {"count": 6}, as_made=made).holes[0].place == pytest.approx((8.01, 4.0))


@pytest.mark.parametrize("spacing", [{"count": 6}, {"pitch": "1.99"}])
def test_a_row_of_existing_fasteners_is_each_of_them(spacing):
    row = {"first": ["0", "-1"], "last": ["6", "7"], "diameter": "1/8"}
    one_by_one = [{"at": [f"{1.2 * k:.1f}", f"{1.6 * k - 1:.1f}"], "diameter": "1/8"} for k in range(6)]
    by_rule, by_hand = (
        read_job(job_text(ROUND | {"bay": bay})).bay
        for bay in ({"existing_rows": [row | spacing]}, {"existing": one_by_one})
    )
    places = [[[at.inch for at in one.at] for one in bay.fasteners] for bay in (by_rule, by_hand)]
    assert places[0] == pytest.approx(np.array(places[1]), abs=1e-9)
    assert {one.diameter.inch for one in by_rule.fasteners} == {0.125}


def test_the_other_side_has_the_same_numbers_at_the_same_places():
    text = job_text(ROUND | {"rows": [POLAR | {"count": 5, "start_at": "AFT", "direction": "clockwise"}]})
    here = lay_out(read_job(text))
    for there in (other_side(here.job), read_job(on_the_other_side(text))):
        assert [hole.place for hole in lay_out(there).holes] == [hole.place for hole in here.holes]
        assert there.rows[0].direction == "counterclockwise"


@pytest.mark.parametrize(
    ("job", "row", "field", "does"),
    [
        (ROUND, OFFSET | {"count": 12, "pitch": "1"}, "rows.0", "Enter one of the three."),
        (ROUND, OFFSET, "rows.0", "Enter one of the three."),
        (ROUND, OFFSET | {"count": 8, "corners": "middles"}, "rows.0", "Choose free corners"),
        (SQUARE, INSIDE | {"per_side": [2, 4, 2]}, "rows.0.per_side", "Enter 4 numbers"),
        (ROUND, OFFSET | {"count": 2001}, "rows.0.count", "no more than 2000"),
        (ROUND, OFFSET | {"count": 200}, "rows.0.count", "the distance from one hole to the next"),
        (ROUND, POLAR | {"count": 200}, "rows.0.count", "the distance from one hole to the next"),
        (ROUND, POLAR | {"step": "0.01"}, "rows.0.step", "no more than 2000"),
        (ROUND, POLAR | {"step": "50"}, "rows.0", "Enter the count too"),
        (ROUND, POLAR | {"step": "-30"}, "rows.0", "the direction says"),
        (ROUND, POLAR | {"step": "30", "count": 13}, "rows.0", "Enter fewer holes"),
        (ROUND, POLAR, "rows.0", "Enter the count for holes all around"),
        (ROUND, POLAR | {"bolt_circle": "6", "count": 12}, "rows.0", "not both"),
        (ROUND, POLAR | {"count": 12, "start_at": "UP"}, "rows.0.start_at", "OUTBD"),
        (ROUND, POLAR | {"count": 12, "start_at": "there"}, "rows.0.start_at", "such as 45"),
    ],
)
def test_what_cannot_be_laid_says_at_its_field_what_would_do(job, row, field, does):
    with pytest.raises(JobError) as caught:
        laid(job, row)
    (fault,) = caught.value.faults
    assert fault.field == field
    assert does in remedy_of(fault)


@pytest.mark.parametrize(
    ("bay", "what"),
    [
        ({"count": 6, "pitch": "1.99"}, "takes a pitch or a count"),
        ({"count": 1}, "two fasteners or more"),
        ({"pitch": ".001"}, "more than 2000 holes"),
        ({"pitch": "3"}, "3.33 spaces"),
        ({"pitch": "30"}, "0.33 spaces"),
        ({"count": 6, "last": ["0", "-1"]}, "ends where it starts"),
    ],
)
def test_a_row_of_existing_fasteners_that_cannot_be_is_refused(bay, what):
    row = {"first": ["0", "-1"], "last": ["6", "7"], "diameter": "1/8"} | bay
    with pytest.raises(JobError) as caught:
        read_job(job_text(ROUND | {"bay": {"existing_rows": [row]}}))
    assert what in what_of(caught.value.faults[0])


def test_a_hole_measured_twice_in_either_form_is_refused():
    made = {"uncertainty": ".005", "holes": [[1, "8", "4", ".129"]], "sizes": [[1, ".129"]]}
    with pytest.raises(JobError) as caught:
        laid(ROUND, POLAR | {"count": 6}, as_made=made)
    assert [fault.field for fault in caught.value.faults] == ["as_made.sizes"]
    made = {"uncertainty": ".005", "holes": [[1, "8", "4"]], "polar": [{"holes": [[1, "3", "0"]]}]}
    with pytest.raises(JobError) as caught:
        laid(ROUND, POLAR | {"count": 6}, as_made=made)
    assert [fault.field for fault in caught.value.faults] == ["as_made.holes"]


def test_neighbors_in_a_polar_row_lie_a_chord_apart():
    """2 R sin(step / 2)."""
    pitches = [pair.distance_in for pair in laid(ROUND, POLAR | {"count": 12}).pitches]
    assert pitches == pytest.approx([6.0 * math.sin(math.radians(15.0))] * 12)
