"""What the ways out of what was made wrong are worth: random single faults on the examples, each way out entered anew.

Each case takes an example as if one row of it, or its edges, were made just as drawn and measured, and makes one fault:
a hole off its place, a hole too large, a hole drilled twice, a doubler cut short on one side, an opening filed too far
on one side. The ways out are found as the command finds them. Each is then entered into the text of the job file, the
file read and everything judged from scratch, and held by this study's own comparison: nothing that it was offered for
may be short any more, nothing else may be short more often, more gravely or by more, on either side of the aircraft,
and no hole or pair of holes may be held back that was not. What departs from given data may stop by R903 alone, where
the way out says so, what is planned and not measured yet may be open by R930 alone, and a reduced head may caution by
R417 alone.

Where an example has loads, its strength is worked out by hand methods; with "elements" only those examples are taken,
and finite elements are run too, by the search and by the study. Of 200 such faults, seeds 61 to 260, 68 ways out passed
by hand methods and 64 of them with finite elements, which took some .4 s each on one core.

Run: python studies/random_faults.py [cases, 500 by default] [first seed] [elements]
"""

from __future__ import annotations

import json
import math
import random
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from hatchwright.finding import Finding
from hatchwright.job.changed_text import changed_text
from hatchwright.job.file import read_job
from hatchwright.job.text_file import load_text
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Hole, Layout
from hatchwright.remedy import Change
from hatchwright.said import Said
from hatchwright.search.rescue import WayOut
from hatchwright.search.strength_answer import answer_of
from hatchwright.strength.report import WHOLE, strength_findings
from hatchwright.tables.rivets import hole_drill
from hatchwright.tables.table import ShopTables
from hatchwright.workflow.examine import Examination, examine
from hatchwright.workflow.rescue import rescue_layout

EXAMPLES = Path(__file__).parents[1] / "examples"
PLAIN = ("alder", "birch", "cypress", "elder")
WITH_LOADS = ("heron", "juniper", "finch")
ROOMY = "round hole with room"
"""No example: one row round a hole, with room for the next size of rivet at every hole."""
ALL = (*PLAIN, ROOMY, *WITH_LOADS)
_ROUND = """
schema = 2
title = "A round hole with one row around it"
units = "{unit}"
[aircraft]
side = "center"
surface = "lower"
[frame]
origin = "center line x forward frame"
x = "FWD"
y = "LEFT"
[skin]
alloy = "2024"
temper = "T3"
clad = true
thickness = "{skin}"
stressed = true
[opening]
shape = "circle"
diameter = "{opening}"
center = ["0", "0"]
[doubler]
alloy = "2024"
temper = "T3"
clad = true
thickness = "{doubler}"
[doubler.outer]
shape = "circle"
diameter = "{outer}"
[[rows]]
name = "ring"
lay = "offset"
rivet = "MS20470AD4"
edge = "opening"
distance = "{distance}"
pitch = "{pitch}"
"""


def round_hole(unit: str = "in", **sizes: str) -> str:
    """A job with one row around a round hole, by default with room for the next size of rivet at every hole.

    Args:
        sizes: skin, doubler, opening, outer, distance and pitch, where they are others.
    """
    usual = {"skin": ".040", "doubler": ".040", "opening": "6", "outer": "7.48", "distance": ".37"}
    return _ROUND.format(unit=unit, **{**usual, "pitch": ".75", **sizes})


ROUND_HOLE = round_hole()
U_IN, U_SIZE_IN = 0.002, 0.0005


@dataclass(frozen=True)
class Fault:
    """One fault: the example, what was done, and the text of the job with its readings."""

    example: str
    kind: str
    what: str
    text: str


def bare(example: str) -> str:
    """The text of an example without what was made of it."""
    if example == ROOMY:
        return ROUND_HOLE
    text = load_text(EXAMPLES / f"{example}.toml")
    return text.partition("# What was really made")[0].partition("[as_made]")[0]


def _made(lines: list[str], *sections: str) -> str:
    return "\n".join(("", "[as_made]", f'uncertainty = "{U_IN} in"', *lines, "", *sections, ""))


