"""R908 to R911: whether this is the right bay.

A quarter inch and a sixteenth: common practice, no source. Departure from a directive: [14CFR39] 39.19.
"""

from __future__ import annotations

from rules.cases import CAUTION, PASS, PLAIN, STOP, Case, cases, judged

ROWS = [{"name": f"rib {x}", "member": "rib", "x": x, "diameter": "1/8"} for x in ("-12", "-4", "4", "12")]


def bay(**more: object) -> dict:
    return {"bay.rows": ROWS, **more}


def directive(x: str) -> dict:
    return {"mandate": {"kind": "directive", "reference": "D-1", "opening_x": x}}


CASES = (
    # the ribs next to the opening stand 8.00 apart
    Case("R908", PASS, PLAIN, bay(mandate={"bay_x": "8.25"}), value=8.0),
    Case("R908", STOP, PLAIN, bay(mandate={"bay_x": "8.251"}), said="Wrong bay"),
    Case("R908", STOP, PLAIN, bay(mandate={"bay_x": "7.7"})),
    Case("R909", PASS, PLAIN, {"bay.corners": {"sides": ["6", "6.0625"], "diagonals": ["9", "9"]}}),
    Case("R909", CAUTION, PLAIN, {"bay.corners": {"sides": ["6", "6.063"], "diagonals": ["9", "9"]}}),
    Case(
        "R909",
        CAUTION,
        PLAIN,
        {"bay.corners": {"sides": ["6", "6"], "diagonals": ["9", "9.1"]}},
        of="diagonals",
    ),
    Case(
        "R909",
        CAUTION,
        PLAIN,
        {"bay.corners": {"sides": ["6", "6", "5", "5.1"], "diagonals": ["9", "9"]}},
        of="other sides",
    ),
    Case("R910", PASS, PLAIN, bay(**{"bay.existing": [{"at": ["4", "1"], "diameter": ".125"}]})),
    Case(
        "R910", CAUTION, PLAIN, bay(**{"bay.existing": [{"at": ["4", "1"], "diameter": "5/32"}]}), said="5/32"
    ),
    Case("R911", PASS, PLAIN, directive("4"), value=4.0),
    Case("R911", STOP, PLAIN, directive("4.001"), said="alternative method"),
    Case("R911", CAUTION, PLAIN, {"mandate": {"kind": "owner", "opening_y": "3"}}, said="whoever asked"),
)


@cases(*CASES)
def test_right_bay(case):
    case.holds()


def test_a_fastener_off_the_row_is_not_of_it():
    changes = bay(**{"bay.existing": [{"at": ["4.07", "1"], "diameter": "5/32"}]})
    assert judged("R910", PLAIN, changes) == []


def test_without_the_rows_on_both_sides_the_bay_is_not_known():
    assert judged("R908", PLAIN, {"bay.rows": ROWS[2:], "mandate": {"bay_x": "8"}}) == []
