"""A thousand random openings and cutters against sweeps over a grid of points, which know nothing of offsets.

The wanted opening is known by points along its edge alone. Each step of the chain is done twice on the grid, once a
little too generously and once a little too strictly, so that the true answer is bracketed whatever the shape does:

- generous: every true point has a grid point of the set within g/sqrt 2 (half a diagonal of a grid cell), so a growth
  takes sqrt 2 g more than its reach and an erosion g/sqrt 2 less;
- strict: the same done to everything outside the set, a growth of it being an erosion of the set.

What the strict sweep cuts must lie in the predicted cut, and what the generous one does not cut must lie outside it,
for every point and every case. Between the two lies a band along the edge; most points must be decided all the same.
Such a band hides what is off by thousandths: `test_each_step_is_that_of_sampled_edges` takes one step at a time and is
sharp to 2e-4.
"""

from __future__ import annotations

import math
from functools import cached_property

import numpy as np
import pytest
from msgspec.structs import replace
from scipy import ndimage
from scipy.spatial import cKDTree

from hatchwright.errors import GeometryError
from hatchwright.making.template.guide_template import Guide, guide_chain
from making.openings import KINDS, SPACING_IN, Opening

CASES = 1000
BATCHES = 10
STEP_IN = 0.02
HALF_IN = STEP_IN / math.sqrt(2.0)


def growth(points, reach_in):
    if not points.any():
        return points
    return ndimage.distance_transform_edt(~points) * STEP_IN <= reach_in + 2.0 * HALF_IN


def erosion(points, reach_in):
    if points.all():
        return points
    return ndimage.distance_transform_edt(points) * STEP_IN >= reach_in - HALF_IN


def generous(depth, guide: Guide):
    """Grid sets that cover all of the template's window or plug, and all that can be cut."""
    cut, reach, mill = guide.cut_in / 2.0, guide.guide_in / 2.0, guide.end_mill_in / 2.0
    path = depth >= cut - HALF_IN
    if guide.kind == "female":
        template = growth(erosion(growth(path, reach), mill), mill)
        reached = erosion(template, reach)
    else:
        template = erosion(growth(erosion(path, reach), mill), mill)
        reached = growth(template, reach)
    return template, growth(reached, cut)


def generous_rest(depth, guide: Guide):
    """Grid sets that cover all that is not template, and all that is not cut: every step done to what lies outside."""
    cut, reach, mill = guide.cut_in / 2.0, guide.guide_in / 2.0, guide.end_mill_in / 2.0
    beside_path = depth <= cut + HALF_IN
    if guide.kind == "female":
        no_template = erosion(growth(erosion(beside_path, reach), mill), mill)
        not_reached = growth(no_template, reach)
    else:
        no_template = growth(erosion(growth(beside_path, reach), mill), mill)
        not_reached = erosion(no_template, reach)
    return no_template, erosion(not_reached, cut)


def random_guide(random: np.random.Generator) -> Guide:
    cut = random.uniform(0.1, 0.35)
    return Guide(
        cut_in=cut,
        guide_in=cut + random.uniform(0.0, 0.5),
        end_mill_in=random.uniform(0.06, 0.4),
        kind="female" if random.random() < 0.65 else "male",
    )


