"""The land of a doubler, and what its nearest rivet has to spare: geometry, two diameters to an edge [AL0992]."""

from __future__ import annotations

import pytest

from hatchwright.layout.lay_out import lay_out
from hatchwright.recipe.land import land_of
from rules.cases import FLUSH, PLAIN, RING, job_of


def made_at(x: str, u: str) -> dict:
    """The one 1/8 rivet as drilled; the outer edge of the doubler lies at X = 3."""
    return {"uncertainty": u, "holes": [[1, x, "0"]]}


def test_an_equal_land_is_one_figure():
    """Opening of 4, window of 2.6."""
    land = land_of(lay_out(job_of(FLUSH)))
    assert land.is_equal
    assert land.least_in == pytest.approx(0.7)
    assert land_of(lay_out(job_of(PLAIN))) is None


@pytest.mark.parametrize(
    ("x", "u", "spare_in"),
    [("2.74", ".001", 0.009), ("2.748", ".005", -0.003), ("2.76", ".001", -0.011)],
)
def test_what_is_to_spare_is_surely_so(x, u, spare_in):
    """A measured place counts less its uncertainty, as for the edge distance itself."""
    land = land_of(lay_out(job_of(RING, as_made=made_at(x, u))))
    assert land.nearest.number == 1
    assert land.spare_in == pytest.approx(spare_in)
