"""A quadrilateral from its four sides and both diagonals: one length more than it needs, so that a wrong one shows.

Corners A, B, C and D in order; A is the zero, B lies along X from it, D toward Y.
Method: docs/theory/site.md, eq. 7 to 9.   Source: [JCGM 100:2008], 5.1.2 for the uncertainties.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.metrology.propagated import Floats, Propagated, combined, covariance
from hatchwright.metrology.routes import Place

LENGTHS = {"ab": (0, 1), "bc": (1, 2), "cd": (2, 3), "da": (3, 0), "ac": (0, 2), "bd": (1, 3)}
"""Each length by the corners that it joins."""

TRIANGLES = (("ab", "bc", "ac"), ("cd", "da", "ac"), ("ab", "da", "bd"), ("bc", "cd", "bd"))
"""The three lengths of each triangle of corners."""

_STEPS, _SETTLED = 50, 1e-12
_FREE = (2, 4, 5, 6, 7)
"""What is looked for of x and y of A, B, C and D in a row: A is the zero, and B has no y."""


def triangle_over(
    lengths: Mapping[str, Propagated], triangle: tuple[str, str, str]
) -> tuple[str, Propagated]:
    """The longest side of a triangle, and what it has over the other two together: more than 0 is no triangle."""
    longest = max(triangle, key=lambda name: lengths[name].value)
    others = [name for name in triangle if name != longest]
    over = lengths[longest].value - sum(lengths[name].value for name in others)
    terms = [(1.0, lengths[longest]), *((-1.0, lengths[name]) for name in others)]
    return longest, combined(over, terms)


def worked_out(lengths: Mapping[str, Propagated], name: str = "cd") -> Propagated:
    """One length as the five others give it.

    Raises:
        GeometryError: the five make no quadrilateral whose corners lie in order round it.
    """
    five = {one: lengths[one] for one in LENGTHS if one != name}
    first, last = LENGTHS[name]
    return _distance(corner_places(five), first, last)


def angle_sum_deg(lengths: Mapping[str, Propagated]) -> Propagated:
    """Sum of the four corner angles, each from its own triangle: 360 where the six lengths close [deg]."""
    corners = (("da", "ab", "bd"), ("ab", "bc", "ac"), ("bc", "cd", "bd"), ("cd", "da", "ac"))
    total, terms = 0.0, []
    for one, other, across in corners:
        b, c, a = (lengths[name].value for name in (one, other, across))
        cosine = (b * b + c * c - a * a) / (2.0 * b * c)
        if not -1.0 < cosine < 1.0:
            raise GeometryError.saying("quadrilateral.none")
        total += math.degrees(math.acos(cosine))
        slope = math.degrees(1.0 / math.sqrt(1.0 - cosine * cosine))
        terms += [
            (slope * a / (b * c), lengths[across]),
            (-slope * (1.0 / c - cosine / b), lengths[one]),
            (-slope * (1.0 / b - cosine / c), lengths[other]),
        ]
    return combined(total, terms)


def corner_places(lengths: Mapping[str, Propagated]) -> tuple[Place, Place, Place, Place]:
    """Places of the four corners by least squares, weighed by the covariance of five or six lengths.

    Raises:
        GeometryError: fewer than five, or they make no quadrilateral whose corners lie in order round it.
    Method: docs/theory/site.md, eq. 9: Gauss-Newton from the rectangle of the mean sides.
    """
    names = [name for name in LENGTHS if name in lengths]
    if len(names) < len(_FREE):
        raise GeometryError.saying("quadrilateral.few")
    numbers = [lengths[name] for name in names]
    taped = np.array([one.value for one in numbers])
    places = _rectangle(lengths)
    try:
        weights = np.linalg.inv(covariance(numbers))
        for _ in range(_STEPS):
            found, slopes = _lengths_of(places, names)
            gain = np.linalg.solve(slopes.T @ weights @ slopes, slopes.T @ weights)
            step = gain @ (taped - found)
            places[list(_FREE)] += step
            if np.abs(step).max() <= _SETTLED * taped.max():
                break
        else:
            raise GeometryError.saying("quadrilateral.none")
    except np.linalg.LinAlgError:
        raise GeometryError.saying("quadrilateral.none") from None
    if not _in_order(places):
        raise GeometryError.saying("quadrilateral.none")
    rates = np.zeros((8, len(names)))
    rates[list(_FREE)] = gain
    at = [
        combined(float(place), list(zip(map(float, rate), numbers, strict=True)))
        for place, rate in zip(places, rates, strict=True)
    ]
    return (at[0], at[1]), (at[2], at[3]), (at[4], at[5]), (at[6], at[7])


def _rectangle(lengths: Mapping[str, Propagated]) -> Floats:
    """x and y of A, B, C and D of the rectangle of the mean sides, where the search begins."""
    wide = [lengths[name].value for name in ("ab", "cd") if name in lengths]
    high = [lengths[name].value for name in ("bc", "da") if name in lengths]
    x, y = sum(wide) / len(wide), sum(high) / len(high)
    return np.array([0.0, 0.0, x, 0.0, x, y, 0.0, y])


def _lengths_of(places: Floats, names: list[str]) -> tuple[Floats, Floats]:
    """The lengths between places, and how they change with what is looked for."""
    points = places.reshape(4, 2)
    ends = np.array([LENGTHS[name] for name in names])
    steps = points[ends[:, 1]] - points[ends[:, 0]]
    found: Floats = np.hypot(steps[:, 0], steps[:, 1])
    if not found.all():
        raise np.linalg.LinAlgError
    ways = steps / found[:, None]
    slopes = np.zeros((len(names), 8))
    for row, ((first, last), way) in enumerate(zip(ends.tolist(), ways, strict=True)):
        slopes[row, 2 * last : 2 * last + 2] = way
        slopes[row, 2 * first : 2 * first + 2] = -way
    return found, slopes[:, list(_FREE)]


def _in_order(places: Floats) -> bool:
    """Whether the corners run counterclockwise round a convex quadrilateral."""
    sides = np.roll(places.reshape(4, 2), -1, axis=0) - places.reshape(4, 2)
    ahead = np.roll(sides, -1, axis=0)
    return bool(np.all(sides[:, 0] * ahead[:, 1] - sides[:, 1] * ahead[:, 0] > 0.0))


def _distance(corners: tuple[Place, ...], first: int, last: int) -> Propagated:
    (x1, y1), (x2, y2) = corners[first], corners[last]
    x, y = x2.value - x1.value, y2.value - y1.value
    distance = math.hypot(x, y)
    across, up = x / distance, y / distance
    return combined(distance, [(across, x2), (-across, x1), (up, y2), (-up, y1)])