@pytest.fixture(scope="module", params=range(BATCHES))
def batch(request):
    """Openings with a guide each, and the chain, None where it is refused."""
    random = np.random.default_rng(4000 + request.param)
    made = []
    for case in range(CASES // BATCHES):
        opening, guide = Opening(random, KINDS[case % len(KINDS)]), random_guide(random)
        try:
            chain = guide_chain(opening.profile(), guide)
        except GeometryError:
            chain = None
        made.append((opening, guide, chain))
    return made


def test_template_and_cut_are_those_of_the_swept_points(batch):
    decided, told = 0, 0
    for opening, guide, chain in batch:
        pad = (guide.guide_in - guide.cut_in) / 2.0 + 12.0 * STEP_IN
        x, y = np.meshgrid(
            np.arange(-opening.width / 2.0 - pad, opening.width / 2.0 + pad, STEP_IN),
            np.arange(-opening.height / 2.0 - pad, opening.height / 2.0 + pad, STEP_IN),
        )
        points = np.column_stack([x.ravel(), y.ravel()])
        depth = opening.depth_to(points, guide.cut_in).reshape(x.shape)  # the path lies half a cut deep
        at_most, at_least = generous(depth, guide), [~rest for rest in generous_rest(depth, guide)]
        if chain is None:
            assert not at_least[1].any(), (guide, vars(opening))
            continue
        for profile, most, least in zip((chain.machinable, chain.predicted), at_most, at_least, strict=True):
            inside = profile.contains(points).reshape(x.shape)
            assert not (least & ~most).any()
            assert not (inside & ~most).any(), (guide, vars(opening))
            assert not (~inside & least).any(), (guide, vars(opening))
            decided += int((least | ~most).sum())
            told += x.size
    assert decided > 0.7 * told


def test_a_wrong_chain_would_be_seen():
    """The same comparison with a guide .2 too wide in the chain does not pass."""
    random = np.random.default_rng(1)
    seen = 0
    for case in range(20):
        opening, guide = Opening(random, KINDS[case % len(KINDS)]), random_guide(random)
        x, y = np.meshgrid(np.arange(-2.0, 2.0, STEP_IN), np.arange(-1.5, 1.5, STEP_IN))
        wrong = replace(guide, guide_in=guide.guide_in + 0.2)
        points = np.column_stack([x.ravel(), y.ravel()])
        inside = guide_chain(opening.profile(), wrong).machinable.contains(points)
        depth = opening.depth(points).reshape(x.shape)
        most, least = generous(depth, guide)[0].ravel(), ~generous_rest(depth, guide)[0].ravel()
        seen += bool((inside & ~most).any() or (~inside & least).any())
    assert seen > 10


SHARP_IN = 2e-4
"""What two edges may differ by [in]: points SPACING apart are farther off than their edge by SPACING^2/8 over the
distance, 6e-5 at .05; the rest is room."""

CLOUD_IN = 0.06
"""About how far the points lie apart by which insides are compared [in]."""


class Wanted:
    """The wanted edge, measured to as an `Edge` is, by what the opening knows of itself."""

    def __init__(self, opening: Opening, around):
        self._opening = opening
        depth = opening.depth(around)
        self.around_held, self.around_off = depth > 0.0, np.abs(depth)

    def off(self, points):
        return np.abs(self._opening.depth(points))


class Edge:
    """The edge of a profile as a row of points, to measure distances to; a cloud of points `around` is, once for all.

    Args:
        profile: that has the edge.
        around: points all over the opening and round it, shape (n, 2) [in].
    """

    def __init__(self, profile, around):
        self.profile = profile
        self.points = np.concatenate([dense(loop.points(1e-5)) for loop in profile.loops])
        self._tree = cKDTree(self.points, leafsize=32)
        self.around = around
        self.around_held = self.holds(around)

    @cached_property
    def around_off(self):
        return self.off(self.around)

    def off(self, points):
        return self._tree.query(points)[0]

    def beside(self, reach_in):
        """Places that far to the left of the edge, square to it; to the right when negative."""
        places = []
        for loop in self.profile.loops:
            points = loop.points(1e-5)
            sides = np.roll(points, -1, axis=0) - points
            left = np.column_stack([-sides[:, 1], sides[:, 0]]) / np.hypot(*sides.T)[:, None]
            places.append(points + 0.5 * sides + reach_in * left)
        return np.concatenate(places)

    def holds(self, points):
        return self.profile.contains(points)


def dense(points):
    """The closed row of points with others between, no two farther apart than SPACING."""
    sides = np.roll(points, -1, axis=0) - points
    counts = np.maximum(1, np.ceil(np.hypot(*sides.T) / SPACING_IN)).astype(int)
    first = np.repeat(np.cumsum(counts) - counts, counts)
    shares = (np.arange(counts.sum()) - first) / np.repeat(counts, counts)
    return np.repeat(points, counts, axis=0) + shares[:, None] * np.repeat(sides, counts, axis=0)


def refute_growth(grown: Edge, source: Edge | Wanted, reach_in):
    """A grown edge lies as far out as it was grown, and holds just the points that lie nearer than that."""
    assert np.abs(source.off(grown.points) - reach_in).max() < SHARP_IN
    near = source.around_held | (source.around_off < reach_in)
    decided = source.around_held | (np.abs(source.around_off - reach_in) > SHARP_IN)
    assert (grown.around_held == near)[decided].all()


def refute_erosion(eroded: Edge, source: Edge | Wanted, reach_in):
    """An eroded edge lies as deep as it was eroded, and holds just the points that lie deeper than that."""
    assert np.abs(source.off(eroded.points) - reach_in).max() < SHARP_IN
    deep = source.around_held & (source.around_off > reach_in)
    decided = np.abs(source.around_off - reach_in) > SHARP_IN
    assert (eroded.around_held == deep)[decided].all()


def refute_milled(made: Edge, needed: Edge, mill_in, *, inside: bool):
    """A ball as large as the end mill reaches every point of the milled side, and none that is to stay."""
    may_go = needed.around_held == inside
    milled = made.around_held == inside
    middles = may_go & (needed.around_off > mill_in + SHARP_IN)
    assert milled[middles].all()
    assert (made.around_off[middles] > mill_in - SHARP_IN).all()  # wherever the mill may go, it has been
    assert (~milled | (made.around_off < SHARP_IN))[~may_go].all()  # it has not gone where it may not
    balls = made.beside(mill_in if inside else -mill_in)
    assert (needed.holds(balls) == inside).all()
    assert (
        needed.off(balls) > mill_in - SHARP_IN
    ).all()  # and every piece of its edge is one that the mill can make


def test_each_step_is_that_of_sampled_edges(batch):
    """Every step of the chain from the one before, and both depths of the deviation, by distances to points alone."""
    random = np.random.default_rng(9000)
    over_cut, remnants = 0, 0
    for opening, guide, chain in batch[: len(batch) // 2]:
        if chain is None:
            continue  # whether it is rightly refused is for the swept points above
        cut, reach, mill = guide.cut_in / 2.0, guide.guide_in / 2.0, guide.end_mill_in / 2.0
        names = ("path", "needed", "machinable", "reached", "predicted")
        x, y = opening.width / 2.0 + 0.3, opening.height / 2.0 + 0.3
        cells = np.meshgrid(np.arange(-x, x, CLOUD_IN), np.arange(-y, y, CLOUD_IN))
        around = np.column_stack([cells[0].ravel(), cells[1].ravel()])
        around = around + random.uniform(-0.5, 0.5, around.shape) * 0.5 * CLOUD_IN
        path, needed, made, reached, cut_edge = (Edge(getattr(chain, name), around) for name in names)
        refute_erosion(path, Wanted(opening, around), cut)
        if guide.kind == "female":
            refute_growth(needed, path, reach)
            refute_milled(made, needed, mill, inside=True)
            refute_erosion(reached, made, reach)
        else:
            refute_erosion(needed, path, reach)
            refute_milled(made, needed, mill, inside=False)
            refute_growth(reached, made, reach)
        refute_growth(cut_edge, reached, cut)
        depth = opening.depth(cut_edge.points)
        wanted_off, wanted_held = cut_edge.off(opening.edge), cut_edge.holds(opening.edge)
        over = max(0.0, (-depth).max(), wanted_off[wanted_held].max(initial=0.0))
        left = max(0.0, depth.max(), wanted_off[~wanted_held].max(initial=0.0))
        for found, sampled in ((chain.deviation.over_cut, over), (chain.deviation.under_cut, left)):
            assert found.depth_in == pytest.approx(sampled, abs=0.6 * SPACING_IN)
        over_cut += over > 0.01
        remnants += left > 0.01
    assert over_cut >= 3
    assert remnants >= 10
