"""The package for an engineer or an authority: all chapters of one side in one file that can be kept for years."""

from __future__ import annotations

from typing import Any

from hatchwright.documents.package import chapters
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.bay_view import bay_picture, bay_sheet
from hatchwright.drawings.overview_sheet import overview_sheet
from hatchwright.drawings.page_frame import side_word
from hatchwright.drawings.part_sheet import part_sheets
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.table import Table
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.layout.sizes import size_of
from hatchwright.making.guide import job_recipe
from hatchwright.progress import Progress, stretches
from hatchwright.said import Place, Value, said
from hatchwright.search.strength_answer import answer_of
from hatchwright.words.tell import tell
from hatchwright.words.verdict import stop_text
from hatchwright.workflow.paper_set import PaperSet
from hatchwright.workflow.strength_papers import strength_chapter


def package_of(one: PaperSet, progress: Progress) -> bytes:
    """The package of one side (PDF/A-2b and PDF/UA-1).

    Raises:
        ExportError: the file did not read back as it was written.
    """
    side = one.examination
    analyzing, _ = stretches(progress, 1.0, 1.0)
    figures, tables = _drawings(one)
    told = chapters(
        side.layout,
        side.worst_first(),
        verdict=side.verdict,
        not_checked=side.not_checked(),
        figures=figures,
        tables=tables,
        date=one.date,
    )
    report = side.strength or answer_of(side.layout, None).report
    strength, _ = strength_chapter(one, report, analyzing)
    first = [told.pop(name) for name in ("inputs", "drawings", "rules")]
    title = said("package.title", side=side_word(side.job), job=side.job.title)
    parts = (*first, strength, *told.values())
    return pdf_from(
        *parts,
        title=tell(title),
        paper=one.paper.plain,
        stamp=one.stamp,
        kept_for_years=True,
        chain_head=one.recorded.head,
    )


def _drawings(one: PaperSet) -> tuple[list[tuple[bytes, Value]], tuple[Table, ...]]:
    """Each picture with what it shows, the dimensioned overview first, and the tables of the layout."""
    side = one.examination
    layout, job = side.layout, side.job
    about: dict[str, Value] = {
        "side": said(f"side.{job.aircraft.side}"),
        "surface": said(f"surface.{job.aircraft.surface}"),
        "size": size_of(layout.opening.bounds),
        "center": Place(*layout.center_in),
        "n": len(layout.holes),
    }
    set_on: dict[str, Any] = {
        "paper_in": one.paper.plain.size_in,
        "date": one.date,
        "stop": stop_text(side.verdict, "findings"),
    }
    scaled = [("package.alt.overview", overview_sheet(layout, side.findings, **set_on))]
    pieces = part_sheets(layout, job_recipe(layout, side.making), **set_on)
    scaled += [("package.alt.parts", piece.sheet) for piece in pieces.drawn]
    figures: list[tuple[bytes, Value]] = []
    for told, drawn in scaled:
        pages = [ink for ink in drawn.inked if ink]
        for number, ink in enumerate(pages, start=1):
            sheet = Sheet(drawn.title, drawn.title_block, ink, unit=drawn.unit)
            alt = said(told, title=drawn.title, page=number, pages=len(pages), **about)
            figures.append((picture_svg_of(sheet), alt))
    bay = picture_svg_of(bay_picture(layout, side.findings))
    figures.append((bay, said("package.alt.layout", **about)))
    return figures, bay_sheet(layout, side.findings, date="").tables
