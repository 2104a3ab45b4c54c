"""Several PDF files as one, to be printed in one go: every sheet as it was, at true size, with blank backs."""

from __future__ import annotations

import io
from collections.abc import Iterable
from datetime import datetime

from hatchwright.drawings.writers.readback.compare import refuse
from hatchwright.drawings.writers.readback.pdf_pages import page_sizes_in, page_words
from hatchwright.drawings.writers.unscaled import unscaled
from hatchwright.said import said


def joined(parts: Iterable[tuple[str, bytes]], *, made_at: datetime) -> bytes:
    """Put PDF files one after the other, the same bytes for the same files and time.

    Args:
        parts: the files in their order, each behind what the list of contents calls it.
        made_at: date and time kept in the file.
    Raises:
        ExportError: a sheet of the file is not what it was, or not as large.
    """
    from pypdf import PdfWriter

    writer = PdfWriter()
    parts = tuple(parts)
    for title, content in parts:
        writer.append(io.BytesIO(content), outline_item=title, import_outline=False)
    made = unscaled(writer, made_at=made_at, one_sided=True)
    for read in (page_words, page_sizes_in):
        if read(made) != [page for _, content in parts for page in read(content)]:
            refuse("PDF", said("readback.joined"))
    return made
