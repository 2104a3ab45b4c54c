"""R209, R210: holes that run into each other, heads under a new edge.

A 1/8 rivet's hole is drill No. 30, .1285 ([TRADE-2001], table of drills and holes). Heads two diameters across: common
practice, no source.
"""

from __future__ import annotations

import pytest

from rules.cases import LAPPED, PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, judged, rivets


def pair(apart: float) -> dict:
    return {"rows": [rivets((2.3, 0.0), (2.3, apart))]}


def made(apart: str, u: str = ".005") -> dict:
    return {
        **pair(0.5),
        "as_made": {"uncertainty": u, "holes": [[1, "2.3", "0", ".13"], [2, "2.3", apart, ".13"]]},
    }


def rib(x: str) -> dict:
    return {"bay.rows": [{"name": "rib", "member": "rib", "x": x, "diameter": "1/8"}]}


def there(x: str) -> dict:
    return {"bay.existing": [{"at": [x, "0"], "diameter": "1/8"}]}


CASES = (
    Case("R209", PASS, PLAIN, pair(0.129)),
    Case("R209", STOP, PLAIN, pair(0.1285), value=0.0, said="Don't open it"),
    Case("R209", PASS, PLAIN, made(".135")),
    Case("R209", UNKNOWN, PLAIN, made(".1349")),
    Case("R209", UNKNOWN, PLAIN, made(".125")),
    Case("R209", STOP, PLAIN, made(".1249")),
    # the doubler's edge lies at X = 3; half a head is .125
    Case("R210", PASS, RING, rib("3.125")),
    Case("R210", UNKNOWN, RING, rib("3.124"), said="ends on the heads of the row of rib"),
    Case("R210", UNKNOWN, RING, rib("2.8"), said="covers the row of rib"),
    Case("R210", PASS, RING, there("3.125")),
    Case("R210", UNKNOWN, RING, there("3.124"), said="ends on the heads of the existing fastener 1"),
    Case("R210", UNKNOWN, RING, there("2.875"), said="covers the existing fastener 1"),
    Case("R210", UNKNOWN, LAPPED, rib("2.5"), said="the cover covers the row"),
)


@cases(*CASES)
def test_spoilt(case):
    case.holds()


def test_the_metal_left_is_that_of_the_holes_as_measured():
    (finding,) = judged("R209", PLAIN, made(".120"))
    assert finding.value == pytest.approx(0.12 - 0.13)
    assert finding.holes == (1, 2)


def test_a_flush_cover_has_no_edge_on_the_skin():
    assert judged("R210", PLAIN, rib("2.5")) == []
