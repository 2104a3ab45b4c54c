"""The gate: every yes and every open question sends the job to an engineer."""

from __future__ import annotations

import pytest

from hatchwright.judged import Status
from hatchwright.strength.gate import gate, must_refer
from tests.strength.jobs import ANSWERED, SQUARE, layout_of
from told import advice_of

QUESTIONS = ("spar_web_or_cap", "pressure_skin", "tank_wall", "movable_surface", "fitting_path", "member_cut")


def test_all_answered_no_and_less_than_half_a_bay_passes() -> None:
    answers = gate(layout_of(ANSWERED))
    assert [answer.code for answer in answers] == [
        "S101",
        "S102",
        "S103",
        "S104",
        "S105",
        "S106",
        "S107",
        "S107",
    ]
    assert not must_refer(answers)


def test_a_question_left_open_refers() -> None:
    answers = gate(layout_of())
    assert [answer.status for answer in answers[:6]] == [Status.UNKNOWN] * 6
    assert must_refer(answers)
    assert all("engineer" in advice_of(answer) for answer in answers[:6])


@pytest.mark.parametrize(("number", "question"), list(enumerate(QUESTIONS)))
def test_each_yes_refers(number: int, question: str) -> None:
    text = ANSWERED.replace(f"{question} = false", f"{question} = true")
    answers = gate(layout_of(text))
    assert answers[number].status is Status.STOP
    assert must_refer(answers)


def test_a_pressurized_skin_needs_no_answer() -> None:
    base = SQUARE.replace("stressed = true", "stressed = true\npressurized = true")
    assert gate(layout_of(base=base))[1].status is Status.STOP


def test_half_of_the_bay_is_the_limit() -> None:
    """Opening 4 in: a bay of 8 in is just half, one of 7.9 is not enough."""
    for row, status in (("3", Status.PASS), ("2.9", Status.STOP)):
        base = SQUARE.replace('name = "outboard rib"\nx = "5"', f'name = "outboard rib"\nx = "{row}"')
        assert gate(layout_of(ANSWERED, base=base))[6].status is status


def test_an_unknown_bay_refers() -> None:
    base = SQUARE.replace('name = "aft spar"\ny = "5"', 'name = "far rib"\nx = "9"')
    answers = gate(layout_of(ANSWERED, base=base))
    assert answers[6].status is Status.PASS
    assert answers[7].status is Status.UNKNOWN
    assert answers[7].enter == ("bay.rows",)
    assert "rows on both sides of the opening along Y" in advice_of(answers[7])
