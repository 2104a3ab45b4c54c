"""Four corners of six lengths, and places from corners: against closed forms, SciPy's least squares and simulation."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import least_squares

from hatchwright.errors import GeometryError
from hatchwright.metrology.meeting import meeting
from hatchwright.metrology.propagated import as_read, less
from hatchwright.metrology.quadrilateral import (
    LENGTHS,
    TRIANGLES,
    angle_sum_deg,
    corner_places,
    triangle_over,
    worked_out,
)

KITE = np.array([[0.0, 0.0], [6.0, 0.0], [5.9, 6.7], [-0.2, 6.6]])


def taped(corners=KITE, u: float = 0.03, **off: float):
    """Lengths between places, some of them misread."""
    return {
        name: as_read(name, float(np.hypot(*(corners[b] - corners[a]))) + off.get(name, 0.0), u)
        for name, (a, b) in LENGTHS.items()
    }


def test_rectangle_of_3_4_5():
    lengths = {
        name: as_read(name, value, 0.01) for name, value in zip(LENGTHS, (4, 3, 4, 3, 5, 5), strict=True)
    }
    assert worked_out(lengths).value == pytest.approx(4.0)
    assert angle_sum_deg(lengths).value == pytest.approx(360.0)
    places = [(x.value, y.value) for x, y in corner_places(lengths)]
    assert np.array(places) == pytest.approx(np.array([[0, 0], [4, 0], [4, 3], [0, 3]]))


def test_corners_come_back_from_their_lengths():
    assert np.array([[x.value, y.value] for x, y in corner_places(taped())]) == pytest.approx(KITE)
    five = taped()
    del five["cd"]
    assert np.array([[x.value, y.value] for x, y in corner_places(five)]) == pytest.approx(KITE)


@pytest.mark.parametrize("name", LENGTHS)
def test_any_length_is_worked_out_from_the_others(name):
    lengths = taped()
    assert worked_out(lengths, name).value == pytest.approx(lengths[name].value)


@pytest.mark.parametrize("name", LENGTHS)
def test_a_length_that_is_misread_shows_in_closing_and_angles(name):
    """By .3, with u .03 each: far beyond the u of the closing whichever it is."""
    lengths = taped(**{name: 0.3})
    off = less(lengths["cd"], worked_out(lengths))
    assert abs(off.value) > off.u
    assert abs(angle_sum_deg(lengths).value - 360.0) > angle_sum_deg(lengths).u


def test_places_against_least_squares():
    lengths = taped(ab=0.02, bd=-0.03, ac=0.01)
    names, free = list(LENGTHS), (2, 4, 5, 6, 7)

    def misses(at):
        corners = np.zeros(8)
        corners[list(free)] = at
        corners = corners.reshape(4, 2)
        return [
            (np.hypot(*(corners[b] - corners[a])) - lengths[name].value) / 0.015
            for name, (a, b) in ((name, LENGTHS[name]) for name in names)
        ]

    fit = least_squares(misses, KITE.reshape(-1)[list(free)] + 0.1, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    found = [one for place in corner_places(lengths) for one in place]
    assert [found[k].value for k in free] == pytest.approx(list(fit.x), abs=1e-7)
    spread = np.sqrt(np.diag(np.linalg.inv(fit.jac.T @ fit.jac)))
    # Gauss-Newton's rates at the minimum, for misses as small as these
    assert [found[k].budget.standard for k in free] == pytest.approx(list(spread), rel=1e-5)


def test_u_of_closing_and_angles_against_simulation():
    rng, trials = np.random.default_rng(5), 1500
    lengths = taped()
    off, angles = [], []
    for _ in range(trials):
        drawn = {
            name: as_read(name, one.value + rng.normal(0.0, 0.015), 0.03) for name, one in lengths.items()
        }
        off.append(drawn["cd"].value - worked_out(drawn).value)
        angles.append(angle_sum_deg(drawn).value)
    allowed = 4.0 / math.sqrt(2 * trials)
    closing = less(lengths["cd"], worked_out(lengths))
    assert np.std(off) == pytest.approx(closing.budget.standard, rel=allowed)
    assert np.std(angles) == pytest.approx(angle_sum_deg(lengths).budget.standard, rel=allowed)


def test_a_closing_is_the_same_whichever_length_is_the_sixth():
    """What is off over its u, to the first order: one lack of closing, told of six lengths."""
    lengths = taped(bd=0.02)
    told = []
    for name in LENGTHS:
        off = less(lengths[name], worked_out(lengths, name))
        told.append(abs(off.value) / off.u)
    assert max(told) - min(told) < 0.02 * max(told)


def test_a_side_that_is_longer_than_the_two_others():
    lengths = {
        name: as_read(name, value, 0.03) for name, value in zip(LENGTHS, (3, 4, 3, 4, 7.1, 5), strict=True)
    }
    longest, over = triangle_over(lengths, TRIANGLES[0])
    assert longest == "ac"
    assert over.value == pytest.approx(0.1)
    assert over.u == pytest.approx(0.03 * math.sqrt(3.0))


@pytest.mark.parametrize("values", [(3, 4, 3, 4, 7.2, 5), (1, 1, 1, 1, 0.1, 5), (4, 3, 4, 3, 0.5, 0.5)])
def test_lengths_that_make_no_bay_are_refused(values):
    lengths = {name: as_read(name, value, 0.03) for name, value in zip(LENGTHS, values, strict=True)}
    with pytest.raises(GeometryError, match="four-sided bay"):
        worked_out(lengths)


def test_too_few_lengths_place_no_corner():
    lengths = taped()
    del lengths["cd"], lengths["ac"]
    with pytest.raises(GeometryError, match="too few"):
        corner_places(lengths)


def test_a_place_from_two_corners_and_from_four():
    """A place at (2.5, 3.1), its distances by Pythagoras."""
    corners = corner_places(taped())
    place = (2.5, 3.1)
    distances = [as_read(f"d{k}", math.dist(place, KITE[k]), 0.02) for k in range(4)]
    for count in (2, 3, 4):
        found = meeting(corners[:count], distances[:count], (3.0, 3.0))
        assert [one.value for one in found] == pytest.approx(place, abs=1e-9)


def test_u_of_a_place_from_sure_corners_by_hand():
    """Corners at right angles to the place: X rests on one distance, Y on the other."""
    sure = [(as_read("x", *xy, 0.0), as_read("y", y, 0.0)) for xy, y in (((0.0,), 0.0), ((3.0,), 4.0))]
    distances = [as_read("a", 3.0, 0.02), as_read("b", 4.0, 0.05)]
    x, y = meeting(sure, distances, (2.5, 0.5))
    assert (x.value, y.value) == pytest.approx((3.0, 0.0), abs=1e-9)
    assert (x.u, y.u) == pytest.approx((0.02, 0.05))


def test_distances_that_meet_nowhere_or_run_along_one_line_are_refused():
    sure = [(as_read("x", x, 0.0), as_read("y", 0.0, 0.0)) for x in (0.0, 10.0)]
    for one, other in ((2.0, 3.0), (5.0, 5.0)):
        with pytest.raises(GeometryError, match="meet nowhere"):
            meeting(sure, [as_read("a", one, 0.01), as_read("b", other, 0.01)], (5.0, 1.0))
