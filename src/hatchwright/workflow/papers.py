"""The papers of a job, for each side that gets the opening."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from datetime import datetime

from msgspec import Struct

from hatchwright.drawings.made_file import MadeFile
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers import AnyPaper, Paper
from hatchwright.drawings.writers.pages import page_count
from hatchwright.errors import ExportError
from hatchwright.progress import Progress, in_parts, stretches, unheard
from hatchwright.words.catalog import HOME
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.paper_kinds import PAPERS, Drawn, Made
from hatchwright.workflow.paper_set import PaperSet, sets_of
from hatchwright.workflow.print_set import carried, print_set

MOST_SHEETS = 200
"""Sheets of paper in one set; nobody looks through more. Own choice, no source [-]."""


class _Planned(Struct, frozen=True):
    """A paper of one side before it is written; of a drawing with what is drawn, and what of it is printed."""

    of: PaperSet
    kind: Drawn | Made
    sheet: Sheet | None = None
    printed: Sheet | None = None

    @property
    def count(self) -> int:
        """Sheets of paper that a drawing takes [-]."""
        return page_count(self.printed, self.of.paper) if self.printed else 0

    def made(self, progress: Progress) -> Iterable[MadeFile]:
        if isinstance(self.kind, Made):
            return self.kind.makes(self.of, progress)
        if self.sheet is None:
            return ()
        return self.of.drawn(self.sheet, self.kind.kind, printed=self.printed, progress=progress)


def papers(
    examination: Examination,
    *,
    stamp: datetime,
    paper: AnyPaper = Paper.LETTER,
    stem: str = "",
    only: Collection[str] = (),
    card_language: str = HOME,
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
        in_one: whether the papers of a side are made as one file to print too, where there are several.
        told: called with the number of sheets that the true-size drawings take, before one is written.
        progress: told how far they are.
    Raises:
        ExportError: they would take more than `MOST_SHEETS`, or a file did not read back as it was drawn.
    """
    sets = sets_of(examination, stamp=stamp, paper=paper, stem=stem, card_language=card_language)
    drawing, writing = stretches(progress, 1.0, 3.0)
    plans = [_planned(one, kind) for one, _ in in_parts(sets, drawing) for kind in _wanted(only)]
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


def _planned(one: PaperSet, kind: Drawn | Made) -> _Planned:
    if isinstance(kind, Made):
        return _Planned(one, kind)
    sheet = kind.draws(one)
    return _Planned(one, kind, sheet, kind.prints(one) if kind.prints else sheet)
