"""The house test of limits: every rule that judges by a number is tried on both sides of its line, next to it.

A case passes at the limit and another fails a thousandth of an inch, one piece or one percent beyond it; or two cases
differ in entered numbers by no more than that, and the answer turns between them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations
from typing import Any

import pytest

from hatchwright.finding import Finding
from rules import test_cover_nuts, test_spacing
from rules.cases import judged, rules
from rules.test_every_rule import CASES_OF_ALL

THOUSANDTH_IN, PIECE, PERCENT = 0.0011, 1.0, 0.01
"""How near to its line a rule is tried: a thousandth of an inch, one rivet or screw, one percent of a load."""

IN_STEPS = {
    "R410": "drills come in numbers: a No. 42 by the shop's own spread passes, a No. 40 is the next and is over",
    "R413": "sheets are compared by the strengths of their tables: the same sheet passes, the next weaker one stops",
    "R429": "nothing passes by a figure from memory; by a shop's own it does (test_flush_heads, at the limit)",
    "R808": "a torque is told, nothing entered is set against it",
    "R810": "screws come in sizes: No. 10 is the limit and passes, No. 8 is the next and cautions",
    "R910": "rivets come in sizes: 1/8 as assumed passes, 5/32 is the next and cautions",
    "R925": "nothing passes by a figure from memory; by a shop's own it does (test_mount_loads, at the limit)",
}
"""Rules whose numbers have no near side and far side that a case could stand on, and why."""


ON_THEIR_LINE = {
    "R212": (test_spacing, "test_screws_and_rivets_exactly_three_diameters_apart_pass"),
    "R807": (test_cover_nuts, "test_ear_holes_exactly_two_diameters_from_the_edge_pass"),
    "R813": (test_cover_nuts, "test_ears_and_rivets_exactly_three_diameters_apart_pass"),
}
"""Rules whose holes the program places: a test of their own finds the line and tries both sides."""


def findings_of(code: str) -> Iterator[Finding]:
    for case in CASES_OF_ALL:
        if case.code == code:
            yield from judged(code, case.job, case.changes)


def is_next_to_its_limit(finding: Finding) -> bool:
    if finding.value is None or finding.limit is None:
        return False
    if finding.unit == "in":
        near = THOUSANDTH_IN
    elif finding.unit in ("", "rivets", "rivet", "screws", "holes"):
        near = PIECE
    else:
        near = PERCENT * abs(finding.limit)
    return abs(finding.value - finding.limit) <= near


def numbers_in(value: Any) -> list[Any]:
    """The words and numbers of a change, in order; fractions and bare numbers as numbers."""
    if isinstance(value, dict):
        return [one for key in sorted(value) for one in (key, *numbers_in(value[key]))]
    if isinstance(value, list | tuple):
        return [one for part in value for one in numbers_in(part)]
    text = str(value)
    if found := re.fullmatch(r"(\d+)/(\d+)", text):
        return [int(found[1]) / int(found[2])]
    return [float(text)] if re.fullmatch(r"-?\d*\.?\d+", text) else [text]


def differ_by_a_thousandth(one: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether two sets of changes differ in entered numbers only, and each of those hardly."""
    first, second = numbers_in(one), numbers_in(other)
    if len(first) != len(second):
        return False
    apart = [(a, b) for a, b in zip(first, second, strict=True) if a != b]
    return bool(apart) and all(
        isinstance(a, float) and isinstance(b, float) and abs(a - b) <= THOUSANDTH_IN for a, b in apart
    )


def turns_between_two_cases(code: str) -> bool:
    cases = [case for case in CASES_OF_ALL if case.code == code]
    return any(
        one.status is not other.status
        and one.job is other.job
        and differ_by_a_thousandth(one.changes, other.changes)
        for one, other in combinations(cases, 2)
    )


JUDGE_BY_A_NUMBER = sorted(
    code
    for code in rules()
    if any(finding.value is not None and finding.limit is not None for finding in findings_of(code))
)


@pytest.mark.parametrize("code", JUDGE_BY_A_NUMBER)
def test_a_rule_is_tried_at_its_limit_and_just_beyond_it(code):
    beside = {finding.status for finding in findings_of(code) if is_next_to_its_limit(finding)}
    is_tried = len(beside) > 1 or turns_between_two_cases(code)
    if code in ON_THEIR_LINE:
        module, test = ON_THEIR_LINE[code]
        assert callable(getattr(module, test))
        assert not is_tried
    else:
        assert is_tried != (code in IN_STEPS)


def test_most_rules_judge_by_a_number():
    assert len(JUDGE_BY_A_NUMBER) >= 45
