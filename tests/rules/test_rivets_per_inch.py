"""R601: rivets on each side of the cut.

Skin .032 clad 2024-T3 with 1/8 rivets: table 4-9 6.2 and table 4-10 4.9 an inch, note c three quarters, [AC43.13-1B]
pages 4-37 and 4-38. A cut of 4 in asks for 25, 19 (18.6), 20 (19.6) and 15 (14.7).
"""

from __future__ import annotations

from rules.cases import PASS, PLAIN, RING, STOP, UNKNOWN, Case, along_y, cases, judged
from told import subject_of


def beyond(count: int, rivet: str = "MS20470AD4") -> dict:
    """So many rivets beyond X+."""
    return {"rows": [along_y(2.3, pitch=0.1, count=count, rivet=rivet)]}


def chosen(reading: str) -> dict:
    return {"choices": [{"rule": "R601", "reading": reading, "reason": "a lap of two sheets"}]}


def filed(y_to: str) -> dict:
    """The edge at Y = 2 filed to another place."""
    edges = {"shape": "edges", "x_from": "-2", "x_to": "2", "y_from": "-2", "y_to": y_to, "radius": "1"}
    return {"as_made": {"uncertainty": ".005", "opening": edges}}


SIDE = "side X+"

CASES = (
    # nothing chosen: enough for every reading, for some, for none
    Case("R601", PASS, RING, beyond(25), of=SIDE, limit=25),
    Case("R601", UNKNOWN, RING, beyond(24), of=SIDE, said="References differ"),
    Case("R601", UNKNOWN, RING, beyond(15), of=SIDE),
    Case("R601", STOP, RING, beyond(14), of=SIDE, said="11 rivets short"),
    Case(
        "R601", PASS, RING, {**beyond(15), **chosen("table 4-10, note c")}, of=SIDE, limit=15, said="Chosen:"
    ),
    Case("R601", STOP, RING, {**beyond(14), **chosen("table 4-10, note c")}, of=SIDE),
    Case("R601", PASS, RING, {**beyond(20), **chosen("table 4-10, no reduction")}, of=SIDE, limit=20),
    Case("R601", STOP, RING, {**beyond(19), **chosen("table 4-10, no reduction")}, of=SIDE),
    Case("R601", PASS, RING, {**beyond(19), **chosen("table 4-9, note c")}, of=SIDE, limit=19),
    # nothing passes by tables that are headed for protruding heads
    Case("R601", UNKNOWN, RING, beyond(25, "MS20426AD4"), of=SIDE, said="Get data"),
    Case("R601", STOP, RING, beyond(14, "MS20426AD4"), of=SIDE),
    # a material, and a rivet, that no table has
    Case(
        "R601",
        UNKNOWN,
        RING,
        {"skin.alloy": "6061", "skin.temper": "T6", "skin.clad": False},
        of="not in AC 43.13-1B",
    ),
    Case(
        "R601",
        UNKNOWN,
        RING,
        beyond(25, "MS20470AD2"),
        of="no rivet count is listed for a rivet of .0625 in",
    ),
    # a side that nothing holds stops, whatever the tables give; one rivet on it is a number to be asked about
    Case("R601", STOP, RING, beyond(25, "MS20470AD2"), of="side X-", value=0, said="Enter the rivet rows"),
    *(
        Case("R601", STOP, RING, {"rows": []}, of=f"side {side}", value=0)
        for side in ("X+", "X-", "Y+", "Y-")
    ),
    # a cut filed larger asks for more: 4.1 x 6.2 = 25.42
    Case("R601", PASS, RING, {**beyond(26), **filed("2.1")}, of=SIDE, limit=26),
    Case("R601", UNKNOWN, RING, {**beyond(25), **filed("2.1")}, of=SIDE, limit=26),
    Case("R601", PASS, RING, {**beyond(25), **filed("1.9")}, of=SIDE, limit=25),
)


@cases(*CASES)
def test_rivets_per_inch(case):
    case.holds()


def test_each_side_is_judged_over_the_cut_square_to_its_load():
    limits = {
        subject_of(finding)[:7]: finding.limit
        for finding in judged("R601", RING, {"opening.width": "3", **chosen("table 4-10, note c")})
    }
    # the X sides hold the cut along Y, 4 in: 15; the Y sides 3 in: 4.9 x .75 x 3 = 11.03, so 12
    assert limits == {"side X+": 15, "side X-": 15, "side Y+": 12, "side Y-": 12}


def test_without_a_doubler_nothing_is_asked():
    assert judged("R601", PLAIN) == []
