"""R908 to R911: whether this is the right bay.

A quarter inch, a sixteenth and a thirty-second: common practice, no source. Departure from a directive: [14CFR39]
39.19.
"""

from __future__ import annotations

from rules.cases import CAUTION, PASS, PLAIN, STOP, UNKNOWN, Case, cases, judged
from told import subject_of

ROWS = [{"name": f"rib {x}", "member": "rib", "x": x, "diameter": "1/8"} for x in ("-12", "-4", "4", "12")]

ALONG_X = {"name": "spar", "member": "spar", "y": "5"}


def bay(**more: object) -> dict:
    return {"bay.rows": ROWS, **more}


def directive(x: str) -> dict:
    return {"mandate": {"kind": "directive", "reference": "D-1", "opening_x": x}}


def filed(x_to: str, kind: str) -> dict:
    """4 asked for and drawn; the edge at X = 2 filed elsewhere, measured within .005."""
    edges = {"shape": "edges", "x_from": "-2", "x_to": x_to, "y_from": "-2", "y_to": "2", "radius": "1"}
    made = {"as_made": {"uncertainty": ".005", "opening": edges}}
    return {"mandate": {"kind": kind, "reference": "D-1", "opening_x": "4"}, **made}


CASES = (
    # the ribs next to the opening stand 8.00 apart
    Case("R908", PASS, PLAIN, bay(mandate={"bay_x": "8.25"}), value=0.25, limit=0.25, said="found 8.000"),
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
    Case("R911", PASS, PLAIN, directive("4"), value=0.0, limit=0.0, said="drawn 4.000, called for 4.000"),
    Case("R911", STOP, PLAIN, directive("4.001"), said="alternative method"),
    Case("R911", CAUTION, PLAIN, {"mandate": {"kind": "owner", "opening_y": "3"}}, said="whoever called"),
    # as filed: within 1/32 by more than the uncertainty it is for the directive's holder to say, beyond it is not met
    Case(
        "R911",
        CAUTION,
        PLAIN,
        filed("2.026", "directive"),
        value=0.026,
        of="filed",
        said="Check the tolerance",
    ),
    Case("R911", UNKNOWN, PLAIN, filed("2.0263", "directive"), of="filed", said="can't be shown to pass"),
    Case("R911", STOP, PLAIN, filed("2.0363", "directive"), of="filed", said="Stop"),
    Case("R911", STOP, PLAIN, filed("1.9637", "directive"), of="filed"),
    Case("R911", CAUTION, PLAIN, filed("2.026", "bulletin"), of="filed"),
    Case("R911", PASS, PLAIN, filed("2.026", "owner"), of="filed"),
    Case("R911", CAUTION, PLAIN, filed("2.0363", "owner"), of="filed"),
    # the mandate shows a bay, and the rows that would tell are not entered
    Case(
        "R908", UNKNOWN, PLAIN, {"bay.rows": ROWS[2:], "mandate": {"bay_x": "8"}}, said="enter the rivet rows"
    ),
    Case("R908", UNKNOWN, PLAIN, bay(mandate={"bay_y": "8"}), said="along Y"),
    # what would be held against the mandate or measured between the rows was not entered
    Case("R909", CAUTION, PLAIN, {"bay.rows": [ROWS[0], ALONG_X]}, said="both diagonals"),
    Case(
        "R911",
        CAUTION,
        PLAIN,
        {"mandate": {"kind": "directive", "reference": "D-1"}},
        said="enter it",
    ),
    Case(
        "R911",
        CAUTION,
        PLAIN,
        {"mandate": {"kind": "bulletin", "reference": "B-1"}},
        said="Look up the opening size",
    ),
)


@cases(*CASES)
def test_right_bay(case):
    case.holds()


def test_a_fastener_off_the_row_is_not_of_it():
    changes = bay(**{"bay.existing": [{"at": ["4.07", "1"], "diameter": "5/32"}]})
    assert judged("R910", PLAIN, changes) == []


def test_no_corners_are_asked_for_between_rows_that_run_one_way_and_no_size_of_an_owner():
    assert judged("R909", PLAIN, bay()) == []
    assert judged("R911", PLAIN) == []


def test_a_bay_out_of_square_is_one_line_and_its_worst_pair_speaks():
    corners = {"bay.corners": {"sides": ["6", "6.12", "9", "9"], "diagonals": ["9", "9.13"]}}
    (finding,) = judged("R909", PLAIN, corners)
    assert (finding.status, finding.limit) == (CAUTION, 0.0625)
    assert abs(finding.value - 0.13) < 1e-9
    assert "diagonals" in subject_of(finding)


def test_what_was_not_measured_or_looked_up_is_still_to_enter():
    directive_alone = {"mandate": {"kind": "directive", "reference": "D-1"}}
    for code, changes, entries in (
        ("R908", {"bay.rows": ROWS[2:], "mandate": {"bay_x": "8"}}, ("bay.rows",)),
        ("R909", {"bay.rows": [ROWS[0], ALONG_X]}, ("bay.corners",)),
        ("R911", directive_alone, ("mandate.opening_x", "mandate.opening_y")),
    ):
        (finding,) = judged(code, PLAIN, changes)
        assert finding.enter == entries
