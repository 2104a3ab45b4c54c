"""The center of the opening by each route of a survey, the gap between them, the best estimate, and what to tape to it.

Method: docs/theory/site.md.
"""

from __future__ import annotations

import math
from functools import cached_property, lru_cache
from itertools import combinations

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import HatchwrightError
from hatchwright.job.frame import OPPOSITE, Direction, Frame, directions_on_page
from hatchwright.job.site import CORNERS, Site, SiteRoute
from hatchwright.layout.site.landmarks import Landmark, called, landmarks, named
from hatchwright.metrology.meeting import meeting
from hatchwright.metrology.propagated import Propagated, added, as_read, combined, less
from hatchwright.metrology.quadrilateral import LENGTHS, corner_places
from hatchwright.metrology.routes import Apart, BestPlace, Place, apart, best_place
from hatchwright.said import Said, inch, said

FEWEST_LENGTHS = 5
"""Lengths between corners that place them [-]."""

_ACROSS = ({"A", "C"}, {"B", "D"})
"""Two corners with the bay on both sides of the line between them: circles about them meet in it twice."""


class RoutePlace(Struct, frozen=True):
    """The center by one route.

    Args:
        place: X and Y, None where the route gives none [in].
        why: why it gives none.
    """

    name: str
    place: Place | None
    why: Said | None = None

    @property
    def at_in(self) -> tuple[float, float] | None:
        """X and Y [in]."""
        return None if self.place is None else (self.place[0].value, self.place[1].value)

    @property
    def u_in(self) -> tuple[float, float] | None:
        """Their expanded uncertainties [in]."""
        return None if self.place is None else (self.place[0].u, self.place[1].u)


class Gap(Struct, frozen=True):
    """How far two routes lie apart."""

    one: str
    other: str
    apart: Apart


class Tape(Struct, frozen=True):
    """One distance that a helper tapes to the marked center.

    Args:
        landmark: the row or flange edge that it is taped from, square to it, or the letter of a corner.
        axis: along which it is taped, 0 for X, 1 for Y; None from a corner.
        expected: what it has to be [in].
        taped: what the helper read, None while nobody did [in].
    """

    landmark: str
    axis: int | None
    expected: Propagated
    taped: Propagated | None = None

    @property
    def off(self) -> Propagated | None:
        """Taped less expected, with the uncertainty of both [in]."""
        return None if self.taped is None else less(self.taped, self.expected)


class Center(Struct, frozen=True, dict=True):
    """All that a survey says of the center.

    Args:
        routes: in the order in which they were entered.
        corners: places of A, B, C and D, None where their lengths don't give them [in].
    """

    site: Site
    lines: tuple[Landmark, ...]
    corners: tuple[Place, ...] | None
    routes: tuple[RoutePlace, ...]

    @cached_property
    def gaps(self) -> tuple[Gap, ...]:
        """Between each two routes that give a place."""
        placed = [(route.name, route.place) for route in self.routes if route.place is not None]
        return tuple(
            Gap(one, other, apart(here, there)) for (one, here), (other, there) in combinations(placed, 2)
        )

    @cached_property
    def gap(self) -> Gap | None:
        """The widest of them, None with fewer than two routes."""
        return max(self.gaps, key=lambda gap: gap.apart.distance_in, default=None)

    @cached_property
    def best(self) -> BestPlace | None:
        """Weighted best estimate; None where no route gives a place."""
        placed = [route.place for route in self.routes if route.place is not None]
        return best_place(placed) if placed else None

    @cached_property
    def tapes(self) -> tuple[Tape, ...]:
        """What to tape: from the nearest landmark on each of the four sides, then from the corners that are known."""
        if self.best is None:
            return ()
        found = [*_along(self.lines, self.best.place), *_across(self.corners or (), self.best.place)]
        taped: dict[int, list[Tape]] = {}
        for index, line in enumerate(self.site.tapes):
            of = [k for k, one in enumerate(found) if called(one.landmark) == called(line.landmark)]
            if not of:
                continue  # R940 asks from where it was taped
            read = as_read(f"tapes.{index}", line.distance.inch, self.site.u_in(line.u))
            # Landmarks along X and Y may bear one name: it was taped from the one that it fits best.
            k = min(of, key=lambda k: abs(found[k].expected.value - read.value))
            taped.setdefault(k, []).append(replace(found[k], taped=read))
        return tuple(tape for k, one in enumerate(found) for tape in taped.get(k, [one]))


@lru_cache(maxsize=8)  # several rules ask for the same center
def center_of(site: Site, frame: Frame) -> Center:
    """Follow each route of a survey to the center."""
    lines, corners = landmarks(site), corners_of(site)
    routes = tuple(_followed(site, k, frame, lines, corners) for k in range(len(site.routes)))
    return Center(site, lines, corners, routes)


def lengths_of(site: Site) -> dict[str, Propagated]:
    """The lengths between corners that were taped, by their names such as ``ab``."""
    entered = site.corners
    if entered is None:
        return {}
    taped = {name: getattr(entered, name) for name in LENGTHS}
    u_in = site.u_in(entered.u)
    return {
        name: as_read(f"corners.{name}", one.inch, u_in) for name, one in taped.items() if one is not None
    }


def corners_of(site: Site) -> tuple[Place, ...] | None:
    """Places of the corners, None where too few lengths were taped or they make no quadrilateral."""
    lengths = lengths_of(site)
    if len(lengths) < FEWEST_LENGTHS:
        return None
    try:
        return corner_places(lengths)
    except HatchwrightError:
        return None  # R934 and R935 say why


