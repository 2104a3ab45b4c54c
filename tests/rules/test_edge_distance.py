"""R101 to R103: edge distance.

Limits: 2 D, [AC43.13-1B] par. 4-57 (single row); 2.5 D flush, [FAA-H-8083-31] ch. 4 fig. 4-78; both seen only restated.
Screws: the rivet rule applied to them, common practice, no source.
"""

from __future__ import annotations

import pytest

from rules.cases import CAUTION, FLUSH, PASS, PLAIN, STOP, UNKNOWN, Case, cases, judged, rivets
from told import advice_of, subject_of

ROW = "rows.0.points"
FLUSH_ROW = {"rows.0.rivet": "MS20426AD4"}
CIRCULAR = [{"rule": "R102", "reading": "circular, any head", "reason": "the maker's rows beside it"}]


def measured(x: str) -> dict:
    return {"as_made": {"uncertainty": ".005", "holes": [[1, x, "0"]]}}


def measured_screw(x: str, u: str) -> dict:
    """The screw at the middle of the side was drilled somewhere on the land, 1.3 to 2.6 wide."""
    return {"as_made": {"uncertainty": u, "holes": [[101, x, "0"]]}}


CASES = (
    # 1/8 rivets: 2 D = .250 from the edge at X = 2
    Case("R101", PASS, PLAIN, {ROW: [["2.25", "0"]]}, value=0.25, limit=0.25),
    Case("R101", STOP, PLAIN, {ROW: [["2.249", "0"]]}, value=0.249, said="1.99D of 2D, .001 short."),
    Case("R101", STOP, PLAIN, {ROW: [["2.24996", "0"]]}, value=0.24996, said="1.9997D of 2D, .001 short."),
    # a measured place passes only by more than its uncertainty
    Case("R101", PASS, PLAIN, measured("2.255")),
    Case("R101", UNKNOWN, PLAIN, measured("2.2549"), said="your u is .005, so it can't be shown to pass"),
    Case("R101", UNKNOWN, PLAIN, measured("2.245"), said=".005 short; your u is .005"),
    Case("R101", STOP, PLAIN, measured("2.2449")),
    # flush heads: 2.5 D = .3125; the circular's 2 D when it is chosen
    Case("R102", PASS, PLAIN, {**FLUSH_ROW, ROW: [["2.3125", "0"]]}, limit=0.3125),
    Case("R102", STOP, PLAIN, {**FLUSH_ROW, ROW: [["2.312", "0"]]}, said="References differ"),
    Case("R102", PASS, PLAIN, {**FLUSH_ROW, ROW: [["2.25", "0"]], "choices": CIRCULAR}, limit=0.25),
    Case("R102", STOP, PLAIN, {**FLUSH_ROW, ROW: [["2.249", "0"]], "choices": CIRCULAR}),
    # No. 10 screws: 2 D = .380 to the edge of the cover
    Case("R103", PASS, FLUSH, {"cover.screws.inset": ".38"}, limit=0.38, of="cover edge"),
    Case("R103", CAUTION, FLUSH, {"cover.screws.inset": ".379"}, of="cover edge", said=".001 short"),
    # a hole of .190 that breaks out of the cover's edge, and one whose center is off the land: the inner edge of the
    # doubler lies at X = 1.3, the cover's edge at 1.96875
    Case("R103", CAUTION, FLUSH, {"cover.screws.inset": ".095"}, of="cover edge"),
    Case("R103", STOP, FLUSH, {"cover.screws.inset": ".0949"}, of="cover edge", said="breaks out"),
    Case("R103", CAUTION, FLUSH, {"cover.screws.inset": ".57375"}, of="inner edge", value=0.095),
    Case("R103", STOP, FLUSH, {"cover.screws.inset": ".5738"}, of="inner edge", said="breaks out"),
    Case("R103", STOP, FLUSH, {"cover.screws.inset": ".67"}, of="inner edge", said="off the doubler"),
    Case("R103", UNKNOWN, FLUSH, measured_screw("1.4", ".006"), of="inner edge"),
    Case("R103", CAUTION, FLUSH, measured_screw("1.4", ".005"), of="inner edge"),
)


@cases(*CASES)
def test_edge_distance(case):
    case.holds()


def test_at_a_corner_the_distance_is_to_the_arc():
    # 45 degrees off the corner's center (1, 1): distance = |p - c| - R = sqrt(2) * 0.9 - 1
    (finding,) = judged("R101", PLAIN, {ROW: [["1.9", "1.9"]]})
    assert finding.value == pytest.approx(2**0.5 * 0.9 - 1.0)
    assert finding.status is PASS


def test_a_hole_inside_the_opening_is_off_the_metal():
    (finding,) = judged("R101", PLAIN, {ROW: [["1.5", "0"]]})
    assert finding.status is STOP
    assert finding.value == pytest.approx(-0.5)
    assert "off the skin" in advice_of(finding)


def test_each_rule_leaves_the_other_heads_alone():
    assert judged("R102", PLAIN) == []
    assert judged("R101", PLAIN, FLUSH_ROW) == []


def test_drawn_holes_that_are_short_speak_once_for_their_row():
    short, passing = judged("R101", PLAIN, {"rows": [rivets((2.2, 0.0), (2.21, 0.5), (2.3, -0.5))]})
    assert short.status is STOP
    assert short.holes == (1, 2)
    assert short.value == pytest.approx(0.2)
    assert passing.status is PASS


def test_measured_holes_that_are_short_speak_each_for_itself():
    made = {"uncertainty": ".005", "holes": [[1, "2.2", "0"], [2, "2.21", ".5"]]}
    found = judged("R101", PLAIN, {"rows": [rivets((2.3, 0.0), (2.3, 0.5))], "as_made": made})
    assert [(finding.holes, finding.status) for finding in found] == [((1,), STOP), ((2,), STOP)]


def test_the_readings_stand_in_the_finding_in_the_order_of_their_workings():
    (finding,) = judged("R102", PLAIN, FLUSH_ROW)
    assert finding.judged.readings == ("handbook, flush heads", "circular, any head")
    assert [working.reading for working in finding.working] == list(finding.judged.readings)


def test_a_screw_line_in_the_middle_of_its_land_is_judged_to_every_part():
    names = {subject_of(finding).split(" to ")[1] for finding in judged("R103", FLUSH)}
    assert {name.partition(" (")[0] for name in names} >= {"cover edge", "doubler inner edge"}
