"""R105, R214: edge distance and spacing at the next rivet size.

2 D and 3 D, [AC43.13-1B] par. 4-57, 2.5 D flush, [FAA-H-8083-31] fig. 4-78, at the next standard diameter, here 5/32
after 1/8 ([FAA-CT-8080-8D] exhibit 1). Holes of 1/8 rivets up to .135, of 5/32 up to .171: [TRADE-2001].
"""

from __future__ import annotations

import pytest

from rules.cases import CAUTION, PASS, PLAIN, STOP, Case, cases, judged, rivets, typed
from told import advice_of, subject_of

LARGE, GOOD = ".140", ".130"
U = 0.0001


def drilled(*holes: tuple[float, float, str], rivet: str = "MS20470AD4") -> dict:
    """A row whose holes were all measured."""
    return {
        "rows": [rivets(*((x, y) for x, y, _ in holes), rivet=rivet)],
        "as_made": {
            "uncertainty": typed(U),
            "holes": [[k, typed(x), typed(y), size] for k, (x, y, size) in enumerate(holes, start=1)],
        },
    }


CASES = (
    # an oversize hole and 2 x 5/32 = .3125 to the edge at X = 2, by more than its u
    Case("R105", PASS, PLAIN, drilled((2.3125 + U, 0.0, LARGE)), of="oversize", limit=0.3125),
    Case("R105", CAUTION, PLAIN, drilled((2.3125, 0.0, LARGE)), of="oversize", said="can't be shown"),
    Case("R105", CAUTION, PLAIN, drilled((2.312, 0.0, LARGE)), of="oversize", said="MS20470AD5"),
    # flush: 2.5 x 5/32 = .390625
    Case("R105", PASS, PLAIN, drilled((2.390625 + U, 0.0, LARGE), rivet="MS20426AD4"), of="oversize"),
    Case("R105", CAUTION, PLAIN, drilled((2.39, 0.0, LARGE), rivet="MS20426AD4"), limit=0.390625),
    # a hole that is good needs no next size, however near it lies; nor does one that nobody has drilled
    Case("R105", PASS, PLAIN, drilled((2.26, 0.0, GOOD)), value=0, limit=1),
    Case("R105", PASS, PLAIN, {"rows": [rivets((2.26, 0.0), (2.32, 0.6))]}, value=1, said="OK: 1 of 2 holes"),
    # 3 x 5/32 = .46875
    Case("R214", PASS, PLAIN, drilled((2.4, 0.0, LARGE), (2.4, 0.46875 + U, GOOD)), of="to rivet 2"),
    Case("R214", CAUTION, PLAIN, drilled((2.4, 0.0, LARGE), (2.4, 0.46875, GOOD)), limit=0.46875),
    Case("R214", CAUTION, PLAIN, drilled((2.4, 0.0, LARGE), (2.4, 0.468, GOOD)), said="next oversize rivet"),
    Case("R214", PASS, PLAIN, drilled((2.4, 0.0, GOOD), (2.4, 0.4, GOOD)), value=0, limit=2),
    Case("R214", PASS, PLAIN, {"rows": [rivets((2.4, 0.0), (2.4, 0.468))]}, said="OK: 0 of 2 holes"),
)


@cases(*CASES)
def test_next_size(case):
    case.holds()


def test_the_largest_standard_rivet_has_no_next_size():
    # 1/4 is the largest of the dash numbers -3 to -8; its holes end at .265
    caution, count = judged("R105", PLAIN, drilled((2.6, 0.0, ".270"), rivet="MS20470AD8"))
    assert caution.status is CAUTION
    assert "disposition" in advice_of(caution)
    assert (count.status, count.value, count.limit) == (PASS, 0, 1)
    assert judged("R214", PLAIN, drilled((2.6, 0.0, ".270"), rivet="MS20470AD8")) == []


def test_a_neighbor_stays_at_its_own_size_unless_its_hole_is_too_large_as_well():
    # 1/8 beside 5/32, .47 apart: 3 x 5/32 = .46875 holds; with both at the next size 3 x 3/16 = .5625 does not
    def found(size: str) -> list:
        small, larger = (
            rivets((2.5, 0.0), name="small"),
            rivets((2.5, 0.47), name="larger", rivet="MS20470AD5"),
        )
        holes = [[1, "2.5", "0", LARGE], [2, "2.5", ".47", size]]
        made = {"uncertainty": typed(U), "holes": holes}
        return judged("R214", PLAIN, {"rows": [small, larger], "as_made": made})

    alone, _ = found(".160")
    assert (alone.status, alone.limit) == (PASS, pytest.approx(3 * 5 / 32))
    both = found(".175")[0]
    assert (both.status, both.limit) == (CAUTION, pytest.approx(3 * 3 / 16))


def test_the_count_is_that_of_every_hole_tried_by_hand():
    places = [(2.26, -0.9), (2.32, -0.4), (2.4, 0.06), (2.4, 0.9)]
    # 2 x 5/32 = .3125 from X = 2: all but the first; 3 x 5/32 = .46875 apart: 2 and 3 lie .467 apart
    apart = ((2.4 - 2.32) ** 2 + 0.46**2) ** 0.5
    assert apart < 0.46875 < ((2.32 - 2.26) ** 2 + 0.5**2) ** 0.5
    counts = {
        code: (found.value, found.limit)
        for code in ("R105", "R214")
        for found in judged(code, PLAIN, {"rows": [rivets(*places)]})
    }
    assert counts == {"R105": (3, 4), "R214": (2, 4)}


@pytest.mark.parametrize(
    ("hole", "told"),
    [
        ((2.4, 0.0, LARGE), "The next size, MS20470AD5, holds here: edge distance, spacing and hole size."),
        ((2.3, 0.0, LARGE), "The next size, MS20470AD5, doesn't hold here: edge distance."),
        ((2.4, 0.0, ".1711"), "doesn't hold here: hole size."),
        ((2.4, 0.54, LARGE), "doesn't hold here: spacing."),
        ((2.3, 0.55, ".1711"), "doesn't hold here: hole size, edge distance and spacing."),
    ],
)
def test_a_hole_that_is_too_large_is_told_its_own_next_size(hole, told):
    """Its own, tried on that hole: the others of the row, which hold, do not answer for it."""
    found = judged("R404", PLAIN, drilled(hole, (2.4, 1.0, GOOD), (2.4, -0.9, GOOD)))
    (large,) = (one for one in found if one.holes == (1,))
    assert large.status is STOP
    assert told in advice_of(large)
    assert ("disposition" in advice_of(large)) is ("doesn't" in told)
    assert "rivet 1" in subject_of(large)


def test_the_larger_head_of_a_flush_rivet_is_to_be_looked_at():
    (large,) = judged("R404", PLAIN, drilled((2.5, 0.0, LARGE), rivet="MS20426AD4"))
    assert "check that the sheet takes its deeper head" in advice_of(large)
