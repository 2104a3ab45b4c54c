"""R703, R704: the largest opening that fits, and the rivets that fit in one row.

Room less 1/8 in on both sides ([TM-1-1520-240-BD]) less the overlap on both sides; rivets at 3 D ([AC43.13-1B] par.
4-57, seen only restated) against tables 4-9 and 4-10.
"""

from __future__ import annotations

import pytest

from rules.cases import PASS, RING, STOP, Case, along_y, cases, judged
from told import advice_of, subject_of

ROWS = [along_y(2.25, pitch=0.5, name="inner"), along_y(2.5625, pitch=0.5, start=-0.55, name="outer")]
CLOSE = [along_y(2.25, pitch=0.5, name="inner"), along_y(2.375, pitch=0.5, start=-0.55, name="outer")]
NOTE_C = [{"rule": "R601", "reading": "table 4-10, note c", "reason": "a lap of two sheets"}]


def flanges(x: str, **more: object) -> dict:
    both = [{"name": "near", "x_to": f"-{x}"}, {"name": "far", "x_from": x}]
    return {"bay.flanges": both, "rows": ROWS, "choices": NOTE_C, **more}


def narrow(x: str) -> dict:
    """Rows .36 from the opening's edge and less, and a doubler that ends .39 from it: no row has 2 D to both edges."""
    outer = {"doubler.outer.width": "4.78", "doubler.outer.height": "4.78"}
    rows = [
        along_y(float(x) - 0.2, pitch=0.5, name="inner"),
        along_y(float(x), pitch=0.5, start=-0.55, name="outer"),
    ]
    return {**outer, "rows": rows}


CASES = (
    # overlap as drawn 1.0: 6.25 - .25 - 2.0 = 4.0, the opening's width
    Case("R703", PASS, RING, flanges("3.125"), value=4.0, limit=4.0),
    Case("R703", STOP, RING, flanges("3.124"), limit=3.998, said=".002 over"),
    # one row: overlap .25 + .4375 = .6875; cut 4: (4 + .6875) / .375, rounded down, + 1 = 13 of 15
    Case("R704", STOP, RING, flanges("2.9"), value=13, limit=15, said=".212 and .212 clear of the flanges"),
    # one row: overlap .25 + .625 = .875; cut 4: 4.875 / .375 = 13 exactly, + 1 = 14 of 15
    Case("R704", STOP, RING, {**flanges("3"), "rows": CLOSE}, value=14, limit=15),
    # the land of that row takes .875, and .125 is kept to the flange: at 3.000 it clears, nearer it does not
    Case(
        "R704",
        STOP,
        RING,
        {**flanges("2.999"), "rows": CLOSE},
        value=0.999,
        limit=1.0,
        said="Not even one row",
    ),
    # rivets nearer to the edges than 2 D = .250 leave no land narrower than two of it: .5 + .125 is asked for
    Case("R704", STOP, RING, {**flanges("2.624"), **narrow("2.36")}, value=0.624, limit=0.625),
    Case("R703", STOP, RING, {**flanges("2.624"), **narrow("2.36")}, value=4.0, limit=3.998),
    Case("R703", PASS, RING, {**flanges("2.625"), **narrow("2.36")}, value=4.0, limit=4.0),
    # cut 2: (2 + .6875) / .375, rounded down, + 1 = 8 of 8 (7.35)
    Case(
        "R704",
        PASS,
        RING,
        flanges("2.9", **{"opening.height": "2", "opening.radius": ".5"}),
        value=8,
        limit=8,
    ),
)


@cases(*CASES)
def test_largest_opening(case):
    case.holds()


def test_one_row_gives_more_room_than_two():
    (finding,) = judged("R703", RING, flanges("3.125"))
    # 6.25 - .25 - 2 x .6875 = 4.625
    assert "4.000 as drawn, 4.625 with one row" in subject_of(finding)


def test_a_directive_names_the_way_to_depart_from_it():
    mandate = {"mandate": {"kind": "directive", "reference": "D-1"}}
    (finding,) = judged("R703", RING, flanges("3.0", **mandate))
    assert "alternative method" in advice_of(finding)


def test_a_land_of_two_edge_distances_that_clears_leaves_nothing_to_say_of_one_row():
    assert judged("R704", RING, {**flanges("2.625"), **narrow("2.36")}) == []


@pytest.mark.parametrize("x", ["2.001", "2.1", "2.3"])
def test_no_row_is_said_to_clear_by_less_than_nothing(x):
    """A flange .001, .1 and .3 from the opening: no room for two edge distances, whatever the rows are."""
    for found in (*judged("R704", RING, flanges(x)), *judged("R703", RING, flanges(x))):
        assert found.status is STOP
        assert " -." not in subject_of(found)
        assert "clearing" not in subject_of(found)


def test_where_no_size_fits_none_is_named():
    (finding,) = judged("R703", RING, flanges(".7"))
    assert "no size fits" in subject_of(finding)


def test_without_flanges_there_is_nothing_to_fit_between():
    assert judged("R703", RING) == []
    assert judged("R704", RING, flanges("3.125")) == []
