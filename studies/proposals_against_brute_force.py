"""Whether proposals are sound and the best of their space: random small jobs, each held to brute force over a grid.

A bay, an opening, sheets, rivets and the shop's scatter are drawn from a seed. Every proposal is entered and judged by
every rule; the brute force of `tests/search/brute_force.py`, which lays its own points and types its own limits, must
not find a lighter ring, fewer rivets or a narrower ring; a bay wider by .15 on each side must give nothing worse; and
where there is no proposal, every way out that is named is taken, and a proposal must come.

Run: python studies/proposals_against_brute_force.py [jobs, 100 by default] [first seed, 0 by default]
"""

from __future__ import annotations

import sys
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.search.against_brute_force import Held, hold


def main(jobs: int = 100, first: int = 0) -> int:
    """Ask every job; print what is not as it must be, then a line of counts."""
    begun_s = process_time()
    every: list[Held] = []
    for seed in range(first, first + jobs):
        every.append(hold(seed))
        for fault in every[-1].faults:
            print(f"job {seed}: {fault}")
    excess = [one.excess for one in every if one.excess is not None]
    found, ways = sum(one.has_ring for one in every), sum(one.ways for one in every)
    faults = sum(len(one.faults) for one in every)
    print(
        f"{jobs} jobs: {found} with a proposal, {jobs - found} without, {ways} ways out taken; {faults} faults"
    )
    if excess:
        mean, most = sum(excess) / len(excess), max(excess)
        print(
            f"lightest ring of the grid heavier by {mean:.1%} on average and {most:.1%} at most, in {len(excess)} jobs"
        )
    print(f"{process_time() - begun_s:.0f} s of processor time")
    return int(bool(faults))


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
