"""How far the chance of a job spreads between seeds of the Sobol points, beside the error of a million trials.

Justifies `POINTS` of `metrology/shared_normal.py`. Run: python studies/risk_points.py
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from hatchwright.metrology.shared_normal import any_below
from hatchwright.search.risk.chances import tied
from hatchwright.search.risk.errors import errors_of
from hatchwright.search.risk.judged_gaps import gaps_of
from search.risk_jobs import PLAY, alder_of, hard

ALDER = Path(__file__).parents[1] / "examples" / "alder.toml"
SEEDS = 40

if __name__ == "__main__":
    for name, layout in (("alder", alder_of(ALDER.read_text(encoding="utf-8"))), ("hard", hard())):
        gaps = gaps_of(layout, errors_of(layout.job.scatter, PLAY))
        gaps = gaps.taken(gaps.counts & gaps.is_live)
        own = np.bincount(gaps.gap, weights=gaps.coefficient**2, minlength=gaps.count)
        own = np.sqrt(own + gaps.known_in**2)
        for points in (256, 1024, 4096):
            found = [
                any_below(gaps.mean_in, own, gaps.common, tied(gaps), points=points, seed=seed)
                for seed in range(SEEDS)
            ]
            trials = np.sqrt(np.mean(found) * (1.0 - np.mean(found)) / 1e6)
            print(
                f"{name:6} {points:5} points: {np.mean(found):.5f}, sd between seeds {np.std(found):.6f}; "
                f"a million trials {trials:.6f}"
            )
