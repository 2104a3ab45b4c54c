"""Distances to an edge of lines and arcs, to judge a traced path: plain arithmetic, not the engine that planned it."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise

Point = tuple[float, float]


Nearest = tuple[float, Point | None]
"""How near an edge lies [in], and its unit direction there; None at a vertex, where it has two."""


class TracedEdge:
    """A closed edge as rows of x, y and bulge."""

    def __init__(self, rows: Iterable[tuple[float, float, float]]) -> None:
        closed = [tuple(float(value) for value in row) for row in rows]
        ends = pairwise([*closed, closed[0]])
        self._pieces = [_Piece((a[0], a[1]), (b[0], b[1]), a[2]) for a, b in ends]
        self.length_in = math.fsum(piece.length_in for piece in self._pieces)
        self.area_sq_in = math.fsum(piece.area_sq_in for piece in self._pieces)

    def nearest(self, point: Point) -> Nearest:
        """The nearest place to a point (x, y) [in]."""
        return min((piece.nearest(point) for piece in self._pieces), key=lambda found: found[0])

    def has_inside(self, point: Point) -> bool:
        """Whether a point (x, y) [in] lies inside the closed edge, whichever way it runs."""
        turned = math.fsum(piece.turned_about(point) for piece in self._pieces)
        return abs(turned) > math.pi


class _Piece:
    def __init__(self, start: Point, end: Point, bulge: float) -> None:
        self.start, self.end, self.bulge = start, end, bulge
        chord = math.dist(start, end)
        self.sweep_rad = 4.0 * math.atan(bulge)
        self.length_in, self.area_sq_in = chord, 0.5 * (start[0] * end[1] - end[0] * start[1])
        self.direction = ((end[0] - start[0]) / chord, (end[1] - start[1]) / chord)
        if bulge:
            self.radius_in = 0.25 * chord * (1.0 / abs(bulge) + abs(bulge))
            off = 0.25 * chord * (1.0 / bulge - bulge)
            self.hub = (
                0.5 * (start[0] + end[0]) - off * self.direction[1],
                0.5 * (start[1] + end[1]) + off * self.direction[0],
            )
            self.length_in = self.radius_in * abs(self.sweep_rad)
            self.area_sq_in += 0.5 * self.radius_in**2 * (self.sweep_rad - math.sin(self.sweep_rad))

    def nearest(self, point: Point) -> Nearest:
        to_ends = min(math.dist(point, self.start), math.dist(point, self.end))
        away = (point[0] - self.start[0], point[1] - self.start[1])
        if not self.bulge:
            along = away[0] * self.direction[0] + away[1] * self.direction[1]
            if 0.0 < along < self.length_in:
                across = away[1] * self.direction[0] - away[0] * self.direction[1]
                return abs(across), self.direction
            return to_ends, None
        arm = (point[0] - self.hub[0], point[1] - self.hub[1])
        if 0.0 < self._share(arm) < 1.0:
            size, sign = math.hypot(*arm), math.copysign(1.0, self.bulge)
            return abs(size - self.radius_in), (-sign * arm[1] / size, sign * arm[0] / size)
        return to_ends, None

    def turned_about(self, point: Point) -> float:
        """By how much the direction to a place that runs along the piece turns, seen from a point off it [rad]."""
        steps = 1 + int(abs(self.sweep_rad) / 0.05)
        places = [self._at(k / steps) for k in range(steps + 1)]
        arms = [(x - point[0], y - point[1]) for x, y in places]
        return math.fsum(
            math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]) for a, b in pairwise(arms)
        )

    def _at(self, share: float) -> Point:
        (x, y), (end_x, end_y) = self.start, self.end
        if not self.bulge:
            return x + share * (end_x - x), y + share * (end_y - y)
        (hub_x, hub_y), angle = self.hub, share * self.sweep_rad
        cos, sin = math.cos(angle), math.sin(angle)
        return hub_x + (x - hub_x) * cos - (y - hub_y) * sin, hub_y + (x - hub_x) * sin + (y - hub_y) * cos

    def _share(self, arm: Point) -> float:
        """How far round the arc an arm from its center points, as a share of its sweep."""
        first = (self.start[0] - self.hub[0], self.start[1] - self.hub[1])
        turn = math.atan2(first[0] * arm[1] - first[1] * arm[0], first[0] * arm[0] + first[1] * arm[1])
        share = turn / self.sweep_rad
        return share if share >= 0.0 else share + 2.0 * math.pi / abs(self.sweep_rad)
