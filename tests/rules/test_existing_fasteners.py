"""R106: existing fasteners beside the new opening.

2 D from the edge: [AC43.13-1B] par. 4-57 (single row), seen only restated. What is cut through is geometry.
"""

from __future__ import annotations

import pytest

from rules.cases import CAUTION, PASS, PLAIN, STOP, UNKNOWN, Case, cases, judged
from told import subject_of


def at(x: str, y: str = "0") -> dict:
    """A fastener of 1/8 in; the opening's edge lies at X = 2."""
    return {"bay.existing": [{"at": [x, y], "diameter": ".125"}]}


def row(y: str, diameter: str | None = ".125") -> dict:
    there = {"name": "lap seam", "y": y}
    return {"bay.rows": [{**there, "diameter": diameter} if diameter else there]}


def filed(x_to: str) -> dict:
    edges = {"shape": "edges", "x_from": "-2", "x_to": x_to, "y_from": "-2", "y_to": "2", "radius": "1"}
    return {"as_made": {"uncertainty": ".005", "opening": edges}}


CASES = (
    Case("R106", PASS, PLAIN, at("2.25"), value=0.25, limit=0.25),
    Case("R106", STOP, PLAIN, at("2.249"), said="1.99D of 2D, .001 short."),
    Case("R106", STOP, PLAIN, at("2.05"), said="cut through by the opening edge"),
    Case("R106", STOP, PLAIN, at("2.0625"), said="design approval holder"),
    Case("R106", STOP, PLAIN, at("2"), value=0.0, said="cut through by the opening edge"),
    Case("R106", STOP, PLAIN, at("1.938"), said="cut through by the opening edge"),
    Case("R106", CAUTION, PLAIN, at("1.9375"), said="inside the cutout"),
    Case("R106", CAUTION, PLAIN, at("0"), value=-2.0),
    # at the corner the distance is to the arc of radius 1 about (1, 1): 1.25 sqrt 1/2 = .883 88
    Case("R106", PASS, PLAIN, at("1.8839", "1.8839")),
    Case("R106", STOP, PLAIN, at("1.8838", "1.8838")),
    # to the edge as filed, by more than its uncertainty
    Case("R106", PASS, PLAIN, {**at("2.355"), **filed("2.1")}),
    Case("R106", UNKNOWN, PLAIN, {**at("2.354"), **filed("2.1")}, said="can't be shown to pass"),
    Case("R106", STOP, PLAIN, {**at("2.25"), **filed("2.1")}),
    Case("R106", CAUTION, PLAIN, {**at("2.0325"), **filed("2.1")}),
    Case("R106", STOP, PLAIN, {**at("2.0326"), **filed("2.1")}),
    # a row is as near as its line
    Case("R106", PASS, PLAIN, row("2.25")),
    Case("R106", STOP, PLAIN, row("2.249")),
    Case("R106", UNKNOWN, PLAIN, row("1.9"), said="across the opening"),
    Case("R106", UNKNOWN, PLAIN, row("2.2", None), said="enter their diameter"),
)


@cases(*CASES)
def test_existing_fasteners(case):
    case.holds()


def test_of_those_that_pass_the_closest_speaks_for_all():
    there = [{"at": [x, "0"], "diameter": ".125"} for x in ("3", "2.5", "2.1", "4")]
    short, passing = judged("R106", PLAIN, {"bay.existing": there})
    assert (short.status, subject_of(short)) == (STOP, "existing fastener 3 to opening edge")
    assert (passing.status, passing.value) == (PASS, pytest.approx(0.5))


def test_a_row_of_unknown_diameter_far_from_the_opening_is_left_alone():
    assert judged("R106", PLAIN, row("9", None)) == []


def test_nothing_entered_nothing_said():
    assert judged("R106", PLAIN) == []
