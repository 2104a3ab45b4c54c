"""The key hole: no turn and no flip brings it to its mark, and a left template does not fit a right job."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.errors import GeometryError
from hatchwright.finding import Status
from hatchwright.job.other_side import other_side
from hatchwright.layout.lay_out import lay_out
from hatchwright.shapes.distance import distances
from hatchwright.tooling.guide_template import job_chain
from hatchwright.tooling.key import fits, key_of, misfit_in
from hatchwright.tooling.key_findings import key_findings, laid_on
from hatchwright.tooling.template_holes import plate, template_holes


def key(layout):
    return key_of(layout, job_chain(layout))


def test_left_template_is_refused_on_the_right_job(alder_drawn):
    left, right = key(lay_out(alder_drawn)), key(lay_out(other_side(alder_drawn)))
    assert fits(left, left)
    assert fits(right, right)
    assert not fits(left, right)
    assert not fits(right, left)
    assert laid_on(left, right).status is Status.STOP
    assert "other side" in laid_on(left, right).advice
    assert laid_on(left, left).status is Status.PASS


def test_turned_template_shows_its_key_off_the_mark(alder_drawn):
    """Half a turn brings the hole to the other side of the middle: twice its distance from it."""
    found = key(lay_out(alder_drawn))
    x, y = found.in_page
    assert np.hypot(2 * x, 2 * y) > found.apart_in > 1.0
    assert len(found.ways) == 2  # the plate of 8.277 x 7.277 fits its place in two ways, face up


def test_key_of_a_square_plate_minds_quarter_turns_too(layout_of):
    square = layout_of("plain", opening__width="4.00")
    found = key(square)
    assert len(found.ways) == 4
    x, y = found.in_page
    assert abs(abs(x) - abs(y)) * 2**0.5 >= found.apart_in - 1e-9  # flips about both diagonals
    assert 2 * min(abs(x), abs(y)) >= found.apart_in - 1e-9  # flips about both axes
    for way in (
        [[0, -1], [1, 0]],
        [[-1, 0], [0, -1]],
        [[0, 1], [1, 0]],
        [[-1, 0], [0, 1]],
        [[1, 0], [0, -1]],
    ):
        assert np.hypot(*(np.array(way) @ (x, y) - (x, y))) >= found.apart_in - 1e-9


@pytest.mark.parametrize("example", ["alder", "dogwood", "plain"])
def test_key_hole_has_material_round_it(layout_of, example):
    layout = layout_of(example)
    chain = job_chain(layout)
    found = key_of(layout, chain)
    body = distances(plate(layout, chain), [found.centre])
    assert body.inside[0]
    assert body.distance_in[0] >= found.diameter_in / 2 + 0.25
    for one in template_holes(layout, chain):
        apart = np.hypot(found.centre[0] - one.hole.x_in, found.centre[1] - one.hole.y_in)
        assert apart >= (found.diameter_in + one.pilot_in) / 2 + 0.25


def test_template_of_no_symmetry_fits_in_one_way(layout_of):
    lopsided = """shape = "polygon"
corners = [["0", "0"], ["7", "0"], ["7", "3"], ["3", "5"], ["0", "5"]]
radii = [".5"]"""
    found = key(layout_of("plain", opening=lopsided))
    assert found.apart_in == np.inf
    assert len(found.ways) == 1
    assert key_findings(*_with_chain(layout_of("plain", opening=lopsided)))[0].status is Status.PASS


def _with_chain(layout):
    return layout, job_chain(layout)


def test_border_too_narrow_for_a_key(layout_of):
    layout = layout_of("plain", template__border=".3")
    with pytest.raises(GeometryError, match="no room for a key hole"):
        key(layout)
    (finding,) = key_findings(layout, job_chain(layout))
    assert finding.status is Status.CAUTION
    assert "Widen the border" in finding.advice


def test_template_of_another_job_is_refused_too(layout_of):
    assert misfit_in(key(layout_of("plain")), key(layout_of("alder"))) > 0.125
