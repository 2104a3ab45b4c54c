"""How often a set of readings that is wrong is named so, and how often a clean one is.

Justifies the level and the gap of `inspection/poses.py`, `inspection/laying.py` and `inspection/named.py`.
Random sets of the patterns of all examples: holes scattered by drilling (standard deviation drawn between .001
and .006 in) and by a gauge of .002 (95 %); a set is counted as found when what was done to it is named, with
the holes that it was done to. A set without numbers that is mirrored or turned onto itself can't be told by
anybody: it counts where that is said, and is counted apart. Run:

    python studies/detection_rates.py [sets of each kind, 1000 by default] [numbered | unordered]
"""

from __future__ import annotations

import math
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import numpy as np

from hatchwright.inspection.best_fit import best_fit
from hatchwright.inspection.named import Kind, Named, named
from hatchwright.inspection.pattern import Pattern, pattern_of
from hatchwright.inspection.readings import Reading
from hatchwright.workflow.open_job import open_job

EXAMPLES = Path(__file__).parents[1] / "examples"
U_IN = 0.002
WRONGS = (
    "clean",
    "shifted",
    "rotated",
    "mirrored",
    "turned",
    "swapped",
    "double",
    "extra",
    "missing",
    "apart",
)
HARMLESS = (Kind.MISSING, Kind.ALIKE)
"""What says only how far a set was read."""


class Drawn(NamedTuple):
    """The pattern of one example, and the diameter of each hole [in]."""

    name: str
    pattern: Pattern
    diameters_in: dict[int, float]


class Made(NamedTuple):
    """One random set: its readings, and the holes that something was done to."""

    readings: tuple[Reading, ...]
    holes: set[int]
    rows: set[int]


def drawn_patterns() -> Iterator[Drawn]:
    """Those of every example, as drawn."""
    for path in sorted(EXAMPLES.glob("*.toml")):
        layout = open_job(path)
        places = {hole.number: hole.drawn_in or hole.place for hole in layout.holes}
        sizes = {hole.number: hole.nominal_in for hole in layout.holes if hole.nominal_in is not None}
        yield Drawn(path.stem, pattern_of(places), sizes)


def made(rng: np.random.Generator, drawn: Drawn, wrong: str, *, numbered: bool) -> Made:
    """A random set of readings with one thing wrong."""
    pattern = drawn.pattern
    scatter = math.hypot(rng.uniform(0.001, 0.006), U_IN / 2.0)
    out = pattern.places_in - pattern.middle_in
    numbers: list[int | None] = [int(number) for number in pattern.numbers]
    places = out @ turned(wrong, rng).T + scatter * rng.normal(size=out.shape) + pattern.middle_in
    holes, rows = set(), set()
    if wrong == "shifted":
        places += 8.0 * scatter * unit(rng)
    at, other = (int(k) for k in rng.choice(len(places), 2, replace=False))
    if wrong == "swapped":
        numbers[at], numbers[other] = numbers[other], numbers[at]
        holes = {int(pattern.numbers[at]), int(pattern.numbers[other])}
    elif wrong == "apart":
        far = 20.0 * scatter * unit(rng)
        places[at] += far * min(1.0, 0.8 * pattern.gap_in / np.hypot(*far))
        holes = {int(pattern.numbers[at])}
    elif wrong == "double":
        reach = drawn.diameters_in.get(int(pattern.numbers[at]), 0.1)
        places = np.vstack([places, places[at] + rng.uniform(0.3, 0.9) * reach * unit(rng)])
        numbers.append(None)
        holes = {int(pattern.numbers[at])}
    elif wrong == "extra":
        places = np.vstack([places, far_from_all(rng, drawn, places)])
        numbers.append(None)
        rows = {len(places)}
    elif wrong == "missing":
        places = np.delete(places, at, axis=0)
        holes = {numbers.pop(at)}
    order = np.arange(len(places)) if numbered else rng.permutation(len(places))
    told = (
        Reading(k + 1, numbers[i] if numbered else None, float(places[i, 0]), float(places[i, 1]), U_IN)
        for k, i in enumerate(order)
    )
    if rows and not numbered:
        rows = {int(np.flatnonzero(order == len(places) - 1)[0]) + 1}
    return Made(tuple(told), holes, rows)


