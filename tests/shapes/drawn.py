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
_EITHER = st.booleans()


def sizes(low: float, high: float):
    """Lengths in eighths, or any."""
    return st.one_of(
        st.integers(round(low * 8), round(high * 8)).map(lambda eighths: eighths / 8),
        st.floats(low, high, allow_nan=False).map(lambda size: round(size, 6)),
    )


_BREADTHS, _PLACES, _RADII = sizes(0.75, 8), sizes(-3, 3), sizes(0, 4)
_CONVEX, _ANGLES_DEG = (
    st.sampled_from(["rectangle", "obround", "d"]),
    st.sampled_from([0.0, 30.0, 45.0, 90.0, 17.3]),
)


@st.composite
def convex_loops(draw) -> Loop:
    """Rounded rectangles, obrounds and D shapes."""
    width, height = draw(_BREADTHS), draw(_BREADTHS)
    center = (draw(_PLACES), draw(_PLACES))
    radius = min(draw(_RADII), min(width, height) / 2)
    kind = draw(_CONVEX)
    if kind == "rectangle":
        return rounded_rectangle(width_in=width, height_in=height, radius_in=radius, center=center)
    if kind == "d":
        return d_shape(width_in=width + height, height_in=height, radius_in=radius, center=center)
    angle_deg = draw(_ANGLES_DEG)
    return obround(
        length_in=max(width, height), width_in=min(width, height), center=center, angle_deg=angle_deg
    )


_COUNTS, _TURNS, _REACHES = st.integers(3, 8), st.floats(0.3, 1.0), sizes(1, 5)
_FILLETS = st.sampled_from([0.0, 0.125, 0.25, 0.5, 0.4317])


@st.composite
def stars(draw) -> Loop:
    """Filleted polygons, mostly not convex; a fillet that does not fit is left sharp."""
    count = draw(_COUNTS)
    turns = [draw(_TURNS) for _ in range(count)]
    angles = 2.0 * np.pi * np.cumsum(turns) / np.sum(turns)
    reach = np.array([draw(_REACHES) for _ in range(count)])
    points = np.column_stack([reach * np.cos(angles), reach * np.sin(angles)])
    if draw(_EITHER):
        points = np.round(points * 8) / 8
    radii = [draw(_FILLETS) for _ in range(count)]
    for tried in (radii, 0.0):
        try:
            return polygon(points, tried)
        except GeometryError:
            continue
    return rounded_rectangle(width_in=float(reach[0]), height_in=1.0, radius_in=0.25)


_LOOPS = st.one_of(convex_loops(), stars())
_JOINS = st.sampled_from([union, difference])


@st.composite
def profiles(draw) -> Profile:
    """One outline, or two joined or cut out of each other; never empty."""
    first = Profile((draw(_LOOPS),))
    if draw(_EITHER):
        return first
    second = Profile((draw(_LOOPS),))
    answer = draw(_JOINS)(first, second)
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
