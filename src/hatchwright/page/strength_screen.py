"""What the browser page shows of a job's strength, and the report on paper, as plain values of a worker process."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.made_file import MadeFile
from hatchwright.drawings.strength_pictures import stress_picture
from hatchwright.errors import Fault, HatchwrightError
from hatchwright.page.screen import Asked
from hatchwright.progress import Progress, unheard
from hatchwright.said import Said
from hatchwright.search.strength_answer import StrengthAnswer
from hatchwright.strength.evidence_told import HEADINGS, Cells, cells
from hatchwright.strength.fields import stress_field
from hatchwright.strength.margin import Margin, leading
from hatchwright.strength.opening_analysis import OpeningAnalysis
from hatchwright.strength.report import Elements, StrengthReport
from hatchwright.units import Unit
from hatchwright.workflow.strength import strength_of
from hatchwright.workflow.strength_papers import hardest_first, strength_papers


class StrengthView(Struct, frozen=True):
    """The strength of a job as the page shows it.

    Args:
        report: without its finite-element analysis; None when there is none, with the faults.
        picture: stress bands of the case with the hardest worked rivet (SVG), "" when there is none.
    """

    report: StrengthReport | None
    picture: str = ""
    case: Said | str = ""
    faults: tuple[Fault, ...] = ()
    unit: Unit = "in"

    @property
    def margins(self) -> tuple[Margin, ...]:
        """The margins that lead: the lowest of every check, and all that stop or could not be computed."""
        return leading(self.report.margins) if self.report else ()

    @property
    def evidence(self) -> tuple[Cells, ...]:
        """The table of evidence, row by row; empty without loads."""
        return tuple(map(cells, self.report.evidence.rows)) if self.report else ()

    @property
    def evidence_headings(self) -> tuple[Said, ...]:
        """Headings of its columns."""
        return HEADINGS


def view_strength(
    asked: Asked, like: OpeningAnalysis | None = None, progress: Progress = unheard
) -> tuple[StrengthView, OpeningAnalysis | None]:
    """Analyze a job for the page; the analysis is to be given back as `like` the next time.

    Args:
        like: an earlier analysis, whose factorized sheets are used again where the geometry is the same.
        progress: told how far it is.
    """
    try:
        answer = _answer(asked, Elements(like=like, progress=progress))
    except HatchwrightError as error:
        return StrengthView(None, faults=error.as_faults("job")), like
    analysis = answer.report.analysis
    report = replace(answer.report, analysis=None)
    if analysis is None:
        return StrengthView(report, unit=answer.job.unit), like
    found = hardest_first(analysis)[0]
    picture = stress_picture(answer.layout, stress_field(found), found).decode()
    return StrengthView(report, picture, found.name, unit=answer.job.unit), analysis


def print_strength(asked: Asked, stamp: datetime, paper: str) -> tuple[MadeFile, ...]:
    """Set the report of a job on paper, "letter" or "a4".

    Raises:
        HatchwrightError: the job is not sound, or the report could not be made.
    """
    stem = asked.name.removesuffix(".toml")
    return strength_papers(_answer(asked, Elements()), stamp=stamp, paper=paper, stem=stem)


def _answer(asked: Asked, elements: Elements) -> StrengthAnswer:
    return strength_of(asked.shown(), asked.shop, elements=elements)
