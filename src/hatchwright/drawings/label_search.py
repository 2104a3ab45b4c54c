"""The search for places of labels that exclude each other: hardest first, then better by moves and by ejection."""

from __future__ import annotations

import numpy as np

from hatchwright.drawings.boxes import Floats
from hatchwright.drawings.label_candidates import Candidates
from hatchwright.drawings.label_conflicts import HIDES, Conflicts
from hatchwright.drawings.near import Bools, Places

_MOST_ROUNDS = 8
_MOST_PUT_OUT = 4
_MOST_TRIES = 24
_LEAST_GAIN = 1e-9


def placed(places: Candidates, cost: Floats, conflicts: Conflicts) -> Places:
    """The place of each label that has any, -1 where each would hide another that is placed.

    Args:
        places: none of which hides anything that is drawn.
        cost: of each place by itself, shape (n,) [-].
    """
    search = _Search(places, cost, conflicts)
    search.begin()
    search.move()
    search.force_in()
    search.move()
    search.leave_out()
    return search.taken


class _Search:
    """Labels in their places, and what the others make each place cost."""

    def __init__(self, places: Candidates, cost: Floats, conflicts: Conflicts) -> None:
        self._cost, self._conflicts = cost, conflicts
        self._starts = places.starts
        self._ends = np.append(self._starts[1:], len(cost))
        self._spot = np.repeat(np.arange(len(self._starts)), self._ends - self._starts)
        self._beside = np.zeros(len(cost))  # what the labels that are placed add to each place
        self.taken = np.full(len(self._starts), -1, dtype=np.intp)

    def begin(self) -> None:
        """Put down every label, the one with the fewest clean places first."""
        for spot in np.argsort(self._ends - self._starts, kind="stable").tolist():
            self._put(spot, self._cheapest(spot))

    def move(self) -> None:
        """Move one label at a time to its cheapest place, until none gains by it."""
        for _ in range(_MOST_ROUNDS):
            total = self._cost + self._beside
            gain = total[self.taken] - np.minimum.reduceat(total, self._starts)
            moved = 0
            for spot in np.flatnonzero(gain > _LEAST_GAIN).tolist():
                better = self._cheapest(spot)
                if self._total(better) < self._total(int(self.taken[spot])) - _LEAST_GAIN:
                    self._put(spot, better)
                    moved += 1
            if not moved:
                return

    def force_in(self) -> None:
        """Give each label that still meets something a clean place, and the few that stood there others."""
        for spot in np.flatnonzero(self._is_bad()).tolist():
            if self._total(int(self.taken[spot])) >= HIDES:
                self._force(spot)

    def leave_out(self) -> None:
        """Take up labels until none that is left hides anything, the one that meets most first."""
        while self._is_bad().any():
            total = np.where(self.taken >= 0, (self._cost + self._beside)[self.taken], 0.0)
            self._put(int(np.argmax(total)), -1)

    def _is_bad(self) -> Bools:
        total = (self._cost + self._beside)[self.taken]
        bad: Bools = (self.taken >= 0) & (total >= HIDES)
        return bad

    def _force(self, spot: int) -> None:
        run = np.arange(self._starts[spot], self._ends[spot])
        tries = run[np.argsort(self._cost[run] + self._beside[run], kind="stable")][:_MOST_TRIES]
        for place in tries.tolist():
            met = self._conflicts.of(place)
            out = np.unique(self._spot[met[self.taken[self._spot[met]] == met]]).tolist()
            if len(out) > _MOST_PUT_OUT:
                continue
            all_moved = [spot, *out]
            before, was = self._bad_count(all_moved), self.taken[all_moved].tolist()
            self._put(spot, place)
            for other in out:
                self._put(other, -1)
            for other in out:
                self._put(other, self._cheapest(other))
            if self._bad_count(all_moved) < before:
                return
            for one, place_before in zip(all_moved, was, strict=True):
                self._put(one, place_before)

    def _bad_count(self, spots: list[int]) -> int:
        """Of some labels, how many meet something; a label that meets another that is not of them counts for it."""
        return sum(self._total(int(self.taken[spot])) >= HIDES for spot in spots)

    def _cheapest(self, spot: int) -> int:
        run = slice(int(self._starts[spot]), int(self._ends[spot]))
        return int(run.start + np.argmin(self._cost[run] + self._beside[run]))

    def _total(self, place: int) -> float:
        return float(self._cost[place] + self._beside[place])

    def _put(self, spot: int, place: int) -> None:
        """Put a label into another place, or take it up (-1)."""
        before = int(self.taken[spot])
        if before >= 0:
            self._beside[self._conflicts.of(before)] -= HIDES
        if place >= 0:
            self._beside[self._conflicts.of(place)] += HIDES
        self.taken[spot] = place
