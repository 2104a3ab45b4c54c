"""How often the geometry refuses input that is good but awkward: rounded drawings, and regions that nearly coincide.

The tolerances of `hatchwright.shapes` (contact 4e-12, weld 2e-11, far enough 1e-10, shortest piece 1e-9 in) were chosen
with it: coarser contacts refused up to one near-coincident pair in forty.

Run: python studies/shapes_robustness.py [profiles, 1000 by default] [first seed]
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable
from functools import partial

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.shapes.boolean import difference, intersection, union
from hatchwright.shapes.offset import offset
from hatchwright.shapes.outlines import circle, obround, polygon, rounded_rectangle
from hatchwright.shapes.profile import Loop, Profile

Random = np.random.Generator
JOINS = (union, difference, intersection)


def outline(random: Random, *, round_sizes: bool) -> Profile:
    """A rectangle, slot, circle or filleted star; in quarters of an inch, or of any size."""
    step = 4.0 if round_sizes else 1e6
    width, height = np.ceil(random.uniform(0.5, 8.0, 2) * step) / step
    x, y = np.round(random.uniform(-3.0, 3.0, 2) * step) / step
    kind = random.integers(4)
    if kind == 0:
        angle_deg = float(random.choice([0, 30, 45, 90]))
        long, short = max(width, height), min(width, height)
        return Profile((obround(length_in=long, width_in=short, center=(x, y), angle_deg=angle_deg),))
    if kind == 1:
        return Profile((circle(diameter_in=width, center=(x, y)),))
    if kind == 2:
        radius_in = np.floor(random.uniform(0.0, min(width, height) / 2) * step) / step
        return Profile(
            (rounded_rectangle(width_in=width, height_in=height, radius_in=radius_in, center=(x, y)),)
        )
    count = random.integers(3, 9)
    angles = 2.0 * np.pi * np.cumsum(random.uniform(0.3, 1.0, count))
    angles /= angles[-1] / (2.0 * np.pi)
    reach = random.uniform(1.0, 5.0, count)
    points = np.round(np.column_stack([reach * np.cos(angles), reach * np.sin(angles)]) * step) / step
    return Profile((polygon(points, list(random.choice([0.0, 0.1, 0.125, 0.25], count))),))


def profile(random: Random, *, round_sizes: bool) -> Profile:
    """Up to four outlines joined; an outline whose fillets do not fit is drawn anew."""
    while True:
        try:
            made = outline(random, round_sizes=round_sizes)
            for _ in range(random.integers(0, 4)):
                joined = JOINS[random.integers(3)](made, outline(random, round_sizes=round_sizes))
                made = made if joined.is_empty else joined
            return made
        except GeometryError:
            continue


def rounded(made: Profile, decimals: int) -> Profile:
    """The profile as a drawing with so many decimals keeps it."""
    places = [decimals, decimals, decimals + 1]
    loops = [np.column_stack([np.round(loop.rows[:, k], places[k]) for k in range(3)]) for loop in made.loops]
    return Profile(tuple(Loop(rows) for rows in loops)).checked()


def out_and_back(random: Random, made: Profile, *, round_sizes: bool) -> None:
    """Offset a rounded copy, and its offset back."""
    reach = random.choice([0.125, 0.25, 0.375, 0.5, 1.0]) if round_sizes else random.uniform(0.05, 1.2)
    distance_in = float(reach * random.choice([-1.0, 1.0]))
    there = offset(made, distance_in)
    offset(there, -distance_in)


def against_itself(random: Random, made: Profile) -> None:
    """Join the profile with itself moved or turned a very little."""
    little = 10.0 ** random.uniform(-13.0, -5.0)
    turn = np.array([[np.cos(little), -np.sin(little)], [np.sin(little), np.cos(little)]])
    turns = random.random() < 0.5
    other = made.transformed(turn) if turns else made.transformed(np.eye(2), random.normal(size=2) * little)
    for join in JOINS:
        join(made, other)


def main() -> None:
    """Count refusals and print each."""
    count, first = map(int, (*sys.argv[1:], *("1000", "0")[len(sys.argv) - 1 :]))
    tally: Counter[str] = Counter()

    def attempt(name: str, work: Callable[[], None]) -> None:
        tally[name] += 1
        try:
            work()
        except GeometryError as refusal:
            tally[f"{name}: refused"] += 1
            print(f"{name}: {refusal}")

    for seed in range(first, first + count):
        random = np.random.default_rng(seed)
        round_sizes = seed % 2 == 0
        made = profile(random, round_sizes=round_sizes)
        try:
            drawn = rounded(made, int(random.integers(3, 11)))
        except GeometryError:
            tally["rounding spoilt the profile itself"] += 1
        else:
            attempt("offset out and back", partial(out_and_back, random, drawn, round_sizes=round_sizes))
        attempt("joined with itself moved", partial(against_itself, random, made))
    for name, times in sorted(tally.items()):
        print(f"{times:6d}  {name}")


if __name__ == "__main__":
    main()
