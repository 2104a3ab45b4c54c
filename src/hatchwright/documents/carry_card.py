"""The carry card: what a mechanic takes to the aircraft, on at most four sides.

Side 1 says whose it is, what is open and what is asked before the cut; side 2 shows the holes; the steps follow, each
in a line with its boxes. Why each number is so stands in the annex, under the same step numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from hatchwright.documents.card_steps import carried_steps, step_number
from hatchwright.documents.carry_front import behind, gate, open_points
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.step import Work, told_carried
from hatchwright.documents.typst_pdf import Part, pdf_from
from hatchwright.drawings.writers.paper import Paper
from hatchwright.drawings.writers.readback.pdf_pages import page_words
from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.layout.layout import Layout
from hatchwright.layout.sizes import size_of
from hatchwright.making.guide import job_recipe
from hatchwright.making.making import Making
from hatchwright.said import Listed, Said, Value, said
from hatchwright.verdict import Verdict
from hatchwright.words.catalog import HOME, names_under
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline, stop_text

MOST_SIDES = 4
"""More is not carried to the aircraft: common practice, no source."""

_OF_OPEN = ("open", "what", "accepted_by", "data")
"""Headings of the lines that are open."""

_TIGHTEST = 5
"""How often the card is set closer before it is left as long as it is."""


def carry_card(
    layout: Layout,
    making: Making | None,
    findings: Sequence[Finding],
    *,
    verdict: Verdict,
    not_checked: Sequence[Said],
    date: str,
    tongue: str = HOME,
) -> dict[str, Any]:
    """Gather the carry card of one side: everything that it says, by the names of its template.

    Args:
        findings: the worst first.
        date: when it was made, and of which answers.
        tongue: language of the card; what it does not hold is told in that of the house.
    """
    job, unit = layout.job, layout.job.unit

    def told(what: Value) -> str:
        return tell(in_words_of(job.kind, what), unit, tongue, how="l")

    steps: list[dict[str, Any]] = [
        {
            "first": first,
            "number": step_number(first, last),
            "goes": [told_carried(one, unit, tongue, job.kind) for one in goes],
        }
        for first, last, goes in carried_steps(Work(layout, making, job_recipe(layout, making)))
    ]
    holds = ["".join(step["number"]) for step in steps if _holds(step)]
    is_begun = any(one["is_done"] for step in steps for one in step["goes"])
    opened = open_points(verdict, unit, tongue)
    headings = [name for name in names_under("carry.heading.") if opened["rows"] or name not in _OF_OPEN]
    return {
        "words": {name: told(said(f"carry.heading.{name}")) for name in headings},
        "head": _head(job, date, tongue),
        "what": told(said("carry.job", size=size_of(layout.wanted.bounds, layout.wanted_corner))),
        "verdict": stop_text(verdict, "annex", tongue) or told(headline(verdict)),
        "stop_short": told(said("carry.stop_short")) if verdict.holds_back else "",
        "open": opened,
        "behind": [told(one) for one in behind(job)],
        "not_checked": told(said("carry.not_checked", what=Listed(tuple(not_checked), ";"))),
        "gate": [told(one) for one in gate(job, findings, has_template=making is not None)],
        "holds": told(said("carry.holds", steps=Listed(tuple(holds), ","))) if holds else "",
        "done_by": told(said("carry.done_by", date=_done_by(job, date))) if is_begun else "",
        "steps": steps,
    }


def _done_by(job: Job, printed: str) -> str:
    """The day of the readings by which steps count as done, else that of the print."""
    measured = job.as_made.date if job.as_made else None
    return measured.isoformat() if measured else printed.partition(" ")[0]


def _holds(step: dict[str, Any]) -> bool:
    return any("hold" in check["box"] for one in step["goes"] for check in one["checks"])


def _head(job: Job, date: str, tongue: str) -> dict[str, Any]:
    """As of every paper; the number of the side stands in fewer words, beside the letters of its code."""
    head = paper_head(job, said("carry.title"), date=date, tongue=tongue)
    words = {name: told for name, told in head["words"].items() if name != "of"}
    return head | {"lengths": tell(said(f"carry.lengths.{job.unit}"), tongue=tongue), "words": words}


def carry_card_pdf(
    card: dict[str, Any], *, hole_map: bytes, paper: Paper, stamp: datetime, chain_head: str = ""
) -> bytes:
    """Set a carry card, closer where it would not fit `MOST_SIDES` otherwise; letters stay as large as they are.

    Args:
        hole_map: picture of the parts and their holes, SVG.
        chain_head: of the records, "" where there are none.
    Raises:
        ExportError: the file did not read back as it was written.
    """
    steps = [step["first"] for step in card["steps"]]
    for closer in range(_TIGHTEST + 1):
        part = Part("carry_card", card | {"closer": closer}, {"hole_map": hole_map}, steps=steps)
        made = pdf_from(part, title=card["head"]["title"], paper=paper, stamp=stamp, chain_head=chain_head)
        if len(list(page_words(made))) <= MOST_SIDES:
            break
    return made
