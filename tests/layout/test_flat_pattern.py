"""Flat patterns against the sheet rolled back onto the skin by hand, and against the exact ellipse."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.errors import GeometryError
from hatchwright.job.file import edited, read_job
from hatchwright.layout.flat_pattern import Stretch, flat_doubler
from hatchwright.layout.lay_out import lay_out
from hatchwright.shapes.outlines import circle, rounded_rectangle
from tests.conftest import EXAMPLES

TEXT = (EXAMPLES / "cypress.toml").read_text(encoding="utf-8")


def layout(**changes):
    return lay_out(read_job(edited(TEXT, changes)))


@pytest.mark.parametrize("face", ["inside", "outside"])
def test_rolled_back_every_hole_meets_the_skins(face):
    """Rolling bends the flat sheet about its middle: a flat length becomes an angle there, and the hole's axis then
    runs radially to the outer face of the skin, along which the job's places are measured."""
    drawn = layout(**{"doubler.face": face})
    flat = flat_doubler(drawn)
    outer_in, inner_in = flat.roll_in
    radius_in = 8.0**2 / (8.0 * 0.583) + 0.583 / 2.0  # chord and rise of the job
    assert outer_in == pytest.approx(radius_in - 0.025 if face == "inside" else radius_in + 0.032, abs=1e-9)
    assert outer_in - inner_in == pytest.approx(0.032, abs=1e-12)
    assert len(flat.holes) == sum("doubler" in hole.stack for hole in drawn.holes) > 20
    for hole, (x, y) in flat.holes:
        assert x == hole.x_in
        angle = (y - flat.stretch.about_in) / (0.5 * (outer_in + inner_in))
        assert flat.stretch.about_in + angle * radius_in == pytest.approx(hole.y_in, abs=1e-12)
    assert (flat.stretch.ratio < 1.0) == (face == "inside")


def test_edges_are_stretched_like_the_holes():
    flat = flat_doubler(layout())
    x_min, y_min, x_max, y_max = flat.edges[0].bounds
    assert (x_max - x_min, y_max - y_min) == pytest.approx((7.0, 5.0 * flat.stretch.ratio), abs=2e-5)


@pytest.mark.parametrize("axis", [0, 1])
@pytest.mark.parametrize("ratio", [0.95, 0.997, 1.004, 1.05])
def test_arcs_keep_to_the_ellipse(axis, ratio):
    for loop, radius_in in (
        (circle(diameter_in=2.0, center=(3.0, 1.0)), 1.0),
        (rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.75, center=(3.0, 1.0)), 0.75),
    ):
        made = Stretch("xy"[axis], ratio, about_in=0.5).loop(loop)
        places = made.points(1e-5)
        back = places.copy()
        back[:, axis] = 0.5 + (back[:, axis] - 0.5) / ratio
        center = np.array([3.0, 1.0])
        off = np.abs(back - center) - (0.0 if radius_in == 1.0 else np.array([2.5, 2.0]) - radius_in)
        out = np.clip(off, 0.0, None)
        on_edge = np.where((off > 0.0).all(axis=1), np.hypot(*out.T), off.max(axis=1))
        assert np.abs(on_edge - radius_in).max() < 0.01 * abs(ratio - 1.0) * radius_in + 2e-5
        assert made.area_sq_in == pytest.approx(ratio * loop.area_sq_in, rel=1e-4)
        assert math.copysign(1.0, made.area_sq_in) == math.copysign(1.0, loop.area_sq_in)


def test_flat_skins_have_none_and_double_curvature_is_refused(alder):
    assert flat_doubler(lay_out(alder)) is None
    with pytest.raises(GeometryError, match="double curvature"):
        flat_doubler(layout(**{"skin.curvature.other_rise": "1/4"}))
