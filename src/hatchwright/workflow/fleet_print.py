"""All papers of a fleet in one go: its list, what the store gives out, each template once, each side's papers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import UTC, datetime

from msgspec import Struct

from hatchwright.documents.fleet_set import SetLine, label_part, set_part
from hatchwright.documents.typst_pdf import Part, pdf_from
from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.writers import AnyPaper, Paper
from hatchwright.drawings.writers.joined import joined
from hatchwright.errors import ExportError, JobError
from hatchwright.job.fleet.fleet import SUFFIX
from hatchwright.progress import Progress, stretches, unheard
from hatchwright.said import said
from hatchwright.search.task_workers import Doer
from hatchwright.tables.table import ShopTables
from hatchwright.words.tell import tell
from hatchwright.workflow.fleet_folder import FleetFolder
from hatchwright.workflow.fleet_lines import FleetLine, fleet_lines, without_job
from hatchwright.workflow.fleet_papers import (
    LinePapers,
    LineTask,
    line_papers,
    refused_said,
    template_papers,
)
from hatchwright.workflow.fleet_pull import fleet_pull
from hatchwright.workflow.job_folder import JobFolder


class _Template(Struct, frozen=True):
    """A template that one or more lines take."""

    number: int
    lines: tuple[FleetLine, ...]
    first: FleetLine


def fleet_print(
    fleets: FleetFolder,
    jobs: JobFolder,
    name: str,
    *,
    stamp: datetime,
    do: Doer,
    paper: AnyPaper = Paper.LETTER,
    shop: ShopTables | None = None,
    progress: Progress = unheard,
) -> tuple[MadeFile, ...]:
    """Print a set: first the whole in one file, then each part by itself, and the parts table.

    Args:
        stamp: when it is made; the same time makes the same bytes.
        do: who makes the papers of the lines.
        paper: what the printer takes; a correction goes into the templates and whatever is to scale.
    Raises:
        JobError: a line has no job.
        ExportError: no line has papers, or a file did not read back as it was written.
    """
    fleet = fleets.fleet(name)
    lines, stem = fleet_lines(fleet), name.removesuffix(SUFFIX)
    lacking = without_job(jobs, fleet)
    if lacking or not lines:
        raise JobError.about("lines", "fleet.lacks_jobs", lacking[0].called if lacking else "")
    setting, drawing, joining = stretches(progress, 8.0, 2.0, 1.0)

    def task(one: FleetLine, title: str = "", key: str = "") -> LineTask:
        path = str(jobs.path(one.line.job or ""))
        return LineTask(key or one.called, path, stamp.timestamp(), paper, shop, title)

    made = _done(do, line_papers, [task(one) for one in lines], setting)
    if all(one.why for one in made.values()):
        raise ExportError.saying("fleet.nothing_printed", where=name, why=next(iter(made.values())).why)
    templates = _templates(lines, made)
    titles = {
        str(one.number): tell(said("fleet.template_title", title=fleet.title, number=one.number))
        for one in templates
    }
    tasks = [task(one.first, titles[str(one.number)], str(one.number)) for one in templates]
    drawn = _done(do, template_papers, tasks, drawing)
    joining(0.0, said("fleet.joining"))
    told = _set_lines(lines, made, templates)
    date = stamp.astimezone(UTC).strftime("%Y-%m-%d %H:%M UTC")
    refused = [refused_said(one) for one in (*made.values(), *drawn.values()) if one.why]
    papers = {
        MadeKind.FLEET: set_part(fleet.title, told, refused=refused, date=date),
        MadeKind.LABELS: label_part(fleet.title, told, date=date),
    }
    set_, labels = (_paper(stem, kind, part, paper.plain, stamp) for kind, part in papers.items())
    pulled: tuple[MadeFile, ...] = ()
    if not refused:  # a list that lacks a side would be short
        pulled = fleet_pull(fleets, jobs, name, stamp=stamp, paper=paper.plain, shop=shop)
    parts: list[tuple[str, MadeFile]] = [
        (tell(MadeKind.FLEET), set_),
        *((tell(MadeKind.PULL_LIST), file) for file in pulled if file.written is Written.PDF),
        *((titles[key], file) for key, one in drawn.items() for file in one.files),
        *((one.called, file) for one in lines for file in made[one.called].files),
        (tell(MadeKind.LABELS), labels),
    ]
    whole = joined(((title, file.content) for title, file in parts), made_at=stamp)
    words = paper.words
    first = _file(f"{stem}_{MadeKind.PRINT}_{words}.pdf", MadeKind.PRINT, whole, true_size=True)
    return (first, *(file for _, file in parts), *(file for file in pulled if file.written is Written.CSV))


def _done(
    do: Doer, work: Callable[[LineTask], LinePapers], tasks: Sequence[LineTask], progress: Progress
) -> dict[str, LinePapers]:
    """The answer to each task by its key, in the order of the tasks."""
    found: dict[str, LinePapers] = {}
    for answer in do(work, tasks):
        found[answer.key] = answer
        progress(len(found) / len(tasks), said("fleet.printing", n=len(found), of=len(tasks)))
    return {task.key: found[task.key] for task in tasks}


def _templates(lines: Sequence[FleetLine], made: Mapping[str, LinePapers]) -> tuple[_Template, ...]:
    """Lines that take the same template together; its stop box is that of a line that must not be cut, if one is."""
    groups: dict[str, list[FleetLine]] = {}
    for one in lines:
        if mark := made[one.called].template:
            groups.setdefault(mark, []).append(one)
    return tuple(
        _Template(number, tuple(group), next((one for one in group if made[one.called].holds_back), group[0]))
        for number, group in enumerate(groups.values(), start=1)
    )


def _set_lines(
    lines: Sequence[FleetLine], made: Mapping[str, LinePapers], templates: Sequence[_Template]
) -> list[SetLine]:
    number_of = {one.key: str(template.number) for template in templates for one in template.lines}

    def told() -> Iterator[SetLine]:
        for one in lines:
            papers = made[one.called]
            yield SetLine(
                registration=one.aircraft.registration,
                serial=one.aircraft.serial,
                side=tell(said(f"fleet.side.{one.line.side}")),
                template=number_of.get(one.key, ""),
                verdict=papers.verdict or papers.why,
                title=papers.title,
                revision=papers.revision,
                waiting_for=one.line.waiting_for,
            )

    return list(told())


def _paper(stem: str, kind: MadeKind, part: Part, paper: Paper, stamp: datetime) -> MadeFile:
    content = pdf_from(part, title=str(part.data["head"]["title"]), paper=paper, stamp=stamp)
    return _file(f"{stem}_{kind}_{paper.words}.pdf", kind, content)


def _file(name: str, kind: MadeKind, content: bytes, *, true_size: bool = False) -> MadeFile:
    return MadeFile(name, kind, "", true_size=true_size, written=Written.PDF, content=content)
