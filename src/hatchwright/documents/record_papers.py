"""The record papers of one side: what each record holds, with a blank for each thing that is missing.

They are drafts and say so: no paper says that a record is complete, and each that has a hold or count open says that.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from msgspec import Struct

from hatchwright.airworthiness.holds import Counted, Hold, Initials, Open, open_counts, open_holds
from hatchwright.airworthiness.record_elements import Element, elements_of, missing_of
from hatchwright.airworthiness.record_facts import RecordFacts
from hatchwright.documents.looks import places_of
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.typst_pdf import Part
from hatchwright.job.looks import LOOKED_AT
from hatchwright.layout.layout import Layout
from hatchwright.said import Said, Value, said
from hatchwright.tables.record_elements import RecordName
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

PAPERS: tuple[tuple[str, tuple[RecordName, ...]], ...] = (
    ("entry", ("entry",)),
    ("inspection", ("inspection",)),
    ("form", ("form",)),
    ("directive", ("directive", "release")),
    ("ica", ("ica",)),
    ("easa", ("easa",)),
    ("canada", ("canada",)),
)
"""Sheets in their order, each with the records on it; before them stands that of the hold points."""


class Shown(Struct, frozen=True):
    """What was passed and counted so far.

    Args:
        revision: of the job now, or the mark of its plan, for which alone initials count.
        holds: that the job has.
        initials: that stand in the records.
        counted: that stands in the records; none where nothing was counted yet.
    """

    revision: str
    holds: tuple[Hold, ...]
    initials: tuple[Initials, ...] = ()
    counted: tuple[Counted, ...] = ()

    @property
    def open_holds(self) -> tuple[Open, ...]:
        """Those that are open."""
        return open_holds(self.holds, self.initials, revision=self.revision)

    @property
    def is_open(self) -> bool:
        """Whether a hold or a count is."""
        return bool(self.open_holds or self.open_counts)

    @property
    def open_counts(self) -> tuple[Open, ...]:
        """What is open of the count."""
        return open_counts(self.counted)


def record_parts(
    layout: Layout, facts: RecordFacts, shown: Shown, *, date: str, stop: str
) -> tuple[Part, ...]:
    """The record papers of a job, one part each.

    Args:
        stop: what holds work back; "" where nothing does.
    """
    job = layout.job
    holds, counts = shown.open_holds, shown.open_counts

    def told(what: Value) -> str:
        return tell(in_words_of(job.kind, what), job.unit)

    def part(name: str, sections: Iterable[dict[str, Any]], points: Iterable[Said]) -> Part:
        data = {
            "head": paper_head(job, said(f"record.paper.{name}"), date=date),
            "stop": stop,
            "note": told(said("record.note.open" if holds or counts else "record.note")),
            "open": [told(one) for one in points],
            "words": {one: told(said(f"record.heading.{one}")) for one in _HEADINGS},
            "sections": list(sections),
        }
        return Part("record", data, called=f"record_{name}")

    parts = [part("holds", _holds(shown, told), [one.why for one in (*holds, *counts)])]
    held = [said("record.open.holds", n=len(holds))] if holds else []
    held += [said("record.open.counts")] if counts else []
    for name, records in PAPERS:
        of_each = {record: elements_of(record, facts) for record in records}
        missing = sum(len(missing_of(of)) for of in of_each.values())
        sections = [_section(record, of, told) for record, of in of_each.items()]
        if name == "inspection":
            sections.append(_next_look(layout, facts, told))
        points = [*held, *([said("record.open.lines", n=missing)] if missing else [])]
        parts.append(part(name, sections, points))
    return tuple(parts)


_HEADINGS = ("where", "what", "is", "source", "open")

Teller = Callable[[Value], str]


def _section(record: RecordName, elements: Iterable[Element], told: Teller) -> dict[str, Any]:
    return {
        "title": told(said(f"record.{record}")),
        "how": told(said(f"record.{record}.how")),
        "rows": [_row(one, told) for one in elements],
    }


def _row(one: Element, told: Teller) -> dict[str, str]:
    """Where it is asked, what, what is known or how it stands, and how far its source is to be trusted."""
    return {
        "where": one.source.place,
        "what": told(one.called),
        "more": "",
        "is": " ".join(map(told, one.values)),
        "mark": "" if one.values else told(said(f"record.standing.{one.standing}")),
        "source": told(said("record.source", key=one.source.key, grade=one.grade)),
        "strong": "rule" if one.by_rule else "",
    }


def _next_look(layout: Layout, facts: RecordFacts, told: Teller) -> dict[str, Any]:
    """When the opening is looked at next, as far as that is known, and at what."""
    time, on = facts.next_due_time, facts.next_due_date
    due: Value = said("record.next.first", time=time, date=on) if time and on else time or on
    mark = "" if due else told(said("record.standing.missing"))
    when = _plain_row(told(said("record.next.when")), told(due), mark)
    rows = [_plain_row(told(said(f"looks.at.{name}")), told(places_of(layout, name))) for name in LOOKED_AT]
    return {
        "title": told(said("record.next")),
        "how": told(said("record.next.how")),
        "rows": [when, *rows],
    }


def _holds(shown: Shown, told: Teller) -> Iterator[dict[str, Any]]:
    """Each hold with who passed it, and the count, line by line."""
    is_open = {one.name: one.why for one in shown.open_holds}
    yield {
        "title": told(said("forms.holds")),
        "how": told(said("record.holds.how")),
        "rows": [_hold_row(hold, shown.initials, is_open.get(hold.name), told) for hold in shown.holds],
    }
    uneven = {one.name: one.why for one in shown.open_counts}
    yield {
        "title": told(said("forms.count")),
        "how": told(said("record.count.how")),
        "rows": [
            _plain_row(
                one.item,
                told(said("record.count.line", n=one.went_in or 0, out=str(one.came_out)))
                if one.item not in uneven
                else "",
                told(said("record.is_open")) if one.item in uneven else "",
            )
            for one in shown.counted
        ],
    }


def _hold_row(hold: Hold, initials: Iterable[Initials], why: Said | None, told: Teller) -> dict[str, str]:
    """What is looked at, who has to, and who passed it so far."""
    passed = [
        said("record.hold.passed", letters=one.letters, by=one.by, at=one.at, revision=one.revision)
        for one in initials
        if one.hold == hold.name
    ]
    asks = [said(f"forms.hold.{hold.name}.do")]
    asks += [said("record.hold.by_inspector")] if hold.by_inspector else []
    asks += [said("record.hold.by_two")] if hold.people > 1 else []
    mark = told(said("record.is_open")) if why else ""
    called = told(said(f"forms.hold.{hold.name}"))
    return _plain_row(called, " ".join(map(told, passed)), mark, more=" ".join(map(told, asks)))


def _plain_row(what: str, is_: str, mark: str = "", *, more: str = "") -> dict[str, str]:
    return {"where": "", "what": what, "more": more, "is": is_, "mark": mark, "source": "", "strong": "rule"}
