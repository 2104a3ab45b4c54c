"""How a doubler that lies inside gets in through the opening: flat and edge-on, bowed, or cut; each with what it asks.

Where a sheet passes the plane of the skin, what is cut out of it by that plane must lie inside the opening at every
moment. For a convex sheet that is flat and whole this means: its least width under the longest chord, whichever leg
goes first.
Method: docs/theory/way_in.md.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from typing import Literal

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import TableError
from hatchwright.ground import practice
from hatchwright.layout.behind_skin import depth_in, kept_beside_in, skin_in
from hatchwright.layout.bowed import DEEPEST, Bow, bow, sharper_at_window
from hatchwright.layout.layout import Layout, Part
from hatchwright.shapes.across import (
    Chord,
    is_convex,
    least_width,
    longest_chord,
    narrowest,
    strip_in,
    width_along,
)
from hatchwright.shapes.boolean import difference
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, Profile, profile_of
from hatchwright.tables.allowables import Allowables, allowables
from hatchwright.tables.materials import sheet

CLEAR_IN = 1.0 / 64.0
"""What is to stay between a bowed sheet and the edge of the opening, so that it slides [in]."""

YIELD_SHARE = 0.9
"""Of the yield strength that bowing may use [-]."""

BOWING = practice("share of the yield strength used in bowing a sheet, and its play in the opening")
"""What both rest on: no document gives them."""

_SAME_IN = 1e-4
_HALVINGS = 24
_OF_BOW = 12
"""A bow is found within a six-thousandth of its modulus, on the side that bends more [halvings]."""

Floats = npt.NDArray[np.float64]
Leads = Literal["short", "any", "askew"]


class Flat(Struct, frozen=True):
    """A piece held square to the skin, its least width along the longest chord.

    Args:
        width_in: its least width [in].
        across_deg: the direction on the piece along which that is taken, from X [deg].
        chord: longest line across the opening.
        room_in: how long a strip as thick as the sheet may be along the chord [in].
        leads: which leg goes first: the one as long as the least width, any, or none where that lies askew.
        behind_in: how far it reaches behind the outer face of the skin, held square until it is past [in].
        tilt_deg: the flattest that it may be held to the skin as it slides, 90 is square [deg].
        tilted_behind_in: how far it then reaches at least [in].
    """

    width_in: float
    across_deg: float
    chord: Chord
    room_in: float
    leads: Leads
    behind_in: float
    tilt_deg: float
    tilted_behind_in: float

    @property
    def fits(self) -> bool:
        """Whether it goes through."""
        return self.width_in < self.room_in

    @property
    def aside_in(self) -> float:
        """How far it runs behind the skin beside the opening when it is tilted so far [in]."""
        return self.behind_in * math.cos(math.radians(self.tilt_deg))


class Bowed(Struct, frozen=True):
    """The doubler squeezed across its least width until it clears the opening.

    Args:
        bow: the curve that it takes, bent least.
        rises_left: whether its middle stands off to the left of the chord, seen along it.
        sharper: how much sharper it bends there because its window leaves less metal [-].
        stress_psi: at its middle [psi].
        allowed: of its sheet; the row that gives its modulus and yield strength.
    """

    bow: Bow
    rises_left: bool
    sharper: float
    stress_psi: float
    allowed: Allowables

    @property
    def most_psi(self) -> float:
        """What bowing may use of the yield strength [psi]."""
        return YIELD_SHARE * self.allowed.fty_psi

    @property
    def is_elastic(self) -> bool:
        """Whether it springs back."""
        return self.stress_psi < self.most_psi


class CutRing(Struct, frozen=True):
    """A ring cut through one leg, its ends sprung apart square to its plane, and turned in like a key ring.

    Args:
        leg_in: the widest that a leg is where it passes the skin, at a corner [in].
        room_in: how long the opening is where it is that wide [in].
        apart_in: how far its ends are sprung apart at least [in].
        stress_psi: what that bends and twists it to, the greater; None where no table gives its modulus [psi].
        leg_to_cut: "x" or "y", the legs that run so carry least by the loads that were entered; None without loads.
    """

    leg_in: float
    room_in: float
    apart_in: float
    stress_psi: float | None
    leg_to_cut: Literal["x", "y"] | None


class WayIn(Struct, frozen=True):
    """The ways in that were found, in the order in which they are preferred.

    Args:
        pieces: outlines that go in one by one.
        flat: the widest of them, flat.
        bowed: the whole doubler bowed; None where it goes in flat, can't be bowed far enough, or is rolled or split.
        cut: the ring cut through one leg; None where it goes in flat or is no ring.
        halves: two halves of the doubler, cut along X and along Y: the direction of the cut and least width of a half
            [in]; only those that go in flat.
        is_proved: whether no other way of holding it whole and flat could bring it in.
        before: what lies behind the opening and is nearer than the piece reaches: name and depth from the outer face
            of the skin [in].
        is_rolled: whether the doubler is rolled to the skin, which none of this counts.
    """

    pieces: tuple[Loop, ...]
    flat: Flat
    bowed: Bowed | None
    cut: CutRing | None
    halves: tuple[tuple[Literal["x", "y"], float], ...]
    is_proved: bool
    before: tuple[tuple[str, float], ...]
    is_rolled: bool

    @property
    def can_bow(self) -> bool:
        """Whether it may be bowed in and springs back flat."""
        return self.bowed is not None and self.bowed.is_elastic


def way_in(layout: Layout) -> WayIn | None:
    """Find how the doubler of a layout gets in; None where there is none or it lies outside."""
    doubler = layout.part("doubler")
    if doubler is None or layout.job.doubler is None or layout.job.doubler.face == "outside":
        return None
    thick_in = max(doubler.thickness_in, doubler.measured_in or 0.0)
    pieces, opening, through_in = doubler_pieces(doubler), shortest_opening(layout), skin_in(layout)
    widest = max(pieces, key=least_width)
    flat = flat_way(opening, widest, thickness_in=thick_in, skin_in=through_in)
    is_rolled = layout.job.skin.curvature is not None
    bowed: Bowed | None = None
    cut: CutRing | None = None
    halves: tuple[tuple[Literal["x", "y"], float], ...] = ()
    if not flat.fits and len(pieces) == 1:
        bowed = None if is_rolled else _bowed(layout, doubler, opening, flat, thick_in)
        cut = _cut_ring(layout, doubler, opening, flat.chord, thick_in + through_in)
        halves = tuple(_halves(pieces[0], flat.room_in))
    return WayIn(
        pieces,
        flat,
        bowed,
        cut,
        halves,
        is_proved=all(map(is_convex, (opening, *pieces))) and not is_rolled,
        before=tuple(_before(layout, flat)),
        is_rolled=is_rolled,
    )


def shortest_opening(layout: Layout) -> Loop:
    """The opening that the doubler goes through: as drawn, or as it was measured where that is shorter across."""
    return min(layout.wanted, layout.opening, key=lambda loop: longest_chord(loop).length_in)


def doubler_pieces(doubler: Part) -> tuple[Loop, ...]:
    """The outlines that go in one by one: the whole doubler's, or those of the two pieces of a split one [in]."""
    outer, cut = doubler.edges[0].loop, doubler.edges[-1]
    if not cut.is_split:
        return (outer,)
    return difference(profile_of(outer), profile_of(cut.loop)).loops


