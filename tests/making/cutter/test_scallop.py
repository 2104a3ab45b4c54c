"""Scallops against bites that are laid one by one and measured, and what is short or refused."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.errors import GeometryError
from hatchwright.making.cutter.scallop import (
    advance_for_scallop_in,
    inside_corner_scallop_in,
    reentrant_corner_scallop_in,
    scallops,
    straight_scallop_in,
)
from hatchwright.shapes.outlines import polygon, rounded_rectangle
from hatchwright.shapes.profile import profile_of


def ridge_of_bites(centers: np.ndarray, cut_in: float, edge: np.ndarray, away: np.ndarray) -> float:
    """How far in from each place of the edge the metal still stands, the most of it: marched in small steps."""
    steps = np.linspace(0.0, cut_in / 2.0, 4001)
    standing = 0.0
    for place, inward in zip(edge, away, strict=True):
        line = place + steps[:, None] * inward
        is_cut = (
            np.hypot(*(line[:, None, :] - centers[None, :, :]).transpose(2, 0, 1)).min(axis=1) <= cut_in / 2.0
        )
        standing = max(standing, steps[int(np.argmax(is_cut))])
    return standing


def test_ridge_on_a_straight_side_is_that_of_marched_bites():
    cut, advance = 0.25, 0.08
    centers = np.column_stack([np.arange(-3, 4) * advance, np.zeros(7)])
    x = np.linspace(-advance, advance, 41)
    edge = np.column_stack([x, np.full_like(x, cut / 2.0)])
    found = ridge_of_bites(centers, cut, edge, np.tile([0.0, -1.0], (41, 1)))
    assert found == pytest.approx(straight_scallop_in(cut_in=cut, advance_in=advance), abs=5e-5)


@pytest.mark.parametrize("is_inside", [True, False])
def test_ridge_round_a_corner_is_that_of_marched_bites(is_inside):
    cut, advance, corner = 0.25, 0.1, 0.5
    path = corner - cut / 2.0 if is_inside else corner + cut / 2.0
    step = 2.0 * math.asin(advance / 2.0 / path)
    angles = np.arange(-3, 4) * step
    centers = path * np.column_stack([np.cos(angles), np.sin(angles)])
    rays = np.linspace(-step, step, 41)
    out = np.column_stack([np.cos(rays), np.sin(rays)])
    found = ridge_of_bites(centers, cut, corner * out, -out if is_inside else out)
    form = inside_corner_scallop_in if is_inside else reentrant_corner_scallop_in
    assert found == pytest.approx(form(cut_in=cut, advance_in=advance, corner_in=corner), abs=5e-5)


def test_inside_corners_stand_highest_and_re_entrant_ones_lowest():
    sizes = {"cut_in": 0.193, "advance_in": 0.05}
    straight = straight_scallop_in(**sizes)
    assert inside_corner_scallop_in(**sizes, corner_in=0.5) > straight
    assert reentrant_corner_scallop_in(**sizes, corner_in=0.5) < straight


def test_advance_and_height_belong_together():
    for height in (0.001, 0.005, 0.02):
        advance = advance_for_scallop_in(cut_in=0.193, height_in=height)
        assert straight_scallop_in(cut_in=0.193, advance_in=advance) == pytest.approx(height, abs=1e-12)
    assert advance_for_scallop_in(cut_in=0.193, height_in=1.0) == pytest.approx(0.193)


def test_bites_that_do_not_overlap_are_refused():
    with pytest.raises(GeometryError, match="don't overlap"):
        straight_scallop_in(cut_in=0.193, advance_in=0.2)


def test_every_piece_of_a_cut_has_its_ridge():
    cut = profile_of(rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.735))
    found = scallops(cut, cut_in=0.193, advance_in=0.06)
    assert len(found) == 8
    assert [s.where for s in found] == ["inside corner"] * 4 + ["straight"] * 4
    assert found[0].height_in == pytest.approx(
        inside_corner_scallop_in(cut_in=0.193, advance_in=0.06, corner_in=0.735)
    )
    assert not any(s.is_short for s in found)


def test_a_corner_shorter_than_one_advance_asks_for_bites_at_its_ends():
    cut = profile_of(rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.12))
    corner = [s for s in scallops(cut, cut_in=0.193, advance_in=0.06) if s.where == "inside corner"]
    assert all(s.is_short for s in corner)
    chord = 2.0 * (0.12 - 0.0965) * math.sin(math.pi / 4.0)
    expected = inside_corner_scallop_in(cut_in=0.193, advance_in=chord, corner_in=0.12)
    assert corner[0].height_in == pytest.approx(expected)


def test_re_entrant_corners_are_named():
    points = [(0, 0), (8, 0), (8, 3), (4, 3), (4, 6), (0, 6)]
    found = scallops(profile_of(polygon(points, 0.5)), cut_in=0.193, advance_in=0.06)
    assert sum(s.where == "re-entrant corner" for s in found) == 1
