"""Runs of points out of an SVG drawing; it is read as a stream, and nothing that it names outside is ever fetched.

Source: [SVG 1.1], chapters 5, 7, 8 and 9.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING
from xml.parsers import expat

import numpy as np
from msgspec import Struct

from hatchwright.errors import EntryError
from hatchwright.inspection.trace.closed_loops import MOST_POINTS
from hatchwright.inspection.trace.svg_pen import SvgPen
from hatchwright.inspection.trace.svg_size import inches_of, moved, numbers_in, own_length
from hatchwright.shapes.pieces import Complexes
from hatchwright.units import Unit

if TYPE_CHECKING:
    from fontTools.misc.transform import Transform

MOST_ELEMENTS, MOST_DEEP = 20_000, 100

_SVG = "http://www.w3.org/2000/svg"
_GROUPS = {"g", "a"}
_SHAPES = {"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"}
_PASSED_OVER = {
    "defs", "title", "desc", "metadata", "text", "style", "image", "symbol", "clipPath", "mask", "marker", "pattern",
    "linearGradient", "radialGradient", "filter", "script",
}  # fmt: skip
_PATH = re.compile(r"[MmZzLlHhVvCcSsQqTtAaEe\d\s.,+-]*")
_HIDDEN = re.compile(r"(?:display\s*:\s*none|visibility\s*:\s*hidden)")
_NAMES = ("id", "http://www.inkscape.org/namespaces/inkscape}label", "data-name")
"""By what a group is known as a layer: its id, or what editors show for it."""


class _Open(Struct, frozen=True):
    """An element that is being read."""

    matrix: Transform
    is_shown: bool
    in_layer: bool


def svg_runs(text: str, *, layer: str, unit: Unit | None, sag_in: float, name: str) -> list[Complexes]:
    """Every run of points that an SVG drawing shows [in], Y up, zero at its upper left.

    Args:
        layer: only what lies in groups of this id or label, "" for all.
        unit: of its own lengths where it has no physical size.
        sag_in: how far chords may lie off a curve [in].
    Raises:
        EntryError: it can't be read, defines entities, has no unit, or what it shows can't be told from its lines.
    """
    return _Reader(layer, unit, sag_in, name).read(text)


class _Reader:
    """Walks the elements as they come."""

    def __init__(self, layer: str, unit: Unit | None, sag_in: float, name: str) -> None:
        self._layer, self._unit, self._sag_in, self._name = layer, unit, sag_in, name
        self._open: list[_Open] = []
        self._runs: list[Complexes] = []
        self._elements = self._points = 0

    def read(self, text: str) -> list[Complexes]:
        parser = expat.ParserCreate(namespace_separator="}")
        parser.StartElementHandler = self._starts
        parser.EndElementHandler = self._ends
        parser.EntityDeclHandler = self._refuse_entity
        try:
            parser.Parse(text, True)
        except (expat.ExpatError, ValueError):
            raise EntryError.saying("trace.svg_unread", where=self._name) from None
        return self._runs

    def _refuse_entity(self, *_: object) -> None:
        raise EntryError.saying("trace.svg_entity", where=self._name)

    def _starts(self, named: str, attributes: Mapping[str, str]) -> None:
        space, _, tag = named.rpartition("}")
        self._elements += 1
        if self._elements > MOST_ELEMENTS or len(self._open) > MOST_DEEP:
            raise EntryError.saying("trace.many", where=self._name)
        if not self._open:
            if tag != "svg":
                raise EntryError.saying("trace.svg_unread", where=self._name)
            matrix = inches_of(attributes, unit=self._unit, name=self._name)
            self._open.append(_Open(self._moved(matrix, attributes), True, not self._layer))
            return
        around = self._open[-1]
        is_shown = around.is_shown and space in ("", _SVG) and not _is_hidden(attributes)
        is_shown = is_shown and tag not in _PASSED_OVER
        in_layer = around.in_layer or any(attributes.get(one) == self._layer for one in _NAMES)
        matrix = around.matrix
        if is_shown:
            if tag not in _GROUPS | _SHAPES:
                raise EntryError.saying("trace.svg_kind", where=self._name, kind=tag[:40])
            matrix = self._moved(matrix, attributes)
            if tag in _SHAPES and in_layer:
                self._draw(tag, attributes, matrix)
        self._open.append(_Open(matrix, is_shown, in_layer))

    def _ends(self, _: str) -> None:
        self._open.pop()

    def _moved(self, matrix: Transform, attributes: Mapping[str, str]) -> Transform:
        if "transform" in attributes.get("style", ""):
            raise EntryError.saying("trace.svg_style", where=self._name)
        text = attributes.get("transform", "")
        found = moved(matrix, text)
        if found is None:
            raise EntryError.saying("trace.svg_transform", where=self._name, text=text[:60])
        return found

    def _draw(self, tag: str, attributes: Mapping[str, str], matrix: Transform) -> None:
        pen = SvgPen(matrix, sag_in=self._sag_in, keep=self._keep)
        try:
            if tag == "path":
                self._draw_path(pen, attributes.get("d", ""))
            elif tag in ("polyline", "polygon"):
                values = numbers_in(attributes.get("points", ""))
                places = list(zip(values[::2], values[1::2], strict=False))
                _polyline(pen, places, is_closed=tag == "polygon")
            else:
                _plain(pen, tag, lambda key: self._length(attributes.get(key, "0")), attributes)
        except (ValueError, IndexError, ArithmeticError):
            raise EntryError.saying("trace.svg_path", where=self._name) from None

    def _draw_path(self, pen: SvgPen, drawn: str) -> None:
        from fontTools.svgLib.path import parse_path

        if not _PATH.fullmatch(drawn):
            raise EntryError.saying("trace.svg_path", where=self._name)
        parse_path(" ".join(drawn.split()), pen)

    def _length(self, text: str) -> float:
        found = own_length(text)
        if found is None:
            raise EntryError.saying("trace.svg_length", where=self._name, text=text[:40])
        return found

    def _keep(self, run: Complexes) -> None:
        self._points += len(run)
        if self._points > MOST_POINTS:
            raise EntryError.saying("trace.many", where=self._name)
        self._runs.append(run)


def _is_hidden(attributes: Mapping[str, str]) -> bool:
    shown = attributes.get("display") != "none" and attributes.get("visibility") not in ("hidden", "collapse")
    return not shown or bool(_HIDDEN.search(attributes.get("style", "")))


def _polyline(pen: SvgPen, places: list[tuple[float, float]], *, is_closed: bool) -> None:
    if len(places) < 2:
        return
    pen.moveTo(places[0])
    for place in places[1:]:
        pen.lineTo(place)
    pen.closePath() if is_closed else pen.endPath()


def _plain(pen: SvgPen, tag: str, length: Callable[[str], float], attributes: Mapping[str, str]) -> None:
    """A line, a circle, an ellipse or a rectangle."""
    if tag == "line":
        ends = [(length("x1"), length("y1")), (length("x2"), length("y2"))]
        _polyline(pen, ends, is_closed=False)
    elif tag == "rect":
        _rectangle(pen, length, attributes)
    else:
        x, y = length("cx"), length("cy")
        rx, ry = (length("r"), length("r")) if tag == "circle" else (length("rx"), length("ry"))
        if rx > 0.0 and ry > 0.0:
            pen.moveTo((x + rx, y))
            pen.arcTo(rx, ry, 0.0, 0.0, 1.0, (x - rx, y))
            pen.arcTo(rx, ry, 0.0, 0.0, 1.0, (x + rx, y))
            pen.closePath()


def _rectangle(pen: SvgPen, length: Callable[[str], float], attributes: Mapping[str, str]) -> None:
    x, y, wide, high = (length(key) for key in ("x", "y", "width", "height"))
    if wide <= 0.0 or high <= 0.0:
        return
    rx, ry = (length(key) if key in attributes else None for key in ("rx", "ry"))
    across = min(next((one for one in (rx, ry) if one is not None), 0.0), 0.5 * wide)
    along = min(next((one for one in (ry, rx) if one is not None), 0.0), 0.5 * high)
    corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
    if not (across and along):
        _polyline(pen, corners, is_closed=True)
        return
    ways = np.array([(1, 0), (0, 1), (-1, 0), (0, -1)]) * (across, along)
    for number, corner in enumerate(corners):
        into, out = np.array(corner) - ways[number - 1], np.array(corner) + ways[number]
        begin = (float(into[0]), float(into[1]))
        pen.lineTo(begin) if number else pen.moveTo(begin)
        pen.arcTo(across, along, 0.0, 0.0, 1.0, (float(out[0]), float(out[1])))
    pen.closePath()
