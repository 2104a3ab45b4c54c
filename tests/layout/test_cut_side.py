"""The sides of the cut on rivets counted by hand, and that every one lies where it is counted."""

from __future__ import annotations

import math
import random
from decimal import Decimal

import numpy as np
import pytest
from msgspec.structs import replace
from shapely import affinity
from shapely.geometry import LineString, MultiPoint, Polygon

from hatchwright.layout.cut_side import CountReading, sides_of_cut
from hatchwright.layout.layout import Layout
from tests.strength.jobs import SYMMETRIC, layout_of

MADE = """
[as_made]
uncertainty = ".005"
[as_made.opening]
shape = "rounded rectangle"
width = "4.1"
height = "4"
radius = "1"
center = ["0", "0"]
"""


def test_each_side_has_its_two_rows_of_eight() -> None:
    """Rows at 2.3 and 3.2 from the middle of an opening 4 wide, reaching 1.6 and 1.9 to both sides: none lies beyond a
    corner."""
    sides = sides_of_cut(layout_of(base=SYMMETRIC))
    assert [(side.name, side.axis, len(side.rivets)) for side in sides] == [
        ("X+", 0, 16),
        ("X-", 0, 16),
        ("Y+", 1, 16),
        ("Y-", 1, 16),
    ]
    for side in sides:
        assert side.cut_in == pytest.approx(4.0)
        near, far = side.rows
        assert (near.offset_in, far.offset_in) == pytest.approx((0.3, 1.2))
        assert (near.pitch_in, far.pitch_in) == pytest.approx((3.2 / 7, 3.8 / 7))


def test_a_rivet_beyond_a_corner_counts_for_both_sides() -> None:
    layout = layout_of()
    sides = {side.name: side for side in sides_of_cut(layout)}
    corner = {hole.number for hole in layout.holes if hole.x_in > 2 and hole.y_in > 2}
    assert corner
    for name in ("X+", "Y+"):
        assert corner <= {hole.number for hole in sides[name].rivets}
    assert not corner & {hole.number for side in (sides["X-"], sides["Y-"]) for hole in side.rivets}
    for side in sides.values():
        beside = {hole.number for row in side.rows for hole in row.holes}
        assert beside < {hole.number for hole in side.rivets}
        assert not corner & beside


def test_without_a_doubler_rivets_join_nothing() -> None:
    start, rows = SYMMETRIC.split("[doubler]\n")[0], SYMMETRIC[SYMMETRIC.index("[[rows]]") :]
    assert all(side.rivets == () for side in sides_of_cut(layout_of(base=start + rows)))


@pytest.mark.parametrize(("width", "cut_in"), [("4.1", 4.1), ("3.9", 4.0)])
def test_the_cut_is_that_of_the_opening_as_filed_and_no_less_than_drawn(width: str, cut_in: float) -> None:
    """An opening filed too large is as large as it is; one that is not yet filed out will be as drawn."""
    made = MADE.replace("4.1", width)
    assert [side.cut_in for side in sides_of_cut(layout_of(made, base=SYMMETRIC))] == pytest.approx(
        [4.0, 4.0, cut_in, cut_in]
    )


def placed(opening: str, places: list[tuple[str, str]]) -> Layout:
    """The square job with another opening and rivets at places."""
    head, rest = SYMMETRIC[: SYMMETRIC.index("[opening]")], SYMMETRIC[SYMMETRIC.index("[doubler]") :]
    points = ", ".join(f'["{x}", "{y}"]' for x, y in places)
    row = f'[[rows]]\nname = "row"\nlay = "points"\nrivet = "MS20470AD4"\npoints = [{points}]\n'
    return layout_of(base=f"{head}[opening]\n{opening}{rest[: rest.index('[[rows]]')]}{row}")


def turned(layout: Layout, turn_rad: float) -> Layout:
    """The same job laid down turned about the origin."""
    matrix = np.array([[np.cos(turn_rad), -np.sin(turn_rad)], [np.sin(turn_rad), np.cos(turn_rad)]])
    places = np.array([(hole.x_in, hole.y_in) for hole in layout.holes]) @ matrix.T
    return replace(
        layout,
        wanted=layout.wanted.transformed(matrix),
        opening=layout.opening.transformed(matrix),
        holes=tuple(
            replace(hole, x_in=x, y_in=y) for hole, (x, y) in zip(layout.holes, places.tolist(), strict=True)
        ),
    )


