"""Random openings for sweeps: each as the program draws it, and as a dense row of points by textbook trigonometry."""

from __future__ import annotations

import math

import numpy as np
import shapely
from scipy.spatial import cKDTree

from hatchwright.shapes.outlines import circle, d_shape, obround, polygon, rounded_rectangle
from hatchwright.shapes.profile import Profile, profile_of

KINDS = ("rounded rectangle", "circle", "obround", "D", "five corners", "L")
SPACING_IN = 0.005
TURN_RAD = 0.05


class Opening:
    """One opening, its middle near the origin; what it is like is known from its own points alone.

    A distance to the nearest point is too long by less than SPACING^2/8 over the distance: 6e-5 at .05.
    """

    def __init__(self, random: np.random.Generator, kind: str) -> None:
        self.kind = kind
        self.width, self.height = random.uniform(1.8, 3.2), random.uniform(1.2, 1.8)
        self.radius = float(random.choice([0.0, random.uniform(0.02, 0.5)]))
        self.legs = self.width * random.uniform(0.4, 0.7), self.height * random.uniform(0.4, 0.7)
        self.fillet = float(random.choice([0.0, random.uniform(0.02, 0.25)]))
        self.tip = random.uniform(0.2, 0.8)
        ring = self._ring()
        self.edge = _points(ring)
        self._area = shapely.Polygon(self.edge)
        self._tree = cKDTree(self.edge, leafsize=32)

    def profile(self) -> Profile:
        w, h, r = self.width, self.height, self.radius
        match self.kind:
            case "rounded rectangle":
                return profile_of(rounded_rectangle(width_in=w, height_in=h, radius_in=r))
            case "circle":
                return profile_of(circle(diameter_in=h))
            case "obround":
                return profile_of(obround(length_in=w, width_in=h))
            case "D":
                return profile_of(d_shape(width_in=w, height_in=h, radius_in=r))
        return profile_of(polygon(self._corners(), self._radii()))

    def depth(self, points):
        """How deep points lie in the opening, shape (n, 2); negative outside [in]."""
        off = self._tree.query(points)[0]
        return np.where(shapely.contains_xy(self._area, points[:, 0], points[:, 1]), off, -off)

    def depth_to(self, points, most_in):
        """The same where it is between 0 and a bound; told as 0 outside and as infinite deeper inside [in]."""
        found = np.zeros(len(points))
        inside = shapely.contains_xy(self._area, points[:, 0], points[:, 1])
        found[inside] = self._tree.query(points[inside], distance_upper_bound=most_in)[0]
        return found

    def _corners(self):
        x, y = self.width / 2.0, self.height / 2.0
        if self.kind == "five corners":
            return [(-x, -y), (x, -y), (x, y * (2.0 * self.tip - 1.0)), (0.2 * x, y), (-x, 0.6 * y)]
        if self.kind == "L":
            leg_x, leg_y = -x + self.legs[0], -y + self.legs[1]
            return [(-x, -y), (x, -y), (x, leg_y), (leg_x, leg_y), (leg_x, y), (-x, y)]
        return [(-x, -y), (x, -y), (x, y), (-x, y)]

    def _radii(self):
        count = len(self._corners())
        return [self.fillet * (0.3 + 0.7 * k / count) for k in range(count)]

    def _ring(self):
        """Corners with their radii, counter-clockwise."""
        x, y = self.width / 2.0, self.height / 2.0
        match self.kind:
            case "rounded rectangle":
                return list(zip(self._corners(), [self.radius] * 4, strict=True))
            case "circle":
                return [((a * y, b * y), y) for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
            case "obround":
                return list(zip(self._corners(), [y] * 4, strict=True))
            case "D":
                radii = [self.radius, y, y, self.radius]
                return [((a * x, b * y), r) for (a, b), r in
                        zip(((-1, -1), (1, -1), (1, 1), (-1, 1)), radii, strict=True)]  # fmt: skip
        return list(zip(self._corners(), self._radii(), strict=True))


def _points(ring):
    """Points along a ring of corners, each rounded: the arc's ends lie r tan(turn/2) from the corner on either side."""
    runs = []
    count = len(ring)
    for k in range(count):
        (before, _), (corner, radius), (after, _) = ring[k - 1], ring[k], ring[(k + 1) % count]
        corner = np.array(corner)
        come, go = corner - before, np.array(after) - corner
        come, go = come / np.hypot(*come), go / np.hypot(*go)
        turn = math.atan2(come[0] * go[1] - come[1] * go[0], come @ go)
        start = corner - come * radius * math.tan(abs(turn) / 2.0)
        side = math.copysign(1.0, turn) * np.array([-come[1], come[0]])
        middle = start + radius * side
        steps = max(1, math.ceil(abs(turn) * max(radius / SPACING_IN, 1.0 / TURN_RAD)))
        angles = np.linspace(0.0, turn, steps + 1 if radius else 1)
        arm = start - middle
        runs.append(
            middle
            + np.column_stack([
                arm[0] * np.cos(angles) - arm[1] * np.sin(angles),
                arm[0] * np.sin(angles) + arm[1] * np.cos(angles),
            ])
        )  # fmt: skip
    made = []
    for run, following in zip(runs, runs[1:] + runs[:1], strict=True):
        gap = following[0] - run[-1]
        shares = np.linspace(0.0, 1.0, max(1, math.ceil(np.hypot(*gap) / SPACING_IN)), endpoint=False)[1:]
        made += [run, run[-1] + shares[:, None] * gap]
    points = np.concatenate(made)
    return points[np.hypot(*(points - np.roll(points, 1, axis=0)).T) > 1e-9]
