"""R104: rows too far from an edge.

Limit: 4 D, [AL0992], never to be used beyond it. Too much edge distance lets the edge of a patch lift, [TRADE-2001]; a
sheet that cover screws hold down along the opening cannot.
"""

from __future__ import annotations

import pytest

from rules.cases import FLUSH, LAPPED, PASS, PLAIN, STOP, UNKNOWN, Case, cases, judged, rivets
from told import subject_of

ROW = "rows.0.points"

CASES = (
    Case("R104", PASS, PLAIN, {ROW: [["2.5", "0"]]}, limit=0.5),
    Case("R104", STOP, PLAIN, {ROW: [["2.501", "0"]]}, said="The edge can lift"),
    Case("R104", UNKNOWN, PLAIN, {"as_made": {"uncertainty": ".005", "holes": [[1, "2.4951", "0"]]}}),
    # a flush cover's screws go through its land and not through the skin: that edge is still asked about
    Case("R104", STOP, FLUSH, {ROW: [["2.501", "0"]]}, of="opening edge"),
)


@cases(*CASES)
def test_longest_edge_distance(case):
    case.holds()


def test_the_opening_edge_under_a_screwed_cover_is_left_out():
    """A lapped cover's screws clamp the skin between the opening and the row outside."""
    row = {"rows": [rivets((3.2, 0.0))]}
    assert judged("R104", LAPPED, row) == []
    (uncovered,) = judged("R104", LAPPED, {**row, "cover": None})
    assert uncovered.status is STOP
    assert uncovered.value == pytest.approx(1.2)
    assert "opening edge" in subject_of(uncovered)


def test_the_edge_under_a_mounted_base_is_left_out():
    mount = {"kind": "other", "base": ["3", "3"]}
    assert judged("R104", PLAIN, {ROW: [["2.6", "0"]], "mount": mount}) == []
