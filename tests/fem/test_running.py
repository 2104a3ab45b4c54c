"""Running loads inside a sheet."""

from __future__ import annotations

import numpy as np
import pytest

from fem.models import reinforced
from hatchwright.errors import SolveError
from hatchwright.fem.analysis import analyze
from hatchwright.fem.model import OpeningModel, Sheet, wide_panel
from hatchwright.fem.running import crossing_loads, net_loads, running_loads
from hatchwright.shapes.outlines import circle

RADIUS = 1.5
HOLE = circle(diameter_in=2 * RADIUS)
BARE = OpeningModel(Sheet("skin", wide_panel(HOLE), HOLE, 0.04, 1e7))


def kirsch(points):
    """Running loads round a circle under unit Nx. Source: Kirsch (1898), in polar form, turned to x and y."""
    x, y = points.T
    r, a = np.hypot(x, y), np.arctan2(y, x)
    s = (RADIUS / r) ** 2
    radial = (1 - s) / 2 + (1 - 4 * s + 3 * s**2) / 2 * np.cos(2 * a)
    hoop = (1 + s) / 2 - (1 + 3 * s**2) / 2 * np.cos(2 * a)
    shear = -(1 + 2 * s - 3 * s**2) / 2 * np.sin(2 * a)
    c, n = np.cos(a), np.sin(a)
    nx = radial * c**2 + hoop * n**2 - 2 * shear * c * n
    ny = radial * n**2 + hoop * c**2 + 2 * shear * c * n
    return np.stack([nx, ny, (radial - hoop) * c * n + shear * (c**2 - n**2)], axis=1)


def test_running_loads_of_kirsch_at_points():
    angle, radius = np.meshgrid(np.linspace(0.1, 6.1, 25), RADIUS * np.array([1.2, 1.6, 2.5, 5.0]))
    points = np.stack([radius * np.cos(angle), radius * np.sin(angle)], axis=-1).reshape(-1, 2)
    found = running_loads(analyze(BARE), "skin", points)[..., 0]
    assert found == pytest.approx(kirsch(points), abs=0.03)


def test_running_loads_of_kirsch_at_crossings():
    places, loads = crossing_loads(analyze(BARE), "skin")
    near = np.hypot(*np.moveaxis(places, -1, 0)) < 10 * RADIUS
    assert loads[near][..., 0] == pytest.approx(kirsch(places[near]), abs=0.06)
    assert places[:, 0] == pytest.approx(places[:, -1])
    assert loads[:, 0] == pytest.approx(loads[:, -1])


def test_far_from_the_opening_the_load_is_the_one_applied():
    points = np.array([[90.0, 0.0], [0.0, 90.0], [-60.0, 60.0]])
    assert running_loads(analyze(BARE), "skin", points) == pytest.approx(
        np.tile(np.eye(3), (3, 1, 1)), abs=0.002
    )


@pytest.fixture(scope="module")
def unit():
    return analyze(reinforced())


def outer_row(unit):
    """The rivets of the outer row to the right of the opening, upwards."""
    places = unit.model.centers
    return sorted(np.flatnonzero(places[:, 0] > 3.8).tolist(), key=lambda k: places[k, 1])


def test_sections_through_both_sheets_carry_the_whole_load(unit):
    """Skin and doubler together across x = 0, from the opening to the panel's edge, twice by symmetry."""
    y = 1.77 + (np.arange(400) + 0.5) / 400 * (8.0 - 1.77)
    skin = running_loads(unit, "skin", np.stack([0 * y, y], axis=1))[:, 0, 0].mean() * (8.0 - 1.77) * 2
    assert skin + unit.pick_up_in("doubler", x_in=0.0)[0, 0] == pytest.approx(16.0, rel=0.005)


def test_net_section_at_a_row(unit):
    row = outer_row(unit)
    assert len(row) >= 3
    pitch_in = np.diff(unit.model.centers[row], axis=0)[:, 1]
    assert pitch_in == pytest.approx(1.02, abs=0.05)
    gross_lbf_in = net_loads(unit.combine(nx_lbf_in=200.0), "skin", row) * (1.02 - 0.15625) / 1.02
    # outside the outer row the skin carries nearly all of what comes in, inside less by what the rivets took
    assert (gross_lbf_in > 0.5 * 200).all()
    assert (gross_lbf_in < 1.1 * 200).all()


def test_a_box_round_a_rivet_is_in_balance(unit):
    """What flows out of a box of skin round one rivet is what that rivet puts on the skin."""
    number = outer_row(unit)[1]
    load = unit.combine(nx_lbf_in=200.0, ny_lbf_in=50.0, q_lbf_in=120.0)
    middle, half, share = unit.model.centers[number], 0.3, (np.arange(200) + 0.5) / 200 * 2 - 1
    out = np.zeros(2)
    for normal in np.array([[1, 0], [-1, 0], [0, 1], [0, -1]]):
        points = middle + half * (normal + share[:, None] * normal[::-1])
        nx, ny, nxy = (running_loads(unit, "skin", points) @ load.load_lbf_in).mean(axis=0) * 2 * half
        out += np.array([[nx, nxy], [nxy, ny]]) @ normal
    assert out == pytest.approx(load.fastener_lbf[number], abs=0.05 * load.fastener_load_lbf.max())


def test_a_row_of_one_or_of_twins_is_refused(unit):
    with pytest.raises(SolveError, match="at least two fasteners"):
        net_loads(unit.combine(nx_lbf_in=1.0), "skin", [3])
    with pytest.raises(SolveError, match="in the same place"):
        net_loads(unit.combine(nx_lbf_in=1.0), "skin", [3, 3])
