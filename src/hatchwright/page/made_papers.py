"""The print package of a job as the page offers it: what could be made, in reading order, and why the rest was not."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import cast

from msgspec import Struct

from hatchwright.documents.recorded import Recorded
from hatchwright.drawings.made_file import MadeFile as MadeFile
from hatchwright.drawings.made_file import MadeKind as MadeKind
from hatchwright.drawings.made_file import Written as Written
from hatchwright.drawings.writers import AnyPaper
from hatchwright.drawings.writers.readback.first_page import first_page
from hatchwright.drawings.writers.readback.pdf_pages import page_sizes_in
from hatchwright.errors import Fault, HatchwrightError, RecordError
from hatchwright.making.trial.piece import PieceKind
from hatchwright.page.screen import Asked
from hatchwright.progress import Progress, in_parts, stretches, unheard
from hatchwright.said import Said, said
from hatchwright.units import Unit
from hatchwright.words.verdict import headline
from hatchwright.workflow.examine import Examination, examine
from hatchwright.workflow.machines import machine_named
from hatchwright.workflow.paper_kinds import NAMES, ON_REQUEST
from hatchwright.workflow.paper_set import PaperSet, sets_of
from hatchwright.workflow.papers import papers
from hatchwright.workflow.print_set import carried, print_set
from hatchwright.workflow.printing import PAPERS, paper_of
from hatchwright.workflow.recorded_now import recorded_now
from hatchwright.workflow.template_files import template_files
from hatchwright.workflow.toolpath import machine_files
from hatchwright.workflow.trial import trial_files

PIECES = ("square", "disc", "corner")
"""Pieces of a trial on scrap."""

OFFERED = NAMES
"""Papers that the page offers, by name, in the order in which they are read."""

_PREVIEW_PX = 280
"""Width of the picture of a paper, twice that at which it is shown, for screens of fine dots."""


class PaperChoice(Struct, frozen=True):
    """What is asked for.

    Args:
        paper: one of `PAPERS`.
        bar_short: what a bar along the short side of a printed page measured, as typed; "" for true pages.
        bar_long: the same along its long side.
        only: names of the papers that are wanted, of `OFFERED`; the usual ones when none is named.
        piece: one of `PIECES`, "" for no trial.
        printable: whether the template is wanted as a body for a 3D printer.
        machine: a machine file of the folder, "" for no toolpath.
    """

    paper: str = PAPERS[0]
    bar_short: str = ""
    bar_long: str = ""
    only: tuple[str, ...] = ()
    piece: str = ""
    printable: bool = False
    machine: str = ""

    @property
    def wanted(self) -> tuple[str, ...]:
        """Names of the papers to make, in the order in which they are read."""
        return tuple(name for name in OFFERED if (name in self.only if self.only else name not in ON_REQUEST))


class Printed(Struct, frozen=True):
    """A file to print.

    Args:
        sheets: of paper that it takes [-].
        picture: of its first sheet (PNG).
    """

    file: MadeFile
    sheets: int
    picture: MadeFile


class SidePapers(Struct, frozen=True):
    """What is made for one side.

    Args:
        verdict: of that side, in one sentence.
        whole: the set as one file, None where nothing could be made.
        papers: the same one by one, in reading order.
        scrap: the trial, which is printed by itself.
        asked: other papers that are printed by themselves, such as the package for an engineer.
        others: files for machines and other programs.
    """

    side: str
    verdict: Said
    whole: Printed | None
    papers: tuple[Printed, ...]
    scrap: tuple[Printed, ...]
    asked: tuple[Printed, ...]
    others: tuple[MadeFile, ...]

    @property
    def made(self) -> tuple[MadeFile, ...]:
        """The files themselves, first what is printed."""
        whole = (self.whole,) if self.whole else ()
        return (*(one.file for one in (*whole, *self.papers, *self.scrap, *self.asked)), *self.others)

    @property
    def pictures(self) -> tuple[MadeFile, ...]:
        """Of every paper."""
        return tuple(one.picture for one in (*self.papers, *self.scrap, *self.asked))


class MadePapers(Struct, frozen=True):
    """The files of one moment.

    Args:
        unit: of the job.
        sides: each side that gets the opening; those without a file are left out.
        refusals: what could not be made, and what to do about it.
    """

    title: str
    revision: str
    unit: Unit
    sides: tuple[SidePapers, ...]
    refusals: tuple[Fault, ...]

    @property
    def files(self) -> tuple[MadeFile, ...]:
        """All files of all sides, each read back before it is offered."""
        return tuple(file for side in self.sides for file in side.made)


def made_papers(
    asked: Asked, *, stamp: datetime, choice: PaperChoice, progress: Progress = unheard
) -> MadePapers:
    """Make the papers and machine files of a job, for each side that gets the opening.

    Args:
        progress: told how far they are.
    Returns:
        MadePapers: with refusals instead of files where something cannot be made; none at all when the paper is
            refused, so that no page is taken for a corrected one, or when there are records that can't be read.
    Raises:
        JobError: the job is not sound.
    """
    job = asked.entered()
    refusals: dict[Fault, None] = {}
    try:
        paper = paper_of(choice.paper, bar_short=choice.bar_short, bar_long=choice.bar_long)
    except HatchwrightError as error:
        return MadePapers(job.title, job.revision, job.unit, (), (error.as_fault("papers"),))
    has_loads = job.loads.basis != "none"
    judging, making, joining = stretches(progress, 4.0 if has_loads else 1.0, 8.0, 1.0)
    examination = examine(job, asked.shop, progress=judging)
    stem = Path(asked.name).stem
    try:
        recorded = recorded_now(examination, asked.folder, asked.name, on=stamp.date())
    except RecordError as error:
        return MadePapers(job.title, job.revision, job.unit, (), (error.as_fault("papers"),))
    sets = sets_of(examination, stamp=stamp, paper=paper, stem=stem, recorded=recorded)
    files: list[MadeFile] = []
    makers = tuple(_makers(examination, asked, stamp, choice, paper, recorded))
    for (make, _), mine in zip(makers, stretches(making, *(weight for _, weight in makers)), strict=True):
        try:
            files += make(mine)
        except HatchwrightError as error:
            refusals |= dict.fromkeys(error.as_faults("papers"))
    sides = tuple(_side(one, files, refusals, mine) for one, mine in in_parts(sets, joining))
    return MadePapers(job.title, job.revision, job.unit, tuple(s for s in sides if s.made), tuple(refusals))


def _side(
    one: PaperSet, files: Iterable[MadeFile], refusals: dict[Fault, None], progress: Progress
) -> SidePapers:
    """What one side is offered, joined and with its pictures; why it could not be joined goes to the refusals."""
    side = one.examination.job.aircraft.side
    own = tuple(file for file in files if file.side == side)
    to_carry = carried(own, side)
    progress(0.0, said("progress.joining", side=said(f"side.{side}")))
    whole = None
    try:
        whole = print_set(one, to_carry) if to_carry else None
    except HatchwrightError as error:
        refusals |= dict.fromkeys(error.as_faults("papers"))
    printed = [file for file in own if file.written is Written.PDF]
    scrap = tuple(file for file in printed if file.kind is MadeKind.TRIAL)
    asked = tuple(file for file in printed if file not in to_carry and file not in scrap)
    others = tuple(file for file in own if file not in printed)
    papers = tuple(map(_printed, to_carry))
    return SidePapers(
        side.upper(),
        headline(one.examination.verdict),
        Printed(whole, sum(paper.sheets for paper in papers), papers[0].picture) if whole else None,
        papers,
        tuple(map(_printed, scrap)),
        tuple(map(_printed, asked)),
        others,
    )


def _printed(file: MadeFile) -> Printed:
    picture = MadeFile(
        f"{file.name}.png",
        MadeKind.PREVIEW,
        file.side,
        true_size=False,
        written=Written.PNG,
        content=first_page(file.content, width_px=_PREVIEW_PX),
    )
    return Printed(file, len(page_sizes_in(file.content)), picture)


_Makes = Callable[[Progress], Iterable[MadeFile]]


def _makers(
    examination: Examination,
    asked: Asked,
    stamp: datetime,
    choice: PaperChoice,
    paper: AnyPaper,
    recorded: Recorded,
) -> Iterator[tuple[_Makes, float]]:
    """Each set of files by itself, so that one that cannot be made keeps none of the others back; and how much work
    it is beside the others."""
    stem = Path(asked.name).stem

    def made(name: str, progress: Progress) -> Iterable[MadeFile]:
        if name == "template":
            printable = choice.printable
            return template_files(
                examination, stamp=stamp, paper=paper, stem=stem, printable=printable, progress=progress
            )
        return papers(
            examination,
            stamp=stamp,
            paper=paper,
            stem=stem,
            only=(name,),
            recorded=recorded,
            progress=progress,
        )

    for name in choice.wanted:
        yield partial(made, name), 2.0 if name in ("layout", "template", "package") else 1.0
    if choice.piece:

        def trial(progress: Progress) -> Iterable[MadeFile]:
            progress(0.0, said("progress.trial"))
            kind = cast(PieceKind, choice.piece)
            return trial_files(examination, kind=kind, stamp=stamp, paper=paper, stem=stem)

        yield trial, 1.0
    if choice.machine:

        def toolpaths(progress: Progress) -> Iterable[MadeFile]:
            progress(0.0, said("progress.toolpath"))
            used = machine_named(asked.folder, choice.machine)
            made = machine_files(examination, used, stamp=stamp, stem=stem, name=choice.machine)
            return [file.made for file in made]

        yield toolpaths, 1.0