def turned(wrong: str, rng: np.random.Generator) -> np.ndarray:
    """The turn or mirror image of a kind."""
    if wrong == "mirrored":
        return np.diag([-1.0, 1.0]) if rng.random() < 0.5 else np.diag([1.0, -1.0])
    quarter = {"turned": 0.5 * math.pi * rng.integers(1, 4), "rotated": rng.choice([-1, 1]) * 0.01}
    angle = quarter.get(wrong, 0.0)
    return np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])


def unit(rng: np.random.Generator) -> np.ndarray:
    """A random direction."""
    angle = rng.uniform(0.0, 2.0 * math.pi)
    return np.array([math.cos(angle), math.sin(angle)])


def far_from_all(rng: np.random.Generator, drawn: Drawn, places: np.ndarray) -> np.ndarray:
    """A place near the pattern that no hole touches."""
    widest = max(drawn.diameters_in.values(), default=0.1)
    low, high = places.min(axis=0) - 0.5, places.max(axis=0) + 0.5
    while True:
        place = rng.uniform(low, high)
        if np.hypot(*(places - place).T).min() > 1.1 * widest:
            return place


def told_of(drawn: Drawn, one: Made) -> tuple[Named, ...]:
    """What is named in a set, but for what says only how far it was read."""
    return named(best_fit(one.readings, drawn.pattern), drawn.diameters_in)


def is_found(wrong: str, one: Made, told: tuple[Named, ...], *, numbered: bool) -> bool:
    """Whether what was done is named with its holes; for a clean set, whether anything is."""
    if wrong == "clean":
        return any(each.kind not in HARMLESS for each in told)
    if wrong == "missing":
        return any(each.kind == "missing" and set(each.holes) == one.holes for each in told)
    if wrong in ("mirrored", "turned") and not numbered:
        return any(each.kind in (wrong, "alike") for each in told)
    return any(
        each.kind == wrong and one.holes <= set(each.holes) and one.rows <= set(each.rows) for each in told
    )


def rates(
    sets: int, *, seed: int = 16, ways: tuple[bool, ...] = (True, False)
) -> Iterator[tuple[str, bool, int, Counter[str]]]:
    """How many of so many sets of each kind were found, with and without numbers; and what else was named."""
    patterns = list(drawn_patterns())
    for numbered in ways:
        for wrong in WRONGS:
            if wrong == "swapped" and not numbered:
                continue
            rng = np.random.default_rng([seed, WRONGS.index(wrong), numbered])
            found, beside = 0, Counter[str]()
            for k in range(sets):
                drawn = patterns[k % len(patterns)]
                one = made(rng, drawn, wrong, numbered=numbered)
                told = told_of(drawn, one)
                is_there = is_found(wrong, one, told, numbered=numbered)
                found += is_there
                if (
                    is_there
                    and wrong in ("mirrored", "turned")
                    and not any(each.kind == wrong for each in told)
                ):
                    beside["(of these said that it can't show on a symmetric pattern)"] += 1
                beside.update({str(each.kind) for each in told if each.kind not in HARMLESS} - {wrong})
                beside["(not found) " + drawn.name] += (not is_there) and wrong != "clean"
            yield wrong, numbered, found, +beside


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    asked = (
        {"numbered": (True,), "unordered": (False,)}.get(sys.argv[2], ())
        if len(sys.argv) > 2
        else (True, False)
    )
    for wrong, numbered, found, beside in rates(count, ways=asked):
        name = "false calls of clean sets" if wrong == "clean" else f"{wrong}, found"
        also = ", ".join(f"{kind} {n}" for kind, n in beside.most_common())
        print(
            f"{'numbered' if numbered else 'unordered':10} {name:26} {found:5} of {count}   also: {also}",
            flush=True,
        )
