"""Smooth outlines for the tests, fitted with pairs of arcs from exact points and tangents."""

from __future__ import annotations

import numpy as np

from hatchwright.shapes.profile import Loop


def ellipse(*, a: float, b: float, pieces: int = 64) -> Loop:
    """An ellipse with half axes a along x and b along y."""
    angle = np.arange(pieces) * 2 * np.pi / pieces
    return biarcs(a * np.cos(angle) + 1j * b * np.sin(angle), -a * np.sin(angle) + 1j * b * np.cos(angle))


def hypotrochoid(*, m: float, pieces: int = 128) -> Loop:
    """The curve z = w + m / w^3 on the unit circle w: a square with rounded corners."""
    w = np.exp(1j * np.arange(pieces) * 2 * np.pi / pieces)
    return biarcs(w + m / w**3, 1j * w * (1 - 3 * m / w**4))


def biarcs(points: np.ndarray, tangents: np.ndarray) -> Loop:
    """Two tangent arcs between each pair of points, tangents kept."""
    t0 = tangents / np.abs(tangents)
    p1, t1 = np.roll(points, -1), np.roll(t0, -1)
    v = p1 - points

    def dot(x, y):
        return (x.conj() * y).real

    bend = 2 * (1 - dot(t0, t1))
    both = dot(v, t0 + t1)
    reach = (-both + np.sqrt(both**2 + bend * dot(v, v))) / bend
    joint = (points + reach * t0 + p1 - reach * t1) / 2
    rows = []
    for start, end, tangent in ((points, joint, t0), (joint, p1, None)):
        chord = end - start
        half = np.angle(chord / tangent) if tangent is not None else np.angle(t1 / chord)
        bulge = np.where(np.abs(half) < 1e-6, 0.0, np.tan(half / 2))
        rows.append(np.column_stack([start.real, start.imag, bulge]))
    return Loop(np.stack(rows, axis=1).reshape(-1, 3))
