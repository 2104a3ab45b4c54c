"""Which limits cannot be kept together, and the smallest sets of them that must be moved: the logic, without a number.

Each limit may be moved in stops, from none, where it stands, to its last, where moving it further makes no sense. To
move a limit seldom makes worse what the others leave, so the least stop is found by halving; where it can, as with a
size on which the pitch of a row depends, the stops before that are looked through one by one.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from typing import Generic, TypeVar

from msgspec import Struct

T = TypeVar("T")

MOST_TOGETHER = 3
"""Limits that are moved together at most: four at once is a new design and no relaxation [-]."""


class Movable(Struct, Generic[T], frozen=True):
    """One limit that may be moved.

    Args:
        key: of the limit.
        stops: how many stops it may be moved [-].
        at: what is asked with the limit moved so many stops.
        looked_through: stops before the one found by halving that are asked one by one [-].
    """

    key: str
    stops: int
    at: Callable[[T, int], T]
    looked_through: int = 0

    def end(self, asked: T) -> T:
        """What is asked with the limit moved as far as makes sense."""
        return self.at(asked, self.stops)


Way = tuple[tuple[str, int], ...]
"""Limits by their key, each with the stops that it is moved."""


def irreducible(asked: T, limits: Sequence[Movable[T]], holds: Callable[[T], bool]) -> tuple[str, ...]:
    """Limits that cannot be kept together, of which none can be left out: the deletion filter.

    Args:
        limits: in the order in which they are left out, what nobody can move first: so what is left is what somebody
            can, as far as that alone does it.
        holds: whether what is asked can be kept; not so as it stands.
    Returns:
        tuple[str, ...]: keys in that order.
    """
    kept: list[str] = []
    for limit in limits:
        without = limit.end(asked)
        if holds(without):
            kept.append(limit.key)
        else:
            asked = without
    return tuple(kept)


def smallest_sets(asked: T, limits: Sequence[Movable[T]], holds: Callable[[T], bool]) -> tuple[Way, ...]:
    """All smallest sets of limits that, moved, let the rest be kept, each moved no further than it must be.

    Args:
        limits: in the order in which they are spared, what is hardest to move first.
        holds: whether what is asked can be kept; not so as it stands.
    Returns:
        tuple[Way, ...]: sets of one number of limits; none where not even `MOST_TOGETHER` of them suffice.
    """
    for many in range(1, MOST_TOGETHER + 1):
        ways = tuple(
            _least(asked, some, holds)
            for some in itertools.combinations(limits, many)
            if holds(_all_at_end(asked, some))
        )
        if ways:
            return ways
    return ()


def _all_at_end(asked: T, some: Sequence[Movable[T]]) -> T:
    for limit in some:
        asked = limit.end(asked)
    return asked


def _least(asked: T, some: Sequence[Movable[T]], holds: Callable[[T], bool]) -> Way:
    """The least stop of each, one after the other, those not yet settled at their end."""
    found: list[tuple[str, int]] = []
    for at, limit in enumerate(some):
        rest = some[at + 1 :]

        def holds_at(
            stop: int, limit: Movable[T] = limit, asked: T = asked, rest: Sequence[Movable[T]] = rest
        ) -> bool:
            return holds(_all_at_end(limit.at(asked, stop), rest))

        low, high = 0, limit.stops
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if holds_at(middle) else (middle, high)
        before = range(max(1, high - limit.looked_through), high)
        high = next((stop for stop in before if holds_at(stop)), high)
        asked = limit.at(asked, high)
        found.append((limit.key, high))
    return tuple(found)
