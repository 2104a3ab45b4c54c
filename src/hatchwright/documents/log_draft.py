"""The draft of a log entry: what was done, with blanks for what only the person who did it knows.

It says what was done and claims nothing else: the person who signs answers for the entry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from hatchwright.airworthiness.record_facts import NO_FACTS, RecordFacts
from hatchwright.documents.job_summary import mandate_said, weight_said
from hatchwright.documents.labels import Label, labels_on_paper
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.parts_list import PartLine, parts_list
from hatchwright.documents.typst_pdf import Part
from hatchwright.drawings.parts_table import sheet_said
from hatchwright.job.finish import Finish
from hatchwright.layout.layout import Layout
from hatchwright.layout.mass import weight_change
from hatchwright.layout.sizes import size_of
from hatchwright.recipe.cover_hardware import cover_hardware
from hatchwright.said import Listed, Place, Said, Value, said
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

ELEMENTS = {
    "description": "",
    "date": "completed",
    "name": "performer",
    "signature": "",
    "certificate": "certificate",
}
"""What a maintenance entry holds. Source: [14CFR43], 43.9(a)(1) to (4), seen only restated; each line names its own.
Beside each the fact that is written on it where it is known, "" for what is written by hand."""

PRACTICE = {"total_time": "total_time", "due": "", "form": "form"}
"""What is added beside it. Source: [AC43-9C], par. 9 and appendix 1, and [14CFR43], 43.9(d), seen only restated."""

_HEADINGS = ("done", "data", "weight", "not_checked", "entry", "item", "number", "count", "lot")

_EMPTY_LINES = 8

Teller = Callable[[Value], str]


def log_part(
    layout: Layout,
    labels: Iterable[Label],
    not_checked: Iterable[Said],
    *,
    date: str,
    stop: str,
    facts: RecordFacts = NO_FACTS,
    is_open: bool = False,
) -> Part:
    """The log draft of a job with its labels, as a paper.

    Args:
        not_checked: what no answer speaks of.
        stop: what holds work back; "" where nothing does.
        facts: what is known for the entry.
        is_open: whether the records of this job say that a hold or a count is open.
    """
    told, blank = _teller(layout), empty_log(layout, facts)
    return Part(
        "log",
        {
            **blank,
            "head": paper_head(layout.job, said("log.title"), date=date),
            "stop": stop,
            "note": told(said("record.note.open")) if is_open else blank["note"],
            "labels": labels_on_paper(labels, layout),
            "words": blank["words"] | {"labels": told(said("log.heading.labels"))},
            "done": [told(one) for one in work_done(layout)],
            "asked_by": told(said("log.asked_by", mandate=mandate_said(layout.job.mandate))),
            "parts": [[told(one.item), *_number(one, told)] for one in parts_list(layout)],
            "sheets": [[told(said(f"part.{one.name}")), told(sheet_said(one))] for one in layout.parts[1:]],
            "weight": told(said("log.weight", weight=weight_said(weight_change(layout)))),
            "not_checked": told(said("log.not_checked", what=Listed(tuple(not_checked), ";"))),
        },
    )


def empty_log(layout: Layout, facts: RecordFacts = NO_FACTS) -> dict[str, Any]:
    """What every draft says and asks for, with lines to write on for all the rest.

    Args:
        facts: what is known for the entry.
    """
    told = _teller(layout)
    return {
        "stop": "",
        "labels": [],
        "words": {name: told(said(f"log.heading.{name}")) for name in _HEADINGS},
        "note": told(said("log.note")),
        "strike": told(said("log.strike")),
        "data_used": told(said("log.data_used")),
        "departures": told(said("log.departures")),
        "current": told(said("log.current")),
        "arm": told(said("log.arm")),
        "moment": told(said("log.moment")),
        "elements": [
            [told(said(f"log.element.{name}")), _known(fact, facts, told)] for name, fact in ELEMENTS.items()
        ],
        "practice": [
            [told(said(f"log.practice.{name}")), _known(fact, facts, told)] for name, fact in PRACTICE.items()
        ],
        "done": [""] * _EMPTY_LINES,
        "asked_by": "",
        "parts": [["", "", ""]] * _EMPTY_LINES,
        "sheets": [],
        "weight": "",
        "not_checked": "",
    }


def _known(fact: str, facts: RecordFacts, told: Teller) -> str:
    return told(getattr(facts, fact)) if fact else ""


def _teller(layout: Layout) -> Teller:
    """What tells in the words and the unit of a job."""
    job = layout.job
    return lambda what: tell(in_words_of(job.kind, what), job.unit)


def _number(line: PartLine, told: Teller) -> tuple[str, str]:
    """Number and count; the length of a rivet may be another than it was begun with, which is written in."""
    return line.number or told(said("lists.not_known")), str(line.count)


def work_done(layout: Layout) -> Iterator[Said]:
    """What was done, a sentence each, as far as the job tells it."""
    yield _cut(layout)
    for part in layout.parts[1:]:
        yield said("log.made", part=said(f"part.{part.name}"), sheet=sheet_said(part))
    rivets = [one for one in parts_list(layout) if one.item == said("lists.rivet")]
    for one in rivets:
        named: Value = one.number or one.description
        yield said("log.riveted", n=one.count, rivet=named)
    if hardware := cover_hardware(layout):
        nut, screw = hardware.nuts.name, hardware.screws.name
        yield said("log.screwed", n=hardware.screws.count, screw=screw, nut=nut)
    if mount := layout.job.mount:
        yield said("log.mounted", kind=mount.kind)
    yield from _finished(layout)


def _cut(layout: Layout) -> Said:
    job, made = layout.job, layout.job.as_made
    where: dict[str, Value] = {
        "side": said(f"side.{job.aircraft.side}"),
        "surface": said(f"surface.{job.aircraft.surface}"),
        "center": Place(*layout.center_in),
        "origin": layout.frame.origin,
    }
    is_measured = bool(made and made.opening)
    loop, corner = (layout.opening, None) if is_measured else (layout.wanted, layout.wanted_corner)
    id = "log.cut_measured" if is_measured else "log.cut"
    return said(id, size=size_of(loop.bounds, corner), **where)


def _finished(layout: Layout) -> Iterator[Said]:
    """The finish that the shop has chosen; a line to fill in where it has chosen none."""
    told = finish_said(layout.job.finish)
    yield said("log.finish", steps=Listed(told, ",")) if told else said("log.finish.open")


def finish_said(finish: Finish) -> tuple[Said, ...]:
    """What the sheets are treated, primed and sealed with; none where the shop has chosen nothing."""
    sealant = " ".join(filter(None, (finish.sealant, finish.dash)))
    told = [
        said(f"log.finish.{what}", name=name)
        for what, name in (("treatment", finish.treatment), ("primer", finish.primer), ("sealant", sealant))
        if name
    ]
    return (*told, *((said("log.finish.unsealed"),) if finish.unsealed else ()))
