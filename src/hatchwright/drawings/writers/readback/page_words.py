"""What the pages of a PDF file say, read by a reader that had no part in writing them."""

from __future__ import annotations

from hatchwright.drawings.writers.readback.compare import refuse
from hatchwright.said import said

_BROKEN_HYPHEN = "\ufffe"
"""How the reader marks a hyphen that it takes for the break of a word, at the end of a line."""


def page_words(data: bytes) -> list[str]:
    """The words of each page of a PDF file, in the order in which they are painted.

    Raises:
        ExportError: it is not a PDF file, or a page of it cannot be read.
    """
    import pypdfium2

    try:
        with pypdfium2.PdfDocument(data) as document:
            told = [page.get_textpage().get_text_range() for page in document]
    except pypdfium2.PdfiumError as error:
        refuse("PDF", said("readback.unreadable", why=str(error)))
    return [words.replace(_BROKEN_HYPHEN, "-") for words in told]
