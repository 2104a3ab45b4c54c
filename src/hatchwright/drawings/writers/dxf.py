"""DXF R2010: closed edges with true arcs, one layer for each operation, the unit in the header.

Coordinates are those of the sheet, so the origin is the datum corner. Lettering lies on TEXT alone, and the
check square on CHECK, so that both can be switched off before cutting.
"""

from __future__ import annotations

import io
import logging
from typing import TYPE_CHECKING

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Outline, Solid, Style, Text, box_of
from hatchwright.drawings.lettering import FAMILY
from hatchwright.drawings.sheet import Sheet

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

_LINE_TYPES = {Style.HIDDEN: "HIDDEN", Style.CENTER: "CENTER", Style.PHANTOM: "PHANTOM", Style.JOIN: "DOT"}
_LETTERING = {False: "LETTERING", True: "LETTERING_BOLD"}
_BLACK = 7


def dxf_of(sheet: Sheet) -> bytes:
    """Write a sheet as a machine file, the same bytes for the same sheet."""
    logging.getLogger("ezdxf").disabled = True  # what it cannot keep in the user's cache is nothing to tell
    from ezdxf import options, units  # type: ignore[attr-defined]
    from ezdxf.filemanagement import new

    options.write_fixed_meta_data_for_testing = True  # else the clock would go into the file
    doc = new("R2010")
    doc.units = units.IN if sheet.unit == "in" else units.MM
    doc.header["$MEASUREMENT"] = 0 if sheet.unit == "in" else 1
    parts = sheet.framed()
    _prepare(doc, parts, sheet.units_per_in)
    space = doc.modelspace()
    for part in parts:
        _add(space, part, sheet.units_per_in)
    _show_all(doc, box_of(parts), sheet.units_per_in)
    for name in sorted(doc.entitydb.dxf_types_in_use()):  # a set: its order changes from process to process
        doc.classes.add_class(name)
    stream = io.StringIO()
    doc.write(stream)
    return stream.getvalue().encode("utf-8")


def _prepare(doc: Drawing, parts: tuple[Ink, ...], per_in: float) -> None:
    used = {part.layer for part in parts}
    for layer in Layer:
        if layer in used:
            doc.layers.add(layer.value, color=_BLACK)
    for style, name in _LINE_TYPES.items():
        runs = [dash * per_in * (-1) ** place for place, dash in enumerate(style.dashes_in)]
        doc.linetypes.add(name, pattern=[sum(style.dashes_in) * per_in, *runs], description=style.meaning)
    font = FAMILY.replace(" ", "")
    doc.styles.add(_LETTERING[False], font=f"{font}.ttf")
    doc.styles.add(_LETTERING[True], font=f"{font}-Bold.ttf")


def _add(space: Modelspace, part: Ink, per_in: float) -> None:
    common = {
        "layer": part.layer.value,
        "linetype": _LINE_TYPES.get(part.style, "CONTINUOUS"),
        "lineweight": round(part.style.width_in * 2540.0),
    }
    match part:
        case Outline(loop=loop):
            rows = loop.rows * (per_in, per_in, 1.0)
            space.add_lwpolyline(rows.tolist(), format="xyb", close=True, dxfattribs=common)
        case Circle(center=(x, y), diameter_in=diameter_in):
            space.add_circle((x * per_in, y * per_in), 0.5 * diameter_in * per_in, dxfattribs=common)
        case Line(points=points) if len(points) == 2:
            start, end = ((x * per_in, y * per_in) for x, y in points)
            space.add_line(start, end, dxfattribs=common)
        case Line(points=points):
            space.add_lwpolyline([(x * per_in, y * per_in) for x, y in points], dxfattribs=common)
        case Solid(points=points):
            space.add_solid([(x * per_in, y * per_in) for x, y in points], dxfattribs=common)
        case Text():
            _letter(space, part, per_in)


def _letter(space: Modelspace, text: Text, per_in: float) -> None:
    from ezdxf.enums import TextEntityAlignment

    alignment = {
        Anchor.START: TextEntityAlignment.LEFT,
        Anchor.MIDDLE: TextEntityAlignment.CENTER,
        Anchor.END: TextEntityAlignment.RIGHT,
    }
    entity = space.add_text(
        _without_codes(text.words),
        height=text.height_in * per_in,
        rotation=text.angle_deg,
        dxfattribs={"layer": text.layer.value, "style": _LETTERING[text.bold]},
    )
    entity.set_placement((text.at[0] * per_in, text.at[1] * per_in), align=alignment[text.anchor])


def _without_codes(words: str) -> str:
    """Write caret, percent and backslash codes so that a reader shows them as they were typed."""
    words = words.replace("^", "^ ").replace("%%", "%%%%%%")
    return words.replace("\\U+", "\\U+005CU+").replace("\\M+", "\\U+005CM+")


def _show_all(doc: Drawing, box: Box, per_in: float) -> None:
    low, high = (box.left * per_in, box.bottom * per_in, 0.0), (box.right * per_in, box.top * per_in, 0.0)
    doc.modelspace().reset_extents(low, high)
    middle = (box.middle[0] * per_in, box.middle[1] * per_in)
    doc.set_modelspace_vport(height=1.05 * max(box.height_in, 0.7 * box.width_in) * per_in, center=middle)
