"""Closed forms of a row, held to points that `layout` lays along an exact offset of the edge.

Another code lays those points: it offsets a loop of lines and arcs and walks along it. Random sizes, seeds kept.
"""

from __future__ import annotations

import random
from types import SimpleNamespace

import numpy as np
import pytest

from hatchwright.job.frame import FrameEntry, make_frame
from hatchwright.job.rivet_rows import OffsetRow
from hatchwright.layout.cut_side import TIE_IN
from hatchwright.layout.fastener_pattern import row_points
from hatchwright.layout.layout import Hole
from hatchwright.layout.row_spacing import row_spacings
from hatchwright.search.proposal.best_first import GREATEST_SPEED
from hatchwright.search.proposal.laid import LaidRow, apart_in, between_rows_in, neighbors_in, points_of_row
from hatchwright.search.proposal.ring import Shape
from hatchwright.search.proposal.run import half_count, round_corner, runs_of
from hatchwright.shapes.outlines import circle, rounded_rectangle

FRAME = make_frame(FrameEntry(origin="rib x spar", x="OUTBD", y="AFT"), side="left", surface="lower")
ROWS = 3000
MOST_BAYS = 14


def laid_by_layout(shape: Shape, row: LaidRow) -> np.ndarray:
    if shape.is_round:
        loop = circle(diameter_in=shape.width_in)
        spaced = {"count": row.count}
    else:
        loop = rounded_rectangle(
            width_in=shape.width_in, height_in=shape.height_in, radius_in=shape.radius_in
        )
        spaced = {"per_side": row.per_side, "corners": "middles"}
    typed = {
        "name": "a",
        "rivet": "MS20470AD4",
        "lay": "offset",
        "edge": "opening",
        "stagger": row.is_staggered,
    }
    entered = OffsetRow.model_validate(
        {**typed, **spaced, "distance": f"{row.distance_in:.3f}"}, context={"unit": "in"}
    )
    outlines = SimpleNamespace(
        wanted=loop, doubler_outer=None, doubler_inner=None, plug=None, center_in=(0.0, 0.0)
    )
    return np.array(row_points(entered, outlines, where="rows.0", frame=FRAME))


def random_row(rng: random.Random) -> tuple[Shape, LaidRow]:
    radius = rng.uniform(0.25, 1.2)
    width, height = (2.0 * radius + rng.uniform(0.1, 4.0) for _ in range(2))
    bays = (rng.randint(2, MOST_BAYS), rng.randint(2, MOST_BAYS))
    return Shape(width, height, radius), LaidRow(*bays, rng.random() < 0.5, round(rng.uniform(0.2, 1.2), 3))


def test_rows_lie_where_layout_lays_them():
    rng = random.Random(11)
    for _ in range(ROWS // 10):
        shape, row = random_row(rng)
        assert np.abs(points_of_row(shape, row) - laid_by_layout(shape, row)).max() < 1e-7


def test_round_rows_lie_where_layout_lays_them():
    rng = random.Random(12)
    for _ in range(100):
        shape = Shape(*[rng.uniform(1.0, 8.0)] * 2, 0.0, is_round=True)
        shape = Shape(shape.width_in, shape.width_in, shape.width_in / 2.0, is_round=True)
        row = LaidRow(rng.randint(4, 60), 0, rng.random() < 0.5, round(rng.uniform(0.2, 1.0), 3))
        assert np.abs(points_of_row(shape, row) - laid_by_layout(shape, row)).max() < 1e-7


def test_counts_are_those_of_points_and_the_closest_pair_is_never_told_too_near():
    """Points that the tests above hold to `layout`; a form that is too long is caught hole by hole, one that is too
    short would leave a ring out."""
    rng, too_long = random.Random(13), 0
    bays = np.arange(2, MOST_BAYS + 1)
    for _ in range(ROWS):
        shape, row = random_row(rng)
        points = points_of_row(shape, row)
        x, y = runs_of(shape, bays, np.array([row.distance_in]))
        i, j, half_on = row.x_bays - 2, row.y_bays - 2, row.is_staggered
        closest = min(x.closest(is_staggered=half_on)[i, 0], y.closest(is_staggered=half_on)[j, 0])
        if half_on:
            closest = min(closest, round_corner(x, y)[i, j, 0])
        true = neighbors_in(points).min()
        assert closest >= true - 1e-9
        too_long += closest > true + 1e-9
        beyond_x = int((points[:, 0] > shape.width_in / 2.0 + TIE_IN).sum())
        beyond_y = int((points[:, 1] > shape.height_in / 2.0 + TIE_IN).sum())
        own = [run.own_count(is_staggered=half_on) for run in (x, y)]
        beside = [run.neighbor_count(is_staggered=half_on) for run in (x, y)]
        assert beyond_x == own[1][j, 0] + beside[0][i, 0]
        assert beyond_y == own[0][i, 0] + beside[1][j, 0]
        halves = half_count(bays, bays, is_staggered=half_on)
        assert halves[0][i, j] == (points[:, 0] > TIE_IN).sum()
        assert halves[1][i, j] == (points[:, 1] > TIE_IN).sum()
    assert too_long <= ROWS // 100  # two bays and almost no straight: the second turns another corner


def test_a_share_that_counts_never_falls_when_the_row_goes_out():
    rng = random.Random(14)
    bays, out_in = np.arange(2, MOST_BAYS + 1), np.arange(0.2, 1.6, 0.005)
    for _ in range(100):
        shape, _ = random_row(rng)
        x, y = runs_of(shape, bays, out_in)
        for half_on in (False, True):
            for own, beside in ((x, y), (y, x)):
                counts = own.own_count(is_staggered=half_on)[:, None, :]
                counts = counts + beside.neighbor_count(is_staggered=half_on)[None, :, :]
                assert (np.diff(counts, axis=-1) >= 0).all()


def test_no_distance_between_rows_grows_faster_than_the_search_takes_for_granted():
    rng, step = random.Random(15), 0.005
    fastest = 0.0
    for _ in range(ROWS):
        shape, inner = random_row(rng)
        outer = LaidRow(
            min(max(2, inner.x_bays + rng.randint(-1, 1)), MOST_BAYS),
            min(max(2, inner.y_bays + rng.randint(-1, 1)), MOST_BAYS),
            not inner.is_staggered,
            inner.distance_in + rng.uniform(0.2, 0.6),
        )
        farther = LaidRow(outer.x_bays, outer.y_bays, outer.is_staggered, outer.distance_in + step)
        one, here, there = (points_of_row(shape, row) for row in (inner, outer, farther))
        grown = apart_in(one, there) - apart_in(one, here)
        wider = neighbors_in(there).min() - neighbors_in(here).min()
        fastest = max(fastest, grown / step, wider / step)
    assert 1.0 < fastest < GREATEST_SPEED


@pytest.mark.parametrize("seed", range(40))
def test_row_spacing_is_measured_as_it_is_judged(seed):
    shape, inner = random_row(random.Random(seed))
    outer = LaidRow(inner.x_bays, inner.y_bays, not inner.is_staggered, inner.distance_in + 0.33)
    rows = {}
    for name, row in (("inner", inner), ("outer", outer)):
        points = points_of_row(shape, row).tolist()
        rows[name] = tuple(
            Hole(n, name, "rivet", x, y, "MS20470AD4", 0.125, ("skin", "doubler"))
            for n, (x, y) in enumerate(points)
        )
    judged = min(found.distance_in for found in row_spacings(rows))
    own = between_rows_in(points_of_row(shape, inner), points_of_row(shape, outer), reach_in=1.5)
    assert own == pytest.approx(judged, abs=1e-9)
