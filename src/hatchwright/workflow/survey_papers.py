"""The papers of a site survey: an empty sheet before there is a job, one with what is known, and the drawing."""

from __future__ import annotations

from datetime import datetime

from hatchwright.documents.survey_drawing import survey_drawing
from hatchwright.documents.survey_known import known_site
from hatchwright.documents.survey_sheet import survey_sheet
from hatchwright.documents.typst_pdf import Part, pdf_from
from hatchwright.drawings.made_file import MadeFile as MadeFile
from hatchwright.drawings.made_file import MadeKind, Sided, Written
from hatchwright.drawings.page_frame import side_word
from hatchwright.drawings.site_view import sides_sheet, site_sheet
from hatchwright.drawings.writers import Paper
from hatchwright.job.site import Site
from hatchwright.layout.layout import Layout
from hatchwright.rules.site_center import GAP_IN
from hatchwright.said import Listed, said
from hatchwright.words.tell import tell
from hatchwright.workflow.site import AS_SURVEYED, SiteAnswer, both_sides, site_answer
from hatchwright.workflow.site_said import side_rows


def gap_limit_in(site: Site | None) -> float:
    """How far routes to the center may lie apart: the shop's limit, else common practice [in]."""
    return site.gap.inch if site and site.gap else GAP_IN


def blank_survey(*, stamp: datetime, paper: Paper = Paper.LETTER) -> MadeFile:
    """An empty survey sheet.

    Args:
        stamp: when it is made; the same time makes the same bytes.
    Raises:
        ExportError: the file did not read back as it was written.
    """
    part = survey_sheet(limit_in=gap_limit_in(None), date="")
    return _file(MadeKind.SURVEY_SHEET, "BLANK", "", part, stamp, paper)


def survey_papers(layout: Layout, *, stamp: datetime, paper: Paper = Paper.LETTER) -> tuple[MadeFile, ...]:
    """The sheet of a job with what is known of it, and where it was surveyed the drawing of that.

    Raises:
        ExportError: a file did not read back as it was written.
    """
    job, date = layout.job, stamp.strftime("%Y-%m-%d %H:%M %Z").strip()
    side, word = job.aircraft.side, side_word(job)
    known = known_site(job)
    sheet = survey_sheet(limit_in=gap_limit_in(job.site), date=date, job=job, known=known)
    made = [_file(MadeKind.SURVEY_SHEET, word, side, sheet, stamp, paper)]
    if job.site:
        drawing = _drawing(site_answer(layout), date)
        made.append(_file(MadeKind.SURVEY_DRAWING, word, side, drawing, stamp, paper))
    return tuple(made)


def sides_paper(
    one: SiteAnswer, other: SiteAnswer, *, stamp: datetime, paper: Paper = Paper.LETTER
) -> MadeFile:
    """Two surveys beside each other, each drawn as seen from outside, and what differs by name.

    Raises:
        JobError: they are of skins that don't mirror each other.
        ExportError: the file did not read back as it was written.
    """
    date, unit = stamp.strftime("%Y-%m-%d %H:%M %Z").strip(), one.job.unit
    rows = [tuple(tell(cell, unit) for cell in row) for row in side_rows(both_sides(one, other))]
    sheet = sides_sheet((one.job, one.center), (other.job, other.center), rows, date=date)
    part = survey_drawing(one.job, sheet, date=date, stop="")
    return _file(MadeKind.SURVEY_DRAWING, "BOTH_SIDES", "", part, stamp, paper)


def _drawing(answer: SiteAnswer, date: str) -> Part:
    limit_in = gap_limit_in(answer.site)
    sheet = site_sheet(answer.job, answer.center, answer.sketches.ways, gap_in=limit_in, date=date)
    return survey_drawing(answer.job, sheet, date=date, stop=_stop(answer))


def _stop(answer: SiteAnswer) -> str:
    """What holds back whoever would mark the center by it; what the job says otherwise does not."""
    held = (one.code for one in answer.checks if one.status.holds_back and one.code != AS_SURVEYED)
    codes = tuple(dict.fromkeys(held))
    return tell(said("site_paper.stop", codes=Listed(codes, ","))) if codes else ""


def _file(kind: MadeKind, word: str, side: Sided, part: Part, stamp: datetime, paper: Paper) -> MadeFile:
    content = pdf_from(part, title=tell(said(f"site_paper.file.{kind.lower()}")), paper=paper, stamp=stamp)
    name = f"{kind}_{word}_{paper.words}.pdf"
    return MadeFile(name, kind, side, true_size=False, written=Written.PDF, content=content)
