"""Time of a million jobs drilled by lot, as a ratio to drawing their random numbers alone in the same run, on one core.

Each job is drawn twice from one set of numbers. Asked: 2 s and 200 MB for 60 holes with all edge and pitch rules.
Seconds are for information, only the ratio means anything from one machine to another.
"""

# ruff: noqa: E402, I001 - one thread must be asked for before NumPy is imported
from __future__ import annotations

import os

for variable in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[variable] = "1"

import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from search.risk_jobs import PLAY, alder_of, hard

from hatchwright.search.risk.blocks import blocks_of
from hatchwright.search.risk.chances import risk_of
from hatchwright.search.risk.errors import errors_of
from hatchwright.search.risk.judged_gaps import gaps_of
from hatchwright.search.risk.simulate import simulate

ALDER = Path(__file__).parents[1] / "examples" / "alder.toml"
TRIALS, CHUNK, RUNS = 1_000_000, 2_048, 5


def least(work: Callable[[], object], runs: int = RUNS) -> float:
    """Least processor time of several runs [s]."""
    taken = []
    for _ in range(runs):
        begun = time.process_time()
        work()
        taken.append(time.process_time() - begun)
    return min(taken)


def drawn(numbers: int) -> None:
    """Draw so many normal numbers for half of the trials, in chunks."""
    draw, out = np.random.default_rng(1), np.empty((numbers, CHUNK))
    for _ in range(TRIALS // 2 // CHUNK + 1):
        draw.standard_normal(out=out)


def main() -> None:
    """Print both jobs: simulation over bare numbers, memory, and the closed forms over the simulation."""
    for name, layout in (("alder", alder_of(ALDER.read_text(encoding="utf-8"))), ("hard", hard())):
        scatter = layout.job.scatter
        assert scatter is not None
        gaps = gaps_of(layout, errors_of(scatter, PLAY))
        form = blocks_of(gaps.taken(gaps.is_live))
        numbers = form.columns + form.common.shape[1]
        bare = least(lambda numbers=numbers: drawn(numbers))
        before_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        whole = least(lambda gaps=gaps: simulate(gaps, trials=TRIALS))
        more_mb = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before_kb) / 1024.0
        closed = least(lambda layout=layout, scatter=scatter: risk_of(layout, scatter, PLAY))
        print(f"{name:6} {len(form.order):4} live gaps, {numbers:4} numbers of each trial")
        print(f"       {whole:5.2f} s, {whole / bare:4.2f} times bare numbers, {more_mb:4.0f} MB more")
        print(f"       closed forms {closed:5.3f} s, {closed / whole:5.3f} of it")


if __name__ == "__main__":
    main()
