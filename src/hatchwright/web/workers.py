"""The processes beside the page: one judges and draws, one analyzes strength; one makes papers, one measures a scan and
one searches for layouts, and each of these ends with it; two more judge the jobs of the list, so that these wait for no
page and no page for them."""

from __future__ import annotations

import io
import signal
import zipfile
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING

from hatchwright.page.job_line import JobLine, job_line
from hatchwright.page.made_papers import MadeFile, MadeKind, MadePapers, PaperChoice, Written, made_papers
from hatchwright.page.screen import Asked, ScreenView, screen
from hatchwright.page.strength_screen import StrengthView, print_strength, view_strength
from hatchwright.page.ways_out import LineName, WaysOut, ways_out
from hatchwright.progress import Progress, unheard
from hatchwright.strength.opening_analysis import OpeningAnalysis
from hatchwright.web.long_work import LongWork
from hatchwright.web.worker import Answer, Worker
from hatchwright.workflow.examine import examine
from hatchwright.workflow.revision import Revision
from hatchwright.workflow.sign import Prepared, prepared

if TYPE_CHECKING:
    from hatchwright.page.proposed import ProposedView
    from hatchwright.page.scanned import AskedScan, ScannedView
    from hatchwright.tables.table import ShopTables
    from hatchwright.workflow.record_facts import Recorded

FINDINGS = Worker("findings", is_kept=True)
STRENGTH = Worker("strength", is_kept=True)
PAPERS = Worker("papers", is_kept=False)
SCANS = Worker("scan", is_kept=False)
PROPOSALS = Worker("propose", is_kept=False)
LINES = Worker("lines", is_kept=True)
STRENGTH_OF_LINES = Worker("line-strength", is_kept=True)

_MOST_FOR_A_LINE_S = 20.0
_MOST_FOR_STRENGTH_S = 600.0
_MOST_FOR_A_SCAN_S = 60.0
_MOST_FOR_A_PROPOSAL_S = 300.0
"""Time of the processor after which a job of the list, a scan or a search is given up: others get their turn [s]."""

_earlier: OpeningAnalysis | None = None
"""In the process: the last analysis, whose factorized sheets serve again while the geometry stays the same."""


IsWanted = Callable[[], bool]
"""Whether somebody still waits for an answer; once nobody does, each of these has None instead of one."""


def judged_view(asked: Asked, is_wanted: IsWanted) -> ScreenView | None:
    """Judge and draw a job, with the verdict of both sides."""
    return FINDINGS.ask(partial(screen, with_other=True, with_remedies=True), asked, is_wanted=is_wanted)


def ways_of_line(asked: Asked, line: LineName, is_wanted: IsWanted) -> WaysOut | None:
    """The ways out of one line of a job's findings; None also where the job has no such line.

    Raises:
        JobError: the job is not sound.
    """
    return FINDINGS.ask(ways_out, asked, line, is_wanted=is_wanted)


def strength_view(asked: Asked, work: LongWork[StrengthView]) -> StrengthView | None:
    """Analyze a job; None where that was canceled, or nobody waited before its turn came."""
    return STRENGTH.ask(
        _view, asked, is_wanted=work.is_wanted, is_canceled=work.is_canceled, progress=work.progress
    )


def scan_view(asked: AskedScan, work: LongWork[ScannedView]) -> ScannedView | None:
    """Measure a part from a flat scan, in a process that gives its memory back; None where that was canceled, or nobody
    waits.

    Raises:
        HatchwrightError: the picture can't be measured from.
    """
    return SCANS.ask(
        _scanned, asked, is_wanted=work.is_wanted, is_canceled=work.is_canceled, progress=work.progress
    )


def _scanned(asked: AskedScan, progress: Progress = unheard) -> ScannedView:
    from hatchwright.page.scanned import scanned_view  # no other process here needs what it stands on

    with processor_time_of_at_most(_MOST_FOR_A_SCAN_S):
        return scanned_view(asked, progress)


def proposed_beside(asked: Asked, work: LongWork[ProposedView]) -> ProposedView | None:
    """Search for layouts, in a process that gives its memory back; None where that was canceled, or nobody waits.

    Raises:
        HatchwrightError: the job is not sound, or none can be searched for.
    """
    return PROPOSALS.ask(
        _proposed, asked, is_wanted=work.is_wanted, is_canceled=work.is_canceled, progress=work.progress
    )


