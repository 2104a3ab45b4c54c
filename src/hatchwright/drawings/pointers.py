"""Letters in the small picture of a kind of job: each beside the drawing, with a line to what its figure gives."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from hatchwright.drawings.kind_view import HEIGHT, SHEET, WIDTH, KindView, Spot
from hatchwright.drawings.picture import Picture
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.layout import Hole, PartName

_ROUND = 17.0
"""Radius of the ring round a letter [units]."""

_APART = 2.0 * _ROUND + 6.0
_CAPITAL = 17.0

Size = tuple[Spot, Spot]
"""The two ends of a size that is drawn as a line with arrows."""


def point_at(view: KindView, picture: Picture, letters: Mapping[str, str]) -> None:
    """Draw the letters.

    Args:
        letters: field to its letter; one that the job does not show gets none.
    """
    columns: dict[bool, list[tuple[Spot, str]]] = {False: [], True: []}
    for field, letter in letters.items():
        size = _size(view, field)
        if size is not None and np.hypot(*np.subtract(*size)) > 4.0 * _ROUND:
            _draw_size(picture, size, letter)
            continue
        spot = size[1] if size else _spot(view, field)
        if spot is not None:
            is_right = spot[0] > WIDTH / 2.0
            columns[is_right].append((spot, letter))
    for is_right, found in columns.items():
        _draw_column(picture, found, WIDTH - _ROUND - 3.0 if is_right else _ROUND + 3.0)


def _draw_size(picture: Picture, size: Size, letter: str) -> None:
    start, end = np.array(size[0]), np.array(size[1])
    middle = (start + end) / 2.0
    picture.arrows([(middle, start), (middle, end)], width=1.5, head=14.0)
    off = (end - start) * 0.16
    _draw_letter(picture, tuple((middle - off).tolist()), letter)


def _draw_column(picture: Picture, found: Sequence[tuple[Spot, str]], x: float) -> None:
    """Letters one above the other, each as near to the height of its spot as the others let it."""
    in_order = sorted(found, key=lambda one: one[0][1])
    heights = _spread([spot[1] for spot, _ in in_order])
    for y, (spot, letter) in zip(heights, in_order, strict=True):
        picture.line([(x, y), spot], width=1.5)
        picture.discs(spot, 3.5, gray=0.0)
        _draw_letter(picture, (x, y), letter)


def _spread(wanted: Sequence[float]) -> list[float]:
    """Heights in the picture, in order, no two nearer than a letter takes [units]."""
    heights: list[float] = []
    for number, height in enumerate(wanted):
        room_above = (len(wanted) - 1 - number) * _APART
        lowest = heights[-1] + _APART if heights else _ROUND + 3.0
        heights.append(max(lowest, min(height, HEIGHT - _ROUND - 3.0 - room_above)))
    return heights


def _draw_letter(picture: Picture, at: Spot, letter: str) -> None:
    picture.discs(at, _ROUND, gray=1.0, outline=2.0)
    picture.words((at[0], at[1] - _CAPITAL / 2.0), letter, height=_CAPITAL, anchor="middle")


def _size(view: KindView, field: str) -> Size | None:
    """The ends of a size of the opening, each size beside the middle; None of any other field."""
    x, y = view.layout.center_in
    left, low, right, high = view.layout.wanted.bounds
    if not field.startswith("opening."):
        return None
    across = view.spot(left, y - 0.2 * (high - low)), view.spot(right, y - 0.2 * (high - low))
    upright = view.spot(x + 0.28 * (right - left), low), view.spot(x + 0.28 * (right - left), high)
    is_obround = view.layout.job.opening.shape == "obround"
    sizes = {
        "diameter": (view.spot(left, y), view.spot(right, y)),
        "length": across,
        "height": upright,
        "width": upright if is_obround else across,
    }
    return sizes.get(field.removeprefix("opening."))


def _spot(view: KindView, field: str) -> Spot | None:
    """Where the line of a letter ends, None where the job does not show what it means."""
    section, _, entry = field.partition(".")
    layout = view.layout
    left, _, _, high = layout.wanted.bounds
    if field == "opening.center":
        return view.spot(*layout.center_in)
    if field == "opening.radius":
        points = layout.wanted.points(0.005)
        return view.spot(*points[np.argmax(points @ np.array([-1.0, 1.0]))].tolist())
    if entry in ("thickness", "plug.thickness"):
        part: dict[str, PartName] = {"skin": "skin", "doubler": "doubler", "cover": "cover", "patch": "plug"}
        return _sheet(view, part[section])
    if field == "cover.lap":
        bars = [bar for bar in view.bars if bar.name == "cover"]
        hole = view.spot(left, high)[0]
        return ((bars[0].left + hole) / 2.0, bars[0].foot + SHEET) if bars else None
    if field == "mount.base" and view.base:
        return view.spot(view.base.bounds[0], view.base.bounds[3])
    return _fastener(view, field)


def _sheet(view: KindView, name: PartName) -> Spot | None:
    """In a sheet of the section: the skin at its end, others in their middle."""
    bars = [bar for bar in view.bars if bar.name == name]
    if not bars:
        return None
    bar = bars[-1]
    share = 0.94 if name == "skin" else 0.7
    return bar.left + share * (bar.right - bar.left), bar.foot + SHEET / 2.0


_MOST: Mapping[str, Callable[[Hole], float]] = {
    "rivet": lambda hole: 0.6 * hole.x_in - hole.y_in,
    "pitch": lambda hole: -hole.x_in + 0.6 * hole.y_in,
    "size": lambda hole: hole.x_in + hole.y_in,
    "screw_size": lambda hole: hole.x_in + hole.y_in,
}
"""Which hole of a row a letter points at, by what is told of it: the one with the most."""


def _fastener(view: KindView, field: str) -> Spot | None:
    """A fastener, or the middle between two that are neighbors."""
    section, *_, told = field.split(".")
    layout = view.layout
    rows = list(layout.rows().values())
    if section == "rows":
        number = int(field.split(".")[1])
        holes = rows[number] if number < len(rows) else ()
    else:
        holes = base_screw_holes(layout) if section == "mount" else layout.holes_of("screw")
    if not holes or told not in _MOST:
        return None
    picked = max(holes, key=_MOST[told])
    if told != "pitch":
        return view.spot(*picked.place)
    at = holes.index(picked)
    other = holes[(at + 1) % len(holes)]
    return view.spot((picked.x_in + other.x_in) / 2.0, (picked.y_in + other.y_in) / 2.0)
