"""Shapes as signed distances: negative in the shape, never growing faster than the way gone.

Lengths [in]; x and y are arrays of one shape. Formulas of plane geometry, worked out for these tests.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from scipy.spatial import cKDTree

Values = np.ndarray
Shape = Callable[[Values, Values], Values]


def disc(diameter: float, x: float = 0.0, y: float = 0.0) -> Shape:
    """A round."""
    return lambda px, py: np.hypot(px - x, py - y) - diameter / 2.0


def rounded_rectangle(width: float, height: float, radius: float, x: float = 0.0, y: float = 0.0) -> Shape:
    """A rectangle round its center, one radius at its corners; an obround where the radius is half its height."""
    half_width, half_height = width / 2.0 - radius, height / 2.0 - radius

    def distance(px: Values, py: Values) -> Values:
        right, up = np.abs(px - x) - half_width, np.abs(py - y) - half_height
        outside = np.hypot(np.maximum(right, 0.0), np.maximum(up, 0.0))
        return outside + np.minimum(np.maximum(right, up), 0.0) - radius

    return distance


def cut_disc(diameter: float, flat: float, corner: float) -> Shape:
    """A round of that diameter with a flat at x = `flat`, both of its corners rounded: a D."""
    radius, chord = diameter / 2.0 - corner, flat - corner
    half = np.sqrt(radius**2 - chord**2)

    def distance(px: Values, py: Values) -> Values:
        across = np.abs(py)
        to_arc, to_flat = np.hypot(px, across) - radius, px - chord
        to_corner = np.hypot(px - chord, across - half)
        at_corner = (half * to_flat > -np.maximum(across - half, 0.0) * chord) & (across > half)
        outside = np.where(at_corner & (px * half > across * chord), to_corner, np.maximum(to_arc, to_flat))
        return outside - corner

    return distance


def bites(path: Values, cutter: float) -> Shape:
    """All that a round punch of that diameter takes away, one bite at each place, shape (n, 2)."""
    tree = cKDTree(path)

    def distance(px: Values, py: Values) -> Values:
        away, _ = tree.query(np.column_stack([px.ravel(), py.ravel()]))
        return np.asarray(away).reshape(px.shape) - cutter / 2.0

    return distance


def around(width: float, height: float, radius: float, along: Values) -> Values:
    """Places on the outline of a rounded rectangle, shape (n, 2), by their way along it from the middle of its right
    side, counterclockwise."""
    flat_x, flat_y, turn = width - 2.0 * radius, height - 2.0 * radius, np.pi * radius / 2.0
    runs = np.array([flat_y / 2.0, turn, flat_x, turn, flat_y, turn, flat_x, turn, flat_y / 2.0])
    ends = np.concatenate([[0.0], np.cumsum(runs)])
    at = np.asarray(along) % ends[-1]
    leg = np.clip(np.searchsorted(ends, at, side="right") - 1, 0, 8)
    gone = at - ends[leg] + np.where(leg == 0, flat_y / 2.0, 0.0)
    quarter = (leg + 1) // 2 % 4
    reach = np.where(quarter % 2 == 0, width, height) / 2.0
    flat = np.where(quarter % 2 == 0, flat_y, flat_x)
    is_corner = leg % 2 == 1
    angle = np.where(is_corner, gone / radius, 0.0)
    corner = (leg // 2) % 4
    turned = np.where(is_corner, corner, quarter) * np.pi / 2.0
    out = np.where(
        is_corner, np.where(corner % 2 == 0, width, height) / 2.0 - radius + radius * np.cos(angle), reach
    )
    side = np.where(
        is_corner, np.where(corner % 2 == 0, flat_y, flat_x) / 2.0 + radius * np.sin(angle), gone - flat / 2.0
    )
    return np.column_stack(
        [out * np.cos(turned) - side * np.sin(turned), out * np.sin(turned) + side * np.cos(turned)]
    )


def nibbled(width: float, height: float, radius: float, *, cutter: float, steps: Values) -> Shape:
    """An opening whose root line is a rounded rectangle, nibbled by a round punch in steps of those lengths [in]."""
    inset = cutter / 2.0
    path = around(width - cutter, height - cutter, radius - inset, np.cumsum(steps))
    return either(rounded_rectangle(width - cutter, height - cutter, radius - inset), bites(path, cutter))


def either(*shapes: Shape) -> Shape:
    """What is in any of them."""
    return lambda px, py: np.minimum.reduce([shape(px, py) for shape in shapes])


def without(whole: Shape, *cut: Shape) -> Shape:
    """What is in the whole and in nothing that is cut out of it."""
    return lambda px, py: np.maximum(whole(px, py), -either(*cut)(px, py)) if cut else whole(px, py)


def holes(centers: Values | Sequence[tuple[float, float]], diameters: Values | Sequence[float]) -> Shape:
    """Round holes at their centers, shape (n, 2)."""
    return either(*(disc(d, x, y) for (x, y), d in zip(np.asarray(centers), diameters, strict=True)))


def placed(shape: Shape, *, x: float, y: float, turn_rad: float) -> Shape:
    """The shape turned counterclockwise and then moved."""
    cos, sin = np.cos(turn_rad), np.sin(turn_rad)
    return lambda px, py: shape(cos * (px - x) + sin * (py - y), cos * (py - y) - sin * (px - x))
