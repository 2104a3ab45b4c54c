"""Triangles over a flat region with holes, by clipping ears: no vertex is added and none is moved.

Every hole is first joined to the outline by a bridge that crosses nothing; then ears are cut off the one ring that is
left: corners that stick out and hold no other corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.said import said
from hatchwright.shapes.pieces import Bools, Complexes, Floats, Integers, pair_of

_FLAT_SQ_IN = 1e-12
_SAME_SQ_IN = 1e-9


def triangulated(rings: Sequence[Complexes]) -> Integers:
    """Divide a region into triangles.

    Args:
        rings: corners x + iy of each edge, the outline counter-clockwise first, then its holes clockwise; none crosses
            itself or another [in].
    Returns:
        ndarray: indices into the rings put one after the other, counter-clockwise, shape (n, 3).
    Raises:
        GeometryError: the rings cross or run the wrong way, or the answer failed its own check.
    """
    z = np.concatenate([*rings])
    starts = np.cumsum([0, *(len(ring) for ring in rings)])
    outline, *holes = (list(range(a, b)) for a, b in pairwise(starts))
    edges = np.concatenate([np.column_stack([ring, np.roll(ring, -1)]) for ring in (outline, *holes)])
    for hole in sorted(holes, key=lambda ring: -float(z[ring].real.max())):
        outline = _joined(z, outline, hole, edges)
    triangles = _without_flat(z, _ears(z, outline))
    area = 0.5 * sum(float((ring.conj() * np.roll(ring, -1)).imag.sum()) for ring in rings)
    covered = 0.5 * float(_doubled(z, triangles).sum())
    if abs(covered - area) > _SAME_SQ_IN * (1.0 + area):
        raise GeometryError(said("error.triangles_short"), place=pair_of(z[0]))
    return triangles


def _joined(z: Complexes, ring: list[int], hole: list[int], edges: Integers) -> list[int]:
    """The ring that goes round an outline, over a bridge, round a hole and back over the bridge."""
    first = int(np.argmax(z[hole].real))
    tip = z[hole[first]]
    for place in np.argsort(np.abs(z[ring] - tip), kind="stable"):
        if _opens_to(z, ring, int(place), tip) and not _crosses(
            z[ring[place]], tip, z[edges[:, 0]], z[edges[:, 1]]
        ):
            around = [*hole[first:], *hole[: first + 1]]
            return [*ring[: place + 1], *around, *ring[place:]]
    raise GeometryError(said("error.hole_apart"), place=pair_of(tip))


def _opens_to(z: Complexes, ring: list[int], place: int, tip: complex) -> bool:
    """Whether the region lies between a corner of the ring and a point, right at the corner."""
    corner = z[ring[place]]
    before, after = z[ring[place - 1]] - corner, z[ring[(place + 1) % len(ring)]] - corner
    ways = np.angle(np.array([tip - corner, before]) / after) % (2.0 * np.pi)
    return bool(0.0 < ways[0] < ways[1])


def _crosses(start: complex, end: complex, a: Complexes, b: Complexes) -> bool:
    """Whether a straight way meets an edge anywhere but in the ends that they share."""
    apart = (a != start) & (b != start) & (a != end) & (b != end)
    way, sides = end - start, [((point - start) * np.conj(end - start)).imag for point in (a, b)]
    ends = [((point - a) * np.conj(b - a)).imag for point in (start, end)]
    met = (sides[0] * sides[1] <= 0.0) & (ends[0] * ends[1] <= 0.0)
    on_way = [
        (side == 0.0) & (np.abs((point - start) / way - 0.5) < 0.5)
        for side, point in zip(sides, (a, b), strict=True)
    ]
    return bool((met & apart).any() or on_way[0].any() or on_way[1].any())


def _ears(z: Complexes, ring: list[int]) -> Integers:
    left, triangles = list(ring), []
    is_reflex = [_turn(z, left, place) <= 0.0 for place in range(len(left))]
    place = 0
    tried = 0
    while len(left) > 3:
        if tried > len(left):
            raise GeometryError(said("error.no_triangles"), place=pair_of(z[left[0]]))
        place %= len(left)
        if is_reflex[place] or not _is_ear(z, left, place, np.array(is_reflex)):
            place, tried = place + 1, tried + 1
            continue
        triangles.append((left[place - 1], left[place], left[(place + 1) % len(left)]))
        del left[place], is_reflex[place]
        for neighbor in (place - 1, place % len(left)):
            is_reflex[neighbor] = _turn(z, left, neighbor) <= 0.0
        place, tried = place + 1, 0
    return np.array([*triangles, tuple(left)], dtype=np.intp)


def _without_flat(z: Complexes, triangles: Integers) -> Integers:
    """Triangles of no height parted: the neighbor across the longest side is divided at the corner that lies on it."""
    kept = [tuple(int(corner) for corner in triangle) for triangle in triangles]
    flat = [index for index, doubled in enumerate(_doubled(z, triangles)) if doubled <= _FLAT_SQ_IN]
    for _ in range(4 * len(kept)):
        if not flat:
            return np.array(kept, dtype=np.intp)
        index = flat.pop()
        a, b, c = kept[index]
        for _ in range(3):
            if abs(z[a] - z[c]) >= max(abs(z[a] - z[b]), abs(z[b] - z[c])):
                break
            a, b, c = b, c, a
        other = next(
            (n for n, t in enumerate(kept) if n != index and (a, c) in zip(t, (*t[1:], t[0]), strict=True)),
            None,
        )
        if other is None:
            break
        (d,) = set(kept[other]) - {a, c}
        kept[index], kept[other] = (a, b, d), (b, c, d)
        changed = np.array([kept[index], kept[other]])
        flat += [
            n
            for n, w in zip((index, other), _doubled(z, changed), strict=True)
            if w <= _FLAT_SQ_IN and n not in flat
        ]
    raise GeometryError(said("error.no_triangles"), place=pair_of(z[kept[0][0]]))


def _doubled(z: Complexes, triangles: Integers) -> Floats:
    """Twice the area of each triangle [sq in]."""
    a, b, c = (z[triangles[:, k]] for k in range(3))
    doubled: Floats = ((b - a).conj() * (c - a)).imag
    return doubled


def _turn(z: Complexes, ring: list[int], place: int) -> float:
    """Twice the area of the corner at a place, positive when it sticks out [sq in]."""
    a, b, c = z[ring[place - 1]], z[ring[place]], z[ring[(place + 1) % len(ring)]]
    return float(((b - a).conjugate() * (c - b)).imag)


def _is_ear(z: Complexes, ring: list[int], place: int, is_reflex: Bools) -> bool:
    """Whether no other corner lies in the triangle of a corner; only those that point inwards can."""
    corners = z[[ring[place - 1], ring[place], ring[(place + 1) % len(ring)]]]
    others = z[np.array(ring)[is_reflex]]
    others = others[~np.isin(others, corners)]
    inside = np.ones(len(others), dtype=np.bool_)
    for a, b in zip(corners, np.roll(corners, -1), strict=True):
        inside &= ((b - a).conjugate() * (others - a)).imag >= 0.0
    return not inside.any()
