"""Time of the template chain and of the pin plan, as a ratio to one exact offset timed in the same run.

Milliseconds are printed for information; only the ratios mean anything from one machine to another.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

from hatchwright.making.pins.plan import pin_plan
from hatchwright.making.template.guide_template import Guide, guide_chain
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Profile, profile_of
from hatchwright.shapes.stations import stations

_RUNS = 15


def milliseconds(work: Callable[[], object]) -> float:
    """Median time of several runs, the first left out."""
    work()
    taken = []
    for _ in range(_RUNS):
        begun = time.perf_counter()
        work()
        taken.append((time.perf_counter() - begun) * 1e3)
    return statistics.median(taken)


def main() -> None:
    """Print each piece of work with its ratio to one offset of the same opening."""
    opening = profile_of(rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=1.0))
    path = erode(opening, 0.125).loops[0]
    pins = stations(grow(Profile(opening.loops), 0.5).loops[0], pitch_in=1.0).points
    guide = Guide(cut_in=0.25, guide_in=0.75, end_mill_in=0.25, kind="female")
    one = milliseconds(lambda: erode(opening, 0.375))
    print(f"one offset                  {one:8.2f} ms  ratio   1.0")
    for name, work in (
        ("template chain, deviation", lambda: guide_chain(opening, guide)),
        ("pin plan, 34 fasteners", lambda: pin_plan(path, pins, 1.0)),
    ):
        taken = milliseconds(work)
        print(f"{name:27s} {taken:8.2f} ms  ratio {taken / one:5.1f}")


if __name__ == "__main__":
    main()
