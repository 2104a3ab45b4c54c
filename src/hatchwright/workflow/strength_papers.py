"""The strength report on paper, and its pictures."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from hatchwright.documents.strength_report import strength_paper, strength_paper_pdf
from hatchwright.drawings.made_file import MadeFile, MadeKind
from hatchwright.drawings.strength_pictures import pictures_of
from hatchwright.said import Said, said
from hatchwright.search.strength_answer import StrengthAnswer
from hatchwright.strength.opening_analysis import CaseAnalysis, OpeningAnalysis
from hatchwright.tables.limits import limit
from hatchwright.words.of_job import said_of
from hatchwright.workflow.examine import examine_with
from hatchwright.workflow.paper_set import PaperSet, stem_of
from hatchwright.workflow.printing import paper_of

MOST_CASES = 4
"""Cases that get pictures: those with the hardest worked rivets; the rest are in the table."""


def strength_papers(
    answer: StrengthAnswer, *, stamp: datetime, paper: str = "letter", stem: str = ""
) -> tuple[MadeFile, ...]:
    """Make the strength report (PDF) and then its pictures (SVG), on "letter" or "a4"; without loads it says
    nothing about strength and there are no pictures. ExportError where there is no such paper, or the file did
    not read back as it was written."""
    examination, analysis = examine_with(answer.layout, answer.report), answer.report.analysis
    one = PaperSet(examination, stamp, paper_of(paper), stem_of(examination, stem))
    pictures: list[MadeFile] = []
    captions: list[Said] = []
    for number, found in enumerate(hardest_first(analysis)[:MOST_CASES] if analysis else (), start=1):
        for name, svg in _pictures(answer, found):
            pictures.append(one.file(MadeKind.STRENGTH, f"_{number}_{name}.svg", svg))
            caption = said("picture.caption", case=found.name, picture=said(f"caption.{name.lower()}"))
            captions.append(said_of(answer.job.kind, caption))
    report = strength_paper(
        answer.layout, answer.report, verdict=examination.verdict, captions=captions, date=one.date
    )
    content = [picture.content for picture in pictures]
    made = strength_paper_pdf(report, pictures=content, size=one.paper.plain, stamp=stamp)
    return (one.set_in_words(MadeKind.STRENGTH, made), *pictures)


def hardest_first(analysis: OpeningAnalysis) -> list[CaseAnalysis]:
    """Cases, that with the hardest worked rivet first."""

    def hardest(found: CaseAnalysis) -> float:
        return max((rivet.greater_lbf for rivet in found.rivets), default=0.0)

    return sorted(analysis.cases, key=hardest, reverse=True)


def _pictures(answer: StrengthAnswer, found: CaseAnalysis) -> Iterator[tuple[str, bytes]]:
    allowed = [
        margin.allowable.value
        for margin in answer.report.margins
        if margin.code in ("S202", "S801") and margin.allowable
    ]
    safety, lowest_lbf = limit("factor_of_safety", answer.layout.shop).value, min(allowed, default=None)
    return pictures_of(answer.layout, found, safety_ratio=safety, allowed_lbf=lowest_lbf)
