"""Triangles over a region and the plate raised on them: closed, of the exact area, without a triangle that overlaps.

The areas are compared with shapely, a general-purpose polygon library.
"""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.shapes.outlines import circle, rounded_rectangle
from hatchwright.shapes.pieces import complex_of
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.shapes.solid import Solid, plate_solid
from hatchwright.shapes.triangulation import triangulated
from shapes.drawn import profiles

CHORD_IN = 1e-3


def drilled(*holes, width=4.0, height=3.0):
    plate = rounded_rectangle(width_in=width, height_in=height, radius_in=0.5)
    return Profile((plate, *(circle(diameter_in=d, center=c).reversed() for d, c in holes)))


def volume_cu_in(solid):
    """By the divergence theorem; positive when the triangles face outwards."""
    a, b, c = (solid.vertices[solid.triangles[:, k]] for k in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0)


def covered(rings, triangles):
    """Area by shapely, and the sum of the triangles' own areas."""
    points = np.concatenate(rings)
    parts = [shapely.Polygon(points[t]) for t in triangles]
    return shapely.union_all(parts), sum(part.area for part in parts)


@pytest.mark.parametrize(
    "holes",
    [
        (),
        ((1.0, (0.0, 0.0)),),
        ((0.5, (-1.0, 0.0)), (0.5, (1.0, 0.0))),
        tuple((0.2, (x, y)) for x in (-1.5, -0.5, 0.5, 1.5) for y in (-1.0, 0.0, 1.0)),
    ],
    ids=["none", "one", "two level", "twelve in rows"],
)
def test_triangles_cover_the_region_once(holes):
    profile = drilled(*holes)
    rings = [loop.points(CHORD_IN) for loop in profile.loops]
    triangles = triangulated([complex_of(ring) for ring in rings])
    region = shapely.Polygon(rings[0], rings[1:])
    union, total = covered(rings, triangles)
    assert total == pytest.approx(region.area, rel=1e-12)
    assert union.symmetric_difference(region).area < 1e-9
    assert len(triangles) == sum(map(len, rings)) - 2 + 2 * len(holes)


@pytest.mark.property
@settings(deadline=None, max_examples=60)
@given(profiles())
def test_random_plates_are_closed_and_of_the_right_volume(profile):
    """Plates whose edges touch each other, with a wall of no width, are left out."""
    rings = [shapely.Polygon(loop.points(CHORD_IN)) for loop in profile.loops]
    edges = shapely.MultiLineString([ring.exterior for ring in rings])
    assume(all(ring.is_valid for ring in rings) and shapely.minimum_clearance(edges) > 1e-4)
    solid = plate_solid(profile, thickness_in=0.25, chord_error_in=CHORD_IN)
    solid.refuse_open()
    area = sum(np.sign(loop.area_sq_in) * ring.area for loop, ring in zip(profile.loops, rings, strict=True))
    assert volume_cu_in(solid) == pytest.approx(0.25 * area, rel=1e-9)
    assert solid.vertices.min(axis=0) == pytest.approx((0.0, 0.0, 0.0), abs=2e-3)
    assert solid.vertices[:, 2].max() == 0.25


@settings(deadline=None, max_examples=30)
@given(st.lists(st.tuples(st.integers(-6, 6), st.integers(-4, 4)), min_size=1, max_size=30, unique=True))
@pytest.mark.property
def test_holes_in_rows_and_columns_are_joined(places):
    """Centers on a grid of 1/4: bridges lie on common lines, where they could run over one another."""
    profile = drilled(*((0.098, (0.25 * x, 0.25 * y)) for x, y in places))
    plate_solid(profile, thickness_in=0.1, chord_error_in=CHORD_IN).refuse_open()


def test_chords_stay_within_their_error():
    solid = plate_solid(drilled((2.0, (0.0, 0.0))), thickness_in=1.0, chord_error_in=1e-4)
    exact = 12.0 - (4.0 - np.pi) * 0.25 - np.pi
    length = 2.0 * np.pi * 1.5  # of all arcs: chords cut off at most their error along all of it
    assert abs(volume_cu_in(solid) - exact) < 1e-4 * length


def test_two_parts_make_one_body():
    parts = tuple(
        rounded_rectangle(width_in=1.0, height_in=1.0, radius_in=0.0, center=(x, 5.0)) for x in (0.0, 3.0)
    )
    assert volume_cu_in(plate_solid(Profile(parts), thickness_in=0.5, chord_error_in=1e-3)) == pytest.approx(
        1.0
    )


def test_an_open_body_is_refused():
    solid = plate_solid(drilled(), thickness_in=0.1, chord_error_in=1e-2)
    with pytest.raises(GeometryError, match="not closed"):
        Solid(solid.vertices, solid.triangles[1:]).refuse_open()
    turned = solid.triangles.copy()
    turned[0] = turned[0, ::-1]
    with pytest.raises(GeometryError, match="not closed"):
        Solid(solid.vertices, turned).refuse_open()
    flat = solid.vertices.copy()
    flat[solid.triangles[0]] = flat[solid.triangles[0, 0]]
    with pytest.raises(GeometryError, match="no area"):
        Solid(flat, solid.triangles).refuse_open()


def test_rings_that_cross_are_refused():
    bow = Loop(np.array([(0.0, 0.0, 0.0), (1.0, 1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)]))
    with pytest.raises(GeometryError):
        triangulated([complex_of(bow.rows[:, :2])])
