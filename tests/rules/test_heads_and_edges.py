"""R210, R216: existing heads under a new edge, and new heads over a flange edge.

Heads two diameters across: common practice, no source.
"""

from __future__ import annotations

from rules.cases import LAPPED, PASS, PLAIN, RING, UNKNOWN, Case, cases, judged, rivets
from told import subject_of


def rib(x: str) -> dict:
    return {"bay.rows": [{"name": "rib", "member": "rib", "x": x, "diameter": "1/8"}]}


def there(x: str) -> dict:
    return {"bay.existing": [{"at": [x, "0"], "diameter": "1/8"}]}


def flange(x: str, **more: object) -> dict:
    """A flange whose free edge lies at X, behind the skin beyond the rivet at X = 2.3."""
    return {"bay.flanges": [{"name": "rib flange", "x_from": x}], **more}


def measured(u: str = ".005") -> dict:
    return {"as_made": {"uncertainty": u, "holes": [[1, "2.3", "0"]]}}


CASES = (
    # the doubler's edge lies at X = 3; half a head is .125
    Case("R210", PASS, RING, rib("3.125")),
    Case("R210", UNKNOWN, RING, rib("3.124"), said="doubler edge on heads of existing row rib"),
    Case("R210", UNKNOWN, RING, rib("2.8"), said="existing row rib, covered by the doubler"),
    Case("R210", PASS, RING, there("3.125")),
    Case("R210", UNKNOWN, RING, there("3.124"), said="doubler edge on heads of existing fastener 1"),
    Case("R210", UNKNOWN, RING, there("2.875"), said="existing fastener 1, covered by the doubler"),
    # the opening's edge lies at X = 2: a shank of 1/8 comes out whole with the cutout up to 1.9375 (R106 tells of it)
    Case("R210", PASS, RING, there("1.93")),
    Case("R210", UNKNOWN, RING, there("1.94"), said="existing fastener 1, covered by the doubler"),
    Case("R210", UNKNOWN, LAPPED, rib("2.5"), said="existing row rib, covered by the cover"),
    # half a head of a 1/8 rivet is .125: from X = 2.3 it reaches to 2.425
    Case("R216", PASS, PLAIN, flange("2.425"), value=0.0, said="closest at rivet 1"),
    Case("R216", UNKNOWN, PLAIN, flange("2.4249"), said="on the edge of rib flange"),
    Case("R216", UNKNOWN, PLAIN, flange("2.29"), value=-0.125, said="Don't drill"),
    Case("R216", PASS, PLAIN, flange("2.4301", **measured())),
    Case("R216", UNKNOWN, PLAIN, flange("2.4299", **measured()), said="Ask the design approval holder"),
    # 5/32 reaches to 2.45625
    Case("R216", PASS, PLAIN, flange("2.4563", **{"rows.0.rivet": "MS20470AD5"})),
    Case("R216", UNKNOWN, PLAIN, flange("2.4562", **{"rows.0.rivet": "MS20470AD5"})),
)


@cases(*CASES)
def test_heads_and_edges(case):
    case.holds()


def test_a_flush_cover_has_no_edge_on_the_skin():
    assert judged("R210", PLAIN, rib("2.5")) == []


def test_old_fasteners_under_one_edge_are_told_once():
    """The doubler's edge lies at X = 3: two under it and two inside it are told in two lines."""
    there = [{"at": [x, "0"], "diameter": "1/8"} for x in ("3.1", "3.02", "2.5", "2.6", "3.5")]
    edge, covered = judged("R210", RING, {"bay.existing": there})
    assert subject_of(edge) == "doubler edge on heads of existing fastener 2, worst of 2"
    assert subject_of(covered) == "existing fastener 3, covered by the doubler, first of 2"


def test_rivets_over_one_flange_are_told_once_and_every_one_is_named():
    rows = {"rows": [rivets((2.3, -0.8), (2.4, 0.0), (2.35, 0.8))]}
    (found,) = judged("R216", PLAIN, {**rows, **flange("2.45")})
    assert (found.status, found.holes) == (UNKNOWN, (2, 3))
    assert subject_of(found) == "head of rivet 2 on the edge of rib flange, worst of 2"


def test_a_bay_without_flanges_has_no_flange_edge():
    assert judged("R216", PLAIN) == []
