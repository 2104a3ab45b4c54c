"""Random profiles for the property tests, and a polygon library's view of them.

Half of the profiles have the round sizes of a shop (eighths of an inch), where tangencies and coincidences are exact;
the others have any sizes.
"""

from __future__ import annotations

import numpy as np
import shapely
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.shapes.boolean import difference, union
from hatchwright.shapes.outlines import d_shape, obround, polygon, rounded_rectangle
from hatchwright.shapes.profile import Loop, Profile

CHORD_ERROR_IN = 3e-5


def sizes(low: float, high: float):
    """Lengths in eighths, or any."""
    return st.one_of(
        st.integers(round(low * 8), round(high * 8)).map(lambda eighths: eighths / 8),
        st.floats(low, high, allow_nan=False).map(lambda size: round(size, 6)),
    )


@st.composite
def convex_loops(draw) -> Loop:
    """Rounded rectangles, obrounds and D shapes."""
    width, height = draw(sizes(0.75, 8)), draw(sizes(0.75, 8))
    centre = (draw(sizes(-3, 3)), draw(sizes(-3, 3)))
    radius = min(draw(sizes(0, 4)), min(width, height) / 2)
    kind = draw(st.sampled_from(["rectangle", "obround", "d"]))
    if kind == "rectangle":
        return rounded_rectangle(width_in=width, height_in=height, radius_in=radius, centre=centre)
    if kind == "d":
        return d_shape(width_in=width + height, height_in=height, radius_in=radius, centre=centre)
    angle_deg = draw(st.sampled_from([0.0, 30.0, 45.0, 90.0, 17.3]))
    return obround(
        length_in=max(width, height), width_in=min(width, height), centre=centre, angle_deg=angle_deg
    )


@st.composite
def stars(draw) -> Loop:
    """Filleted polygons, mostly not convex; a fillet that does not fit is left sharp."""
    count = draw(st.integers(3, 8))
    turns = draw(st.lists(st.floats(0.3, 1.0), min_size=count, max_size=count))
    angles = 2.0 * np.pi * np.cumsum(turns) / np.sum(turns)
    reach = np.array(draw(st.lists(sizes(1, 5), min_size=count, max_size=count)))
    points = np.column_stack([reach * np.cos(angles), reach * np.sin(angles)])
    if draw(st.booleans()):
        points = np.round(points * 8) / 8
    radii = draw(st.lists(st.sampled_from([0.0, 0.125, 0.25, 0.5, 0.4317]), min_size=count, max_size=count))
    for tried in (radii, 0.0):
        try:
            return polygon(points, tried)
        except GeometryError:
            continue
    return rounded_rectangle(width_in=float(reach[0]), height_in=1.0, radius_in=0.25)


@st.composite
def profiles(draw) -> Profile:
    """One outline, or two joined or cut out of each other; never empty."""
    first = Profile((draw(st.one_of(convex_loops(), stars())),))
    if draw(st.booleans()):
        return first
    second = Profile((draw(st.one_of(convex_loops(), stars())),))
    answer = draw(st.sampled_from([union, difference]))(first, second)
    return first if answer.is_empty else answer


def as_polygon(profile: Profile, chord_error_in: float = CHORD_ERROR_IN) -> shapely.Polygon:
    """The same region as polygons whose corners lie on the edge."""
    region = shapely.Polygon()
    for loop in profile.loops:
        region = region.symmetric_difference(shapely.Polygon(loop.points(chord_error_in)).buffer(0))
    return region


def scattered(profile: Profile, *, count: int, margin_in: float, seed: int) -> np.ndarray:
    """Points all over the box of a profile and a margin round it, shape (count, 2)."""
    x_min, y_min, x_max, y_max = profile.bounds
    low, high = (x_min - margin_in, y_min - margin_in), (x_max + margin_in, y_max + margin_in)
    return np.random.default_rng(seed).uniform(low, high, (count, 2))
