"""R404 to R406: drilled holes.

1/8 rivets: .125 to .135, [TRADE-2001], table of drills and holes, seen only restated. A fifth of the rivets or ten, two
side by side: [MIL-R-47196A] repair limitations, seen only restated.
"""

from __future__ import annotations

from rules.cases import CAUTION, PASS, PLAIN, STOP, UNKNOWN, Case, cases, judged, rivets

GOOD, LARGE = ".130", ".140"


def one(diameter: str, rivet: str = "MS20470AD4") -> dict:
    made = {"uncertainty": ".0001", "holes": [[1, "2.3", "0", diameter]]}
    return {"rows.0.rivet": rivet, "as_made": made}


def many(count: int, large: set[int]) -> dict:
    """A straight row of which some holes, by number, are too large."""
    places = [(2.3, -0.9 + 0.5 * k) for k in range(count)]
    holes = [[k + 1, repr(x), repr(y), LARGE if k + 1 in large else GOOD] for k, (x, y) in enumerate(places)]
    return {"rows": [rivets(*places)], "as_made": {"uncertainty": ".0005", "holes": holes}}


CASES = (
    Case("R404", PASS, PLAIN, one(".1349")),
    Case("R404", UNKNOWN, PLAIN, one(".135"), limit=0.135, said="can't be shown to pass"),
    Case("R404", UNKNOWN, PLAIN, one(".1351")),
    Case("R404", STOP, PLAIN, one(".1352"), said=".001 over."),
    Case("R404", PASS, PLAIN, one(".1251")),
    Case("R404", CAUTION, PLAIN, one(".1249"), limit=0.125, said="Open the hole with the final drill"),
    Case("R404", UNKNOWN, PLAIN, one(".32", "MS20470AD10"), said="own standard"),
    # a fifth of 10 is 2, a fifth of 60 is 12, but never over 10
    Case("R405", PASS, PLAIN, many(10, {1, 4}), limit=2),
    Case("R405", STOP, PLAIN, many(10, {1, 4, 7}), value=3),
    Case("R405", PASS, PLAIN, many(60, set(range(1, 60, 6))), value=10, limit=10),
    Case("R405", STOP, PLAIN, many(60, {*range(1, 60, 6), 60}), value=11),
    Case("R406", PASS, PLAIN, many(10, {4, 5}), value=2, limit=2),
    Case("R406", STOP, PLAIN, many(10, {4, 5, 6}), value=3),
)


@cases(*CASES)
def test_hole_size(case):
    case.holds()


def test_a_row_all_round_has_no_first_hole():
    # the last and the first two of a closed row stand side by side
    places = [(3.0, 0.0), (0.0, 3.0), (-3.0, 0.0), (0.0, -3.0)]
    holes = [[k + 1, repr(x), repr(y), GOOD if k == 2 else LARGE] for k, (x, y) in enumerate(places)]
    made = {"uncertainty": ".0005", "holes": holes}
    (finding,) = judged("R406", PLAIN, {"rows": [rivets(*places)], "as_made": made})
    assert finding.status is STOP
    assert finding.value == 3


def test_every_run_that_is_too_long_names_its_holes():
    (finding,) = judged("R406", PLAIN, many(12, {2, 3, 4, 7, 8, 9, 10, 12}))
    assert (finding.status, finding.value) == (STOP, 4)
    assert finding.holes == (7, 8, 9, 10, 2, 3, 4)
    (within,) = judged("R406", PLAIN, many(12, {2, 3, 7}))
    assert (within.status, within.holes) == (PASS, (2, 3))


def test_holes_that_were_not_measured_are_not_judged():
    for code in ("R404", "R405", "R406"):
        assert judged(code, PLAIN) == []


def test_good_holes_are_told_once_for_each_rivet():
    assert len(judged("R404", PLAIN, many(10, set()))) == 1