@pytest.mark.parametrize(
    ("center", "radius"), [("1.1", "1.7"), ("5.7", "2.05"), ("2.3", "1.15"), ("0.3", "1.15")]
)
def test_a_symmetric_job_counts_the_same_on_both_sides(center: str, radius: str) -> None:
    """A rivet at each end of the round, on the line itself: by bare comparison rounding lets one of the two count, as
    3.1 - (1.1 + 2) is not 0."""
    c, r = Decimal(center), Decimal(radius)
    ends = [(str(c + r), "0"), (str(c - r), "0")]
    beyond = [(str(c + s * (r + Decimal(".3"))), f"{k / 4}") for s in (1, -1) for k in range(-2, 3)]
    layout = placed(f'shape = "circle"\ndiameter = "{2 * r}"\ncenter = ["{c}", "0"]\n', ends + beyond)
    assert sum(hole.x_in - (float(c) + float(r)) > 0 for hole in layout.holes) != sum(
        (float(c) - float(r)) - hole.x_in > 0 for hole in layout.holes
    )
    right, left, up, down = sides_of_cut(layout)
    assert [len(side.ahead) for side in (right, left, up, down)] == [5, 5, 0, 0]
    assert [len(side.half) for side in (right, left)] == [6, 6]
    # those on the middle line along Y, both ends and one of each five, count for neither
    assert [len(side.half) for side in (up, down)] == [4, 4]


def test_the_half_governs_where_no_straight_edge_lies_across_the_load() -> None:
    """An obround along X: round at its ends, straight above and below; a D: straight at X- alone, but for its legs."""
    ring = [(f"{3.1 * np.cos(a):.6f}", f"{3.1 * np.sin(a):.6f}") for a in np.radians(np.arange(3, 360, 6))]
    shapes = {
        'shape = "circle"\ndiameter = "4"\ncenter = ["0", "0"]\n': "HHHH",
        'shape = "obround"\nlength = "5"\nwidth = "4"\ncenter = ["0", "0"]\n': "HHAA",
        'shape = "D"\nwidth = "4.5"\nheight = "4"\nradius = ".5"\ncenter = ["0", "0"]\n': "HAAA",
        'shape = "rounded rectangle"\nwidth = "4"\nheight = "4"\nradius = "1"\ncenter = ["0", "0"]\n': "AAAA",
    }
    for opening, expected in shapes.items():
        sides = sides_of_cut(placed(opening, ring))
        assert "".join(side.reading.name[0] for side in sides) == expected
        for side in sides:
            assert set(side.ahead) < set(side.half)
            assert side.rivets == (side.half if side.reading is CountReading.HALF else side.ahead)
            assert len(side.squareness) == len(side.rivets)


@pytest.mark.parametrize("turn", range(180))
def test_an_obround_changes_its_count_at_45_degrees_and_nowhere_else(turn: int) -> None:
    """Its straight edges look towards turn + 90 and turn - 90: in whole degrees, the one across a load is within 45 of
    it. Which rivets count shapely tells: beyond the middle of the box round the opening, or beyond the box."""
    angles = np.radians(np.arange(2, 360, 7))
    ring = [(f"{3.2 * np.cos(a):.6f}", f"{3.2 * np.sin(a):.6f}") for a in angles]
    shape = f'shape = "obround"\nlength = "5"\nwidth = "4"\nangle = {turn}\ncenter = ["0", "0"]\n'
    spine = LineString([(-0.5, 0), (0.5, 0)]).buffer(2.0, quad_segs=4096)
    x_min, y_min, x_max, y_max = affinity.rotate(spine, turn, origin=(0, 0)).bounds
    sides = sides_of_cut(placed(shape, ring))
    for side, towards, end in zip(sides, (0, 180, 90, 270), (x_max, -x_min, y_max, -y_min), strict=True):
        off = [abs((turn + look - towards + 180) % 360 - 180) for look in (90, -90)]
        way = round(math.cos(math.radians(towards))), round(math.sin(math.radians(towards)))
        along = [float(x) * way[0] + float(y) * way[1] for x, y in ring]
        half, ahead = sum(place > 0 for place in along), sum(place > end for place in along)
        assert (len(side.half), len(side.ahead)) == (half, ahead)
        assert len(side.rivets) == (ahead if min(off) <= 45 else half)


