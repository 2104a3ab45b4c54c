"""The key hole of a template: one hole that fits its mark on the skin only when the template lies as it should.

A template that is its own mirror image can be turned round, turned over, or laid on the other side of the aircraft,
and nobody sees it. The key hole lies where no turn and no flip brings it back to itself; the mark for it is drawn on
the skin from the datums, or drilled in the waste. Method: docs/theory/key.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.layout.layout import Layout
from hatchwright.shapes.distance import distances
from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.profile import Profile
from hatchwright.tooling.guide_template import GuideChain
from hatchwright.tooling.template_holes import plate, template_holes

WALL_IN = 0.25
"""Least material round the key hole [in]. Common practice, no source."""

SEEN_IN = 0.125
"""A mark that lies this far from the middle of its key hole is seen to be wrong [in]. Common practice, no source."""

_GRID = 61
_SAME_IN = 1e-6

Matrix = tuple[tuple[float, float], tuple[float, float]]
FACE_UP: tuple[Matrix, ...] = (
    ((1.0, 0.0), (0.0, 1.0)),
    ((0.0, -1.0), (1.0, 0.0)),
    ((-1.0, 0.0), (0.0, -1.0)),
    ((0.0, 1.0), (-1.0, 0.0)),
)
FACE_DOWN: tuple[Matrix, ...] = (
    ((-1.0, 0.0), (0.0, 1.0)),
    ((1.0, 0.0), (0.0, -1.0)),
    ((0.0, 1.0), (1.0, 0.0)),
    ((0.0, -1.0), (-1.0, 0.0)),
)


@dataclass(frozen=True, slots=True)
class Key:
    """The key hole of a template.

    Args:
        centre: in the job's frame, where the mark on the skin belongs too (x, y) [in].
        diameter_in: as wide as the end mill [in].
        apart_in: how far the hole comes off its mark at least, whichever wrong way the template is laid; infinite when
            it fits in no other way at all [in].
        in_page: from the middle of the template, on the page that shows the skin from outside (right, up) [in].
        ways: face up, the ways in which the template's outline fits the same place, the right one among them.
    """

    centre: tuple[float, float]
    diameter_in: float
    apart_in: float
    in_page: tuple[float, float]
    ways: tuple[Matrix, ...]


def key_of(layout: Layout, chain: GuideChain) -> Key:
    """Choose the key hole of a job's template.

    Args:
        layout: as derived.
        chain: its template.
    Returns:
        Key: where every wrong way to lay the template shows most.
    Raises:
        GeometryError: the template has no room for one that shows.
    Method: docs/theory/key.md.
    """
    body, size_in = plate(layout, chain), chain.guide.end_mill_in
    x_min, y_min, x_max, y_max = body.bounds
    middle = np.array([(x_min + x_max) / 2.0, (y_min + y_max) / 2.0])
    ways = [way for way in (*FACE_UP[1:], *FACE_DOWN) if _maps(body, np.array(way), middle)]
    places = _room(layout, chain, body, size_in) - middle
    if not len(places):
        raise _no_room()
    apart = np.full(len(places), math.inf)
    for way in ways:
        apart = np.minimum(apart, np.hypot(*(places @ np.array(way).T - places).T))
    best = int(np.argmax(np.round(apart, 6)))
    if apart[best] < SEEN_IN:
        raise _no_room()
    x, y = places[best]
    return Key(
        centre=(float(x + middle[0]), float(y + middle[1])),
        diameter_in=size_in,
        apart_in=float(apart[best]),
        in_page=layout.frame.to_page(float(x), float(y)),
        ways=tuple(way for way in FACE_UP if way == FACE_UP[0] or way in ways),
    )


def _no_room() -> GeometryError:
    return GeometryError(
        "the template has no room for a key hole that shows which way it lies",
        where="template.border",
        remedy="Widen the border, or cut one corner of the plate off",
    )


def misfit_in(template: Key, job: Key) -> float:
    """How far the key hole of a template lies off the mark of a job, laid face up in the way that suits it best.

    Args:
        template: key of the template in hand.
        job: key of the job that it is laid on.
    Returns:
        float: 0 for its own job [in].
    """
    hole, mark = np.array(template.in_page), np.array(job.in_page)
    return min(float(np.hypot(*(np.array(way) @ hole - mark))) for way in template.ways)


def fits(template: Key, job: Key) -> bool:
    """Whether a template laid face up on a job shows the job's mark in its key hole."""
    return misfit_in(template, job) < SEEN_IN


def _maps(body: Profile, way: Floats, middle: Floats) -> bool:
    """Whether the template's edge comes to lie on itself when it is laid that way: every vertex and every middle."""
    moved, edge = body.transformed(way, middle - way @ middle).working_form(), body.working_form()
    off, _ = edge.distance(np.concatenate([moved.start, moved.middle]))
    return bool(off.max() < _SAME_IN)


def _room(layout: Layout, chain: GuideChain, body: Profile, size_in: float) -> Floats:
    """Places with wall enough all round, farthest from the middle first, shape (n, 2)."""
    x_min, y_min, x_max, y_max = body.bounds
    across, up = np.meshgrid(np.linspace(x_min, x_max, _GRID), np.linspace(y_min, y_max, _GRID))
    places = np.column_stack([across.ravel(), up.ravel()])
    found = distances(body, places)
    is_free = found.inside & (found.distance_in >= size_in / 2.0 + WALL_IN)
    for one in template_holes(layout, chain):
        off = np.hypot(places[:, 0] - one.hole.x_in, places[:, 1] - one.hole.y_in)
        is_free &= off >= (size_in + one.pilot_in) / 2.0 + WALL_IN
    places = places[is_free]
    middle = np.array([(x_min + x_max) / 2.0, (y_min + y_max) / 2.0])
    order: Floats = places[np.argsort(-np.hypot(*(places - middle).T), kind="stable")]
    return order
