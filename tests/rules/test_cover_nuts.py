"""R807, R809, R813: nutplates.

Self-locking nuts on doors: [AC43.13-1B] par. 7-64d; nutplate rivets as other rivets: common practice, no source; their
ears .344 each side, from memory.
"""

from __future__ import annotations

import pytest

from hatchwright.register import entries
from hatchwright.verdict import StrengthState, judge_all
from rules.cases import CAUTION, FLUSH, LAPPED, PASS, STOP, UNKNOWN, Case, cases, judged, rivets
from told import subject_of

SCREWS = "cover.screws."


def measured(spacing: str) -> dict:
    """Ears as measured on the part."""
    return {SCREWS + "nut_rivet_spacing": spacing}


CASES = (
    Case("R809", PASS, LAPPED),
    Case(
        "R809",
        PASS,
        FLUSH,
        said="on a cover opened before or after each flight (AC 43.13-1B par. 7-64d)",
    ),
    # the land is 1.4 wide at its middle; 3/32 protruding: 2 D = .1875
    Case("R807", PASS, FLUSH, limit=0.1875),
    Case("R807", CAUTION, FLUSH, {SCREWS + "inset": ".5"}, of="inner edge", said="short. Ask the design"),
    Case(
        "R807",
        UNKNOWN,
        FLUSH,
        {SCREWS + "nut": "miniature nutplate"},
        said="Measure the ear-hole spacing",
    ),
    Case("R807", UNKNOWN, FLUSH, {SCREWS + "nut_rivet": None}, said="Enter the nutplate rivet"),
    Case("R807", UNKNOWN, FLUSH, {SCREWS + "count": 2}, said="set no direction"),
    # screws .62 from the cover's edge at 1.96875 lie .04875 from the land's edge at X = 1.3, and ears close to them
    # nearly so; half of 3/32 is .046875
    Case("R807", CAUTION, FLUSH, {SCREWS + "inset": ".615", **measured(".02")}, of="inner edge"),
    Case("R807", STOP, FLUSH, {SCREWS + "inset": ".63", **measured(".02")}, of="inner edge"),
    Case("R807", STOP, FLUSH, {SCREWS + "inset": ".7", **measured(".02")}, of="inner edge"),
    Case("R807", UNKNOWN, FLUSH, {SCREWS + "inset": ".63"}, of="inner edge"),
    # 3 x 1/8 = .375 from a rivet of the doubler
    Case("R813", PASS, FLUSH, {"rows": [rivets((2.3, 0.0))]}, limit=0.375),
    Case("R813", CAUTION, FLUSH, {"rows": [rivets((1.9, 0.7))]}, said="short. Ask the design"),
    Case("R813", UNKNOWN, FLUSH, {SCREWS + "nut_rivet": None}, said="Enter the nutplate rivet"),
)


@cases(*CASES)
def test_cover_nuts(case):
    case.holds()


def test_ears_that_are_not_known_are_one_cause_of_both_rules():
    """Without the rivet, or with screws too few to show a line, R807 and R813 say one thing: one line, one entry."""
    for changes in ({SCREWS + "nut_rivet": None}, {SCREWS + "count": 2}):
        edge, rivet = (judged(code, FLUSH, changes) for code in ("R807", "R813"))
        assert [(f.subject, f.advice, f.enter) for f in edge] == [
            (f.subject, f.advice, f.enter) for f in rivet
        ]
        found = judge_all([*edge, *rivet], side="left", strength=StrengthState.NOT_ASKED)
        assert len(found.lines) + len(found.to_enter) == 1
        assert found.status is UNKNOWN


def test_a_nut_of_the_jobs_own_choice_is_no_caution():
    """AC 43.13-1B par. 7-64d is told on the card where the cover is fitted, once."""
    (finding,) = judged("R809", FLUSH)
    assert finding.status is PASS
    assert entries()["R809"].step == "cover"
    (clip,) = judged("R809", LAPPED)
    assert clip.advice == ()


def test_measured_ears_stand_in_for_those_from_memory():
    (outer, _inner) = judged(
        "R807", FLUSH, {SCREWS + "nut": "miniature nutplate", SCREWS + "nut_rivet_spacing": ".4"}
    )
    assert outer.working[1].result.value == pytest.approx(0.4)
    assert outer.working[1].grade == "the shop's own"


def test_measured_ears_that_run_into_a_rivet_stop():
    (finding,) = judged("R813", FLUSH, {"rows": [rivets((2.3, 0.0))], **measured(".688")})
    (found,) = judged("R813", FLUSH, {"rows": [rivets(finding.place)], **measured(".688")})
    assert found.status is STOP


def test_flush_nutplate_rivets_need_two_and_a_half():
    for finding in judged("R807", FLUSH, {SCREWS + "nut_rivet": "MS20426AD3"}):
        assert finding.limit == pytest.approx(2.5 * 3 / 32)


def test_ears_and_rivets_exactly_three_diameters_apart_pass():
    (finding,) = judged("R813", FLUSH, {"rows": [rivets((2.3, 0.0))]})
    ear_x, ear_y = finding.place
    # half of 1/8 and half of 3/32 are .109375: nearer than that no metal is left
    for apart, status in ((0.375, PASS), (0.374, CAUTION), (0.1094, CAUTION), (0.1093, UNKNOWN)):
        (found,) = judged("R813", FLUSH, {"rows": [rivets((ear_x + apart, ear_y))]})
        assert found.value == pytest.approx(apart)
        assert found.status is status


def test_ear_holes_exactly_two_diameters_from_the_edge_pass():
    """The farther the screws stand in, the nearer their nutplates come to the inner edge; 2 x 3/32 = .1875."""

    def ears(inset: float):
        found = judged("R807", FLUSH, {SCREWS + "inset": f"{inset:.9f}"})
        return next(one for one in found if "inner edge" in subject_of(one))

    near, far = 0.3, 0.5
    for _ in range(40):
        middle = (near + far) / 2.0
        near, far = (middle, far) if ears(middle).value > 0.1875 else (near, middle)
    assert near != 0.3
    assert far != 0.5
    for inset, status in ((near - 1e-6, PASS), (near + 0.001, CAUTION)):
        found = ears(inset)
        assert found.value == pytest.approx(0.1875, abs=0.0011)
        assert found.status is status


@pytest.mark.parametrize("lugs", ["outward", "inward"])
def test_lugs_across_the_screw_line_come_nearer_to_both_edges(lugs):
    """The ears of a two-lug nutplate lie .344 to each side of the screw: turned square to the screw line they come
    nearer to the edge on either side. Geometry."""
    along = {subject_of(one).split(" to ")[1]: one.value for one in judged("R807", FLUSH, measured(".688"))}
    across = {
        subject_of(one).split(" to ")[1]: one.value
        for one in judged("R807", FLUSH, {SCREWS + "nut_lugs": lugs, **measured(".688")})
    }
    assert along.keys() == across.keys()
    assert all(across[edge] < along[edge] for edge in along)