def test_each_rivet_of_a_round_ring_works_square_to_the_edge() -> None:
    """Sixty rivets, one every 6 degrees from 3: on X+ 30, and the cosines squared add up to a quarter of all, 15."""
    ring = [(f"{2.4 * np.cos(a):.9f}", f"{2.4 * np.sin(a):.9f}") for a in np.radians(np.arange(3, 360, 6))]
    for side in sides_of_cut(placed('shape = "circle"\ndiameter = "4"\ncenter = ["0", "0"]\n', ring)):
        assert len(side.half) == 30
        assert sum(cosine**2 for cosine in side.squareness) == pytest.approx(15.0, abs=1e-6)
        (row,) = side.rows
        assert row.offset_in == pytest.approx(0.4, abs=1e-6)
        assert (row.pitch_in, row.longest_in) == pytest.approx([4.8 * np.sin(np.radians(3))] * 2, abs=1e-6)


SHAPES = ("circle", "obround", "D", "rounded rectangle")


def _random_job(seed: int) -> Layout:
    """A round, obround, D or rounded opening anywhere, with rivets strewn round it."""
    draw = random.Random(seed)
    shape = SHAPES[seed % len(SHAPES)]
    width, height = draw.uniform(3, 6), draw.uniform(2, 2.9)
    x, y = draw.uniform(-3, 3), draw.uniform(-3, 3)
    sizes = {
        "circle": f'diameter = "{width:.4f}"\n',
        "obround": f'length = "{width:.4f}"\nwidth = "{height:.4f}"\nangle = {draw.uniform(0, 180):.4f}\n',
        "D": f'width = "{width:.4f}"\nheight = "{height:.4f}"\nradius = ".5"\n',
        "rounded rectangle": f'width = "{width:.4f}"\nheight = "{height:.4f}"\nradius = ".75"\n',
    }[shape]
    places = []
    for _ in range(draw.randrange(20, 80)):
        reach, turn = draw.uniform(1, 6), draw.uniform(0, 2 * math.pi)
        places.append((f"{x + reach * math.cos(turn):.4f}", f"{y + reach * math.sin(turn):.4f}"))
    opening = f'shape = "{shape}"\n{sizes}center = ["{x:.4f}", "{y:.4f}"]\n'
    return placed(opening, list(dict.fromkeys(places)))


@pytest.mark.parametrize("seed", range(200))
def test_both_counts_equal_an_independent_count_and_turn_with_the_job(seed: int) -> None:
    """shapely turns the opening and the rivets so that the load runs along X, and the box round the opening tells the
    rest. Its polygon lies within 1e-8 of the opening; a rivet within 1e-5 of a line counts for neither side."""
    layout, load_rad = _random_job(seed), random.Random(seed + 1000).uniform(0, 2 * math.pi)
    rivets = MultiPoint([(hole.x_in, hole.y_in) for hole in layout.holes])
    opening, holes = (
        affinity.rotate(drawn, -load_rad, origin=(0, 0), use_radians=True)
        for drawn in (Polygon(layout.opening.points(1e-8)), rivets)
    )
    x_min, y_min, x_max, y_max = opening.bounds
    half = [point.x > (x_min + x_max) / 2 + 1e-5 for point in holes.geoms]
    ahead = [point.x > x_max + 1e-5 for point in holes.geoms]
    (side,) = sides_of_cut(layout, [(math.cos(load_rad), math.sin(load_rad))])
    assert [hole in side.half for hole in layout.holes] == half
    assert [hole in side.ahead for hole in layout.holes] == ahead
    assert side.cut_in == pytest.approx(y_max - y_min, abs=1e-7)
    for turn_rad in (0.3, 1.9, 4.4):
        way = (math.cos(load_rad + turn_rad), math.sin(load_rad + turn_rad))
        job = turned(layout, turn_rad)
        (again,) = sides_of_cut(job, [way])
        assert [hole in again.half for hole in job.holes] == half
        assert [hole in again.ahead for hole in job.holes] == ahead
        assert again.has_straight_edge == side.has_straight_edge
        assert again.cut_in == pytest.approx(side.cut_in, abs=1e-9)
