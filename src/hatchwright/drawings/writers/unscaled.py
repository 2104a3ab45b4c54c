"""The wish in a PDF file that a printer leaves its size alone."""

from __future__ import annotations

import io
from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pypdf import PdfWriter


def unscaled(writer: PdfWriter, *, made_at: datetime | None, one_sided: bool = False) -> bytes:
    """Write a file that is to be printed as it is.

    Args:
        made_at: date and time kept in the file; none is kept when not given.
        one_sided: whether it asks for blank backs too.
    Source: ISO 32000-1, table 150, PrintScaling and Duplex.
    """
    from pypdf.generic import DictionaryObject, NameObject

    wished = {NameObject("/PrintScaling"): NameObject("/None")}
    if one_sided:
        wished[NameObject("/Duplex")] = NameObject("/Simplex")
    held = writer.root_object.get("/ViewerPreferences", {})  # of a tagged file: that its title is shown
    writer.root_object[NameObject("/ViewerPreferences")] = DictionaryObject({**held, **wished})
    if made_at is not None:
        stamp = made_at.strftime("D:%Y%m%d%H%M%S")
        writer.add_metadata({"/CreationDate": stamp, "/ModDate": stamp})
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()
