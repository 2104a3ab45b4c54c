"""Figures as they are printed; expected texts worked by hand."""

from __future__ import annotations

import pytest

from hatchwright.drawings.figures import bare
from hatchwright.layout.sizes import size_of
from hatchwright.said import missing
from hatchwright.units import figure
from hatchwright.words.tell import tell


@pytest.mark.parametrize(
    ("value_in", "inch", "metric"),
    [
        (5.0, "5.000", "127.00"),
        (0.032, ".032", "0.81"),
        (0.3125, ".3125", "7.94"),
        (8.7166666, "8.717", "221.40"),
        (-0.0000001, ".000", "0.00"),
        (-1.188, "-1.188", "-30.18"),
        (0.0, ".000", "0.00"),
        (0.015, ".015", "0.381"),
    ],
)
def test_figures_keep_what_was_meant_and_no_more(value_in, inch, metric):
    assert figure(value_in, "in") == inch
    assert figure(value_in, "mm") == metric


def test_fine_figures_have_one_place_more():
    assert figure(0.1285, "in", fine=True) == ".1285"
    assert figure(1.47, "in", fine=True) == "1.4700"
    assert figure(1.47, "mm", fine=True) == "37.338"


@pytest.mark.parametrize(
    ("missing_in", "inch", "metric"),
    [(0.002, ".002", "0.06"), (0.0021, ".003", "0.06"), (0.007, ".007", "0.18"), (0.0, ".000", "0.00")],
)
def test_a_shortfall_never_reads_smaller_than_it_is(missing_in, inch, metric):
    assert tell(missing(missing_in), "in") == inch
    assert tell(missing(missing_in), "mm") == f"{metric} mm"


def test_sizes_go_along_x_then_y():
    assert bare(size_of((3.0, 2.5, 8.0, 6.5)), "in") == "5.000 x 4.000"
    assert tell(size_of((3.0, 2.5, 8.0, 6.5)), "mm") == "127.00 x 101.60 mm"
