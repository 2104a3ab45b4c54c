"""Reading SVG back with the standard library's XML reader and a small interpreter of paths."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from xml.etree import ElementTree

from hatchwright.drawings.ink import Layer, Point, Style
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.readback.compare import FILLED, Contents, compare, loop_of, refuse
from hatchwright.said import said

_WHAT = "SVG"
_SPACE = "{http://www.w3.org/2000/svg}"
_WORD = re.compile(r"[MLAZ]|-?\d+(?:\.\d+)?")
_LAYERS = {f"layer-{layer.lower().replace('_', '-')}": layer.value for layer in Layer}
_STYLES = frozenset(style.value for style in Style)
_ROUNDING = 1e-6


def verify_svg(data: bytes, sheet: Sheet | ScaledSheet) -> None:
    """Read an SVG file, true size or of pages to scale, and compare it with its sheet.

    Raises:
        ExportError: its size, unit, edges, holes, lines or words are not those of the sheet.
    """
    try:
        root = ElementTree.fromstring(data)
    except ElementTree.ParseError as error:
        refuse(_WHAT, said("readback.no_xml", why=str(error)))
    if root.tag != f"{_SPACE}svg":
        refuse(_WHAT, said("readback.no_drawing"))
    box = _true_size(root, sheet)
    contents = Contents()
    for group in root.findall(f"{_SPACE}g"):
        place = _place_of(group)
        for element in group:
            _take(element, place, sheet.units_per_in, contents)
    wanted = Contents.of(sheet.framed())
    compare(contents, wanted, what=_WHAT)
    _refuse_outside(wanted, box)


def _true_size(root: ElementTree.Element, sheet: Sheet | ScaledSheet) -> tuple[float, float, float, float]:
    """The part of the sheet that is shown [in], after checking that a unit in the file is a unit on paper."""
    left, top, width, height = (_number(word) for word in root.get("viewBox", "").split() or ("",))
    for name, size in (("width", width), ("height", height)):
        given = root.get(name, "")
        if not given.endswith(sheet.unit) or abs(_number(given.removesuffix(sheet.unit)) - size) > _ROUNDING:
            refuse(_WHAT, said(f"readback.size.{name}", given=given or "-", unit=sheet.unit))
    per_in = sheet.units_per_in
    return left / per_in, -(top + height) / per_in, (left + width) / per_in, -top / per_in


def _place_of(group: ElementTree.Element) -> tuple[str, str]:
    layer, _, paint = group.get("class", "").partition(" ")
    kind, _, style = paint.partition("-")
    if layer not in _LAYERS or style not in _STYLES or group.get("transform"):
        refuse(_WHAT, said("readback.unknown_group", kind=group.get("class") or "-"))
    return _LAYERS[layer], FILLED if kind == "solid" else style


def _take(element: ElementTree.Element, place: tuple[str, str], per_in: float, contents: Contents) -> None:
    match element.tag.removeprefix(_SPACE):
        case "circle":
            x, y, radius = (_number(element.get(name)) / per_in for name in ("cx", "cy", "r"))
            contents.circles[place].append((x, -y, 2.0 * radius))
        case "text" if place[0] == Layer.TEXT:
            at = (_number(element.get("x")) / per_in, -_number(element.get("y")) / per_in)
            contents.words.append((element.text or "", at))
        case "path":
            rows, closed = _run_of(element.get("d", ""), per_in)
            if closed and place[1] != FILLED:
                contents.loops[place].append(loop_of(rows, _WHAT))
            else:
                contents.lines[place].append(tuple((x, y) for x, y, _ in rows))
        case other:
            refuse(_WHAT, said("readback.unknown_element", kind=other))


def _run_of(path: str, per_in: float) -> tuple[list[tuple[float, float, float]], bool]:
    """Vertices of a path with the bulge of the piece that leaves each [in], and whether it closes."""
    words = iter(_WORD.findall(path))
    places: list[Point] = []
    bulges: list[float] = []
    closed = False
    for command in words:
        match command:
            case "M" | "L":
                bulges += [0.0] if command == "L" else []
                places.append(_point(words, per_in))
            case "A":
                radius, other, turn, large, clockwise = (_number(next(words, "")) for _ in range(5))
                end = _point(words, per_in)
                if radius != other or turn or not places:
                    refuse(_WHAT, said("readback.arc"))
                chord = math.dist(places[-1], end)
                half = math.asin(min(0.5 * chord * per_in / radius, 1.0)) if radius else 0.0
                half = math.pi - half if large else half
                bulges.append(math.tan(0.5 * half) * (-1.0 if clockwise else 1.0))
                places.append(end)
            case "Z":
                closed = True
            case _:
                refuse(_WHAT, said("readback.path", command=command))
    if closed and len(places) > 1 and places[0] == places[-1]:
        places.pop()
        rows = zip(places, bulges, strict=True)
    else:
        rows = zip(places, [*bulges, 0.0], strict=True)
    return [(x, y, bulge) for (x, y), bulge in rows], closed


def _point(words: Iterator[str], per_in: float) -> Point:
    return _number(next(words, "")) / per_in, -_number(next(words, "")) / per_in


def _number(word: str | None) -> float:
    try:
        value = float(word or "")
    except ValueError:
        refuse(_WHAT, said("readback.no_number", word=word or "-"))
    return value if math.isfinite(value) else refuse(_WHAT, said("readback.not_finite"))


def _refuse_outside(contents: Contents, box: tuple[float, float, float, float]) -> None:
    """Refuse a view that would cut off an edge or a hole."""
    left, bottom, right, top = box
    for loops in contents.loops.values():
        for loop in loops:
            x_min, y_min, x_max, y_max = loop.bounds
            if x_min < left or y_min < bottom or x_max > right or y_max > top:
                refuse(_WHAT, said("readback.out_of_picture"))
