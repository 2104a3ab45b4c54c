"""R701, R702: clearance in the bay, and what lies behind.

1/8 in to structure beside: [TM-1-1520-240-BD], web patches. A diameter round a hole: common practice, no source.
"""

from __future__ import annotations

import pytest

from hatchwright.words.tell import tell
from rules.cases import LAPPED, PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, judged
from told import advice_of


def flange(x: str) -> dict:
    return {"bay.flanges": [{"name": "rib flange", "x_from": x}]}


def made(x: str) -> dict:
    """The doubler as made is 6 wide; its edge was measured within .005."""
    outer = {"shape": "rounded rectangle", "width": "6", "height": "6", "radius": "1", "center": ["0", "0"]}
    return {**flange(x), "as_made": {"uncertainty": ".005", "doubler_outer": outer}}


def behind(x: str, depth: str = "2", **more: object) -> dict:
    return {"bay.keep_outs": [{"name": "cable", "x_from": x, "x_to": x, "depth": depth, **more}]}


def sloped(start: str, start_depth: str, end: str, end_depth: str) -> dict:
    """A line along Y behind the rivet at X 2.3 that gets deeper from one end to the other."""
    ends = {"start": ["2.3", start], "start_depth": start_depth, "end": ["2.3", end], "end_depth": end_depth}
    return {"bay.keep_outs": [{"name": "line", "x_from": "2.3", "x_to": "2.3", **ends}]}


MOVES = {"moves": True}


FLANGE = "rib flange"


def closed(*, without: str = "", row: float | None = None) -> dict:
    """Flanges .5 off the doubler's edge on all sides but one, and the line of a rib beyond X = 3."""
    bounds = {
        "X-": {"x_to": "-3.5"},
        "X+": {"x_from": "3.5"},
        "Y-": {"y_to": "-3.5"},
        "Y+": {"y_from": "3.5"},
    }
    flanges = [{"name": f"flange {side}", **bound} for side, bound in bounds.items() if side != without]
    rows = {} if row is None else {"bay.rows": [{"name": "rib", "member": "rib", "x": f"{row:.3f}"}]}
    return {"bay.flanges": flanges, **rows}


