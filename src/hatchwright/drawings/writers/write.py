"""Writing a sheet in any format, or a body: no file leaves here that did not read back as it was meant."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum

from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.dxf import dxf_of
from hatchwright.drawings.writers.paper import AnyPaper, Paper
from hatchwright.drawings.writers.pdf import pdf_of
from hatchwright.drawings.writers.readback import verify_dxf, verify_pdf, verify_svg, verify_three_mf
from hatchwright.drawings.writers.svg import svg_of
from hatchwright.drawings.writers.three_mf import three_mf_of
from hatchwright.errors import ExportError
from hatchwright.shapes.solid import Solid
from hatchwright.units import Unit


class Format(StrEnum):
    """The formats a sheet is written in."""

    SVG = "svg"
    DXF = "dxf"
    PDF = "pdf"


def write(
    sheet: Sheet | ScaledSheet,
    kind: Format,
    *,
    paper: AnyPaper = Paper.LETTER,
    made_at: datetime | None = None,
) -> bytes:
    """Write a sheet and read the file back before it is offered; the same bytes for the same arguments.

    Args:
        paper: what the printer takes; PDF only.
        made_at: date and time kept in the file; PDF only, none is kept when not given.
    Raises:
        ExportError: the file did not read back as it was drawn, takes more pages than a person will join, or is one
            that a machine follows and not true size.
    """
    match kind:
        case Format.SVG:
            data = svg_of(sheet)
            verify_svg(data, sheet)
        case Format.DXF:
            if isinstance(sheet, ScaledSheet):
                raise ExportError.saying("error.not_true_size", where=sheet.title)
            data = dxf_of(sheet)
            verify_dxf(data, sheet)
        case Format.PDF:
            data = pdf_of(sheet, paper, made_at=made_at)
            verify_pdf(data, sheet, paper)
    return data


def write_solid(solid: Solid, *, title: str, description: str = "", unit: Unit = "in") -> bytes:
    """Write a closed body as 3MF and read the file back before it is offered; the same bytes for the same arguments.

    Args:
        description: what a person must read before the body is used, "" for nothing.
    Raises:
        ExportError: the file did not read back as it was meant.
    """
    data = three_mf_of(solid, title=title, description=description, unit=unit)
    verify_three_mf(data, solid, description=description, unit=unit)
    return data


def file_suffix(sheet: Sheet | ScaledSheet, kind: Format, *, paper: AnyPaper = Paper.LETTER) -> str:
    """What a file name ends in: its unit, or its paper where it is pages, such as ``_IN.dxf`` or ``_LETTER.pdf``."""
    if isinstance(sheet, ScaledSheet):
        return f"_{paper.plain.words}.{kind}"
    told = paper.words if kind is Format.PDF else sheet.unit.upper()
    return f"_{told}.{kind}"
