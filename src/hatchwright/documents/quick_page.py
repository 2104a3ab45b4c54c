"""The page of a quick answer: what was entered, what is judged, every number with its working, what stays open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.documents.paper_head import head_without_job
from hatchwright.documents.typst_pdf import Part
from hatchwright.finding import Finding
from hatchwright.said import Said, Value, said
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text, told_text
from hatchwright.words.tell import tell
from hatchwright.words.workings import working_text
from hatchwright.workings import Working

Number = tuple[Said, Value, tuple[Working, ...]]
"""What a number is, the number, and how it came about."""

_HEADINGS = ("entered", "numbers", "open")


def quick_part(
    title: Said,
    *,
    entered: Iterable[tuple[str, str]],
    findings: Iterable[Finding],
    numbers: Iterable[Number],
    open_points: Iterable[Said],
    unit: Unit,
    date: str,
) -> Part:
    """The page of an answer.

    Args:
        entered: label of each entry and what was typed, units included.
        unit: that lengths are told in.
        date: when it was made.
    """

    def told(what: Value) -> str:
        return tell(what, unit)

    judged = list(_judged(findings, unit))
    headings = ("judged", *_HEADINGS) if judged else _HEADINGS
    return Part(
        "quick",
        {
            "head": head_without_job(
                side=said("quick.paper.mark"),
                title=title,
                what=said("quick.paper.no_job"),
                more=said("quick.paper.write_in"),
                date=date,
            ),
            "words": {name: told(said(f"quick.heading.{name}")) for name in headings},
            "entered": [list(one) for one in entered],
            "judged": judged,
            "numbers": [
                [told(what), told(value), [working_text(one, unit) for one in workings]]
                for what, value, workings in numbers
            ],
            "open": [told(one) for one in open_points],
            "caution": told(said("quick.caution")),
        },
    )


def _judged(findings: Iterable[Finding], unit: Unit) -> Iterator[list[str]]:
    for one in findings:
        yield [tell(one.status, unit), one.code, told_text(one, unit), advice_text(one, unit)]
