"""Sketches on paper: neutral sheets reduced to a page each, with their notes, tables and line styles."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from msgspec import to_builtins

from hatchwright.documents.paper_head import line_words
from hatchwright.documents.typst_pdf import Part, pdf_from
from hatchwright.drawings.ink import Text
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.paper import Paper
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.said import said
from hatchwright.words.tell import tell


def sketches_pdf(
    title: str, sheets: Sequence[Sheet], *, paper: Paper, stamp: datetime, told: Sequence[Sheet] = ()
) -> bytes:
    """Set sketches one a page.

    Args:
        title: what they are together, such as PIN SHEET.
        sheets: one or more, of one job and side.
        told: of which only notes and tables are set, before the first.
    Raises:
        ExportError: the file did not read back as it was written, every word of the sketches with it.
    """
    block = sheets[0].title_block
    head = {
        "side": block.side,
        "title": title,
        "job": block.job,
        "aircraft": block.aircraft,
        "view": tell(said("paper.not_to_scale", view=block.view)),
        "revision": block.revision,
        "date": block.date,
        "not_data": tell(said("paper.not_data")),
        "words": line_words(),
    }
    data = {
        "head": head,
        "stop": sheets[0].stop,
        "told": [_words(sheet) for sheet in told],
        "sketches": [_sketch(sheet) for sheet in sheets],
    }
    pictures = {f"picture{number}": picture_svg_of(sheet) for number, sheet in enumerate(sheets)}
    return pdf_from(Part("sketches", data, pictures), title=title, paper=paper, stamp=stamp)


def _words(sheet: Sheet) -> dict[str, Any]:
    return {
        "title": sheet.title,
        "notes": list(sheet.notes),
        "tables": [to_builtins(table) for table in sheet.tables],
    }


def _sketch(sheet: Sheet) -> dict[str, Any]:
    return {
        **_words(sheet),
        "legend": [
            {"width": style.width_in, "dashes": list(style.dashes_in), "words": words}
            for style, words in sheet.meanings()
        ],
        "lettered": [part.words for part in sheet.parts() if isinstance(part, Text)],  # only to be read back
    }
