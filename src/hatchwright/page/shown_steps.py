"""The steps of one side on the page: each as the card carries it, and at length."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from hatchwright.documents.card_steps import card_steps, carried_steps, step_number
from hatchwright.documents.step import Work, told_carried
from hatchwright.drawings.way_in_view import drawn_way_in
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.making.guide import job_recipe
from hatchwright.said import said
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import Examination


class ShownWayIn(Struct, frozen=True):
    """How the doubler goes in: its sketches, and what each says."""

    picture: str
    told: tuple[str, ...]


class ShownStep(Struct, frozen=True):
    """One step of the card.

    Args:
        first: its number, of several together that of the first.
        goes: what it says of each, as `told_carried`.
        at_length: title and sentences of each.
        way_in: how the doubler goes in, where that is the step; None elsewhere, or where there is nothing to draw.
    """

    first: int
    number: str
    goes: tuple[dict[str, Any], ...]
    at_length: tuple[tuple[str, str], ...]
    way_in: ShownWayIn | None = None


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
    drawn = drawn_way_in(layout)
    way_in = ShownWayIn(picture_svg_of(drawn.sheet, margin_in=0.02).decode(), drawn.told) if drawn else None
    brings_in = tell(in_words_of(kind, said("card.bring_in.title")), unit)
    return tuple(
        ShownStep(
            first,
            "".join(step_number(first, last)),
            tuple(told_carried(one, unit, kind=kind) for one in goes),
            tuple(told[first - 1 : last]),
            way_in if any(title == brings_in for title, _ in told[first - 1 : last]) else None,
        )
        for first, last, goes in carried_steps(work)
    )