def flat_way(opening: Loop, piece: Loop, *, thickness_in: float = 0.0, skin_in: float = 0.0) -> Flat:
    """How a flat piece lies in an opening that it goes through edge-on.

    Args:
        thickness_in: of the piece; 0 where it is not known [in].
        skin_in: thickness of the skin; 0 where it is not known [in].
    """
    width_in, across_deg = narrowest(piece)
    chord = longest_chord(opening)
    room_in = strip_in(opening, chord, thickness_in)
    travel_in = width_along(piece, across_deg + 90.0)
    tilt_deg, tilted_in = 90.0, travel_in + skin_in
    if width_in < room_in and thickness_in > 0.0 and is_convex(opening):
        sine = min(1.0, (thickness_in + skin_in) / _thickest(opening, chord, width_in, thickness_in))
        tilt_deg, tilted_in = math.degrees(math.asin(sine)), travel_in * sine + thickness_in + skin_in
    return Flat(
        width_in,
        across_deg,
        chord,
        room_in,
        _leads(piece),
        travel_in + skin_in,
        tilt_deg,
        min(tilted_in, travel_in + skin_in),
    )


@lru_cache(maxsize=16)
def _thickest(opening: Loop, chord: Chord, width_in: float, thickness_in: float) -> float:
    """The thickest strip as long as a width that still lies along a chord, never told too thick [in]."""
    low, high = thickness_in, chord.length_in
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if strip_in(opening, chord, middle) > width_in:
            low = middle
        else:
            high = middle
    return low


