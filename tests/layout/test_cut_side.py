"""The sides of the cut on rivets counted by hand, and that every one lies where it is counted."""

from __future__ import annotations

import pytest

from hatchwright.layout.cut_side import sides_of_cut
from tests.strength.jobs import SYMMETRIC, layout_of

MADE = """
[as_made]
uncertainty = ".005"
[as_made.opening]
shape = "rounded rectangle"
width = "4.1"
height = "4"
radius = "1"
center = ["0", "0"]
"""


def test_each_side_has_its_two_rows_of_eight() -> None:
    """Rows at 2.3 and 3.2 from the middle of an opening 4 wide, reaching 1.6 and 1.9 to both sides: none lies beyond a
    corner."""
    sides = sides_of_cut(layout_of(base=SYMMETRIC))
    assert [(side.name, side.axis, len(side.rivets)) for side in sides] == [
        ("X+", 0, 16),
        ("X-", 0, 16),
        ("Y+", 1, 16),
        ("Y-", 1, 16),
    ]
    for side in sides:
        assert side.cut_in == pytest.approx(4.0)
        near, far = side.rows
        assert (near.offset_in, far.offset_in) == pytest.approx((0.3, 1.2))
        assert (near.pitch_in, far.pitch_in) == pytest.approx((3.2 / 7, 3.8 / 7))


def test_a_rivet_beyond_a_corner_counts_for_both_sides() -> None:
    layout = layout_of()
    sides = {side.name: side for side in sides_of_cut(layout)}
    corner = {hole.number for hole in layout.holes if hole.x_in > 2 and hole.y_in > 2}
    assert corner
    for name in ("X+", "Y+"):
        assert corner <= {hole.number for hole in sides[name].rivets}
    assert not corner & {hole.number for side in (sides["X-"], sides["Y-"]) for hole in side.rivets}
    for side in sides.values():
        beside = {hole.number for row in side.rows for hole in row.holes}
        assert beside < {hole.number for hole in side.rivets}
        assert not corner & beside


def test_without_a_doubler_rivets_join_nothing() -> None:
    start, rows = SYMMETRIC.split("[doubler]\n")[0], SYMMETRIC[SYMMETRIC.index("[[rows]]") :]
    assert all(side.rivets == () for side in sides_of_cut(layout_of(base=start + rows)))


@pytest.mark.parametrize(("width", "cut_in"), [("4.1", 4.1), ("3.9", 4.0)])
def test_the_cut_is_that_of_the_opening_as_filed_and_no_less_than_drawn(width: str, cut_in: float) -> None:
    """An opening filed too large is as large as it is; one that is not yet filed out will be as drawn."""
    made = MADE.replace("4.1", width)
    assert [side.cut_in for side in sides_of_cut(layout_of(made, base=SYMMETRIC))] == pytest.approx(
        [4.0, 4.0, cut_in, cut_in]
    )