def _followed(
    site: Site, index: int, frame: Frame, lines: tuple[Landmark, ...], corners: tuple[Place, ...] | None
) -> RoutePlace:
    route = site.routes[index]
    if route.from_corners:
        return _from_corners(site, route, index, corners)
    x, why = _along_axis(site, route, index, 0, frame, lines)
    if x is None:
        return RoutePlace(route.name, None, why)
    y, why = _along_axis(site, route, index, 1, frame, lines, x.value)
    if y is None:
        return RoutePlace(route.name, None, why)
    x, _ = _along_axis(site, route, index, 0, frame, lines, y.value)
    assert x is not None  # it had a side before, and has the same
    return RoutePlace(route.name, (x, y))


def _along_axis(
    site: Site,
    route: SiteRoute,
    index: int,
    axis: int,
    frame: Frame,
    lines: tuple[Landmark, ...],
    along_in: float | None = None,
) -> tuple[Propagated | None, Said | None]:
    """Where the center lies along one axis, or why that can't be told."""
    name, toward = (route.x_from, route.x_toward) if axis == 0 else (route.y_from, route.y_toward)
    distance = route.x if axis == 0 else route.y
    found = named(lines, name, axis)
    assert distance is not None  # the route gives both
    letter = "XY"[axis]
    if len(found) != 1:
        id = "site.route_two_landmarks" if found else "site.route_no_landmark"
        return None, said(id, name=name, axis=letter)
    line = found[0]
    at = line.at(along_in)
    taped = as_read(f"routes.{index}.{letter.lower()}", distance.inch, site.u_in(route.u))
    way = _way(at.value, distance.inch, toward, axis, frame, lines)
    if way is None and toward is not None:
        return None, said("site.route_toward", name=line.name, toward=toward, axis=letter)
    if way is None:
        low, high = _reach(lines, axis)
        inside = [w for w in (-1.0, 1.0) if low <= at.value + w * distance.inch <= high]
        id = "site.route_both_ways" if inside or low == high else "site.route_outside"
        return None, said(id, name=line.name, distance=inch(distance.inch), axis=letter)
    return (added(at, taped) if way > 0.0 else less(at, taped)), None


def _way(
    at_in: float,
    distance_in: float,
    toward: Direction | None,
    axis: int,
    frame: Frame,
    lines: tuple[Landmark, ...],
) -> float | None:
    """Which way a distance runs from a landmark: as it says, else into the bay where only one way does; None else."""
    if toward is not None:
        seen, own = directions_on_page(frame.side, frame.surface), (frame.x, frame.y)[axis]
        ways = {seen[own]: 1.0, seen[OPPOSITE[own]]: -1.0}
        return ways.get(seen[toward]) if toward in seen else None
    low, high = _reach(lines, axis)
    inside = [way for way in (-1.0, 1.0) if low < at_in + way * distance_in < high]
    return inside[0] if len(inside) == 1 else None


def _reach(lines: tuple[Landmark, ...], axis: int) -> tuple[float, float]:
    """The outermost landmarks along an axis [in]."""
    at = [line.at().value for line in lines if line.axis == axis]
    return min(at), max(at)


def _from_corners(site: Site, route: SiteRoute, index: int, corners: tuple[Place, ...] | None) -> RoutePlace:
    if corners is None:
        return RoutePlace(route.name, None, said("site.route_no_corners"))
    if set(route.from_corners) in _ACROSS:
        one, other = route.from_corners
        return RoutePlace(route.name, None, said("site.route_across", one=one, other=other))
    known, taped = [], []
    for letter, distance in route.from_corners.items():
        known.append(corners[CORNERS.index(letter)])
        taped.append(as_read(f"routes.{index}.{letter.lower()}", distance.inch, site.u_in(route.u)))
    middle = tuple(sum(place[axis].value for place in corners) / len(corners) for axis in (0, 1))
    try:
        return RoutePlace(route.name, meeting(known, taped, (middle[0], middle[1])))
    except HatchwrightError:
        return RoutePlace(route.name, None, said("site.route_no_meeting"))


def _along(lines: tuple[Landmark, ...], center: Place) -> list[Tape]:
    """Square to the nearest row on each side, or to the nearest flange edge where no row lies there."""
    found = []
    for axis, side in ((0, -1.0), (0, 1.0), (1, -1.0), (1, 1.0)):
        across = center[1 - axis].value
        at = [(line, less(line.at(across), center[axis])) for line in lines if line.axis == axis]
        there = [(line, off) for line, off in at if side * off.value > 0.0]
        there = [one for one in there if not one[0].bound] or there
        if there:
            line, off = min(there, key=lambda one: abs(one[1].value))
            found.append(Tape(line.name, axis, combined(abs(off.value), [(side, off)])))
    return found


def _across(corners: tuple[Place, ...], center: Place) -> list[Tape]:
    """Straight to each corner."""
    found = []
    for letter, place in zip(CORNERS, corners, strict=bool(corners)):
        x, y = (less(one, other) for one, other in zip(center, place, strict=True))
        distance = math.hypot(x.value, y.value)
        if distance:
            terms = [(x.value / distance, x), (y.value / distance, y)]
            found.append(Tape(letter, None, combined(distance, terms)))
    return found
