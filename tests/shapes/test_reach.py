"""How far loops reach in any direction, against shapely, and which straight edges lie across it."""

from __future__ import annotations

import numpy as np
import pytest
from shapely import affinity
from shapely.geometry import Polygon

from hatchwright.shapes.outlines import circle, d_shape, obround, polygon, rounded_rectangle
from hatchwright.shapes.reach import faces, reach

LOOPS = {
    "circle": circle(diameter_in=4.0, center=(1.0, -2.0)),
    "obround": obround(length_in=5.0, width_in=3.0, center=(0.5, 0.25), angle_deg=20.0),
    "D": d_shape(width_in=4.0, height_in=3.6, radius_in=0.75, center=(-1.0, 1.0)),
    "rectangle": rounded_rectangle(width_in=4.0, height_in=3.0, radius_in=1.0, center=(2.0, 2.0)),
    "notched": polygon([(0, 0), (4, 0), (4, 4), (2, 2), (0, 4)], [0.25] * 5),
}
TURNS_DEG = np.linspace(0.0, 360.0, 41)[:-1]


def unit(turn_deg: float) -> tuple[float, float]:
    return float(np.cos(np.radians(turn_deg))), float(np.sin(np.radians(turn_deg)))


@pytest.mark.parametrize("name", LOOPS)
def test_reach_is_the_side_of_the_box_round_the_loop_turned_back(name: str) -> None:
    """The polygon's chords stay within 1e-6 of the loop."""
    loop = LOOPS[name]
    drawn = Polygon(loop.points(1e-6))
    low, high = reach(loop, [unit(turn) for turn in TURNS_DEG])
    for turn, least, greatest in zip(TURNS_DEG, low, high, strict=True):
        x_min, _, x_max, _ = affinity.rotate(drawn, -turn, origin=(0.0, 0.0)).bounds
        assert (least, greatest) == pytest.approx((x_min, x_max), abs=2e-6)


@pytest.mark.parametrize(
    ("name", "across_deg", "not_across_deg"),
    [
        ("circle", (), range(0, 360, 15)),
        # straights of an obround turned by 20: outward normals at 110 and 290
        ("obround", (65, 110, 155, 245, 290, 335), (0, 20, 64, 156, 180, 200)),
        # straight at the least X, and the two legs towards the half round
        ("D", (45, 90, 135, 180, 225, 270, 315), (-44, 0, 44)),
        ("rectangle", range(0, 360, 15), ()),
    ],
)
def test_a_straight_edge_within_45_degrees_lies_across(name, across_deg, not_across_deg) -> None:
    for turns, expected in ((across_deg, True), (not_across_deg, False)):
        if len(turns):
            assert faces(LOOPS[name], [unit(turn) for turn in turns]).tolist() == [expected] * len(turns)
