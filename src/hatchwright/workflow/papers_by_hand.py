"""The papers of one side that are filled in by hand: lists with their count, trial sheet, log with labels, forms."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.as_built import as_built_part
from hatchwright.documents.blank_forms import blank_forms
from hatchwright.documents.labels import labels_of
from hatchwright.documents.lists import lists_csv, lists_of, lists_part
from hatchwright.documents.log_draft import log_part
from hatchwright.documents.looks import looks_part
from hatchwright.documents.record_papers import record_parts
from hatchwright.documents.trial_sheet import trial_part, trial_sections
from hatchwright.documents.typst_pdf import Part, pdf_from
from hatchwright.drawings.made_file import MadeFile, MadeKind
from hatchwright.progress import Progress
from hatchwright.said import said
from hatchwright.words.verdict import headline, stop_text
from hatchwright.workflow.drawn_beside_made import drawn_beside_made, is_measured
from hatchwright.workflow.paper_set import PaperSet


def lists_papers(one: PaperSet, progress: Progress) -> Iterator[MadeFile]:
    """What to order, bring and count, to print and as a table."""
    _starts(one, MadeKind.LISTS, progress)
    side = one.examination
    lists = lists_of(side.layout, side.making)
    part = lists_part(lists, date=one.date, stop=stop_text(side.verdict))
    yield _set(one, MadeKind.LISTS, part)
    table = lists_csv(lists, date=one.date, verdict=headline(side.verdict))
    yield one.file(MadeKind.LISTS, ".csv", table)


def trial_paper(one: PaperSet, progress: Progress) -> Iterator[MadeFile]:
    """What is proved on scrap, with its pass and fail; none where the job has nothing to prove."""
    side = one.examination
    if sections := trial_sections(side.layout, side.making):
        _starts(one, MadeKind.TRIAL_SHEET, progress)
        stop = stop_text(side.verdict, box="verdict.scrap_box")
        yield _set(one, MadeKind.TRIAL_SHEET, trial_part(side.layout, sections, date=one.date, stop=stop))


def log_paper(one: PaperSet, progress: Progress) -> Iterator[MadeFile]:
    """The draft of what was done, and the labels."""
    _starts(one, MadeKind.LOG, progress)
    side, recorded = one.examination, one.recorded
    part = log_part(
        side.layout,
        labels_of(side.layout),
        side.not_checked(),
        date=one.date,
        stop=stop_text(side.verdict),
        facts=recorded.facts_of(side.layout),
        is_open=bool(recorded.head) and recorded.shown_of(side.layout).is_open,
    )
    yield _set(one, MadeKind.LOG, part)


def record_paper(one: PaperSet, progress: Progress) -> Iterator[MadeFile]:
    """The record papers: holds and count, then each record with a blank for what is missing."""
    _starts(one, MadeKind.RECORD, progress)
    side, recorded = one.examination, one.recorded
    facts, shown = recorded.facts_of(side.layout), recorded.shown_of(side.layout)
    parts = record_parts(side.layout, facts, shown, date=one.date, stop=stop_text(side.verdict))
    yield _set(one, MadeKind.RECORD, *parts)


def as_built_paper(one: PaperSet, progress: Progress) -> Iterator[MadeFile]:
    """What was measured beside what was drawn; none where nothing was measured."""
    side = one.examination
    if is_measured(side.job):
        _starts(one, MadeKind.AS_BUILT, progress)
        beside, stop = drawn_beside_made(side), stop_text(side.verdict)
        part = as_built_part(side.layout, side.findings, beside, date=one.date, stop=stop)
        yield _set(one, MadeKind.AS_BUILT, part)


def looks_paper(one: PaperSet, progress: Progress) -> Iterator[MadeFile]:
    """What to look at again, with what was found over the years; none where nobody looked yet."""
    side = one.examination
    if side.job.looks:
        _starts(one, MadeKind.LOOKS, progress)
        part = looks_part(side.layout, date=one.date, stop=stop_text(side.verdict))
        yield _set(one, MadeKind.LOOKS, part)


def forms_paper(one: PaperSet, progress: Progress) -> Iterator[MadeFile]:
    """Every sheet that is filled in by hand, empty, as one file."""
    _starts(one, MadeKind.BLANK_FORMS, progress)
    side = one.examination
    forms = blank_forms(side.layout, date=one.date, stop=stop_text(side.verdict))
    yield _set(one, MadeKind.BLANK_FORMS, *forms)


def _starts(one: PaperSet, kind: MadeKind, progress: Progress) -> None:
    progress(0.0, said("progress.setting", paper=one.called(kind)))


def _set(one: PaperSet, kind: MadeKind, *parts: Part) -> MadeFile:
    """Set a paper, titled as its first part is."""
    title = str(parts[0].data["head"]["title"])
    content = pdf_from(
        *parts, title=title, paper=one.paper.plain, stamp=one.stamp, chain_head=one.recorded.head
    )
    return one.set_in_words(kind, content)
