"""Distances of a layout, against plain loops over every pair."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from hatchwright.job.file import load_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import is_closed, points_of
from hatchwright.layout.survey import NEAR_DIAMETERS, survey
from rules.cases import FLUSH, RING, along_y, job_of, rivets
from rules.conftest import EXAMPLES, JOBS


@pytest.fixture(scope="module", params=JOBS)
def measured(request):
    return survey(lay_out(load_job(EXAMPLES / f"{request.param}.toml")))


def test_pairs_that_are_near_are_those_of_a_loop_over_all(measured):
    holes = measured.layout.holes
    reach = NEAR_DIAMETERS * max(hole.diameter_in for hole in holes)
    by_loop = {
        (a.number, b.number): math.hypot(a.x_in - b.x_in, a.y_in - b.y_in)
        for a, b in itertools.combinations(holes, 2)
    }
    by_loop = {pair: apart for pair, apart in by_loop.items() if apart <= reach}
    found = {(pair.first.number, pair.second.number): pair.distance_in for pair in measured.near}
    assert found == pytest.approx(by_loop)


def test_distances_to_an_edge_are_those_to_the_nearest_of_its_chords(measured):
    """Against a loop over the chords of the edge, which lie within 1e-5 of it."""
    for row in measured.edges:
        points = row.edge.loop.points(1e-5)
        steps = np.roll(points, -1, axis=0) - points
        for hole, distance in zip(row.holes, row.distance_in.tolist(), strict=True):
            to = np.array([hole.x_in, hole.y_in]) - points
            share = np.clip((to * steps).sum(axis=1) / (steps * steps).sum(axis=1), 0.0, 1.0)
            nearest = np.hypot(*(to - share[:, None] * steps).T).min()
            assert abs(distance) == pytest.approx(nearest, abs=2e-5)


def test_every_hole_of_a_part_is_measured_to_its_edges_once(measured):
    for row in measured.edges:
        numbers = [hole.number for hole in row.holes]
        assert len(numbers) == len(set(numbers))
        assert all(row.part.name in hole.stack for hole in row.holes)


def test_the_doubler_edge_that_is_the_opening_is_not_measured_twice():
    ring = survey(lay_out(job_of(RING)))
    assert [row.edge.name for row in ring.distinct_edges] == ["opening edge", "doubler outer edge"]
    # for strength every edge of every part counts
    assert [row.edge.name for row in ring.edges] == [
        "opening edge",
        "doubler outer edge",
        "doubler inner edge",
    ]
    land = survey(lay_out(job_of(FLUSH))).distinct_edges
    assert "doubler inner edge" in [row.edge.name for row in land]


def test_uncertainty_of_an_edge_distance_is_the_larger_of_hole_and_edge():
    edges = {"shape": "edges", "x_from": "-2", "x_to": "2", "y_from": "-2", "y_to": "2", "radius": "1"}
    made = {"uncertainty": ".005", "opening": edges}
    rows = {row.edge.name: row for row in survey(lay_out(job_of(RING, as_made=made))).edges}
    assert rows["opening edge"].uncertainty_in.tolist() == [0.005]
    assert rows["doubler outer edge"].uncertainty_in.tolist() == [0.0]
    # the doubler ends at the opening, which was measured
    assert rows["doubler inner edge"].uncertainty_in.tolist() == [0.005]


def test_a_row_of_screws_has_no_row_spacing():
    assert survey(lay_out(job_of(FLUSH))).row_spacings == ()


@pytest.mark.parametrize(("spacing", "found"), [(0.3, True), (1.5, True), (1.501, False)])
def test_row_spacing_is_taken_square_to_the_row_up_to_twelve_diameters(spacing, found):
    rows = [along_y(2.3, pitch=0.5, name="a"), along_y(2.3 + spacing, pitch=0.5, start=-0.55, name="b")]
    spacings = survey(lay_out(job_of(RING, rows=rows))).row_spacings
    assert [one.distance_in for one in spacings] == ([pytest.approx(spacing)] if found else [])


def test_rows_at_right_angles_do_not_run_side_by_side():
    rows = [along_y(2.5, pitch=0.5, name="a"), rivets(*((2.6 + 0.4 * k, 0.0) for k in range(4)), name="b")]
    assert survey(lay_out(job_of(RING, rows=rows))).row_spacings == ()


def test_two_holes_on_one_spot_do_not_break_the_survey():
    rows = [rivets((2.3, 0.0), (2.3, 0.0), (2.3, 0.5), name="a"), along_y(2.7, pitch=0.5, name="b")]
    measured = survey(lay_out(job_of(RING, rows=rows)))
    assert [one.distance_in for one in measured.row_spacings] == [pytest.approx(0.4)]
    assert measured.near[0].distance_in == 0.0


def test_a_row_closes_when_its_ends_are_neighbors():
    square = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
    assert is_closed(square)
    assert not is_closed(np.vstack([square, [(0.0, 2.2)]]))
    assert not is_closed(square[:3])


def test_no_holes_are_measured_without_holes():
    empty = survey(lay_out(job_of(RING, rows=[])))
    assert (empty.edges, empty.near, empty.layout.pitches, empty.row_spacings) == ((), (), (), ())
    assert points_of(()).shape == (0, 2)
