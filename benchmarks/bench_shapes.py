"""Time of offsets, booleans and the template chain, as ratios to a polygon library's buffer timed in the same run.

The library offsets a polygon with 64 chords a quarter circle, off by 7.5e-5 of the radius; ours keeps the arcs.
Milliseconds are printed for information; only the ratios mean anything from one machine to another.
"""

from __future__ import annotations

import math
import statistics
import time
from collections.abc import Callable

import numpy as np
import shapely

from hatchwright.shapes.boolean import difference
from hatchwright.shapes.deviation import deviation
from hatchwright.shapes.distance import distances, pairs_within
from hatchwright.shapes.offset import erode, grow, offset
from hatchwright.shapes.outlines import polygon, rounded_rectangle
from hatchwright.shapes.profile import Profile, profile_of

_RUNS = 31
_QUARTER_CHORD_RATIO = 1.0 - math.cos(math.pi / 256)
"""Rise of the arc over each of 64 chords a quarter circle, as a share of the radius [-]."""


def milliseconds(work: Callable[[], object], runs: int = _RUNS) -> float:
    """Median time of several runs, the first left out."""
    work()
    taken = []
    for _ in range(runs):
        begun = time.perf_counter()
        work()
        taken.append((time.perf_counter() - begun) * 1e3)
    return statistics.median(taken)


def gear(teeth: int) -> Profile:
    """A profile of 4 pieces a tooth: two radii in turn, each corner rounded."""
    angles = 2.0 * np.pi * np.arange(2 * teeth) / (2 * teeth)
    reach = np.where(np.arange(2 * teeth) % 2 == 0, 5.0, 3.5)
    return profile_of(
        polygon(np.column_stack([reach * np.cos(angles), reach * np.sin(angles)]), 0.01 + 0.4 / teeth)
    )


def chain(wanted: Profile, *, rc: float, rg: float, dm: float) -> Profile:
    """The cut that a window template gives: six offsets."""
    template = grow(erode(wanted, rc), rg)
    return grow(erode(grow(erode(template, dm / 2), dm / 2), rg), rc)


def main() -> None:
    """Print each piece of work with its ratio to one buffer of a polygon of the same outline."""
    opening = profile_of(rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=1.0))
    sixteen = gear(4)
    least_in = min(float(radius) for radius in sixteen.loops[0].working_form().radius if radius)
    ring = shapely.Polygon(sixteen.loops[0].points(least_in * _QUARTER_CHORD_RATIO))
    one = milliseconds(lambda: ring.buffer(-0.1, quad_segs=64))
    cut = chain(opening, rc=0.125, rg=0.375, dm=0.25)
    tight = profile_of(rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=0.05))
    tight_cut = chain(tight, rc=0.125, rg=0.375, dm=0.25)
    points = np.random.default_rng(1).uniform(-6.0, 6.0, (10_000, 2))
    works: list[tuple[str, Callable[[], object]]] = [
        ("offset, 8 pieces", lambda: offset(opening, -0.375)),
        ("offset, 16 pieces", lambda: offset(sixteen, -0.1)),
        ("offset, 16 pieces, outwards", lambda: offset(sixteen, 0.375)),
        ("difference, 8 and 16 pieces", lambda: difference(opening, sixteen)),
        ("template chain, six offsets", lambda: chain(opening, rc=0.125, rg=0.375, dm=0.25)),
        ("deviation, none", lambda: deviation(cut, opening)),
        ("deviation at four corners", lambda: deviation(tight_cut, tight)),
        (
            "chain of 16 pieces, deviation",
            lambda: deviation(chain(sixteen, rc=0.05, rg=0.1, dm=0.1), sixteen),
        ),
        ("1e4 distances to 8 pieces", lambda: distances(opening, points)),
        ("close pairs of 1e4 points", lambda: pairs_within(points, 0.1)),
        ("profile of 16 pieces checked", lambda: Profile(sixteen.loops).checked()),
    ]
    print(f"{'buffer of the 16-piece outline':32s} {one:8.2f} ms  ratio    1.0")
    for name, work in works:
        taken = milliseconds(work)
        print(f"{name:32s} {taken:8.2f} ms  ratio {taken / one:6.1f}")
    for teeth in (8, 32, 128):
        profile = gear(teeth)
        taken = milliseconds(lambda profile=profile: offset(profile, 0.05), runs=3)  # type: ignore[misc]
        print(f"{f'offset, {4 * teeth} pieces':32s} {taken:8.2f} ms  ratio {taken / one:6.1f}")


if __name__ == "__main__":
    main()