CASES = (
    Case("R701", PASS, RING, flange("3.125"), of=FLANGE, value=0.125, limit=0.125),
    Case("R701", STOP, RING, flange("3.124"), said=".001 short"),
    Case("R701", STOP, RING, flange("2.9"), value=-0.1, said="They overlap by .100"),
    Case("R701", PASS, RING, made("3.13"), of=FLANGE),
    Case("R701", UNKNOWN, RING, made("3.1299"), of=FLANGE, said="can't be shown to pass"),
    Case("R701", UNKNOWN, RING, said="none entered"),
    # without a doubler the lapped cover's edge counts, here at X = 2.75; without either the opening's
    Case("R701", PASS, LAPPED, flange("2.875"), of=FLANGE, value=0.125),
    Case("R701", STOP, LAPPED, flange("2.874")),
    Case("R701", PASS, PLAIN, flange("2.125"), of=FLANGE, value=0.125),
    # every side is closed, by a flange or by a row an inch off, whose flange cannot reach the doubler at X = 3
    Case("R701", PASS, RING, closed()),
    *(
        Case("R701", UNKNOWN, RING, closed(without=side), said=f"on side {side}")
        for side in ("X-", "X+", "Y-", "Y+")
    ),
    Case("R701", PASS, RING, closed(without="X+", row=4.0)),
    Case("R701", UNKNOWN, RING, closed(without="X+", row=3.999), said="on side X+"),
    Case("R701", UNKNOWN, RING, closed(without="X-", row=4.0), said="on side X-"),
    Case("R701", UNKNOWN, RING, flange("3.5"), said="on sides X-, Y- and Y+"),
    # what lies against the skin is kept clear of as a flange is
    Case(
        "R701", STOP, RING, {**flange("4"), "bay.keep_outs": [{"name": "wire", "x_from": "3.1"}]}, of="wire"
    ),
    # the drill of the hole at X = 2.3 reaches .125 round it
    Case("R702", PASS, PLAIN, behind("2.425"), said="behind rivet 1"),
    Case("R702", PASS, PLAIN, behind("2.426"), said="behind no hole"),
    Case("R702", PASS, PLAIN, behind("1.9"), said="the opening"),
    # of a rivet that no table lists the size is not known, and it counts as the largest one: 3/8
    Case("R702", PASS, PLAIN, {"rows.0.rivet": "CR9999", **behind("2.675")}, said="behind rivet 1"),
    Case("R702", PASS, PLAIN, {"rows.0.rivet": "CR9999", **behind("2.676")}, said="behind no hole"),
    # skin .032, .125 for the drill's point, .125 kept free: nearer it stops; the point itself comes out at .157
    Case("R702", PASS, PLAIN, behind("2.3", ".282"), value=0.125, limit=0.125, said="drill stop .157 in"),
    Case("R702", STOP, PLAIN, behind("2.3", ".281"), value=0.124, limit=0.125, said="only .124 in to it"),
    Case("R702", STOP, PLAIN, behind("2.3", ".158"), said="Don't drill. Move it"),
    Case("R702", STOP, PLAIN, behind("2.3", ".157"), said="hits it"),
    Case("R702", STOP, PLAIN, behind("1.9", ".281"), said="the opening"),
    # through a doubler of .040 inside as well; one outside is drilled before the skin
    Case("R702", PASS, RING, behind("2.3", ".322"), value=0.125),
    Case("R702", STOP, RING, behind("2.3", ".321"), value=0.124),
    Case("R702", PASS, RING, {"doubler.face": "outside", **behind("2.3", ".282")}, value=0.125),
    # a skin that measures thicker than it should brings everything behind it nearer
    Case("R702", STOP, PLAIN, {"skin.measured": ".034", **behind("2.3", ".283")}, value=0.124),
    # a bundle .14 behind eight pilot holes; at .50 the stop leaves what is kept
    Case("R702", STOP, RING, behind("2.3", ".14"), said="hits it"),
    Case("R702", PASS, RING, behind("2.3", ".50"), value=0.303, said="never past .375 in"),
    # what moves comes nearer by its swing, and keeps what its data ask for
    Case("R702", STOP, PLAIN, behind("2.3", ".5", **MOVES, swing=".219", clearance=".1"), value=0.124),
    Case("R702", PASS, PLAIN, behind("2.3", ".5", **MOVES, swing=".218", clearance=".1"), value=0.125),
    Case("R702", STOP, PLAIN, behind("2.3", ".9", **MOVES, swing=".244", clearance=".5"), value=0.499),
    Case("R702", PASS, PLAIN, behind("2.3", ".9", **MOVES, swing=".243", clearance=".5"), value=0.5),
    # while that is not entered it is clear by half an inch or not shown to be
    Case("R702", UNKNOWN, PLAIN, behind("2.3", ".656", **MOVES), value=0.499, limit=0.5, said="both stops"),
    Case("R702", PASS, PLAIN, behind("2.3", ".657", **MOVES), value=0.5),
    Case("R702", UNKNOWN, PLAIN, behind("2.3", ".3", **MOVES, swing="0"), said="both stops"),
    Case("R702", STOP, PLAIN, behind("2.3", ".281", **MOVES), value=0.124),
    # sideways too: its travel, and what is kept from it
    Case("R702", STOP, PLAIN, behind("2.526", ".2", swing_sideways=".101", swing="0", clearance=".1")),
    Case("R702", PASS, PLAIN, behind("2.526", ".2", swing_sideways=".1", swing="0", clearance=".1")),
    Case("R702", STOP, PLAIN, behind("2.6", ".2", clearance=".31")),
    Case("R702", PASS, PLAIN, behind("2.6", ".2", clearance=".29")),
    # it falls from .2 at Y -4 to 1.0 at Y 4; the hole at Y 0 is taken .125 to each side: .6 - .0125
    Case("R702", PASS, PLAIN, sloped("-4", ".2", "4", "1.0"), value=0.6 - 0.0125 - 0.157),
    Case("R702", PASS, PLAIN, sloped("4", "1.0", "-4", ".2"), value=0.6 - 0.0125 - 0.157),
    # beyond its ends it lies as deep as the nearer one
    Case("R702", PASS, PLAIN, sloped("1", ".4", "4", "1.0"), value=0.4 - 0.157),
    Case("R702", STOP, PLAIN, sloped("-4", ".2", "-1", ".281"), value=0.124),
    # what is no deeper than the skin is thick lies against it, and is kept clear of as a flange is
    Case(
        "R701",
        STOP,
        RING,
        {**flange("4"), "bay.keep_outs": [{"name": "wire", "x_from": "3.1", "depth": ".032"}]},
        of="wire",
    ),
)


@cases(*CASES)
def test_clearance(case):
    case.holds()


def test_the_drill_stop_is_set_by_the_depth():
    (finding,) = judged("R702", PLAIN, behind("2.3", depth=".6"))
    assert finding.value == pytest.approx(0.6 - 0.157)
    assert finding.status is PASS
    assert "never past .475 in" in advice_of(finding)


def test_what_lies_against_the_skin_is_no_matter_of_a_drill_stop():
    assert judged("R702", PLAIN, behind("2.3", depth=".032")) == []


BASE = {"mount": {"kind": "other", "base": ["9", "3"], "screw_size": "8-32", "screw_pattern": ["8", "2"]}}


@pytest.mark.parametrize(("depth", "status"), [(".281", STOP), (".282", PASS)])
def test_the_screws_of_a_base_are_drilled_in_front_of_it_too(depth, status):
    """.281: the drill .157 behind the outer face of the .032 skin leaves .124 of the .125; its screws stand at X 4."""
    bundle = {"bay.keep_outs": [{"name": "wire", "x_from": "3.9", "x_to": "4.1", "depth": depth}]}
    (clear,) = judged("R702", PLAIN, bundle)
    assert clear.value == pytest.approx(float(depth))  # no hole of the layout is in front of it
    (finding,) = judged("R702", PLAIN, {**bundle, **BASE})
    assert finding.status is status
    assert "the base screws" in tell(finding.subject, "in")


def test_nothing_entered_is_told_apart_from_nothing_there():
    assert judged("R702", PLAIN) == []
    (looked,) = judged("R702", PLAIN, {"bay.nothing_near": True})
    assert looked.status is PASS
    (near,) = judged("R702", PLAIN, {"bay.nothing_near": False})
    assert (near.status, near.enter) == (UNKNOWN, ("bay.keep_outs",))