def _readings(holes: list[Hole], other: dict[int, list[object]], strays: list[list[object]]) -> str:
    """A row as drawn, drilled by its usual drill, but for some holes."""
    found = [other.get(hole.number, _reading(hole, hole.place)) for hole in holes]
    lines = [f"holes = {json.dumps(found)}"]
    return _made(lines + ([f"strays = {json.dumps(strays)}"] if strays else []))


def _inches(value_in: float) -> str:
    return f"{value_in:.4f} in"


def _reading(hole: Hole, at: tuple[float, float], bored_in: float | None = None) -> list[object]:
    bored_in = hole_drill(hole.diameter_in).diameter_in if bored_in is None else bored_in
    return [hole.number, *map(_inches, at), _inches(bored_in), f"{U_SIZE_IN} in"]


def _row(layout: Layout, chance: random.Random) -> list[Hole]:
    rows = [holes for holes in layout.rows().values() if holes[0].kind == "rivet"]
    return list(chance.choice(rows))


def _beside(
    at: tuple[float, float], chance: random.Random, least_in: float, most_in: float
) -> tuple[float, float]:
    turned, by_in = chance.uniform(0.0, math.tau), chance.uniform(least_in, most_in)
    return at[0] + by_in * math.cos(turned), at[1] + by_in * math.sin(turned)


def off_place(layout: Layout, chance: random.Random) -> tuple[str, str]:
    """A hole .02 to .15 from where it is drawn; the size, which is right, is read with less doubt than R928 asks."""
    row = _row(layout, chance)
    hole = chance.choice(row)
    at = _beside(hole.place, chance, 0.02, 0.15)
    return f"hole {hole.number} off place", _readings(row, {hole.number: _reading(hole, at)}, [])


def oversize(layout: Layout, chance: random.Random) -> tuple[str, str]:
    """A hole .005 to .05 larger than its drill."""
    row = _row(layout, chance)
    hole = chance.choice(row)
    bored_in = hole_drill(hole.diameter_in).diameter_in + chance.uniform(0.005, 0.05)
    return f"hole {hole.number} oversize", _readings(
        row, {hole.number: _reading(hole, hole.place, bored_in)}, []
    )


def drilled_twice(layout: Layout, chance: random.Random) -> tuple[str, str]:
    """A second hole .01 to .1 beside one, of the same drill or a pilot's."""
    row = _row(layout, chance)
    hole = chance.choice(row)
    x_in, y_in = _beside(hole.place, chance, 0.01, 0.1)
    bored_in = hole_drill(hole.diameter_in).diameter_in * chance.choice((0.6, 1.0))
    stray = [_inches(x_in), _inches(y_in), _inches(bored_in), f"{U_SIZE_IN} in"]
    return f"hole {hole.number} drilled twice", _readings(row, {}, [stray])


def short_edge(layout: Layout, chance: random.Random) -> tuple[str, str]:
    """A doubler cut .004 to .08 short on one side."""
    part = layout.part("doubler")
    assert part is not None
    return "doubler short", _edges("doubler_outer", layout, part.edges[0].loop, chance, inward=True)


def filed_too_far(layout: Layout, chance: random.Random) -> tuple[str, str]:
    """An opening filed .004 to .08 too far on one side."""
    return "opening filed too far", _edges("opening", layout, layout.wanted, chance, inward=False)


def _edges(name: str, layout: Layout, loop: object, chance: random.Random, *, inward: bool) -> str:
    left, low, right, high = loop.bounds  # type: ignore[attr-defined]
    sides = {"x_from": left, "x_to": right, "y_from": low, "y_to": high}
    side = chance.choice(list(sides))
    out = 1.0 if side.endswith("to") else -1.0
    sides[side] += out * chance.uniform(0.004, 0.08) * (-1.0 if inward else 1.0)
    outline = layout.job.opening if name == "opening" else layout.job.doubler and layout.job.doubler.outer
    radius = getattr(outline, "radius", None)
    shape = "edges" if radius is not None else "round ends"
    lines = [f"[as_made.{name}]", f'shape = "{shape}"']
    lines += [f'{key} = "{_inches(at)}"' for key, at in sides.items()]
    return _made([], *lines, *([f'radius = "{radius.text}"'] if radius is not None else []))