def _leads(piece: Loop) -> Leads:
    x_min, y_min, x_max, y_max = piece.bounds
    x_in, y_in = x_max - x_min, y_max - y_min
    if least_width(piece) < min(x_in, y_in) - _SAME_IN:
        return "askew"
    return "any" if abs(x_in - y_in) <= _SAME_IN else "short"


def sheet_allowables(layout: Layout, part: Part) -> Allowables | None:
    """What the sheet of a part is allowed to carry, None where no table has it."""
    try:
        kind = sheet(part.alloy, part.temper, part.clad, layout.shop)
        return allowables(kind, thickness_in=part.thickness_in, shop=layout.shop)
    except TableError:
        return None


def _bowed(layout: Layout, doubler: Part, opening: Loop, flat: Flat, thickness_in: float) -> Bowed | None:
    allowed = sheet_allowables(layout, doubler)
    found = least_bow(opening, flat.chord, flat.width_in, thickness_in)
    if allowed is None or found is None or not math.isfinite(allowed.fty_psi):
        return None
    curve, rises_left = found
    sharper = _sharper(doubler, flat)
    stress_psi = curve.stress_psi(
        thickness_in=thickness_in, e_psi=max(allowed.e_psi, allowed.ec_psi), sharper=sharper
    )
    return Bowed(curve, rises_left, sharper, stress_psi, allowed)


def _sharper(doubler: Part, flat: Flat) -> float:
    """Of a ring, its window taken as the box round it."""
    if len(doubler.edges) < 2:
        return 1.0
    outer, window = doubler.edges[0].loop, doubler.edges[1].loop
    across_in, along_in = (width_along(window, flat.across_deg + turned) for turned in (0.0, 90.0))
    whole_in = width_along(outer, flat.across_deg + 90.0)
    left_in = max(whole_in - along_in, _SAME_IN)
    return sharper_at_window(
        beside_ratio=0.5 * (1.0 - across_in / flat.width_in), stiffer_ratio=whole_in / left_in
    )


@lru_cache(maxsize=16)
def least_bow(opening: Loop, chord: Chord, length_in: float, thickness_in: float) -> tuple[Bow, bool] | None:
    """The least that a strip must be bowed to lie in an opening with `CLEAR_IN` all round, its ends on a chord.

    Returns:
        The curve and whether its middle stands off to the left of the chord; None where none was found.
    """
    flattest = bow(length_in, min(chord.length_in, length_in * (1.0 - 1e-6)))
    if flattest is None:
        return None
    best: tuple[Bow, bool] | None = None
    for rises_left in (True, False):
        low, high, found = flattest.modulus, DEEPEST, None
        for _ in range(_OF_BOW):
            curve = Bow(length_in, 0.5 * (low + high))
            if lies_inside(opening, chord, curve, thickness_in, rises_left=rises_left):
                high, found = curve.modulus, curve
            else:
                low = curve.modulus
        if found and (best is None or found.modulus < best[0].modulus):
            best = found, rises_left
    return best


def lies_inside(opening: Loop, chord: Chord, curve: Bow, thickness_in: float, *, rises_left: bool) -> bool:
    """Whether a bowed strip lies inside an opening with `CLEAR_IN` all round it; what its faces do between the points
    that are asked is added to that."""
    points, bulge_in = curve.faces(thickness_in)
    gaps = distances(Profile((opening,)), on_chord(points, chord, rises_left=rises_left))
    return bool(np.min(gaps.inward_in) >= CLEAR_IN + bulge_in)


