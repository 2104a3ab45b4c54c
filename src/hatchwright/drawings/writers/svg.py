"""SVG: true size for paper and machines, or without a size for the screen.

Only presentation attributes and classes are used, so that a strict content policy has nothing to refuse: no
scripts, no style attributes, no outside references. One user unit is one inch or one millimeter; the datum
of the sheet is the origin.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator
from functools import lru_cache
from xml.sax.saxutils import escape, quoteattr

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Circle, Ink, Layer, Line, Outline, Solid, Style, Text, box_of
from hatchwright.drawings.lettering import CAPITAL_RATIO, FAMILY, literal
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.sheet import Sheet
from hatchwright.said import said
from hatchwright.shapes.profile import Arc
from hatchwright.words.tell import tell

_MARGIN_IN, _CLOSE_MARGIN_IN = 0.25, 0.1
_NOTES, _NEAR = frozenset(("dimension", "name")), frozenset(("near", "short"))
_NEW_PARTS = frozenset(
    (Layer.OPENING, Layer.DOUBLER, Layer.COVER, Layer.PLUG, Layer.DRILL_PILOT, Layer.DRILL_FINAL)
)
_SCREEN_WIDTH_PX = {True: 2.4, False: 1.2}
_SCREEN_PX_PER_IN = 60.0
_FALLBACK_FAMILIES = "Verdana, sans-serif"


def svg_of(sheet: Sheet | ScaledSheet) -> bytes:
    """Write a sheet as a true-size file, with title block, legend, notes, tables and check square; or the pages of a
    drawing to scale, one below the other."""
    parts = sheet.framed()
    unit, per_in = sheet.unit, sheet.units_per_in
    if isinstance(sheet, ScaledSheet):
        box, told = sheet.box, said("svg.to_scale", scale=sheet.scale.words, unit=unit)
    else:
        box, told = box_of(parts).grown(_MARGIN_IN), said("svg.description", unit=unit)
    size = f'width="{_n(box.width_in * per_in)}{unit}" height="{_n(box.height_in * per_in)}{unit}"'
    head = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" {size} viewBox="{_view_box(box, per_in)}">',
        f"<title>{escape(f'{sheet.title}, {sheet.title_block.job}, {sheet.title_block.side}')}</title>",
        f"<desc>{escape(tell(told))}</desc>",
    ]
    return "\n".join([*head, *_groups(parts, per_in, screen=False), "</svg>\n"]).encode()


def screen_svg_of(sheet: Sheet) -> str:
    """Write the drawing alone for a page: it fills the width it is given; the page's style keeps its lines thin.

    Returns:
        str: an ``svg`` element without title block and tables, which a page shows in its own way. ``data-close`` is
            the box of the new parts, ``data-whole`` that of the bay, both without lettering; the view box holds the
            new parts with theirs. ``data-span`` of a text is what it measures or names, ``data-whole`` what it says
            where it was cut. ``data-axes`` is where the job's X and Y point, x and y of each, and ``data-part`` of
            what is drawn its place in the job file.
    """
    parts, box = sheet.parts(), sheet.box.grown(_MARGIN_IN)
    drawn = [
        part for part in parts if not (isinstance(part, Text) or _NOTES & set(part.css.split()))
    ] or parts
    new = [part for part in drawn if part.layer in _NEW_PARTS]
    close = _view_box(box_of(new or drawn).grown(_CLOSE_MARGIN_IN), 1.0)
    views = f'data-close="{close}" data-whole="{_view_box(box_of(drawn).grown(_CLOSE_MARGIN_IN), 1.0)}"'
    noted = [part for part in parts if part.layer in _NEW_PARTS or _NEAR & set(part.css.split())]
    first = _view_box(box_of(noted or parts).grown(_MARGIN_IN), 1.0)
    axes = " ".join(_place(axis, 1.0) for axis in sheet.axes)
    corner = f'x="{_n(box.left)}" y="{_n(-box.top)}"'
    size = f'width="{_n(box.width_in)}" height="{_n(box.height_in)}"'
    paper = f'<rect class="paper" {corner} {size} fill="#fff"/>'
    name = f'class="drawing" role="img" aria-label={_quoted(sheet.title)} {views} data-axes="{axes}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {name} viewBox="{first}">'
    return "\n".join([head, paper, *_groups(parts, 1.0, screen=True), "</svg>"])


def picture_svg_of(sheet: Sheet, *, margin_in: float = _MARGIN_IN, window: Box | None = None) -> bytes:
    """Write the drawing alone as a picture to be set into a paper at any size, its lines and letters with it.

    It has no title block, legend and tables; one user unit is 1 in at full size.

    Args:
        margin_in: left white round it [in].
        window: what of it is seen, with the margin; None for all of it [in].
    """
    parts, box = sheet.parts(), (window or sheet.box).grown(margin_in)
    size = f'width="{_n(box.width_in)}in" height="{_n(box.height_in)}in"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" {size} viewBox="{_view_box(box, 1.0)}">'
    return "\n".join([head, *_groups(parts, 1.0, screen=False), "</svg>\n"]).encode()


def _groups(parts: Iterable[Ink], per_in: float, *, screen: bool) -> Iterator[str]:
    """One group for each layer and line style, in the order of the layers."""
    grouped: dict[tuple[Layer, Style, str], list[Ink]] = {}
    for part in parts:
        kind = "text" if isinstance(part, Text) else "solid" if isinstance(part, Solid) else "line"
        grouped.setdefault((part.layer, part.style, kind), []).append(part)
    order = list(Layer)
    for (layer, style, kind), members in sorted(grouped.items(), key=lambda group: order.index(group[0][0])):
        css = f"layer-{layer.lower().replace('_', '-')} {kind}-{style}"
        yield f'<g class="{css}" {_paint(style, kind, per_in, screen=screen)}>'
        yield from _joined_lines(members, per_in) if screen else ()
        for part in members:
            if not (screen and isinstance(part, Line)):
                yield _element(part, per_in, of=_about(part) if screen else "")
        yield "</g>"


def _joined_lines(members: Iterable[Ink], per_in: float) -> Iterator[str]:
    """All open lines of one class as one path: a browser draws hatching and crosses sooner so."""
    runs: dict[tuple[str, str], list[str]] = {}
    for part in members:
        if isinstance(part, Line):
            runs.setdefault((part.css, part.part), []).append(_run(part.points, per_in))
    for (css, part_of), drawn in runs.items():
        yield f'<path d="{" ".join(drawn)}"{_part(part_of)}{_class(css)}/>'


def _paint(style: Style, kind: str, per_in: float, *, screen: bool) -> str:
    if kind == "text":
        return f'fill="#000" font-family="{FAMILY}, {_FALLBACK_FAMILIES}"'
    if kind == "solid":
        return 'fill="#000"'
    factor = _SCREEN_PX_PER_IN if screen else per_in
    width = _SCREEN_WIDTH_PX[style is Style.FINISHED] if screen else style.width_in * per_in
    dashes = " ".join(_n(dash * factor) for dash in style.dashes_in)
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'fill="none" stroke="#000" stroke-width="{_n(width)}"{dashed}'


def _element(part: Ink, per_in: float, *, of: str) -> str:
    css = of + _class(part.css)
    match part:
        case Text():
            return _text(part, per_in, css)
        case Circle(center=(x, y), diameter_in=diameter_in, hole=hole):
            number = "" if hole is None else f' data-hole="{hole}"'
            place = f'cx="{_n(x * per_in)}" cy="{_n(-y * per_in)}" r="{_n(0.5 * diameter_in * per_in)}"'
            return f"<circle {place}{number}{css}/>"
        case Outline():
            return f'<path d="{_loop_path(part, per_in)}"{css}/>'
        case Solid(points=points):
            return f'<path d="{_run(points, per_in)} Z"{css}/>'
        case Line(points=points):
            return f'<path d="{_run(points, per_in)}"{css}/>'


def _class(css: str) -> str:
    return f" class={_quoted(css)}" if css else ""


def _part(path: str) -> str:
    return f" data-part={_quoted(path)}" if path else ""


def _about(part: Ink) -> str:
    """What a page is told of ink, so that it can letter it in its own size and find what it stands for."""
    of = _part(part.part)
    if isinstance(part, Text) and part.span:
        of += f' data-span="{" ".join(_place(end, 1.0) for end in part.span)}"'
        of += f" data-whole={_quoted(part.whole)}" if part.whole not in ("", part.words) else ""
    return of


def _loop_path(outline: Outline, per_in: float) -> str:
    """The edge as lines and arcs; a left turn of the sheet is a right turn in SVG, whose y runs down.

    An arc of more than a quarter is written as two: from ends and radius alone, a half circle has its center
    only to the root of the rounding.
    """
    pieces = list(outline.loop.pieces())
    words = [f"M {_place(pieces[0].start, per_in)}"]
    for piece in pieces:
        end = _place(piece.end, per_in)
        if isinstance(piece, Arc):
            radius = _n(piece.radius_in * per_in)
            turn = f"A {radius} {radius} 0 0 {int(piece.sweep_rad < 0.0)}"
            if abs(piece.sweep_rad) > 0.51 * math.pi:
                words.append(f"{turn} {_place(_middle(piece), per_in)}")
            words.append(f"{turn} {end}")
        else:
            words.append(f"L {end}")
    return " ".join([*words, "Z"])


def _middle(arc: Arc) -> tuple[float, float]:
    arm = complex(*arc.start) - complex(*arc.center)
    middle = complex(*arc.center) + arm * cmath.exp(0.5j * arc.sweep_rad)
    return middle.real, middle.imag


def _run(points: Iterable[tuple[float, float]], per_in: float) -> str:
    return "M " + " L ".join(_place(point, per_in) for point in points)


def _text(text: Text, per_in: float, css: str) -> str:
    x, y = _n(text.at[0] * per_in), _n(-text.at[1] * per_in)
    turn = f' transform="rotate({_n(-text.angle_deg)} {x} {y})"' if text.angle_deg else ""
    anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
    bold = ' font-weight="bold"' if text.bold else ""
    note = f" data-note={_quoted(text.note_id)}" if text.note_id else ""
    size, words = _n(text.height_in / CAPITAL_RATIO * per_in), escape(text.words)
    return f'<text x="{x}" y="{y}" font-size="{size}"{anchor}{bold}{turn}{note}{css}>{words}</text>'


def _view_box(box: Box, per_in: float) -> str:
    return " ".join(_n(value * per_in) for value in (box.left, -box.top, box.width_in, box.height_in))


def _place(point: tuple[float, float], per_in: float) -> str:
    return f"{_n(point[0] * per_in)} {_n(-point[1] * per_in)}"


@lru_cache(maxsize=1024)
def _quoted(words: str) -> str:
    return quoteattr(literal(words))


def _n(value: float) -> str:
    """A number to 1e-7 of the unit, without needless zeros."""
    text = f"{value:.7f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
