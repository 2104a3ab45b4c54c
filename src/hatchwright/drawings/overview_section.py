"""The section through the stack: its sheets black, white gaps between them, named from outside; not to scale."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.block import Block
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Solid, Style, Text
from hatchwright.drawings.kind_view import SHEET, WIDTH, Bar, KindView
from hatchwright.drawings.marks import arrow
from hatchwright.drawings.parts_table import sheet_said
from hatchwright.layout.layout import Layout, PartName
from hatchwright.said import said
from hatchwright.words.of_job import said_of
from hatchwright.words.tell import tell

THICK_IN, GAP_IN = 0.075, 0.045
"""Of a sheet, and between sheets, whatever they are; at least .7 mm stays white [in]. Own choice."""

_ACROSS_IN = 2.9
_LEVEL_IN = THICK_IN + GAP_IN


def section_block(layout: Layout, *, letter_in: float) -> Block:
    """Draw the section along X through the middle of the opening, below it the name of each sheet by its number."""
    view = KindView(layout)
    bars = view.bars
    levels = {bar.name: round((bar.foot - view.skin_foot) / SHEET) for bar in bars}
    high, low = max(levels.values()), min(levels.values())
    row_in = 1.7 * letter_in
    title = tell(said("section.title"))
    ink: list[Ink] = [Text((0.0, -1.2 * letter_in), title, letter_in, bold=True)]
    width_in = ink[0].box().right
    top = -1.2 * letter_in - 0.5 * row_in
    ink.append(Text((0.0, top - letter_in), tell(said("section.outside")), letter_in))
    ink += arrow((ink[-1].box().right + 0.12, top - letter_in), 90.0, "", 0.22, letter_in)
    foot = top - 1.6 * row_in
    order = sorted(levels, key=lambda name: (-levels[name], _ORDER.index(name)))
    numbers = {name: str(place) for place, name in enumerate(order, start=1)}
    boxes = [(bar, _box(bar, levels[bar.name] - high, foot)) for bar in bars]
    for _, box in boxes:
        ink += filled(box)
    deepest = foot + (low - high) * _LEVEL_IN - THICK_IN
    for x in sorted({_x(float(view.at(hole.place)[0])) for hole in view.cut_holes}):
        ends = (x, foot + 0.07), (x, deepest - 0.07)
        ink.append(Line(ends, Layer.TEXT, Style.CENTER))
    ink += _numbers(boxes, numbers, levels, high, foot, deepest, letter_in)
    y = deepest - 0.2 - 1.2 * letter_in
    x_words = tell(said("section.along", x=layout.frame.x))
    ink.append(Text((_ACROSS_IN, y - letter_in), x_words, letter_in, anchor=Anchor.END))
    parts = {part.name: part for part in layout.parts}
    y -= row_in
    for name in order:
        part = said_of(layout.job.kind, said(f"part.{name}"))
        sheet = sheet_said(parts[name])
        words = tell(said("section.sheet", number=numbers[name], part=part, sheet=sheet), layout.job.unit)
        text = Text((0.0, y - letter_in), words, letter_in)
        ink.append(text)
        width_in = max(width_in, text.box().right)
        y -= row_in
    return Block(tuple(ink), max(width_in, _ACROSS_IN + 0.1), -y)


_ORDER: tuple[PartName, ...] = ("cover", "plug", "skin", "doubler")


def _numbers(
    boxes: list[tuple[Bar, Box]],
    numbers: dict[PartName, str],
    levels: dict[PartName, int],
    high: int,
    foot: float,
    deepest: float,
    letter_in: float,
) -> Iterator[Ink]:
    """The number of each sheet, of the first bar of it, above the section or below."""
    seen: set[PartName] = set()
    for bar, box in boxes:
        if bar.name in seen:
            continue
        seen.add(bar.name)
        is_above = levels[bar.name] == high
        x = box.left + (
            0.12 if bar.name == "skin" else 0.5 * box.width_in if bar.name in ("cover", "plug") else 0.1
        )
        start = x, box.top if is_above else box.bottom
        end = x + 0.06, (foot + 0.13) if is_above else (deepest - 0.13)
        yield Line((start, end), Layer.TEXT, Style.DIMENSION)
        at = end[0] + 0.03, end[1] - (0.0 if is_above else letter_in)
        yield Text(at, numbers[bar.name], letter_in)


def _x(units: float) -> float:
    return _ACROSS_IN * units / WIDTH


def _box(bar: Bar, level: int, foot: float) -> Box:
    top = foot + level * _LEVEL_IN
    return Box(_x(bar.left), top - THICK_IN, _x(bar.right), top)


def filled(box: Box) -> tuple[Solid, ...]:
    """A black rectangle of triangles that cover each other's seams, so that no hair of white shows."""
    a, b, c, d = box.corners[:4]
    corners = ((a, b, c), (a, c, d), (a, b, d), (b, c, d))
    return tuple(Solid(three, layer=Layer.TEXT) for three in corners)
