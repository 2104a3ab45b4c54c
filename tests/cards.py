"""What papers say of a job, in words, each value to be asked for by its name."""

from __future__ import annotations

from typing import Any

from hatchwright.documents.card_steps import card_steps
from hatchwright.documents.carry_card import carry_card
from hatchwright.documents.job_summary import job_cautions, job_summary
from hatchwright.documents.step import Step, Work
from hatchwright.documents.verdict_on_paper import verdict_on_paper
from hatchwright.layout.layout import Layout
from hatchwright.making.guide import job_recipe
from hatchwright.making.making import Making
from hatchwright.units import Unit
from hatchwright.words.catalog import HOME
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import Examination
from tests.told import named


def told_step(step: Step, unit: Unit, tongue: str = HOME, kind: str = "") -> dict[str, Any]:
    """A step at length: its title, lines and blanks, and what they rest on, as source and grade."""

    def told(what: Any) -> str:
        return tell(in_words_of(kind, what), unit, tongue)

    return {
        "title": told(step.title),
        "lines": tuple(" ".join(map(told, one.words)) for one in step.lines),
        "blanks": tuple(map(told, step.blanks)),
        "rests_on": "; ".join(f"{one.source}: {tell(one.grade)}" for one in step.rests_on),
    }


def long_steps(layout: Layout, making: Making | None = None, tongue: str = HOME) -> Any:
    """Every step of a job at length, in order."""
    job = layout.job
    steps = card_steps(Work(layout, making, job_recipe(layout, making)))
    return named([told_step(step, job.unit, tongue, job.kind) for step in steps])


def card_of(one: Examination, *, tongue: str = HOME) -> Any:
    """What the desk annex says at length of one side, by its parts."""
    unit = one.job.unit
    return named(
        {
            "steps": long_steps(one.layout, one.making, tongue),
            "summary": [(tell(a, unit, tongue), tell(b, unit, tongue)) for a, b in job_summary(one.layout)],
            "cautions": [tell(said, unit, tongue) for said in job_cautions(one.layout)],
            "verdict": verdict_on_paper(one.verdict, unit, tongue, one.remedies),
        }
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
