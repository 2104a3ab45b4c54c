"""The papers of one line of a fleet, to print: what any worker process can make by itself."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.documents.recorded import NOTHING_RECORDED, Recorded
from hatchwright.drawings.deviation_view import deviation_sheet
from hatchwright.drawings.made_file import MadeFile, Written
from hatchwright.drawings.template_holes_view import template_holes_sheet
from hatchwright.drawings.template_view import template_sheet
from hatchwright.drawings.writers import AnyPaper, Format
from hatchwright.errors import HatchwrightError
from hatchwright.job.job import Job
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.making import making_of
from hatchwright.progress import unheard
from hatchwright.said import said
from hatchwright.tables.table import ShopTables
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline
from hatchwright.workflow.examine import Examination, examine_layout
from hatchwright.workflow.open_job import open_job
from hatchwright.workflow.paper_kinds import PAPERS, Drawn
from hatchwright.workflow.paper_set import PaperSet, sets_of
from hatchwright.workflow.print_set import carried, print_set
from hatchwright.workflow.recorded_now import recorded_now
from hatchwright.workflow.template_files import template_of


class LineTask(Struct, frozen=True):
    """What a worker is asked.

    Args:
        key: of the line.
        path: of its job.
        stamp_s: when the papers are made [s since 1970].
        title: of a template that is printed for several lines, "" for the papers of the line.
    """

    key: str
    path: str
    stamp_s: float
    paper: AnyPaper
    shop: ShopTables | None = None
    title: str = ""


class LinePapers(Struct, frozen=True):
    """What a worker answers.

    Args:
        files: one file to print; of a template its sheet and what goes with it.
        template: what tells its template from others, "" where it takes none.
        verdict: in words.
        holds_back: whether nothing may be cut yet.
        why: what refused it, "" where nothing did.
    """

    key: str
    files: tuple[MadeFile, ...] = ()
    template: str = ""
    verdict: str = ""
    holds_back: bool = True
    title: str = ""
    revision: str = ""
    why: str = ""


def line_papers(task: LineTask) -> LinePapers:
    """Make the papers of one side, all but the template, as one file; what refuses them is told."""
    try:
        layout = open_job(Path(task.path), shop=task.shop)
        side = examine_layout(layout)
        path, on = Path(task.path), datetime.fromtimestamp(task.stamp_s, UTC).date()
        one = _set_of(task, side, path.stem, recorded_now(side, path.parent, path.name, on=on))
        files = tuple(_printed(one))
        whole = print_set(one, carried(files, side.job.aircraft.side))
        return LinePapers(
            task.key,
            (whole,),
            template_mark(layout.job, task.shop),
            tell(headline(side.verdict), layout.job.unit),
            side.verdict.holds_back,
            layout.job.title,
            layout.job.revision,
        )
    except HatchwrightError as error:
        return LinePapers(task.key, why=str(error))


def template_papers(task: LineTask) -> LinePapers:
    """Make the template of one side for every line that takes the same, under a title of its own."""
    try:
        layout = open_job(Path(task.path), shop=task.shop)
        side = examine_layout(lay_out(_nameless(layout.job, task.title), task.shop))
        made = template_of(_set_of(task, side, ""), unheard)
        return LinePapers(task.key, tuple(file for file in made if file.written is Written.PDF))
    except HatchwrightError as error:
        return LinePapers(task.key, why=str(error))


def template_mark(job: Job, shop: ShopTables | None) -> str:
    """What tells the template of a job from others: all that is on its sheets but names and dates; "" without one."""
    if job.hand_tool:
        return ""
    making = making_of(lay_out(_nameless(job, "-"), shop))
    if making is None:
        return ""
    drawn = (template_sheet(making, (), date=""), deviation_sheet(making, date=""))
    sheets = filter(None, (*drawn, template_holes_sheet(making, date="")))
    told = [(one.title, one.entities, one.notes, one.tables) for one in sheets]
    return hashlib.sha256(repr((job.aircraft.side, told)).encode()).hexdigest()


def _nameless(job: Job, title: str) -> Job:
    """The job as it is alike for all that take one template."""
    registration = tell(said("fleet.see_set_list"))
    aircraft = job.aircraft.model_copy(update={"registration": registration, "serial": ""})
    return job.model_copy(update={"aircraft": aircraft, "title": title, "revision": "A"})


def _set_of(task: LineTask, side: Examination, stem: str, recorded: Recorded = NOTHING_RECORDED) -> PaperSet:
    stamp = datetime.fromtimestamp(task.stamp_s, UTC)
    return sets_of(side, stamp=stamp, paper=task.paper, stem=stem, recorded=recorded)[0]


def _printed(one: PaperSet) -> Iterator[MadeFile]:
    """The usual papers of a side as far as they are printed; files for machines are made with the job's own set."""
    for kind in PAPERS:
        if isinstance(kind, Drawn):
            for drawing in kind.draws(one):
                if Format.PDF in drawing.formats:
                    yield from one.drawn(replace(drawing, formats=(Format.PDF,)))
        elif kind.is_usual:
            yield from (file for file in kind.makes(one, unheard) if file.written is Written.PDF)


def refused_said(one: LinePapers) -> str:
    """Why a line has no papers, in words."""
    return tell(said("fleet.no_papers", line=one.key, why=one.why))
