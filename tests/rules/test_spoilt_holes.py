"""R209: holes that run into each other, or into a hole that is there.

A 1/8 rivet's hole is drill No. 30, .1285 ([TRADE-2001], table of drills and holes).
"""

from __future__ import annotations

import pytest

from rules.cases import PASS, PLAIN, STOP, UNKNOWN, Case, cases, judged, rivets


def pair(apart: float) -> dict:
    return {"rows": [rivets((2.3, 0.0), (2.3, apart))]}


def made(apart: str, u: str = ".005") -> dict:
    return {
        **pair(0.5),
        "as_made": {"uncertainty": u, "holes": [[1, "2.3", "0", ".13"], [2, "2.3", apart, ".13"]]},
    }


def beside(x: str, diameter: str = "1/8") -> dict:
    """One rivet at X = 2.3 and an old fastener beside it."""
    return {"bay.existing": [{"at": [x, "0"], "diameter": diameter}]}


def measured_beside(x: str) -> dict:
    return {**beside(x), "as_made": {"uncertainty": ".005", "holes": [[1, "2.3", "0", ".1285"]]}}


CASES = (
    Case("R209", PASS, PLAIN, pair(0.129)),
    Case("R209", STOP, PLAIN, pair(0.1285), value=0.0, said="Don't open them up, don't fill them"),
    Case("R209", PASS, PLAIN, made(".135")),
    Case("R209", UNKNOWN, PLAIN, made(".1349")),
    Case("R209", UNKNOWN, PLAIN, made(".125")),
    Case("R209", STOP, PLAIN, made(".1249")),
    # a new hole and that of an old rivet of 1/8: 2 x .1285 / 2 between their centers leaves nothing
    Case("R209", PASS, PLAIN, beside("2.429")),
    Case("R209", STOP, PLAIN, beside("2.4285"), value=0.0, said="existing fastener 1"),
    Case("R209", STOP, PLAIN, beside("2.4"), value=0.1 - 0.1285, said="Don't open them up, don't fill them"),
    Case("R209", PASS, PLAIN, measured_beside("2.4336")),
    Case("R209", UNKNOWN, PLAIN, measured_beside("2.4334"), said="can't be shown"),
    # of a fastener that no drill is listed for its own diameter stands: (.1285 + .500) / 2 = .31425
    Case("R209", STOP, PLAIN, beside("2.6142", "1/2"), said="metal left between rivet 1"),
    Case("R209", PASS, PLAIN, beside("2.6143", "1/2")),
    # the rivets of a row may stand anywhere on its line
    Case(
        "R209", UNKNOWN, PLAIN, {"bay.rows": [{"name": "rib", "x": "2.4", "diameter": "1/8"}]}, said="row rib"
    ),
    Case("R209", PASS, PLAIN, {"bay.rows": [{"name": "rib", "x": "2.43", "diameter": "1/8"}]}),
)


@cases(*CASES)
def test_spoilt(case):
    case.holds()


def test_the_metal_left_is_that_of_the_holes_as_measured():
    (finding,) = judged("R209", PLAIN, made(".120"))
    assert finding.value == pytest.approx(0.12 - 0.13)
    assert finding.holes == (1, 2)