FAULTS: dict[str, Callable[[Layout, random.Random], tuple[str, str]]] = {
    "hole off place": off_place,
    "hole oversize": oversize,
    "drilled twice": drilled_twice,
    "doubler short": short_edge,
    "filed too far": filed_too_far,
}


def fault(seed: int, examples: tuple[str, ...] = ALL) -> Fault:
    """The single fault of one seed."""
    chance = random.Random(seed)
    kinds = list(FAULTS)
    example, kind = chance.choice(examples), kinds[seed % len(kinds)]
    text = bare(example)
    what, made = FAULTS[kind](lay_out(read_job(text)), chance)
    return Fault(example, kind, what, text + made)


def judged(text: str, shop: ShopTables | None = None) -> Examination:
    """A job file's text judged from scratch, without strength."""
    return examine(read_job(text), shop, with_strength=False)


def strength(layout: Layout, *, hand_only: bool) -> Iterator[Finding]:
    """The strength of a job, with finite elements or by hand methods alone."""
    return iter(strength_findings(answer_of(layout, None if hand_only else WHOLE).report))


Short = dict[tuple[str, str], list[tuple[int, float]]]


def short(found: Iterator[Finding]) -> Short:
    """For each code and cause everything that does not pass: its rank, and by how much of its limit it misses."""
    every: Short = {}
    for one in found:
        if one.status is Status.PASS:
            continue
        missed = one.judged.shortfall / abs(one.limit) if one.limit and one.status.holds_back else 0.0
        times = 1 if one.unit in ("rivets", "screws", "holes") else max(1, len(one.holes))
        every.setdefault((one.code, one.cause), []).extend([(one.status.rank, missed)] * times)
    return every


def things(finding: Finding) -> int:
    """How many things a finding says are short: as many as it counts, else its holes, one for a pair or none."""
    if finding.status is Status.PASS:
        return 0
    told = dict(finding.subject.values).get("n") if isinstance(finding.subject, Said) else None
    if isinstance(told, int):
        return told
    return (
        1 if finding.unit in ("rivets", "screws", "holes") or len(finding.holes) < 3 else len(finding.holes)
    )


def worse(before: Short, after: Short, but: set[str]) -> list[str]:
    """Every cause that is short more often, more gravely or by more than it was."""
    found = []
    for key, now in after.items():
        was = before.get(key, [])
        graver = any(sum(r >= rank for r, _ in now) > sum(r >= rank for r, _ in was) for rank in (1, 2, 3))
        more = max(m for _, m in now) > max((m for _, m in was), default=0.0) + 1e-9
        if key[0] not in but and (graver or more):
            found.append(f"{key[0]} {key[1]}".strip())
    return found


def held(found: Iterator[Finding], but: set[str]) -> set[tuple[str, frozenset[int]]]:
    """Codes with the hole, or the holes together, that they hold back."""
    pieces = ("rivets", "screws", "holes")
    short = (one for one in found if one.status.holds_back and one.code not in but and one.unit not in pieces)
    return {(one.code, frozenset(one.holes)) for one in short if one.holes}


def newly_held(before: Iterator[Finding], after: Iterator[Finding], but: set[str]) -> list[str]:
    """Holes and pairs that are held back and were not; where holes are numbered as they were."""
    was = held(before, set())
    return [
        f"{code} holds back {sorted(holes)} now"
        for code, holes in held(after, but)
        if not any(code == then and holes <= of for then, of in was)
    ]


