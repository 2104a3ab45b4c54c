"""Limits that cannot be kept together and the smallest sets to move, on problems small enough to see through.

What is asked is a row of numbers, a limit moves one of them by one a stop, and what is asked holds where a sum is small
enough: the sets can be told by hand.
"""

from __future__ import annotations

import pytest

from hatchwright.search.proposal.conflict_sets import Movable, irreducible, smallest_sets

NAMES = "abcd"


def limit(at: int, stops: int, looked_through: int = 0) -> Movable[tuple[int, ...]]:
    def moved(asked, stop):
        return (*asked[:at], asked[at] - stop, *asked[at + 1 :])

    return Movable(NAMES[at], stops, moved, looked_through)


def at_most(most: int):
    return lambda asked: sum(asked) <= most


def test_one_limit_that_can_be_moved_far_enough_is_a_way_by_itself():
    limits = [limit(0, 2), limit(1, 5), limit(2, 7)]
    assert smallest_sets((3, 5, 7), limits, at_most(10)) == ((("b", 5),), (("c", 5),))


def test_where_no_single_one_suffices_pairs_are_tried_and_the_first_is_spared():
    """9 over; a gives at most 4, b 5, c 6: of a and c the first gives no more than it must, 3, once c gives its 6."""
    limits = [limit(0, 4), limit(1, 5), limit(2, 6)]
    ways = smallest_sets((10, 10, 10), limits, at_most(21))
    assert ways == ((("a", 4), ("b", 5)), (("a", 3), ("c", 6)), (("b", 3), ("c", 6)))


def test_a_conflict_that_three_do_not_solve_has_no_way():
    assert smallest_sets((5, 5, 5, 5), [limit(at, 1) for at in range(4)], at_most(16)) == ()
    assert len(smallest_sets((5, 5, 5, 5), [limit(at, 1) for at in range(4)], at_most(17))) == 4


def test_stops_before_the_one_of_the_halving_are_looked_through():
    """Only 3 and 8 to 16 stops hold: halving ends at 8."""

    def holds(asked):
        return asked[0] in (-3, *range(-16, -7))

    (((_, found),),) = smallest_sets((0,), [limit(0, 16)], holds)
    assert found == 8
    (((_, found),),) = smallest_sets((0,), [limit(0, 16, looked_through=5)], holds)
    assert found == 3


@pytest.mark.parametrize("most", range(6, 20))
def test_what_is_left_cannot_be_kept_together_and_none_of_it_can_be_left_out(most):
    asked, limits = (5, 4, 6, 5), [limit(0, 3), limit(1, 4), limit(2, 2), limit(3, 5)]
    holds = at_most(most)
    kept = irreducible(asked, limits, holds)
    others = asked
    for one in limits:
        if one.key not in kept:
            others = one.end(others)
    assert not holds(others)
    assert all(holds(one.end(others)) for one in limits if one.key in kept)


def test_what_is_asked_first_is_left_out_first():
    """Any one of four solves it: the last is what is told, for somebody can move that."""
    limits = [limit(at, 5) for at in range(4)]
    assert irreducible((5, 5, 5, 5), limits, at_most(15)) == ("a", "b", "c", "d")
    assert irreducible((5, 5, 5, 5), [limit(0, 2), limit(1, 5)], at_most(15)) == ("b",)
    assert irreducible((5, 5, 5, 5), [limit(0, 5), limit(1, 2)], at_most(15)) == ("a",)
