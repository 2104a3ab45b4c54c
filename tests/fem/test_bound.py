"""The error of the grid, and whether it bounds the true one."""

from __future__ import annotations

import numpy as np
import pytest

from fem.models import reinforced
from hatchwright.fem.analysis import analyze
from hatchwright.fem.bound import analyze_twice
from hatchwright.fem.model import OpeningModel, Sheet, wide_panel
from hatchwright.fem.solution import EdgeStress
from hatchwright.fem.stations import Fineness
from hatchwright.shapes.outlines import circle, obround, polygon

FINE = Fineness(per_quarter=20, patch_share=0.4, far_growth_ratio=1.3, growth_ratio=1.2)
MODELS = {
    "reinforced": reinforced(),
    "off centre": reinforced(center=(2.0, 1.5)),
    "circle": OpeningModel(
        Sheet("skin", wide_panel(circle(diameter_in=3)), circle(diameter_in=3), 0.04, 1e7)
    ),
    "slot": OpeningModel(
        Sheet("skin", wide_panel(circle(diameter_in=3)), obround(length_in=3, width_in=1), 0.04, 1e7)
    ),
}


@pytest.mark.parametrize("name", MODELS)
def test_it_bounds_the_error_against_a_much_finer_grid(name):
    twice, fine = analyze_twice(MODELS[name]), analyze(MODELS[name], fineness=FINE)
    for nx, ny, q in (*np.eye(3), (1.0, -0.4, 0.7)):
        load = {"nx_lbf_in": nx, "ny_lbf_in": ny, "q_lbf_in": q}
        error, found, true = twice.grid_error(**load), twice.fine.combine(**load), fine.combine(**load)
        assert abs(abs(found.edge().peak[0] / true.edge().peak[0]) - 1) <= error.edge_ratio
        assert abs(found.deflection_in / true.deflection_in - 1) <= error.deflection_ratio + 1e-5
        apart = np.hypot(*(found.fastener_lbf - true.fastener_lbf).T).max(initial=0.0)
        assert apart <= error.fastener_ratio * true.fastener_load_lbf.max(initial=0.0)
        assert error.edge_ratio < 0.03
        assert error.fastener_ratio < 0.03


def test_no_load_no_error():
    error = analyze_twice(MODELS["circle"]).grid_error()
    assert (error.edge_ratio, error.fastener_ratio, error.deflection_ratio) == (0.0, 0.0, 0.0)


def test_an_edge_that_turns_back_on_itself_is_compared_place_by_place():
    """An L seen from its own middle crosses some directions three times: places must not be told by direction."""
    corners = [(-3.0, -3.0), (3.0, -3.0), (3.0, -1.0), (-1.0, -1.0), (-1.0, 3.0), (-3.0, 3.0)]
    opening = polygon(corners, [0.5] * 6)
    skin = Sheet("skin", wide_panel(opening), opening, thickness_in=0.04, modulus_psi=1e7)
    error = analyze_twice(OpeningModel(skin)).grid_error(nx_lbf_in=100.0)
    assert 0.0 < error.edge_ratio < 0.05


def test_stress_between_two_places_of_an_edge():
    square = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
    edge = EdgeStress(square, np.array([0.0, 10.0, 30.0, 20.0]))
    wanted = np.array([(0.25, 0.01), (1.0, 0.5), (0.0, 0.75), (1.2, 1.1)])
    assert edge.at(wanted) == pytest.approx([2.5, 20.0, 15.0, 30.0])
