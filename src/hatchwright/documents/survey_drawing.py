"""The drawing of a survey on paper: picture, legend, and tables to tape and look by, side by side."""

from __future__ import annotations

from msgspec import to_builtins

from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.typst_pdf import Part
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.job.job import Job
from hatchwright.said import said
from hatchwright.words.tell import tell


def survey_drawing(job: Job, sheet: Sheet, *, date: str, stop: str) -> Part:
    """Set the drawing of a survey.

    Args:
        sheet: as `drawings.site_view` draws it.
        stop: what is to be settled before anything is marked, "" where nothing is.
    """
    head = paper_head(job, said("site_paper.drawing"), date=date)
    data = {
        "head": {**head, "view": tell(said("paper.not_to_scale", view=sheet.title_block.view))},
        "stop": stop,
        "title": sheet.title,
        "notes": list(sheet.notes),
        "legend": [
            {"width": style.width_in, "dashes": list(style.dashes_in), "words": words}
            for style, words in sheet.meanings()
        ],
        "tables": [
            {"title": one.title, "headings": list(one.headings), "rows": to_builtins(one.rows)}
            for one in sheet.tables
        ],
    }
    return Part("survey_drawing", data, {"picture": picture_svg_of(sheet, margin_in=0.05)})