def _proposed(asked: Asked, progress: Progress = unheard) -> ProposedView:
    from hatchwright.page.proposed import proposed_view  # no other process here needs what it stands on

    with processor_time_of_at_most(_MOST_FOR_A_PROPOSAL_S):
        return proposed_view(asked, progress)


def strength_papers(
    asked: Asked, is_wanted: IsWanted, *, stamp: datetime, paper: str
) -> tuple[MadeFile, ...] | None:
    """Set the report of a job on paper, "letter" or "a4".

    Raises:
        HatchwrightError: the job is not sound, or the report could not be made.
    """
    return STRENGTH.ask(print_strength, asked, stamp, paper, is_wanted=is_wanted)


def line_beside(asked: Asked, with_strength: bool) -> JobLine:
    """Judge a job for the list.

    Raises:
        WorkerError: it took too long, or failed.
    """
    line = (STRENGTH_OF_LINES if with_strength else LINES).ask(_line, asked, with_strength)
    assert line is not None  # it is wanted in any case
    return line


def lines_done(with_strength: bool) -> None:
    """Give the memory of `line_beside` back, as nothing is left to be judged."""
    (STRENGTH_OF_LINES if with_strength else LINES).rest()


def _line(asked: Asked, with_strength: bool) -> JobLine:
    with processor_time_of_at_most(_MOST_FOR_STRENGTH_S if with_strength else _MOST_FOR_A_LINE_S):
        return job_line(asked, with_strength)


@contextmanager
def processor_time_of_at_most(most_s: float) -> Iterator[None]:
    """In the process: the system ends it when it has computed for longer, whatever it is doing, where it can [s]."""
    if not hasattr(signal, "setitimer"):
        yield
        return
    signal.setitimer(signal.ITIMER_PROF, most_s)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)


def _view(asked: Asked, progress: Progress = unheard) -> StrengthView:
    global _earlier
    view, _earlier = view_strength(asked, _earlier, progress)
    return view


AllFiles = tuple[MadePapers, tuple[MadeFile, ...]]
"""Papers, and every file that their page offers or shows: those of each side, the pictures, and all in one."""


def papers_for_page(
    asked: Asked, work: LongWork[Answer], *, stamp: datetime, choice: PaperChoice
) -> AllFiles | None:
    """Make the papers of a job; their making ends when it is canceled or nobody waits.

    Raises:
        JobError: the job is not sound.
    """
    making = partial(_made, asked, stamp=stamp, choice=choice)
    return PAPERS.ask(making, is_wanted=work.is_wanted, is_canceled=work.is_canceled, progress=work.progress)


def prepared_beside(
    revision: Revision,
    what: str,
    is_wanted: IsWanted,
    *,
    stamp: datetime,
    shop: ShopTables | None,
    recorded: Recorded,
) -> Prepared | None:
    """Judge a job and make the papers that are signed with it; None where nobody waits.

    Raises:
        HatchwrightError: the job is not sound, or a paper could not be made.
    """
    making = partial(_prepared, revision, what, stamp=stamp, shop=shop, recorded=recorded)
    return PAPERS.ask(making, is_wanted=is_wanted)


def _prepared(
    revision: Revision, what: str, *, stamp: datetime, shop: ShopTables | None, recorded: Recorded
) -> Prepared:
    examination = examine(revision.job(), shop)
    return prepared(revision, what, examination, stamp=stamp, recorded=recorded)


def bundle_name(name: str) -> str:
    """What the file of all files is called."""
    return f"{name.removesuffix('.toml')}.zip"


def _made(asked: Asked, *, stamp: datetime, choice: PaperChoice, progress: Progress = unheard) -> AllFiles:
    made = made_papers(asked, stamp=stamp, choice=choice, progress=progress)
    if not made.files:
        return made, ()
    bundle = MadeFile(
        bundle_name(asked.name),
        MadeKind.ALL_IN_ONE,
        side="",
        true_size=False,
        written=Written.ZIP,
        content=_zipped(made.files, stamp),
    )
    return made, (*made.files, *(picture for side in made.sides for picture in side.pictures), bundle)


_ZIP_BEGINS = (1980, 1, 1, 0, 0, 0)
"""No file in an archive is older, whatever the clock of the machine says."""


def _zipped(files: Iterable[MadeFile], stamp: datetime) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as bundle:
        for file in files:
            info = zipfile.ZipInfo(file.name, max(stamp.timetuple()[:6], _ZIP_BEGINS))
            bundle.writestr(info, file.content, zipfile.ZIP_DEFLATED)
    return out.getvalue()
