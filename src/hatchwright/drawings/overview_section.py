"""The section through the stack: its sheets black, white gaps between them, named from outside; not to scale."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.block import Block
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import LEAST_IN, Anchor, Ink, Layer, Line, Solid, Style, Text
from hatchwright.drawings.kind_view import SHEET, WIDTH, Bar, KindView
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
    facing = tell(said("section.facing", x=layout.frame.x))
    ink.append(Text((0.0, -1.2 * letter_in - row_in), facing, letter_in))
    width_in = max(one.box().right for one in ink)
    foot = -1.2 * letter_in - row_in - 0.12 - 1.5 * letter_in
    order = sorted(levels, key=lambda name: (-levels[name], _ORDER.index(name)))
    numbers = {name: str(place) for place, name in enumerate(order, start=1)}
    boxes = _parted([(bar, _box(bar, levels[bar.name] - high, foot)) for bar in bars])
    boxes = [(bar, box) for bar, box in boxes if box.width_in > LEAST_IN]
    for _, box in boxes:
        ink += filled(box)
    deepest = foot + (low - high) * _LEVEL_IN - THICK_IN
    for x in sorted({_x(float(view.at(hole.place)[0])) for hole in view.cut_holes}):
        ends = (x, foot + 0.07), (x, deepest - 0.07)
        ink.append(Line(ends, Layer.TEXT, Style.CENTER))
    ink += _numbers(boxes, numbers, letter_in)
    y = deepest - 0.14
    parts = {part.name: part for part in layout.parts}
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


def _numbers(boxes: list[tuple[Bar, Box]], numbers: dict[PartName, str], letter_in: float) -> Iterator[Ink]:
    """The number of each sheet at its left end; of a cover or plug between others of its level on a leader above."""
    seen: set[PartName] = set()
    for bar, box in boxes:
        if bar.name in seen:
            continue
        seen.add(bar.name)
        beside = (other for _, other in boxes if other.right <= box.left and other.top == box.top)
        if not any(True for _ in beside):
            middle = 0.5 * (box.bottom + box.top - letter_in)
            yield Text((box.left - 0.05, middle), numbers[bar.name], letter_in, anchor=Anchor.END)
            continue
        x = 0.5 * (box.left + box.right)
        end = x + 0.06, box.top + 0.1
        yield Line(((x, box.top), end), Layer.TEXT, Style.DIMENSION)
        yield Text((end[0] + 0.03, end[1]), numbers[bar.name], letter_in)


def _parted(boxes: list[tuple[Bar, Box]]) -> list[tuple[Bar, Box]]:
    """The same, a cover or plug in the opening drawn in from the skin so that white shows between them."""
    skin = [box for bar, box in boxes if bar.name == "skin"]
    low, high = min(box.right for box in skin) + GAP_IN, max(box.left for box in skin) - GAP_IN
    level = skin[0].top
    return [
        (bar, Box(max(box.left, low), box.bottom, min(box.right, high), box.top))
        if bar.name in ("cover", "plug") and box.top == level
        else (bar, box)
        for bar, box in boxes
    ]


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
