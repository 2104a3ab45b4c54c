"""R602: which rivets count on each side of the cut, on jobs counted by hand."""

from __future__ import annotations

import pytest

from hatchwright.layout.cut_side import COUNT_RULE
from rules.cases import CAUTION, PASS, PLAIN, RING, UNKNOWN, Case, along_y, cases, judged, rules
from told import advice_of, subject_of


def chosen(reading: str) -> dict:
    return {"choices": [{"rule": "R602", "reading": reading, "reason": "all of the ring works"}]}


TWO_LINES = {"rows": [along_y(2.3, pitch=0.2, count=13), along_y(1.0, pitch=0.2, count=7, name="beside")]}
"""Thirteen rivets beyond the edge at X = 2, and seven more on X = 1 between the middle and the edge."""

ROUND = {"opening": {"shape": "circle", "diameter": "4", "center": ["0", "0"]}}
SIDE = "side X+"

CASES = (
    # a straight edge lies across the load: those ahead of it count, unless the job chooses
    Case("R602", PASS, RING, TWO_LINES, of=SIDE, value=13, said="so only those ahead of it count"),
    Case(
        "R602", CAUTION, RING, {**TWO_LINES, **chosen("all of the half")}, of=SIDE, value=20, said="Chosen:"
    ),
    Case("R602", PASS, RING, {**TWO_LINES, **chosen("ahead of the edge")}, of=SIDE, value=13, said="Chosen:"),
    # none does: all of the half counts, unless the job chooses the stricter
    Case("R602", PASS, RING, {**TWO_LINES, **ROUND}, of=SIDE, value=20, said="No straight edge crosses"),
    Case("R602", PASS, RING, {**TWO_LINES, **ROUND, **chosen("ahead of the edge")}, of=SIDE, value=13),
    # a name that there is not is said to be none, and the default stands
    Case("R602", PASS, RING, {**TWO_LINES, **chosen("half of them")}, of=SIDE, value=13),
)


@cases(*CASES)
def test_counted_rivets(case):
    case.holds()


def test_a_side_without_rivets_is_left_to_r601():
    assert [subject_of(finding)[:7] for finding in judged("R602", RING, TWO_LINES)] == [
        SIDE,
        "side Y+",
        "side Y-",
    ]


def test_without_a_doubler_nothing_is_counted():
    assert judged("R602", PLAIN) == []


def test_both_counts_stand_in_the_finding_with_their_documents():
    found = next(iter(judged("R602", RING, TWO_LINES)))
    assert found.judged.readings == ("ahead of the edge", "all of the half")
    assert [(step.result.value, step.source.key) for step in found.working] == [
        (13, "AC43.13-1B"),
        (20, "FAA-KT"),
    ]


@pytest.mark.parametrize(
    ("changes", "has"),
    [
        ({}, 13),
        (chosen("all of the half"), 20),
        (ROUND, 20),
        ({**ROUND, **chosen("ahead of the edge")}, 13),
    ],
)
def test_the_table_is_held_against_the_count(changes, has):
    (found,) = (
        one for one in judged("R601", RING, {**TWO_LINES, **changes}) if subject_of(one).startswith(SIDE)
    )
    assert found.value == has
    assert [step.result.value for step in found.working[-2:]] in ([13, 20], [20, 13])


def test_where_the_half_would_do_it_is_said_how_it_is_chosen():
    """Thirteen of the fifteen that table 4-10 with note c asks for; the half has twenty."""
    note_c = {"choices": [{"rule": "R601", "reading": "table 4-10, note c", "reason": "a lap of two sheets"}]}
    found = next(
        one for one in judged("R601", RING, {**TWO_LINES, **note_c}) if subject_of(one).startswith(SIDE)
    )
    assert "The half has 20; to count those, choose it under R602" in advice_of(found)
    assert "R602" not in advice_of(next(iter(judged("R601", RING, TWO_LINES))))  # 25 are asked for


def test_the_choice_is_looked_up_under_the_rule():
    assert COUNT_RULE in rules()
    assert all(finding.status is not UNKNOWN for finding in judged("R602", RING, TWO_LINES))
