"""R802, R803, R808, R810: the cover's screws.

One thread past the nut: [AC43.13-1B] par. 7-64f, from memory; torque: table 7-1, which begins at No. 8; no bolt smaller
than No. 10 in primary structure: par. 7-41. Clear of what lies behind: common practice, no source.
"""

from __future__ import annotations

import pytest

from rules.cases import CAUTION, FLUSH, LAPPED, PASS, STOP, UNKNOWN, Case, cases, judged
from told import advice_of, subject_of


def tube(x: str, depth: str, **more: object) -> dict:
    return {"bay.keep_outs": [{"name": "tube", "x_from": x, "x_to": x, "depth": depth, **more}]}


def nut(height: str, length: str | None) -> dict:
    return {"cover.screws.nut_height": height, "cover.screws.length": length}


CARRIES = {"loads.cover.carries": "load"}

# the nearest screws of FLUSH lie on X = 1.58875; their major diameter is .190
CASES = (
    # cover .032 + doubler .040 + 1/32: .10325
    Case("R802", CAUTION, FLUSH, value=0.39675, said="1/2 cover screws, grip .072: .396 left for the nut"),
    Case("R802", CAUTION, FLUSH, said="Measure the nut height and enter it: .396 in at most"),
    Case("R802", STOP, FLUSH, {"cover.screws.length": ".10325"}, said="Too short for any nut"),
    Case("R802", CAUTION, FLUSH, {"cover.screws.length": ".1043"}, said=".001 in at most"),
    Case(
        "R802",
        UNKNOWN,
        FLUSH,
        {"cover.screws.length": None},
        said="Enter it and the screw length: at least .104 in",
    ),
    # the screw is 1/2 long and flush with the skin
    # the nut on top: .103 25 + .250
    Case("R802", PASS, FLUSH, nut(".250", ".35325"), value=0.35325, limit=0.35325),
    Case("R802", STOP, FLUSH, nut(".250", ".35324"), said=".001 short. At least one thread"),
    Case("R802", STOP, FLUSH, nut(".250", ".322"), said="At least one thread"),
    Case("R802", STOP, FLUSH, nut(".250", ".32199"), said="ends inside the nut"),
    Case("R802", UNKNOWN, FLUSH, nut(".250", None), limit=0.35325),
    # 1/8 in to what lies behind, as to structure: [TM-1-1520-240-BD], web patches
    Case("R803", PASS, FLUSH, tube("1.5", ".625"), value=0.125, limit=0.125),
    Case("R803", STOP, FLUSH, tube("1.5", ".624"), value=0.124, limit=0.125, said="keep .125"),
    Case("R803", STOP, FLUSH, tube("1.5", ".501"), value=0.001, said="Too close"),
    Case("R803", STOP, FLUSH, tube("1.5", ".5"), value=0.0, limit=0.0, said="The screw end hits it. Ask"),
    Case("R803", PASS, FLUSH, tube("1.779", ".4"), said=" to the side"),
    # a tube that moves: nearer by its swing, and clear by its own figure; not shown until both are entered
    Case("R803", UNKNOWN, FLUSH, tube("1.5", ".999", moves=True), value=0.499, limit=0.5, said="both stops"),
    Case("R803", PASS, FLUSH, tube("1.5", "1.0", moves=True), value=0.5),
    Case("R803", STOP, FLUSH, tube("1.5", "1.2", moves=True, swing=".4", clearance=".31"), value=0.3),
    Case("R803", PASS, FLUSH, tube("1.5", "1.2", moves=True, swing=".4", clearance=".3"), value=0.3),
    Case("R803", STOP, FLUSH, tube("1.779", ".4", moves=True, swing="0", clearance=".3")),
    # a lapped cover takes up its own thickness of the screw: .500 - .040
    Case("R803", PASS, LAPPED, tube("2.375", ".585")),
    Case("R803", STOP, LAPPED, tube("2.375", ".584")),
    Case("R803", STOP, LAPPED, tube("2.375", ".46"), said="hits it"),
    Case("R808", PASS, FLUSH, value=25, said="20 in-lbf to 25 in-lbf over running torque"),
    Case("R808", UNKNOWN, FLUSH, {"cover.screws.size": "6-32"}, said="manufacturer's torque"),
    Case("R810", PASS, FLUSH, CARRIES, value=0.19, limit=0.19),
    Case("R810", CAUTION, FLUSH, {**CARRIES, "cover.screws.size": "8-32"}, said="Ask the design approval"),
)


@cases(*CASES)
def test_cover_screws(case):
    case.holds()


def test_a_screw_just_beside_the_tube_is_told_by_its_distance():
    # 1.58875 + .190 = 1.77875
    for x, status in (("1.7787", STOP), ("1.7788", PASS)):
        (finding,) = judged("R803", FLUSH, tube(x, ".4"))
        assert finding.status is status


def test_an_unstressed_cover_may_have_small_screws():
    assert judged("R810", LAPPED) == []


def test_a_cover_that_carries_nothing_may_have_small_screws():
    """The circular speaks of bolts in primary structure: a cover that carries nothing is none."""
    small = {"cover.screws.size": "8-32"}
    assert judged("R810", FLUSH, small) == []
    assert judged("R810", FLUSH, {**small, "loads.cover.carries": "nothing"}) == []


def test_length_and_nut_height_are_asked_for_in_one_list():
    for changes, entries in (
        ({"cover.screws.length": None}, ("cover.screws.length", "cover.screws.nut_height")),
        (nut(".250", None), ("cover.screws.length",)),
        ({}, ("cover.screws.nut_height",)),
    ):
        (finding,) = judged("R802", FLUSH, changes)
        assert finding.enter == entries


def test_reach_and_depth_of_a_keep_out_count_from_the_outer_face_of_the_skin():
    """A flush cover's screw of 1/2 ends .500 below that face, through cover, doubler and nut; one in a lapped cover of
    .040 ends .460 below it. Neither the skin's thickness nor the doubler's is taken off."""
    thick = {"skin.thickness": ".100", "doubler.thickness": ".100"}
    for job, changes, reach in ((FLUSH, thick, 0.5), (LAPPED, {"skin.thickness": ".050"}, 0.46)):
        (finding,) = judged("R803", job, {**changes, **tube("0", "1")})
        assert finding.value == pytest.approx(1.0 - reach)
        assert "below the outer face of the skin" in subject_of(finding)


def test_a_keep_out_without_a_depth_is_taken_as_lying_on_the_skin():
    changes = tube("1.5", "1")
    del changes["bay.keep_outs"][0]["depth"]
    (finding,) = judged("R803", FLUSH, changes)
    assert finding.status is STOP
    assert finding.value == pytest.approx(0.032 - 0.5)
    assert "Measure its depth" in advice_of(finding)


def test_what_is_left_for_the_nut_is_held_against_nothing_until_its_height_is_entered():
    (finding,) = judged("R802", FLUSH)
    assert finding.limit is None
    assert finding.value == pytest.approx(0.5 - 0.072 - 1 / 32)
