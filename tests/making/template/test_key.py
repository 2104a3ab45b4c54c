"""The key of a template: every wrong way to lay it shows, and a left template does not pass for a right one."""

from __future__ import annotations

import itertools
import math

import pytest
from shapely import Polygon
from shapely.affinity import rotate, scale, translate

from hatchwright.job.other_side import other_side
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.making import making_of
from hatchwright.making.template.key import SEEN_IN, misfit_in, shows_in
from hatchwright.making.template.key_findings import key_findings, laid_on
from hatchwright.making.template.part import template_part
from told import advice_of


def part_of(layout):
    return template_part(making_of(layout))


def outline(part):
    """The template's material as a polygon of a general-purpose library, its middle at the origin."""
    loops = sorted((loop.points(1e-4) for loop in part.material.loops), key=lambda p: -abs(Polygon(p).area))
    whole = Polygon(loops[0], loops[1:])
    x_min, y_min, x_max, y_max = whole.bounds
    return translate(whole, -(x_min + x_max) / 2, -(y_min + y_max) / 2)


def edges_apart(a, b) -> float:
    """Largest distance between two edges, either way, by that library."""
    return a.boundary.hausdorff_distance(b.boundary)


@pytest.mark.parametrize("example", ["alder", "birch"])
def test_every_wrong_way_shows_at_the_cut_corner(layout_of, example):
    part = part_of(layout_of(example))
    own = outline(part)
    ways = [rotate(own, angle, origin=(0, 0)) for angle in (90, 180, 270)]
    over = scale(own, xfact=-1.0, origin=(0, 0))
    ways += [rotate(over, angle, origin=(0, 0)) for angle in (0, 90, 180, 270)]
    assert min(edges_apart(own, way) for way in ways) > SEEN_IN
    assert shows_in(part) > SEEN_IN


def test_key_hole_of_a_plug_shows_every_wrong_way(layout_of):
    """Its place off the middle, laid wrongly: the least distance over all turns that keep the plug in its place."""
    layout = layout_of("dogwood")
    part = part_of(layout)
    (key,) = [hole for hole in part.holes if hole.name == "key hole"]
    x_min, y_min, x_max, y_max = part.material.bounds
    x, y = key.center[0] - (x_min + x_max) / 2, key.center[1] - (y_min + y_max) / 2
    places = [(sx * x, sy * y) for sx, sy in itertools.product((1, -1), (1, -1))][1:]
    assert shows_in(part) == pytest.approx(min(math.dist((x, y), place) for place in places), abs=1e-9)
    assert shows_in(part) > SEEN_IN


@pytest.mark.parametrize("fixture", ["alder_drawn"])
def test_left_template_is_refused_on_the_right_job(fixture, request):
    job = request.getfixturevalue(fixture)
    left, right = part_of(lay_out(job)), part_of(lay_out(other_side(job)))
    assert misfit_in(left, left) < SEEN_IN
    assert misfit_in(right, right) < SEEN_IN
    assert misfit_in(left, right) >= SEEN_IN
    assert misfit_in(right, left) >= SEEN_IN
    assert laid_on(left, right).status is Status.STOP
    assert "other side" in advice_of(laid_on(left, right))
    assert laid_on(left, left).status is Status.PASS


def test_left_plug_is_refused_on_the_right_job(job_of):
    job = job_of("dogwood", aircraft__side="left", frame__y="OUTBD")
    left, right = part_of(lay_out(job)), part_of(lay_out(other_side(job)))
    assert misfit_in(left, left) < SEEN_IN
    assert misfit_in(left, right) >= SEEN_IN


def test_left_template_face_down_would_fit_so_the_words_must_tell(alder_drawn):
    """A mirror image laid on its face is the same plate: only the lettering shows it."""
    left, right = outline(part_of(lay_out(alder_drawn))), outline(part_of(lay_out(other_side(alder_drawn))))
    over = scale(left, xfact=-1.0, origin=(0, 0))
    assert min(edges_apart(rotate(over, a, origin=(0, 0)), right) for a in (0, 90, 180, 270)) < 1e-6


def test_template_of_another_job_is_refused_too(layout_of):
    assert misfit_in(part_of(layout_of("plain")), part_of(layout_of("birch"))) > SEEN_IN


def test_template_without_a_key_is_said_so(layout_of):
    """A plug too small for a key hole."""
    plug = layout_of("dogwood", cutter__guide="2.6", cutter__filing_allowance="0")
    (finding,) = key_findings(making_of(plug))
    assert finding.status is Status.CAUTION
    assert finding.value == pytest.approx(0.0, abs=1e-9)
    assert "laid wrong" in advice_of(finding)


def test_keyed_template_passes(layout_of):
    layout = layout_of("alder")
    (finding,) = key_findings(making_of(layout))
    assert finding.status is Status.PASS
