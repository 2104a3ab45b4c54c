"""A row of findings cut short: STOP before anything less grave, each kind before a second of any, and all counted."""

from __future__ import annotations

import re

from hatchwright.finding import stated
from hatchwright.ground import practice
from hatchwright.judged import Status
from hatchwright.said import said
from hatchwright.words.shortened import shortened
from hatchwright.words.tell import tell


def findings(*kinds: tuple[str, Status, int]):
    return [
        stated(code, status, said("check.no_registration"), practice("a test"))
        for code, status, n in kinds
        for _ in range(n)
    ]


def test_a_row_that_is_not_too_long_stays_whole():
    some = findings(("R101", Status.STOP, 2), ("R105", Status.PASS, 3))
    assert shortened(some, 5) == (tuple(some), None)


def test_stops_stay_before_all_else_and_each_kind_of_them_is_told():
    some = findings(
        ("R101", Status.PASS, 9),
        ("R209", Status.STOP, 50),
        ("R105", Status.CAUTION, 2),
        ("R201", Status.STOP, 1),
    )
    shown, rest = shortened(some, 10)
    assert {one.code for one in shown} == {"R209", "R201"}
    assert len(shown) == 10
    assert tell(rest).startswith(
        "52 more findings are not listed here: 41 STOP R209, 2 CAUTION R105, 9 OK R101."
    )
    assert "--json" in tell(rest)


def test_what_is_told_and_what_is_counted_are_all():
    some = findings(("R101", Status.STOP, 7), ("R105", Status.CAUTION, 70), ("R201", Status.UNKNOWN, 11))
    for most in (1, 8, 30, 87):
        shown, rest = shortened(some, most)
        counts = [int(n) for n in re.findall(r"(\d+) (?:STOP|CAUTION|NOT SHOWN) R", tell(rest))]
        assert len(shown) + sum(counts) == len(some)
        assert list(shown) == [one for one in some if any(one is kept for kept in shown)]
