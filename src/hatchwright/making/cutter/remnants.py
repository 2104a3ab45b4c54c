"""What a cut leaves standing and what it takes too much of, each place by itself, named, and drawn large enough to see.

Method: docs/theory/guide_template.md, Corners, Tongues and necks.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

import numpy as np
from msgspec import Struct

from hatchwright.judged import FLOAT_NOISE
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.shapes.boolean import difference
from hatchwright.shapes.corners import corners
from hatchwright.shapes.distance import distances
from hatchwright.shapes.pieces import Complexes, Floats, Pieces, complex_of
from hatchwright.shapes.profile import Arc, Line, Loop, Profile
from hatchwright.shapes.stations import corner_middles, places_at

Name = Literal["corner", "slot", "neck", "re-entrant corner", "tongue", "wall"]

_ON_IN = 1e-7
_SHALLOW_IN = 1e-6
_SAMPLES = 201
_HALF_TURN_RAD = math.pi - 1e-6

_FACTORS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
_WIDEST_IN = 0.4
_PLACES = 900
_CHORD_IN = 1e-4


class Remnant(Struct, frozen=True):
    """One place where the cut and the wanted line differ.

    Args:
        name: left standing: a corner, a slot too narrow for the cut, or a neck between two parts; cut too far: a
            re-entrant corner, a tongue of skin, or a wall between two parts.
        is_over: whether it is cut too far, which is never filed back.
        depth_in: farthest that the two edges lie apart there [in].
    """

    name: Name
    is_over: bool
    depth_in: float
    place: tuple[float, float]
    area_sq_in: float


def remnants(chain: GuideChain) -> tuple[Remnant, ...]:
    """Every place where the predicted cut misses the wanted line, over-cut ones first, then the deepest."""
    if max(chain.deviation.under_cut.depth_in, chain.deviation.over_cut.depth_in) <= _SHALLOW_IN:
        return ()
    found = [
        *_regions(chain.wanted, chain.predicted, is_over=False),
        *_regions(chain.predicted, chain.wanted, is_over=True),
    ]
    return tuple(sorted(found, key=lambda one: (not one.is_over, -one.depth_in)))


def _regions(whole: Profile, part: Profile, *, is_over: bool) -> Iterator[Remnant]:
    made, wanted = (whole, part) if is_over else (part, whole)
    made_edge, wanted_edge = made.working_form(), wanted.working_form()
    for loop in difference(whole, part).loops:
        if loop.area_sq_in <= 0.0:
            continue
        depth_in, place = _depth(loop, made_edge, wanted_edge)
        if depth_in > _SHALLOW_IN:
            name = _name(loop, made_edge, wanted, is_over=is_over)
            yield Remnant(name, is_over, depth_in, place, loop.area_sq_in)


def _depth(loop: Loop, made: Pieces, wanted: Pieces) -> tuple[float, tuple[float, float]]:
    """The point of the region's edge that lies farthest from one of the two edges, of equal ones on the wanted line."""
    z = np.concatenate([_along(piece) for piece in loop.pieces()])
    off, to_wanted = made.distance(z)[0], wanted.distance(z)[0]
    if to_wanted.max() > off.max() + FLOAT_NOISE:
        off = to_wanted
    k = int(off.argmax())
    return float(off[k]), (float(z[k].real), float(z[k].imag))


def _along(piece: Line | Arc) -> Complexes:
    """Points along a piece, its ends and its middle among them, shape (n,)."""
    shares, start = np.linspace(0.0, 1.0, _SAMPLES).astype(np.complex128), complex(*piece.start)
    if isinstance(piece, Line):
        return start + shares * (complex(*piece.end) - start)
    center = complex(*piece.center)
    return center + (start - center) * np.exp(1j * piece.sweep_rad * shares)


def _name(loop: Loop, made: Pieces, wanted: Profile, *, is_over: bool) -> Name:
    """A region bounded twice by the made edge parts two rooms; one whose wanted edge turns right back is a dead end."""
    parts = loop.working_form()
    is_made = made.distance(parts.middle)[0] < _ON_IN
    if int(np.sum(is_made & ~np.roll(is_made, 1))) > 1:
        return "wall" if is_over else "neck"
    places = [corner for outline in wanted.loops for corner in corners(outline)]
    on_region = parts.distance(complex_of([corner.place for corner in places]))[0] < _ON_IN
    turn_rad = sum(corner.turn_rad for corner, is_on in zip(places, on_region, strict=True) if is_on)
    if abs(turn_rad) >= _HALF_TURN_RAD:
        return "tongue" if is_over else "slot"
    return "re-entrant corner" if is_over else "corner"


class Exaggerated(Struct, frozen=True):
    """A cut whose deviation is drawn `factor` times, as closed runs of its edge, shape (n, 2) [in]."""

    factor: int
    runs: tuple[Floats, ...]
    labels: tuple[Remnant, ...]


def exaggerated(chain: GuideChain) -> Exaggerated:
    """Draw the predicted cut with its deviation made visible: by a round factor with which the deepest place
    is drawn no more than .4 in off; a place that is deeper than that is drawn as it is."""
    labels = remnants(chain)
    deepest_in = max((one.depth_in for one in labels), default=0.0)
    factor = max(f for f in _FACTORS if f == 1 or 0.0 < f * deepest_in <= _WIDEST_IN)
    runs = [loop.points(_CHORD_IN) for loop in chain.predicted.loops]
    if factor > 1:
        runs = [_drawn(loop, chain, factor) for loop in chain.wanted.loops]
    return Exaggerated(factor, tuple(runs), labels)


def _drawn(loop: Loop, chain: GuideChain, factor: int) -> Floats:
    """Every place of the wanted line moved towards the nearest place of the cut, the factor times as far as it lies."""
    even = np.arange(_PLACES) * loop.length_in / _PLACES
    vertices = np.append(0.0, np.cumsum(loop.working_form().length_in)[:-1])
    places = places_at(loop, np.unique(np.concatenate([even, vertices, corner_middles(loop)]))).points
    drawn: Floats = places + factor * (distances(chain.predicted, places).foot - places)
    return drawn
