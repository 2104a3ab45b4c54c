"""The strength report on paper, and its pictures."""

from __future__ import annotations

from datetime import datetime

from hatchwright.documents.strength_report import strength_paper, strength_paper_pdf, strength_part
from hatchwright.documents.typst_pdf import Part
from hatchwright.drawings.bay_view import bay_picture
from hatchwright.drawings.made_file import MadeFile, MadeKind
from hatchwright.drawings.strength_pictures import pictures_of
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.progress import Progress, in_parts, stretches, unheard
from hatchwright.said import Said, said
from hatchwright.search.strength_answer import StrengthAnswer
from hatchwright.strength.opening_analysis import CaseAnalysis, OpeningAnalysis
from hatchwright.strength.report import StrengthReport
from hatchwright.words.of_job import said_of
from hatchwright.workflow.examine import examine_with
from hatchwright.workflow.paper_set import PaperSet, stem_of
from hatchwright.workflow.printing import paper_of

MOST_CASES = 4
"""Cases that get pictures: those with the hardest worked rivets; the rest are in the table."""


def strength_papers(
    answer: StrengthAnswer,
    *,
    stamp: datetime,
    paper: str = "letter",
    stem: str = "",
    progress: Progress = unheard,
) -> tuple[MadeFile, ...]:
    """Make the strength report (PDF) and then its pictures (SVG), on "letter" or "a4"; without loads it says
    nothing about strength and there are no pictures. ExportError where there is no such paper, or the file did
    not read back as it was written."""
    examination = examine_with(answer.layout, answer.report)
    one = PaperSet(examination, stamp, paper_of(paper), stem_of(examination, stem))
    drawing, setting = stretches(progress, 2.0, 1.0)
    part, pictures = strength_chapter(one, answer.report, drawing)
    setting(0.0, said("progress.setting", paper=one.called(MadeKind.STRENGTH)))
    made = strength_paper_pdf(part, size=one.paper.plain, stamp=stamp)
    return (one.set_in_words(MadeKind.STRENGTH, made), *pictures)


def strength_chapter(
    one: PaperSet, report: StrengthReport, progress: Progress = unheard
) -> tuple[Part, tuple[MadeFile, ...]]:
    """The strength report of one side, to be set alone or in a package, and its pictures (SVG)."""
    layout, analysis = one.examination.layout, report.analysis
    pictures: list[MadeFile] = []
    captions: list[Said] = []
    shown = hardest_first(analysis)[:MOST_CASES] if analysis else ()
    for number, (found, mine) in enumerate(in_parts(shown, progress), start=1):
        mine(0.0, said("progress.stress", case=found.name))
        for name, svg in pictures_of(layout, found):
            pictures.append(one.file(MadeKind.STRENGTH, f"_{number}_{name}.svg", svg))
            caption = said("picture.caption", case=found.name, picture=said(f"caption.{name.lower()}"))
            captions.append(said_of(layout.job.kind, caption))
    told = strength_paper(layout, report, verdict=one.examination.verdict, captions=captions, date=one.date)
    geometry = picture_svg_of(bay_picture(layout, ()))
    content = [picture.content for picture in pictures]
    return strength_part(told, geometry=geometry, pictures=content), tuple(pictures)


def hardest_first(analysis: OpeningAnalysis) -> list[CaseAnalysis]:
    """Cases, that with the hardest worked rivet first."""

    def hardest(found: CaseAnalysis) -> float:
        return max((rivet.greater_lbf for rivet in found.rivets), default=0.0)

    return sorted(analysis.cases, key=hardest, reverse=True)
