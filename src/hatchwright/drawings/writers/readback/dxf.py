"""Reading DXF back: a fresh load, its audit, and its entities as edges, holes, lines and words."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from hatchwright.drawings.ink import Layer, Style
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.readback.compare import FILLED, Contents, compare, loop_of, refuse
from hatchwright.said import said

if TYPE_CHECKING:
    from ezdxf.document import Drawing

_WHAT = "DXF"
_STYLES_BY_LINE_TYPE = {
    "HIDDEN": Style.HIDDEN,
    "CENTER": Style.CENTER,
    "PHANTOM": Style.PHANTOM,
    "DOT": Style.JOIN,
}
_PERCENT_CODES = {"%": "%", "c": "Ø", "d": "°", "p": "±", "k": "", "o": "", "u": ""}
_PERCENT_CODE = re.compile(r"%%([%cdpkou])", re.IGNORECASE)
_INCH, _MILLIMETER = 1, 4
"""Codes of $INSUNITS. Source: the DXF reference, header variables, quoted from memory, unverified."""


def verify_dxf(data: bytes, sheet: Sheet) -> None:
    """Read a DXF file and compare it with its sheet.

    Raises:
        ExportError: its unit, layers, edges, holes, lines or words are not those of the sheet.
    """
    doc = _loaded(data)
    if doc.header.get("$INSUNITS") != (_INCH if sheet.unit == "in" else _MILLIMETER):
        refuse(_WHAT, said("readback.header_unit", unit=sheet.unit))
    known = {layer.value for layer in Layer}
    contents = Contents()
    for entity in doc.modelspace():
        if entity.dxf.layer not in known:
            refuse(_WHAT, said("readback.unknown_layer", layer=entity.dxf.layer))
        _take(entity, sheet.units_per_in, contents)
    compare(contents, Contents.of(sheet.framed(), named=_line_name), what=_WHAT)


def _loaded(data: bytes) -> Drawing:
    from ezdxf.filemanagement import read
    from ezdxf.lldxf.const import DXFError

    try:
        doc = read(io.StringIO(data.decode("utf-8")))
    except (DXFError, ValueError, LookupError, AttributeError, TypeError) as error:
        refuse(_WHAT, said("readback.unreadable", why=str(error)))
    faults = doc.audit()
    if faults.errors or faults.fixes:
        refuse(_WHAT, said("readback.unsound", why=(faults.errors + faults.fixes)[0].message))
    return doc


def _take(entity: Any, per_in: float, contents: Contents) -> None:
    style = _STYLES_BY_LINE_TYPE.get(entity.dxf.linetype, Style.FINISHED)
    place = (entity.dxf.layer, _line_name(style))
    kind = entity.dxftype()
    if kind == "LWPOLYLINE" and entity.closed:
        rows = [(x / per_in, y / per_in, bulge) for x, y, bulge in entity.get_points("xyb")]
        contents.loops[place].append(loop_of(rows, _WHAT))
    elif kind == "LWPOLYLINE":
        contents.lines[place].append(tuple((x / per_in, y / per_in) for x, y in entity.get_points("xy")))
    elif kind == "LINE":
        contents.lines[place].append(_points((entity.dxf.start, entity.dxf.end), per_in))
    elif kind == "SOLID":
        contents.lines[(place[0], FILLED)].append(
            _points((entity.dxf.vtx0, entity.dxf.vtx1, entity.dxf.vtx2), per_in)
        )
    elif kind == "CIRCLE":
        x, y = entity.dxf.center.x / per_in, entity.dxf.center.y / per_in
        contents.circles[place].append((x, y, 2.0 * entity.dxf.radius / per_in))
    elif kind == "TEXT":
        if entity.dxf.layer != Layer.TEXT:
            refuse(_WHAT, said("readback.lettering_layer", layer=entity.dxf.layer))
        _take_text(entity, per_in, contents)
    else:
        refuse(_WHAT, said("readback.unknown_element", kind=kind))


def _take_text(entity: Any, per_in: float, contents: Contents) -> None:
    from ezdxf.lldxf.encoding import decode_dxf_unicode
    from ezdxf.tools.text import caret_decode

    _, at, _ = entity.get_placement()
    coded = caret_decode(decode_dxf_unicode(entity.dxf.text))
    words = _PERCENT_CODE.sub(lambda code: _PERCENT_CODES[code[1].lower()], coded)
    contents.words.append((words, (at.x / per_in, at.y / per_in)))


def _points(points: Iterable[Any], per_in: float) -> tuple[tuple[float, float], ...]:
    return tuple((point.x / per_in, point.y / per_in) for point in points)


def _line_name(style: Style) -> str:
    """How a style is named here: DXF tells dashed lines apart by line type, and all solid ones are alike."""
    return style.value if style in _STYLES_BY_LINE_TYPE.values() else "solid"
