"""The cards of a job as paper prints them, each value to be asked for by its name."""

from __future__ import annotations

from typing import Any

from hatchwright.documents.carry_card import carry_card
from hatchwright.documents.work_card import work_card
from hatchwright.words.catalog import HOME
from hatchwright.workflow.examine import Examination
from tests.told import named


def card_of(one: Examination, *, date: str = "2026-03-01 10:00 UTC", tongue: str = HOME) -> Any:
    """The card of one side."""
    return named(
        work_card(
            one.layout,
            one.making,
            one.worst_first(),
            verdict=one.verdict,
            not_checked=one.not_checked(),
            date=date,
            tongue=tongue,
        )
    )


def carried_card_of(one: Examination, *, date: str = "2026-03-01 10:00 UTC", tongue: str = HOME) -> Any:
    """The carry card of one side."""
    return named(
        carry_card(
            one.layout,
            one.making,
            one.worst_first(),
            verdict=one.verdict,
            not_checked=one.not_checked(),
            date=date,
            tongue=tongue,
        )
    )
