"""The steps of one side on the page: each as the card carries it, and at length."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from hatchwright.documents.card_steps import card_steps, carried_steps, step_number
from hatchwright.documents.step import Work, told_carried
from hatchwright.making.guide import job_recipe
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import Examination


class ShownStep(Struct, frozen=True):
    """One step of the card.

    Args:
        first: its number, of several together that of the first.
        goes: what it says of each, as `told_carried`.
        at_length: title and sentences of each.
    """

    first: int
    number: str
    goes: tuple[dict[str, Any], ...]
    at_length: tuple[tuple[str, str], ...]


def shown_steps(examination: Examination) -> tuple[ShownStep, ...]:
    """The steps in their order, in the unit of the job."""
    layout, making = examination.layout, examination.making
    kind, unit = layout.job.kind, layout.job.unit
    work = Work(layout, making, job_recipe(layout, making))
    told = [
        (
            tell(in_words_of(kind, step.title), unit),
            " ".join(tell(in_words_of(kind, one), unit) for line in step.lines for one in line.words),
        )
        for step in card_steps(work)
    ]
    return tuple(
        ShownStep(
            first,
            "".join(step_number(first, last)),
            tuple(told_carried(one, unit, kind=kind) for one in goes),
            tuple(told[first - 1 : last]),
        )
        for first, last, goes in carried_steps(work)
    )
