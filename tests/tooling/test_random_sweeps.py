"""A thousand random openings and cutters against sweeps over a grid of points, which know nothing of offsets.

The wanted opening is known by its depth function alone. Each step of the chain is done twice on the grid, once a little
too generously and once a little too strictly, so that the true answer is bracketed whatever the shape does:

- generous: every true point has a grid point of the set within g/sqrt 2 (half a diagonal of a grid cell), so a growth
  takes sqrt 2 g more than its reach and an erosion g/sqrt 2 less;
- strict: the same done to everything outside the set, a growth of it being an erosion of the set.

What the strict sweep cuts must lie in the predicted cut, and what the generous one does not cut must lie outside it,
for every point and every case. Between the two lies a band along the edge; most points must be decided all the same.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy import ndimage

from hatchwright.errors import GeometryError
from hatchwright.shapes.outlines import polygon, rounded_rectangle
from hatchwright.shapes.profile import Profile, profile_of
from hatchwright.tooling.guide_template import Guide, guide_chain

CASES = 1000
BATCHES = 10
STEP_IN = 0.02
HALF_IN = STEP_IN / math.sqrt(2.0)


class Opening:
    """A rounded rectangle, or an L of two legs with sharp corners; as a profile, and by its depth at any point."""

    def __init__(self, random: np.random.Generator) -> None:
        self.width, self.height = random.uniform(1.6, 3.2), random.uniform(1.4, 2.6)
        self.radius = float(random.choice([0.0, random.uniform(0.02, 0.6)]))
        self.is_l = random.random() < 0.4
        self.leg_x = self.width * random.uniform(0.4, 0.7)
        self.leg_y = self.height * random.uniform(0.4, 0.7)

    def profile(self) -> Profile:
        if not self.is_l:
            return profile_of(
                rounded_rectangle(width_in=self.width, height_in=self.height, radius_in=self.radius)
            )
        x, y = self.width / 2.0, self.height / 2.0
        inner_x, inner_y = -x + self.leg_x, -y + self.leg_y
        return profile_of(
            polygon([(-x, -y), (x, -y), (x, inner_y), (inner_x, inner_y), (inner_x, y), (-x, y)])
        )

    def depth(self, x, y):
        """How deep a point lies in the opening: the textbook function of a rounded box, the nearest wall of the L."""
        w, h = self.width / 2.0, self.height / 2.0
        if not self.is_l:
            across, up = np.abs(x) - (w - self.radius), np.abs(y) - (h - self.radius)
            outside = np.hypot(np.maximum(across, 0.0), np.maximum(up, 0.0))
            return self.radius - outside - np.minimum(np.maximum(across, up), 0.0)
        box = np.minimum(w - np.abs(x), h - np.abs(y))
        past_x, past_y = (
            x - (-w + self.leg_x),
            y - (-h + self.leg_y),
        )  # the wall of skin lies where both are positive
        to_wall = np.hypot(np.maximum(-past_x, 0.0), np.maximum(-past_y, 0.0))
        return np.minimum(
            box, np.where((past_x > 0.0) & (past_y > 0.0), -np.minimum(past_x, past_y), to_wall)
        )


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


@pytest.mark.parametrize("batch", range(BATCHES))
def test_template_and_cut_are_those_of_the_swept_points(batch):
    random = np.random.default_rng(4000 + batch)
    decided, told = 0, 0
    for _ in range(CASES // BATCHES):
        opening, guide = Opening(random), random_guide(random)
        pad = (guide.guide_in - guide.cut_in) / 2.0 + 12.0 * STEP_IN
        x, y = np.meshgrid(
            np.arange(-opening.width / 2.0 - pad, opening.width / 2.0 + pad, STEP_IN),
            np.arange(-opening.height / 2.0 - pad, opening.height / 2.0 + pad, STEP_IN),
        )
        points = np.column_stack([x.ravel(), y.ravel()])
        depth = opening.depth(x, y)
        at_most, at_least = generous(depth, guide), [~rest for rest in generous_rest(depth, guide)]
        try:
            chain = guide_chain(opening.profile(), guide)
        except GeometryError:
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
    for _ in range(20):
        opening, guide = Opening(random), random_guide(random)
        x, y = np.meshgrid(np.arange(-2.5, 2.5, STEP_IN), np.arange(-2.5, 2.5, STEP_IN))
        wrong = replace(guide, guide_in=guide.guide_in + 0.2)
        inside = guide_chain(opening.profile(), wrong).machinable.contains(
            np.column_stack([x.ravel(), y.ravel()])
        )
        depth = opening.depth(x, y)
        most, least = generous(depth, guide)[0].ravel(), ~generous_rest(depth, guide)[0].ravel()
        seen += bool((inside & ~most).any() or (~inside & least).any())
    assert seen > 10
