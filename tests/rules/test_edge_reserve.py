"""R104, R105, R214: rows too far from an edge; edge and spacing at the next rivet size.

Limits: 4 D, [AC65-15A] ch. 5, seen only restated; 2 D and 3 D, [AC43.13-1B] par. 4-57, at the next standard diameter,
here 5/32 after 1/8 ([FAA-CT-8080-8D] exhibit 1).
"""

from __future__ import annotations

from rules.cases import CAUTION, PASS, PLAIN, Case, cases, judged, rivets, typed
from told import advice_of

ROW = "rows.0.points"

CASES = (
    Case("R104", PASS, PLAIN, {ROW: [["2.5", "0"]]}, limit=0.5),
    Case("R104", CAUTION, PLAIN, {ROW: [["2.501", "0"]]}),
    Case("R104", CAUTION, PLAIN, {"as_made": {"uncertainty": ".005", "holes": [[1, "2.4951", "0"]]}}),
    # 2 x 5/32 = .3125
    Case("R105", PASS, PLAIN, {ROW: [["2.3125", "0"]]}, limit=0.3125),
    Case("R105", CAUTION, PLAIN, {ROW: [["2.312", "0"]]}, said="1 of 1 holes"),
    # flush: 2.5 x 5/32 = .390625
    Case("R105", PASS, PLAIN, {"rows.0.rivet": "MS20426AD4", ROW: [["2.390625", "0"]]}, limit=0.390625),
    Case("R105", CAUTION, PLAIN, {"rows.0.rivet": "MS20426AD4", ROW: [["2.39", "0"]]}),
    # 3 x 5/32 = .46875
    Case("R214", PASS, PLAIN, {"rows": [rivets((2.3, 0.0), (2.3, 0.46875))]}, limit=0.46875),
    Case("R214", CAUTION, PLAIN, {"rows": [rivets((2.3, 0.0), (2.3, 0.468))]}, said="1 pairs"),
)


def beside(*places: tuple[float, float], y: float = 2.0, x: float = 2.3) -> dict:
    """A row with its last hole measured at a place."""
    made = {"uncertainty": ".005", "holes": [[len(places), typed(x), typed(y)]]}
    return {"rows": [rivets(*places)], "as_made": made}


CASES += (
    # a drawn neighbor at its limit does not hide a measured one that lies within its u of .005
    Case("R105", PASS, PLAIN, beside((2.3125, 0.0), (2.3125, 0.5), x=2.3175, y=0.5)),
    Case(
        "R105", CAUTION, PLAIN, beside((2.3125, 0.0), (2.3125, 0.5), x=2.317, y=0.5), said="cannot be shown"
    ),
    Case("R214", PASS, PLAIN, beside((2.3, -0.46875), (2.3, 0.0), (2.3, 0.5), y=0.47375)),
    Case("R214", CAUTION, PLAIN, beside((2.3, -0.46875), (2.3, 0.0), (2.3, 0.5), y=0.473), value=0.473),
)


@cases(*CASES)
def test_reserve(case):
    case.holds()


def test_the_largest_standard_rivet_has_no_next_size():
    (found,) = judged("R105", PLAIN, {"rows.0.rivet": "MS20470AD8"})
    assert found.status is CAUTION
    assert "ask for data" in advice_of(found)
    assert judged("R214", PLAIN, {"rows.0.rivet": "MS20470AD8"}) == []


def test_the_edge_under_a_mounted_base_is_left_out():
    mount = {"kind": "other", "base": ["3", "3"]}
    assert judged("R104", PLAIN, {ROW: [["2.6", "0"]], "mount": mount}) == []
