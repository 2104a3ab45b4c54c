"""A small picture of a kind of job, made from its layout, with letters at the figures that a new job asks for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from hatchwright.drawings.kind_view import HEIGHT, SHEET, WIDTH, KindView, Spot
from hatchwright.drawings.picture import Picture
from hatchwright.drawings.pointers import point_at
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.layout import Hole, Layout, PartName

_TONES: Mapping[PartName, float] = {"skin": 0.45, "doubler": 0.72, "cover": 0.92, "plug": 0.92}
"""Gray of each sheet, 0 black to 1 white; it only repeats what the lines say [-]."""

_LEAST_HOLE = 3.0
"""Radius under which a hole would not be seen [units]."""


def kind_picture(layout: Layout, title: str, letters: Mapping[str, str] | None = None) -> bytes:
    """Draw a job as SVG: its plan from outside, and below it a section.

    Args:
        title: said to readers that cannot see it.
        letters: field such as ``opening.width`` or ``rows.0.pitch`` to its letter; None to draw none.
    """
    view, picture = KindView(layout), Picture(WIDTH, HEIGHT, title)
    _plan(view, picture)
    _section(view, picture)
    point_at(view, picture, letters or {})
    return picture.svg()


def _plan(view: KindView, picture: Picture) -> None:
    layout = view.layout
    for part in layout.parts:
        rings = [view.ring(edge.loop) for edge in part.edges]
        if part.name == "doubler":
            picture.lines(rings, width=2.0, dash="11 5", closed=True)
        elif part.name != "skin":
            picture.area(rings, gray=_TONES[part.name], outline=2.0)
    picture.lines([view.ring(layout.wanted)], width=4.0, closed=True)
    if view.base:
        picture.lines([view.ring(view.base)], width=3.0, closed=True)
    if patch := layout.job.patch:
        picture.line(view.at([[length.inch for length in point.at] for point in patch.extent]), width=3.0)
    _holes(view, picture)
    x, y = view.spot(*layout.center_in)
    picture.lines([[(x - 9, y), (x + 9, y)], [(x, y - 9), (x, y + 9)]], width=1.5)


def _holes(view: KindView, picture: Picture) -> None:
    """Circles; crossed, and larger for its head, where a screw goes in."""
    alike: dict[tuple[bool, float], list[tuple[float, float]]] = {}
    for hole in (*view.layout.holes, *base_screw_holes(view.layout)):
        radius = max(view.scale * (hole.nominal_in or 0.0) / 2.0, _LEAST_HOLE)
        alike.setdefault((hole.kind == "screw", radius), []).append(view.spot(hole.x_in, hole.y_in))
    for (is_screw, radius), centers in alike.items():
        picture.discs(centers, radius * (1.6 if is_screw else 1.0), gray=1.0, outline=1.5)
        for x, y in centers if is_screw else ():
            picture.lines([[(x - radius, y), (x + radius, y)], [(x, y - radius), (x, y + radius)]], width=1.5)


def _section(view: KindView, picture: Picture) -> None:
    for bar in view.bars:
        width = bar.right - bar.left
        sheet = [(0.0, 0.0), (width, 0.0), (width, SHEET), (0.0, SHEET)]
        _set(picture, sheet, (bar.left, bar.foot), gray=_TONES[bar.name])
    _mounted(view, picture)
    for hole in view.cut_holes:
        _fastener(view, picture, hole)
    plain = view.layout.job.plain_hole
    if plain and plain.edge == "grommet":
        x_from, _, x_to, _ = view.layout.wanted.bounds
        up = view.skin_foot + SHEET - view.low
        for x_in, to in ((x_from, 1.0), (x_to, -1.0)):
            lips = [(-9, -7), (9, -7), (9, up + 7), (-9, up + 7), (-9, up), (0, up), (0, 0), (-9, 0)]
            _set(picture, [(to * x, y) for x, y in lips], (view.spot(x_in, 0.0)[0], view.low), gray=0.0)


def _fastener(view: KindView, picture: Picture, hole: Hole) -> None:
    """Its axis, its head, and behind the sheets a shop head or a nut."""
    x, job, is_screw = view.spot(hole.x_in, 0.0)[0], view.layout.job, hole.kind == "screw"
    head = view.skin_foot + SHEET * (2.0 if view.is_lapped and "cover" in hole.stack else 1.0)
    foot = view.low if "doubler" in hole.stack or job.doubler is None else view.skin_foot
    half, deep = (9.0, 13.0) if is_screw else (5.0, 5.0)
    picture.line([(x, foot - deep - 4.0), (x, head + 9.0)], width=2.0)
    behind = [(-half, -deep), (half, -deep), (half, 0.0), (-half, 0.0)]
    _set(picture, behind, (x, foot), gray=1.0 if is_screw else 0.0)
    screws = job.cover.screws if job.cover else None
    if is_screw and screws and "flush" in screws.head:
        cap = [(-half, 0.0), (half, 0.0), (3.0, -half), (-3.0, -half)]
    else:
        cap = [(-half, 0.0), (half, 0.0), (half - 2.0, 5.0), (2.0 - half, 5.0)]
    _set(picture, cap, (x, head), gray=0.0)


def _mounted(view: KindView, picture: Picture) -> None:
    """What is mounted: an antenna stands outside, all else hangs inside and looks out."""
    mount = view.layout.job.mount
    if mount is None:
        return
    half, x = view.scale * mount.base[0].inch / 2.0, view.spot(*view.layout.center_in)[0]
    if mount.kind == "antenna":
        right = [(half, 0.0), (half, 9.0), (0.2 * half, 16.0), (0.1 * half, 62.0)]
        _set(picture, _both_sides(right), (x, view.skin_foot + SHEET), gray=_TONES["cover"])
        return
    right = [(half, 0.0), (half, -9.0), (0.55 * half, -9.0), (0.55 * half, -44.0)]
    _set(picture, _both_sides(right), (x, view.low), gray=_TONES["cover"])
    _set(picture, _both_sides([(0.3 * half, 0.0), (0.24 * half, 24.0)]), (x, view.low), gray=1.0)


def _both_sides(right: Sequence[Spot]) -> list[Spot]:
    """The outline of what is alike left and right of its middle."""
    return [*right, *((-x, y) for x, y in reversed(right))]


def _set(picture: Picture, shape: Sequence[Spot], at: Spot, *, gray: float) -> None:
    """Draw a shape with its origin at a place."""
    picture.area([np.array(shape) + np.array(at)], gray=gray, outline=2.0)
