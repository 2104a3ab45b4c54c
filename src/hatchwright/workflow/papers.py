"""The papers of a job, for each side that gets the opening."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from datetime import datetime

from msgspec import Struct

from hatchwright.documents.recorded import NOTHING_RECORDED, Recorded
from hatchwright.drawings.made_file import MadeFile, Written
from hatchwright.drawings.writers import AnyPaper, Paper
from hatchwright.drawings.writers.pages import page_count
from hatchwright.drawings.writers.readback.pdf_pages import page_sizes_in
from hatchwright.errors import ExportError
from hatchwright.progress import Progress, in_parts, stretches, unheard
from hatchwright.words.catalog import HOME
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.paper_kinds import PAPERS, Drawn, Made
from hatchwright.workflow.paper_set import Drawing, PaperSet, sets_of
from hatchwright.workflow.print_set import carried, print_set

MOST_SHEETS = 200
"""Sheets of paper in one set; nobody looks through more. Own choice, no source [-]."""


class _Planned(Struct, frozen=True):
    """A paper of one side: its drawings before they are written, or its files, which are set at once."""

    of: PaperSet
    drawings: tuple[Drawing, ...] = ()
    files: tuple[MadeFile, ...] = ()

    @property
    def count(self) -> int:
        """Sheets of paper [-]."""
        drawn = (page_count(sheet, self.of.paper) for one in self.drawings if (sheet := one.on_paper))
        set_ = (len(page_sizes_in(file.content)) for file in self.files if file.written is Written.PDF)
        return sum(drawn) + sum(set_)

    def made(self, progress: Progress) -> Iterator[MadeFile]:
        yield from self.files
        for one, mine in in_parts(self.drawings, progress):
            yield from self.of.drawn(one, mine)


def papers(
    examination: Examination,
    *,
    stamp: datetime,
    paper: AnyPaper = Paper.LETTER,
    stem: str = "",
    only: Collection[str] = (),
    card_language: str = HOME,
    recorded: Recorded = NOTHING_RECORDED,
    in_one: bool = False,
    told: Callable[[int], object] = lambda count: None,
    progress: Progress = unheard,
) -> tuple[MadeFile, ...]:
    """Make the papers of a job in the order in which they are read, the other side's too when both get the opening.

    Args:
        stamp: when they are made; the same time makes the same bytes.
        paper: what the printer takes; what is not to scale needs no correction.
        only: names of those that are wanted, of `paper_kinds.NAMES`; the usual ones when none is named.
        card_language: of the card alone, a folder of the catalog.
        recorded: what the records and the fleet file tell of the job; their head is printed on every card and record.
        in_one: whether the papers of a side are made as one file to print too, where there are several.
        told: called with the number of sheets of paper that they take, before a drawing is written.
        progress: told how far they are.
    Raises:
        ExportError: they would take more than `MOST_SHEETS`, or a file did not read back as it was drawn.
    """
    sets = sets_of(
        examination, stamp=stamp, paper=paper, stem=stem, card_language=card_language, recorded=recorded
    )
    setting, writing = stretches(progress, 1.0, 1.0)
    wanted = [(one, kind) for one in sets for kind in _wanted(only)]
    plans = [_planned(one, kind, mine) for (one, kind), mine in in_parts(wanted, setting)]
    count = sum(plan.count for plan in plans)
    if count > MOST_SHEETS:
        raise ExportError.saying("error.many_sheets", where="papers", n=count, most=MOST_SHEETS)
    told(count)
    files = tuple(file for plan, mine in in_parts(plans, writing) for file in plan.made(mine))
    return (*files, *(_in_one(sets, files) if in_one else ()))


def _in_one(sets: Iterable[PaperSet], files: Sequence[MadeFile]) -> Iterator[MadeFile]:
    for one in sets:
        if len(own := carried(files, one.examination.job.aircraft.side)) > 1:
            yield print_set(one, own)


def _wanted(only: Collection[str]) -> tuple[Drawn | Made, ...]:
    def is_wanted(kind: Drawn | Made) -> bool:
        return kind.name in only if only else isinstance(kind, Drawn) or kind.is_usual

    return tuple(filter(is_wanted, PAPERS))


def _planned(one: PaperSet, kind: Drawn | Made, progress: Progress) -> _Planned:
    if isinstance(kind, Drawn):
        return _Planned(one, tuple(kind.draws(one)))
    return _Planned(one, files=tuple(kind.makes(one, progress)))
