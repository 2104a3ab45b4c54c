"""Speed and memory of the strength report, on one core.

1. The whole report of a small job with three load cases (64 rivets, buckling in every state, both flexibility formulas)
   over one finite-element analysis of it. Asked: the report in 1.0 s on an idle core.
2. Growth: how the time of an analysis grows with the number of rivets, as the exponent between 66, 332 and 972 rivets.
   Asked: no worse than n^1.5 from 66 to 332.
3. Memory of this process after 332 and after 972 rivets on two grids. Asked: 400 MB at 273, 2 GB at 1,000.

Takes about half a minute on an idle core.
"""

# ruff: noqa: E402 - one thread must be asked for before NumPy is imported
from __future__ import annotations

import os

for variable in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[variable] = "1"

import itertools
import math
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from benchmarks.bench_fem import best, memory_mb

from hatchwright.fem.analysis import analyze
from hatchwright.layout.layout import Layout
from hatchwright.strength.fem_model import fem_model
from hatchwright.strength.report import Elements, strength_report
from hatchwright.strength.site import site_of
from tests.strength.jobs import ANSWERED, SQUARE, SYMMETRIC, layout_of, running

THREE = running({"nx": 250.0, "q": 80.0}, {"nx": -120.0, "ny": -20.0, "q": 60.0}, {"q": 150.0})


def many_rows(opening_in: float, rows: int) -> Layout:
    """A square opening with so many rows of rivets all round, at a pitch of .55 in."""
    half_in, lap_in = opening_in / 2, rows * 0.55 + 1.2
    base = SQUARE[: SQUARE.index("[[rows]]\nname")]
    bay_in = half_in + lap_in + 1.5
    base = base.replace('"-5"', f'"{-bay_in}"').replace('"5"', f'"{bay_in}"')
    for key in ("width", "height"):
        base = base.replace(f'{key} = "4"', f'{key} = "{opening_in}"')
        base = base.replace(f'{key} = "7"', f'{key} = "{opening_in + 2 * lap_in}"')
    for row in range(rows):
        base += f'[[rows]]\nname = "row {row}"\nlay = "offset"\nrivet = "MS20470AD4"\nedge = "opening"\n'
        base += f'distance = "{0.3 + 0.55 * row:.2f}"\npitch = ".55"\n'
    return layout_of(ANSWERED, running({"nx": 200.0, "q": 60.0}), base=base)


def main() -> None:
    """Print all three."""
    small = layout_of(ANSWERED, THREE, base=SYMMETRIC)
    model = fem_model(site_of(small))
    report, once = best(lambda: strength_report(small), 3), best(lambda: analyze(model), 3)
    print(f"report of 64 rivets, three cases: {report:.2f} s, {report / once:.1f} analyses (asked: 1.0 s)")
    found: list[tuple[int, float]] = []
    for opening_in, rows in ((4.0, 2), (10.0, 4), (20.0, 6)):
        layout = many_rows(opening_in, rows)
        model = fem_model(site_of(layout))
        count = len(model.fasteners)
        found.append((count, best(lambda model=model: analyze(model), 1 if count > 500 else 3)))
        if count > 100:
            for buckling in (False, True)[: 1 + (count < 500)]:
                elements = Elements(buckling=buckling)
                whole = best(
                    lambda layout=layout, elements=elements: strength_report(layout, None, elements), 1
                )
                told = "with" if buckling else "without"
                print(
                    f"{count} rivets, one case, {told} buckling: {whole:.2f} s, {memory_mb():.0f} MB so far"
                )
    for (few, short), (many, long) in itertools.pairwise(found):
        grows = math.log(long / short) / math.log(many / few)
        print(f"an analysis from {few} to {many} rivets grows as n^{grows:.2f}")


if __name__ == "__main__":
    main()
