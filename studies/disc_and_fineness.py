"""Why the disc of a fastener is 2.5 diameters, and how fine the usual grid is: the numbers of docs/theory/fem.md.

Run: python studies/disc_and_fineness.py
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from fem.laps import lap_shares
from fem.models import reinforced
from hatchwright.fem import soundness
from hatchwright.fem.analysis import analyze
from hatchwright.fem.solution import UnitSolution
from hatchwright.fem.stations import Fineness

MODEL = reinforced()
SERIES = {3: [0.37161, 0.29036, 0.33804], 5: [0.27027, 0.16343, 0.1326, 0.16343, 0.27027]}


def greatest(unit: UnitSolution) -> np.ndarray:
    """Peak edge stress and greatest fastener force of the three unit cases, shape (3, 2)."""
    cases = [unit.combine(nx_lbf_in=n[0], ny_lbf_in=n[1], q_lbf_in=n[2]) for n in np.eye(3)]
    return np.array([(abs(case.edge().peak[0]), case.fastener_load_lbf.max()) for case in cases])


def discs() -> None:
    """Discs of 1 to 3.5 diameters: laps against springs in series, and the reinforced opening."""
    usual = soundness.PATCH_RATIO
    before = greatest(analyze(MODEL, fineness=Fineness(per_quarter=12, patch_share=0.6)))
    for ratio in (1.0, 1.5, 2.0, 2.5, 3.0, 3.5):
        laps = [
            np.abs(
                lap_shares(
                    rows=rows,
                    pitch=19.85,
                    width=19.85,
                    thickness=(1.02, gauge),
                    modulus=72400.0,
                    poisson_ratio=0.33,
                    flexibility=flexibility,
                    patch=ratio * 3.97,
                )
                - SERIES[rows]
            ).max()
            for rows, gauge, flexibility in ((3, 1.27, 4.90019e-5), (5, 1.02, 5.189542e-5))
        ]
        soundness.PATCH_RATIO = ratio
        fineness = Fineness(per_quarter=12, patch_share=0.6 * usual / ratio)
        change = 100 * (greatest(analyze(MODEL, fineness=fineness)) / before - 1)
        soundness.PATCH_RATIO = usual
        print(
            f"disc {ratio:.1f} d: laps off by {laps[0]:.4f} and {laps[1]:.4f} of the load; "
            f"edge {np.round(change[:, 0], 1)} %, rivets {np.round(change[:, 1], 1)} %"
        )


def finenesses() -> None:
    """Error and time of grids from coarse to fine."""
    best = greatest(analyze(MODEL, fineness=Fineness(per_quarter=24, patch_share=0.35, far_growth_ratio=1.2)))
    for fineness in (Fineness().coarser(), Fineness(), Fineness(per_quarter=12, patch_share=0.7)):
        start = time.process_time()
        unit = analyze(MODEL, fineness=fineness)
        spent = time.process_time() - start
        error = 100 * np.abs(greatest(unit) / best - 1).max(axis=0)
        print(
            f"{fineness.per_quarter} to a quarter, cap {fineness.patch_share:.2f} discs: {1e3 * spent:.0f} ms, "
            f"edge {error[0]:.2f} %, rivets {error[1]:.2f} %"
        )


if __name__ == "__main__":
    discs()
    finenesses()
