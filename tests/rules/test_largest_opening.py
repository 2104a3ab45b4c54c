"""R703, R704: the largest opening that fits, and the rivets that fit in one row.

Room less 1/8 in on both sides ([TM-1-1520-240-BD]) less the overlap on both sides; rivets at 3 D ([AC43.13-1B] par.
4-57, seen only restated) against tables 4-9 and 4-10.
"""

from __future__ import annotations

from rules.cases import PASS, RING, STOP, Case, along_y, cases, judged
from told import advice_of, subject_of

ROWS = [along_y(2.25, pitch=0.5, name="inner"), along_y(2.5625, pitch=0.5, start=-0.55, name="outer")]
CLOSE = [along_y(2.25, pitch=0.5, name="inner"), along_y(2.375, pitch=0.5, start=-0.55, name="outer")]
NOTE_C = [{"rule": "R601", "reading": "table 4-10, note c", "reason": "a lap of two sheets"}]


def flanges(x: str, **more: object) -> dict:
    both = [{"name": "near", "x_to": f"-{x}"}, {"name": "far", "x_from": x}]
    return {"bay.flanges": both, "rows": ROWS, "choices": NOTE_C, **more}


CASES = (
    # overlap as drawn 1.0: 6.25 - .25 - 2.0 = 4.0, the opening's width
    Case("R703", PASS, RING, flanges("3.125"), value=4.0, limit=4.0),
    Case("R703", STOP, RING, flanges("3.124"), limit=3.998, said="Too large by"),
    # one row: overlap .25 + .4375 = .6875; cut 4: (4 + .6875) / .375, rounded down, + 1 = 13 of 15
    Case("R704", STOP, RING, flanges("2.9"), value=13, limit=15, said="clear the flanges by .21 and .21"),
    # one row: overlap .25 + .625 = .875; cut 4: 4.875 / .375 = 13 exactly, + 1 = 14 of 15
    Case("R704", STOP, RING, {**flanges("2.9"), "rows": CLOSE}, value=14),
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
    assert "4.00 as drawn, 4.62 with one row" in subject_of(finding)


def test_a_directive_names_the_way_to_depart_from_it():
    mandate = {"mandate": {"kind": "directive", "reference": "D-1"}}
    (finding,) = judged("R703", RING, flanges("3.0", **mandate))
    assert "alternative method" in advice_of(finding)


def test_without_flanges_there_is_nothing_to_fit_between():
    assert judged("R703", RING) == []
    assert judged("R704", RING, flanges("3.125")) == []
