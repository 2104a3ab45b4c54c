"""The strength report on paper, and its pictures."""

from __future__ import annotations

from datetime import datetime

from hatchwright.documents.strength_report import strength_paper, strength_paper_pdf
from hatchwright.drawings.bay_view import bay_picture
from hatchwright.drawings.made_file import MadeFile, MadeKind
from hatchwright.drawings.strength_pictures import pictures_of
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.progress import Progress, in_parts, stretches, unheard
from hatchwright.said import Said, said
from hatchwright.search.strength_answer import StrengthAnswer
from hatchwright.strength.opening_analysis import CaseAnalysis, OpeningAnalysis
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
    examination, analysis = examine_with(answer.layout, answer.report), answer.report.analysis
    one = PaperSet(examination, stamp, paper_of(paper), stem_of(examination, stem))
    pictures: list[MadeFile] = []
    captions: list[Said] = []
    shown = hardest_first(analysis)[:MOST_CASES] if analysis else ()
    drawing, setting = stretches(progress, float(len(shown)), 2.0)
    for number, (found, mine) in enumerate(in_parts(shown, drawing), start=1):
        mine(0.0, said("progress.stress", case=found.name))
        for name, svg in pictures_of(answer.layout, found):
            pictures.append(one.file(MadeKind.STRENGTH, f"_{number}_{name}.svg", svg))
            caption = said("picture.caption", case=found.name, picture=said(f"caption.{name.lower()}"))
            captions.append(said_of(answer.job.kind, caption))
    setting(0.0, said("progress.setting", paper=one.called(MadeKind.STRENGTH)))
    report = strength_paper(
        answer.layout, answer.report, verdict=examination.verdict, captions=captions, date=one.date
    )
    content = [picture.content for picture in pictures]
    geometry = picture_svg_of(bay_picture(answer.layout, ()))
    made = strength_paper_pdf(report, geometry=geometry, pictures=content, size=one.paper.plain, stamp=stamp)
    return (one.set_in_words(MadeKind.STRENGTH, made), *pictures)


def hardest_first(analysis: OpeningAnalysis) -> list[CaseAnalysis]:
    """Cases, that with the hardest worked rivet first."""

    def hardest(found: CaseAnalysis) -> float:
        return max((rivet.greater_lbf for rivet in found.rivets), default=0.0)

    return sorted(analysis.cases, key=hardest, reverse=True)
