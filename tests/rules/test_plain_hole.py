"""R309: a wire nearer than 3/8 in to the edge of a hole needs a grommet there. Source: [AC43.13-1B], par. 11-115."""

from __future__ import annotations

import pytest

from rules.cases import PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, judged


def hole(edge: str = "bare", **more: object) -> dict:
    return {"plain_hole": {"edge": edge, **more}}


CASES = (
    Case("R309", PASS, PLAIN, hole(wires=True, wire_distance=".375"), value=0.375, limit=0.375),
    Case("R309", STOP, PLAIN, hole(wires=True, wire_distance=".374"), value=0.374, said="Fit a grommet"),
    Case("R309", STOP, RING, hole("ring", wires=True, wire_distance=".25"), value=0.25),
    Case("R309", PASS, PLAIN, hole("grommet", wires=True, wire_distance=".1")),
    Case("R309", PASS, PLAIN, hole("grommet", wires=True)),
    Case("R309", PASS, PLAIN, hole(wires=False)),
    Case("R309", UNKNOWN, PLAIN, hole(), said="Say whether a wire goes through"),
    Case("R309", UNKNOWN, PLAIN, hole(wires=True), said="tie the wire .375 in or more"),
)


@cases(*CASES)
def test_wire_in_hole(case):
    case.holds()


def test_what_is_open_is_named_to_be_entered():
    (wires,) = judged("R309", PLAIN, hole())
    (distance,) = judged("R309", PLAIN, hole(wires=True))
    assert (wires.enter, distance.enter) == (("plain_hole.wires",), ("plain_hole.wire_distance",))


def test_only_a_plain_hole_is_asked():
    assert judged("R309", PLAIN) == []


def test_no_hand_is_to_pass_a_plain_hole():
    assert judged("R303", PLAIN)
    assert judged("R303", PLAIN, hole(wires=False)) == []


@pytest.mark.parametrize(("way", "status"), [("port in the next bay", PASS), ("", UNKNOWN)])
def test_the_rivets_of_its_ring_are_bucked_from_another_way_in(way, status):
    small = {
        "opening": {"shape": "circle", "diameter": "1.5", "center": ["0", "0"]},
        "doubler.outer": {"shape": "circle", "diameter": "6"},
        "bay.way_in": way,
    }
    (finding,) = judged("R308", RING, {**small, **hole("ring", wires=False)})
    assert finding.status is status
    assert judged("R308", RING, small) == []
