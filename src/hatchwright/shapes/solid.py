"""A plate as a closed skin of triangles, for machines that build it up."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.said import said
from hatchwright.shapes.pieces import Floats, Integers, complex_of
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.shapes.triangulation import triangulated


class Solid(Struct, frozen=True, eq=False):
    """A body inside triangles.

    Args:
        vertices: shape (n, 3) [in].
        triangles: indices of the vertices, counter-clockwise seen from outside, shape (m, 3).
    """

    vertices: Floats
    triangles: Integers

    def refuse_open(self) -> None:
        """Refuse a body that would leak.

        Raises:
            GeometryError: an edge does not have exactly one triangle on either side, running opposite ways, or a
                triangle has no area.
        """
        edges = np.concatenate([self.triangles[:, pair] for pair in ([0, 1], [1, 2], [2, 0])])
        there, back = (edges @ (len(self.vertices), 1) for edges in (edges, edges[:, ::-1]))
        if len(np.unique(there)) != len(there) or not np.array_equal(np.sort(there), np.sort(back)):
            raise GeometryError(said("error.body_open"), remedy=said("error.report"))
        a, b, c = (self.vertices[self.triangles[:, k]] for k in range(3))
        if not (np.linalg.norm(np.cross(b - a, c - a), axis=1) > 0.0).all():
            raise GeometryError(said("error.body_triangle"), remedy=said("error.report"))


def plate_solid(profile: Profile, *, thickness_in: float, chord_error_in: float) -> Solid:
    """A plate of even thickness, its lower left corner at the origin and its lower face at Z 0.

    Args:
        chord_error_in: largest distance between an arc and its chords [in].
    Raises:
        GeometryError: the profile is empty, or its chords cross.
    """
    x_min, y_min, _, _ = profile.bounds
    outlines = [loop for loop in profile.loops if loop.area_sq_in > 0.0]
    parts = [_one_plate(_rings(outline, profile, chord_error_in), thickness_in) for outline in outlines]
    shifts = np.cumsum([0, *(len(part.vertices) for part in parts[:-1])])
    solid = Solid(
        np.concatenate([part.vertices for part in parts]) - (x_min, y_min, 0.0),
        np.concatenate([part.triangles + shift for part, shift in zip(parts, shifts, strict=True)]),
    )
    solid.refuse_open()
    return solid


def _rings(outline: Loop, profile: Profile, chord_error_in: float) -> list[Floats]:
    """The points of an outline and of the holes in it."""
    inside = Profile((outline,))
    holes = [
        hole for hole in profile.loops if hole.area_sq_in < 0.0 and inside.contains(hole.rows[:1, :2])[0]
    ]
    return [loop.points(chord_error_in) for loop in (outline, *holes)]


def _one_plate(rings: list[Floats], thickness_in: float) -> Solid:
    flat = np.concatenate(rings)
    count = len(flat)
    vertices = np.concatenate([np.column_stack([flat, np.full(count, z)]) for z in (0.0, thickness_in)])
    top = triangulated([complex_of(ring) for ring in rings]) + count
    starts = np.cumsum([0, *(len(ring) for ring in rings)])
    here = np.arange(count)
    there = np.concatenate([np.roll(here[a:b], -1) for a, b in pairwise(starts)])
    walls = np.concatenate(
        [np.column_stack([here, there, there + count]), np.column_stack([here, there + count, here + count])]
    )
    return Solid(vertices, np.concatenate([top, top[:, ::-1] - count, walls]))