def faults_of(text: str, way: WayOut, shop: ShopTables | None = None) -> list[str]:
    """What is wrong with a way out once it is entered into the file and judged from scratch."""
    new = changed_text(text, way.remedy.entries, way.remedy.parts)
    was, now = judged(text, shop), judged(new, shop)
    claimed = {(f.code, f.cause) for f in way.findings}
    asked = sum(things(f) for f in way.findings)
    left = []
    for key in claimed:
        then, left_now = (sum(things(f) for f in e.judged if (f.code, f.cause) == key) for e in (was, now))
        if left_now > then - (asked if len(claimed) == 1 else 1):
            left.append(
                f"{key[0]} {key[1]}: {then} short before, {left_now} now, {asked} of them told to pass"
            )
    but = {"R903"} if way.departs else set()
    but |= {"R417"} if way.kind in (Change.REDUCED_HEAD, Change.NEXT_REDUCED_HEAD) else set()
    but |= {"R930"} if any(part.field == "samples" for part in way.remedy.parts) else set()
    found = left + worse(short(iter(was.judged)), short(iter(now.judged)), but)
    found += newly_held(iter(was.judged), iter(now.judged), but)
    if was.job.loads.basis != "none":
        found += [
            f"strength: {code}"
            for code in worse(
                *(short(strength(one.layout, hand_only=way.strength == "by hand")) for one in (was, now)), but
            )
        ]
    if was.other and now.other:
        there = worse(short(iter(was.other.judged)), short(iter(now.other.judged)), but)
        found += [f"other side: {code}" for code in there]
    return found


@dataclass
class Counts:
    """What came out."""

    faults: Counter[str] = field(default_factory=Counter)
    lines: Counter[str] = field(default_factory=Counter)
    with_way: Counter[str] = field(default_factory=Counter)
    ways: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)
    times_s: list[float] = field(default_factory=list)


def tried(seed: int, counts: Counts, examples: tuple[str, ...] = ALL, *, hand_only: bool = True) -> None:
    """One fault, every way out of each of its deviations entered and judged from scratch."""
    made = fault(seed, examples)
    layout = lay_out(read_job(made.text))
    begun = time.process_time()
    rescued = rescue_layout(layout, hand_only=hand_only)
    counts.times_s.append(time.process_time() - begun)
    counts.faults[made.kind] += 1
    before = {
        (f.code, f.cause, f.status) for f in judged(bare(made.example)).judged if f.status is not Status.PASS
    }
    new = [
        one
        for one in rescued.deviations
        if not {(f.code, f.cause, f.status) for f in one.line.findings} <= before
    ]
    counts.lines[made.kind] += bool(new)
    counts.with_way[made.kind] += any(one.ways for one in new)
    for one in rescued.deviations:
        for way in one.ways:
            counts.ways[way.kind] += 1
            for wrong in faults_of(made.text, way):
                counts.wrong.append(f"seed {seed}, {made.example}, {made.what}, {way.kind}: {wrong}")


def main() -> None:
    """Print the counts."""
    whole = sys.argv[-1] == "elements"
    given = sys.argv[1:-1] if whole else sys.argv[1:]
    cases, first = (int(text) for text in (*given, *("500", "1")[len(given) :]))
    counts = Counts()
    for seed in range(first, first + cases):
        tried(seed, counts, WITH_LOADS if whole else ALL, hand_only=not whole)
        if (seed - first) % 50 == 49:
            print(f"{seed - first + 1} of {cases}, {len(counts.wrong)} wrong", file=sys.stderr)
    print(f"{'fault':18}{'cases':>7}{'deviates':>10}{'way out':>9}{'holder only':>13}")
    for kind, number in counts.faults.items():
        lines, ways = counts.lines[kind], counts.with_way[kind]
        print(f"{kind:18}{number:7}{lines:10}{ways:9}{lines - ways:13}")
    print("\nways out offered:", ", ".join(f"{kind} {n}" for kind, n in counts.ways.most_common()))
    times = sorted(counts.times_s)
    print(f"a fault: median {times[len(times) // 2]:.2f} s, worst {times[-1]:.2f} s of one core")
    print(f"ways out that fail when they are entered: {len(counts.wrong)}")
    for told in counts.wrong:
        print("  ", told)


if __name__ == "__main__":
    main()
