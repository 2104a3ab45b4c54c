"""R215, R929: lapped covers and mounted bases that do not lie flat.

Heads about two diameters across: common practice, no source. A base over its opening is geometry.
"""

from __future__ import annotations

import pytest

from rules.cases import FLUSH, LAPPED, PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, judged, rivets


def base(x: str, y: str = "5") -> dict:
    return {"mount": {"kind": "antenna", "base": [x, y]}}


def beside(x: float, rivet: str = "MS20470AD4") -> dict:
    return {"rows": [rivets((x, 0.0), rivet=rivet)]}


def filed(x_to: str) -> dict:
    edges = {"shape": "edges", "x_from": "-2", "x_to": x_to, "y_from": "-2", "y_to": "2", "radius": "1"}
    return {"as_made": {"uncertainty": ".005", "opening": edges}}


LAND = {"doubler.inner": {"shape": "rounded rectangle", "width": "2", "height": "2", "radius": ".5"}}

CASES = (
    # the lapped cover's edge lies at X = 2.75, a head of 1/8 reaches .125 to each side
    Case("R215", PASS, LAPPED, beside(2.875), value=0.0, limit=0.0),
    Case("R215", UNKNOWN, LAPPED, beside(2.874), value=-0.001, said="heads of rivet 1"),
    Case("R215", UNKNOWN, LAPPED, beside(2.3), said="Ask the design approval holder"),
    # the base of 4.35 by 5 reaches to X = 2.175, the rivet of RING stands at 2.3
    Case("R215", PASS, RING, base("4.35"), value=0.0),
    Case("R215", UNKNOWN, RING, base("4.352"), value=-0.001, said="mounted base"),
    Case("R215", UNKNOWN, RING, base("6")),
    # the opening is 4 by 4
    Case("R929", PASS, RING, base("4.002"), value=0.001),
    Case("R929", STOP, RING, base("4"), value=0.0, said="does not cover"),
    Case("R929", STOP, RING, base("3.998"), value=-0.001, limit=0.0),
    Case("R929", STOP, RING, base("5", "3")),
    Case(
        "R929",
        UNKNOWN,
        RING,
        {"mount": {"kind": "camera", "base": ["3", "3"]}},
        said="Show what holds the base",
    ),
    # on a land inside the opening it covers the hole of 2 by 2 in that
    Case("R929", PASS, RING, {**base("3", "3"), **LAND}, value=0.5, said="inner edge"),
    Case("R929", STOP, RING, {**base("1.9", "3"), **LAND}, value=-0.05),
    # over the opening as filed, by more than its uncertainty
    Case("R929", PASS, RING, {**base("4.21"), **filed("2.1")}),
    Case("R929", UNKNOWN, RING, {**base("4.208"), **filed("2.1")}),
    Case("R929", STOP, RING, {**base("4.188"), **filed("2.1")}),
)


@cases(*CASES)
def test_seating(case):
    case.holds()


def test_flush_heads_are_no_hindrance():
    assert judged("R215", LAPPED, beside(2.3, "MS20426AD4")) == []


@pytest.mark.parametrize("job", [PLAIN, RING, FLUSH])
def test_nothing_laid_on_the_skin_nothing_said(job):
    assert judged("R215", job) == judged("R929", job) == []
