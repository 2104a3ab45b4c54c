"""The order of riveting: every rivet once, from the middle of each side outward, a plug last; common practice."""

from __future__ import annotations

import pytest

from hatchwright.job.file import load_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.recipe.riveting import rivet_orders
from tests.conftest import EXAMPLES


@pytest.fixture(params=["alder", "cypress", "finch", "heron", "juniper"])
def layout(request):
    return lay_out(load_job(EXAMPLES / f"{request.param}.toml"))


def test_every_rivet_is_driven_once(layout):
    driven = [number for order in rivet_orders(layout) for number in (*order.first, *order.last)]
    assert sorted(driven) == sorted(hole.number for hole in layout.holes_of("rivet"))


def test_the_rivets_of_a_plug_come_last(layout):
    of_plug = [hole.number for hole in layout.holes if "plug" in hole.stack]
    orders = rivet_orders(layout)
    assert len(orders) == (2 if of_plug else 1)
    if of_plug:
        assert sorted((*orders[1].first, *orders[1].last)) == sorted(of_plug)


def test_each_side_is_begun_in_its_middle_and_opposite_sides_follow_each_other():
    """JUNIPER: inner rows of 8 and 10, pitch .60, about the center X 6.20 Y 4.50: the middle rivets lie .30 off it."""
    layout = lay_out(load_job(EXAMPLES / "juniper.toml"))
    place = {hole.number: hole.place for hole in layout.holes}
    begun = [place[number] for number in rivet_orders(layout)[0].first[:4]]
    (right, left, up, down) = begun
    assert right[0] > 6.2 > left[0]
    assert up[1] > 4.5 > down[1]
    assert all(abs(y - 4.5) <= 0.3 + 1e-9 for _, y in (right, left))
    assert all(abs(x - 6.2) <= 0.3 + 1e-9 for x, _ in (up, down))


def test_a_row_goes_outward(layout):
    """Of two rivets of one straight row, driven in one pass, the one nearer to the middle of the opening is first."""
    x, y = layout.center_in
    place = {hole.number: hole for hole in layout.holes}
    for order in rivet_orders(layout):
        for driven in (order.first, order.last):
            for name in {place[number].row for number in driven}:
                row = [place[number] for number in driven if place[number].row == name]
                for axis in (0, 1):
                    if max(hole.place[axis] for hole in row) - min(hole.place[axis] for hole in row) < 0.05:
                        along = [abs(hole.place[1 - axis] - (x, y)[1 - axis]) for hole in row]
                        assert along == sorted(along)
