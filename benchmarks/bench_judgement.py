"""Time of one edge rule on a million trials of 60 holes, as a ratio to NumPy's bare comparison timed in the same run.

The trials are judged by the very value that `check` makes its findings of. Seconds are printed for information; only
the ratios mean anything from one machine to another.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

import numpy as np
from bench_rules import layout_of

from hatchwright.judged import FLOAT_NOISE, Judgement
from hatchwright.layout.survey import survey
from hatchwright.rules.edge_distance import judge_edges

TRIALS, HOLES = 1_000_000, 60
_RUNS = 3
_SPREAD_IN = 0.010


def edge_rule(holes: int) -> Judgement:
    """The judgement of edge distance, protruding heads, on so many rivets beside the opening."""
    measured = survey(layout_of(width_in=12.0, height_in=8.0, pitch_in=0.5, screws=18))
    beside = {hole.number for hole in measured.layout.holes_of("rivet")[:holes]}
    least = {"": measured.limit("edge_min_single_row_protruding")}
    judged = judge_edges(measured, "R101", least, lambda hole: hole.number in beside)
    return next(asked for row, asked, _ in judged if row.edge.name == "opening edge")


def seconds(work: Callable[[], object]) -> float:
    """Median processor time of several runs, the first left out."""
    work()
    taken = []
    for _ in range(_RUNS):
        begun = time.process_time()
        work()
        taken.append(time.process_time() - begun)
    return statistics.median(taken)


def main() -> None:
    """Print the rule on drawn and on measured trials beside NumPy's comparison of the same numbers."""
    judged = edge_rule(HOLES)
    drawn_in = np.asarray(judged.measure.value)
    trials_in = np.random.default_rng(1).normal(drawn_in, _SPREAD_IN, (TRIALS, len(drawn_in)))
    u_in = np.full(len(drawn_in), 0.005)
    limit_in = judged.bounds[0].limit
    plain = seconds(lambda: trials_in < limit_in - FLOAT_NOISE)
    print(f"{TRIALS} x {len(drawn_in)}, NumPy's comparison    {plain:6.3f} s  ratio 1.000")
    for name, u in (("drawn, u = 0", 0.0), ("measured, u > 0", u_in)):
        taken = seconds(lambda u=u: judged.ranks_of(trials_in, u))
        print(f"{TRIALS} x {len(drawn_in)}, {name:22s}{taken:6.3f} s  ratio {taken / plain:5.3f}")


if __name__ == "__main__":
    main()