def on_chord(points: Floats, chord: Chord, *, rises_left: bool) -> Floats:
    """Points of a curve laid onto a chord, middle on middle, shape (n, 2) [in]."""
    (x, y), side = chord.along, 1.0 if rises_left else -1.0
    placed: Floats = points @ np.array([[x, y], [-side * y, side * x]]) + chord.middle
    return placed


def _cut_ring(
    layout: Layout, doubler: Part, opening: Loop, chord: Chord, through_in: float
) -> CutRing | None:
    """Method: docs/theory/way_in.md, eq. 7 to 9."""
    if len(doubler.edges) < 2 or doubler.edges[-1].is_split or layout.job.mount or layout.job.patch:
        return None
    if not is_convex(opening):
        return None
    outer, inner = (edge.loop.bounds for edge in (doubler.edges[0], doubler.edges[1]))
    legs_in = [abs(one - other) for one, other in zip(outer, inner, strict=True)]
    leg_in = math.hypot(max(legs_in[0], legs_in[2]), max(legs_in[1], legs_in[3]))
    room_in = strip_in(opening, chord, leg_in)
    if room_in <= through_in:
        return None
    mean_in = [(outer[k + 2] - outer[k] + inner[k + 2] - inner[k]) / 2.0 for k in (0, 1)]
    sine = through_in / room_in
    apart_in = 2.0 * sum(mean_in) * sine / math.sqrt(1.0 - sine**2)
    stress_psi, allowed = None, sheet_allowables(layout, doubler)
    if allowed is not None and allowed.g_psi is not None:
        stress_psi = slit_ring_psi(
            apart_in=apart_in,
            radius_in=min(mean_in) / 2.0,
            thickness_in=doubler.thickness_in,
            e_psi=allowed.e_psi,
            g_psi=allowed.g_psi,
        )
    return CutRing(leg_in, room_in, apart_in, stress_psi, _least_loaded(layout))


def slit_ring_psi(
    *, apart_in: float, radius_in: float, thickness_in: float, e_psi: float, g_psi: float
) -> float:
    """Greatest bending or twisting stress in a slit round ring of thin strip whose ends are sprung apart square to its
    plane, eq. 9 [psi].

    Args:
        apart_in: the distance between its ends [in].
        radius_in: to the middle of the strip [in].
    """
    give = math.pi * (12.0 / e_psi + 9.0 / g_psi)  # of P R^3 / (w t^3)
    return 6.0 * apart_in * thickness_in / (give * radius_in**2)


def _least_loaded(layout: Layout) -> Literal["x", "y"] | None:
    """Legs along X carry what runs along X round the opening; those that run across the greater load carry least."""
    cases = layout.job.loads.cases
    nx = max((abs(float(case.nx)) for case in cases), default=0.0)
    ny = max((abs(float(case.ny)) for case in cases), default=0.0)
    if nx == ny:
        return None
    return "y" if nx > ny else "x"


def _halves(whole: Loop, room_in: float) -> Iterator[tuple[Literal["x", "y"], float]]:
    """A half is no wider than half of the whole one way, nor than the whole the other way."""
    x_min, y_min, x_max, y_max = whole.bounds
    x_in, y_in = x_max - x_min, y_max - y_min
    if (width_in := min(x_in / 2.0, y_in)) < room_in:
        yield "y", width_in
    if (width_in := min(x_in, y_in / 2.0)) < room_in:
        yield "x", width_in


def _before(layout: Layout, flat: Flat) -> Iterator[tuple[str, float]]:
    """What lies in the way behind the chord, nearer than the piece reaches held square."""
    (x_1, y_1), (x_2, y_2) = flat.chord.start, flat.chord.end
    box = min(x_1, x_2), min(y_1, y_2), max(x_1, x_2), max(y_1, y_2)
    for keep_out in layout.job.bay.keep_outs:
        x_from, y_from, x_to, y_to = keep_out.bounds_in
        off_in = math.hypot(
            max(x_from - box[2], box[0] - x_to, 0.0), max(y_from - box[3], box[1] - y_to, 0.0)
        )
        deep_in = depth_in(keep_out, layout, (box,))
        if off_in <= kept_beside_in(keep_out, 0.0) and deep_in < flat.behind_in:
            yield keep_out.name, deep_in
