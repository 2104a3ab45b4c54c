"""R818, R819: the strap under the nutplates, its edges and what it lies on.

2D for screws: the rivet rule applied to them, common practice, no source; 2.5D for flush and 2D for protruding rivets:
[AL0992] rivet spacing and edge distance. A No. 8 screw is .164 and a No. 10 .190 across [ASME-B1.1]. A universal head
is about two diameters across: common practice, no source.
"""

from __future__ import annotations

import pytest

from rules.cases import CAUTION, FLUSH, PASS, STOP, UNKNOWN, Case, cases, changed, judged

SCREWS = "cover.screws."
EIGHT = changed(FLUSH, {SCREWS + "size": "8-32", SCREWS + "nut_rivet": "MS20426AD3"})


def strap(width: str | None = None, **more: str) -> dict:
    """A strap between doubler and nutplates."""
    of = {"alloy": "2024", "temper": "T3", "clad": True, "thickness": ".064"}
    return {SCREWS + "strap": {**of, **({"width": width} if width else {})}, **more}


ACROSS = {SCREWS + "nut_lugs": "outward", SCREWS + "nut_rivet_spacing": ".688"}

CASES = (
    Case("R818", UNKNOWN, EIGHT, strap(), said="Enter its width"),
    Case("R818", PASS, EIGHT, strap(".656"), of="screws", value=0.328, limit=0.328),
    Case("R818", CAUTION, EIGHT, strap(".655"), of="screws", value=0.3275, limit=0.328),
    Case("R818", PASS, EIGHT, {SCREWS + "size": "10-32", **strap(".76")}, of="screws", limit=0.38),
    Case("R818", CAUTION, EIGHT, {SCREWS + "size": "10-32", **strap(".759")}, of="screws"),
    # the hole just touches the edge at half of .164
    Case("R818", CAUTION, EIGHT, strap(".164"), of="screws", value=0.082),
    Case("R818", STOP, EIGHT, strap(".163"), of="screws", value=0.0815, limit=0.082),
    # 3/32 flush: 2.5 x .09375 = .234375, in the middle of the strap or .344 off it
    Case("R818", PASS, EIGHT, strap(".46875"), of="rivets", value=0.234375, limit=0.234375),
    Case("R818", CAUTION, EIGHT, strap(".4687"), of="rivets"),
    Case("R818", PASS, EIGHT, {**ACROSS, **strap("1.15675")}, of="rivets", value=0.234375),
    Case("R818", CAUTION, EIGHT, {**ACROSS, **strap("1.1567")}, of="rivets"),
    Case("R818", STOP, EIGHT, {**ACROSS, **strap(".656")}, of="rivets"),
    # the screws stand on X = 1.96875 - .38 = 1.58875, the 1/8 rivet at X = 2.3 with a head .25 across
    Case("R819", PASS, EIGHT, strap("1.1725"), said="clear of new rivets"),
    Case("R819", UNKNOWN, EIGHT, strap("1.1727"), said="on rivet 1"),
)


@cases(*CASES)
def test_strap(case):
    case.holds()


@pytest.mark.parametrize("code", ["R818", "R819"])
def test_without_a_strap_there_is_nothing_to_judge(code):
    assert judged(code, EIGHT) == []


def test_a_strap_without_width_is_asked_for_once():
    (asked,) = judged("R818", EIGHT, strap())
    assert asked.enter == ("cover.screws.strap.width",)
    assert judged("R819", EIGHT, strap()) == []
