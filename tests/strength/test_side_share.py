"""The rivets of a half against the finite elements, on random patterns round round, obround, D and rounded openings."""

from __future__ import annotations

import math
import os
import random

import numpy as np
import pytest
from msgspec.structs import replace

from hatchwright.fem.analysis import analyze
from hatchwright.fem.running import running_loads
from hatchwright.fem.solution import Response
from hatchwright.fem.stations import Fineness
from hatchwright.layout.cut_side import CutSide, sides_of_cut
from hatchwright.layout.lay_out import without_rivets
from hatchwright.layout.layout import Hole
from hatchwright.shapes.profile import Profile
from hatchwright.shapes.reach import reach
from hatchwright.strength.fastener_load import side_shares
from hatchwright.strength.fem_model import fem_model
from hatchwright.strength.load_case import cases_of
from hatchwright.strength.opening_analysis import analyze_opening
from hatchwright.strength.site import Site, site_of
from tests.strength.jobs import SQUARE, layout_of, running

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

SHAPES = ("circle", "obround", "D", "rounded rectangle")
SEEDS = range(int(os.environ.get("HATCHWRIGHT_PATTERNS", "12")))
"""Two hundred take some three minutes; each of a dozen has another shape, pattern, load and direction."""


def sizes(shape: str, width: float, height: float) -> str:
    return {
        "circle": f'shape = "circle"\ndiameter = "{width:.3f}"\n',
        "obround": f'shape = "obround"\nlength = "{width:.3f}"\nwidth = "{height:.3f}"\n',
        "D": f'shape = "D"\nwidth = "{width:.3f}"\nheight = "{height:.3f}"\nradius = "{height / 5:.3f}"\n',
    }.get(
        shape,
        f'shape = "rounded rectangle"\nwidth = "{width:.3f}"\nheight = "{height:.3f}"\n'
        f'radius = "{height / 4:.3f}"\n',
    )


def ring(
    shape: str, width: float, height: float, lap: float, pitch: str, load: tuple[float, float, float]
) -> Site:
    """An opening with a doubler of its shape, two rows of rivets and running loads nx, ny and q."""
    opening = f'[opening]\n{sizes(shape, width, height)}center = ["0", "0"]\n'
    doubler = SQUARE[SQUARE.index("[doubler]\n") : SQUARE.index("[doubler.outer]")]
    outer = f"[doubler.outer]\n{sizes(shape, width + 2 * lap, height + 2 * lap)}"
    rows = SQUARE[SQUARE.index("[[rows]]\nname") :].replace('".55"', f'"{pitch}"')
    base = SQUARE[: SQUARE.index("[opening]")] + opening + doubler + outer + rows
    case = {name: size for name, size in zip(("nx", "ny", "q"), load, strict=True) if size}
    return site_of(layout_of(running(case), base=base))


def pattern(seed: int, load: tuple[float, float, float] | None = None) -> Site:
    """A random opening with a ring of two rows, and a random load on it where none is given."""
    draw = random.Random(seed)
    shape, width = SHAPES[seed % len(SHAPES)], draw.uniform(3.2, 4.4)
    height = width if shape == "circle" else draw.uniform(2.4, 3.1)
    lap, pitch = draw.uniform(1.0, 1.3), f"{draw.uniform(0.45, 0.7):.3f}"
    drawn = (draw.uniform(-200, 200), draw.uniform(-200, 200), draw.uniform(-200, 200))
    return ring(shape, width, height, lap, pitch, load or drawn)


def joining(site: Site) -> list[Hole]:
    return [hole for hole in site.layout.holes_of("rivet") if len(hole.stack) > 1]


def clear_direction(site: Site, draw: random.Random) -> tuple[np.ndarray, CutSide]:
    """Of two dozen random directions the one whose middle line keeps farthest from all rivets: one that it cuts through
    hands over its load on both sides of the line."""
    turns = np.array([draw.uniform(0, 2 * math.pi) for _ in range(24)])
    ways = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    low, high = reach(site.layout.opening, ways)
    places = np.array([(hole.x_in, hole.y_in) for hole in joining(site)])
    k = int(np.abs(ways @ places.T - ((low + high) / 2)[:, None]).min(axis=1).argmax())
    (side,) = sides_of_cut(site.layout, ways[k])
    return ways[k], side


def carried_past_the_middle(site: Site, response: Response, way: np.ndarray) -> np.ndarray:
    """Force in the doubler across the middle of the opening, from the stresses in its elements along that line."""
    doubler = site.layout.part("doubler")
    assert doubler is not None
    outer, inner = (Profile((edge.loop,)) for edge in doubler.edges)
    (low,), (high,) = reach(site.layout.opening, [way])
    across = np.array([-way[1], way[0]])
    step_in = 0.002
    line = (low + high) / 2 * way + np.arange(-5, 5, step_in)[:, None] * across
    line = line[outer.contains(line) & ~inner.contains(line)]
    nx, ny, nxy = (running_loads(response.unit, "doubler", line) @ response.load_lbf_in).T
    return (
        np.array(
            [nx @ np.full(len(line), way[0]) + nxy.sum() * way[1], nxy.sum() * way[0] + ny.sum() * way[1]]
        )
        * step_in
    )


def cut_off(off_in: float, radius_in: float) -> float:
    """Part of a disc beyond a line at a distance from its center [-]."""
    t = min(abs(off_in) / radius_in, 1.0)
    return (math.acos(t) - t * math.sqrt(1.0 - t * t)) / math.pi


@pytest.mark.parametrize("seed", SEEDS)
def test_the_rivets_of_a_half_carry_all_that_the_elements_pass_through_it(seed: int) -> None:
    """On elements a third as long as usual, since stresses jump from one to the next: a hundredth of the load. A rivet
    hands over its load all over a disc, so one that the line cuts may differ by the part on the other side."""
    site = pattern(seed)
    (case,) = cases_of(site.layout.job.loads, site.skin)
    usual = Fineness()
    finer = replace(usual, per_quarter=3 * usual.per_quarter, patch_share=usual.patch_share / 3)
    unit = analyze(fem_model(site), fineness=finer)
    response = unit.combine(nx_lbf_in=case.nx.value, ny_lbf_in=case.ny.value, q_lbf_in=case.q.value)
    (way, side), rivets = clear_direction(site, random.Random(seed + 500)), joining(site)
    assert [f"rivet {hole.number}" for hole in rivets] == [one.name for one in unit.model.fasteners]
    forces = response.fastener_lbf
    half = forces[[hole in side.half for hole in rivets]].sum(axis=0)
    passed = carried_past_the_middle(site, response, way)
    (low,), (high,) = reach(site.layout.opening, [way])
    off_in = np.array([(hole.x_in, hole.y_in) for hole in rivets]) @ way - (low + high) / 2
    sizes_lbf = np.hypot(*forces.T)
    radius_in = float(unit.patch_radius_in.max())
    allowed = 0.01 * sizes_lbf.sum() / 4 + sum(
        cut_off(off, radius_in) * size for off, size in zip(off_in.tolist(), sizes_lbf.tolist(), strict=True)
    )
    assert np.abs(half - passed).max() <= allowed


def test_what_is_told_of_a_side_is_what_the_doubler_carries_past_the_middle() -> None:
    """Each half by itself hands over the whole force, by the solution's own sum; those ahead of the edge of a round
    ring hand over some 40 hundredths of it."""
    site = pattern(0, load=(150.0, 0.0, 0.0))
    (found,) = analyze_opening(site, cases_of(site.layout.job.loads, site.skin), buckling=False).cases
    right, left = side_shares(site, found.case, found.rivets)
    assert found.sides == (right, left)
    assert (right.side, left.side) == ("X+", "X-")
    carried = found.response.unit.pick_up_in("doubler", x_in=0.0) @ found.response.load_lbf_in
    for side, counted in zip((right, left), site.sides, strict=False):
        assert (side.half, side.ahead) == (len(counted.half), len(counted.ahead))
        assert side.half_lbf == pytest.approx(float(np.hypot(*carried)), rel=1e-2)
        assert 0.3 < side.ratio < 0.5


def test_a_missing_rivet_carries_nothing_on_its_side() -> None:
    site = pattern(0, load=(150.0, 0.0, 0.0))
    gone = site.sides[0].ahead[0].number
    cases = cases_of(site.layout.job.loads, site.skin)
    site = site_of(without_rivets(site.layout, (gone,)))
    (found,) = analyze_opening(site, cases, buckling=False).cases
    assert found.sides[0].half == len(site.sides[0].half) - 1
    assert found.sides[0].ahead == len(site.sides[0].ahead) - 1


@pytest.mark.parametrize("pitch", ["0.45", "0.55", "0.70"])
@pytest.mark.parametrize(
    "shape", [("circle", 4.0, 4.0, 6.4), ("obround", 5.0, 4.0, 7.2)], ids=["round", "end of an obround"]
)
def test_the_hardest_worked_rivet_of_a_half_by_hand_is_that_of_the_elements(
    shape: tuple[str, float, float, float], pitch: str
) -> None:
    """Load along X of 100 lbf/in. Each rivet square to the edge: P / sum(cos^2) comes within an eighth of the greatest
    load on a rivet in the elements, and no more than a twentieth below it; shared alike it is half of it."""
    name, width, height, outer = shape
    site = ring(name, width, height, (outer - width) / 2, pitch, (100.0, 0.0, 0.0))
    (found,) = analyze_opening(site, cases_of(site.layout.job.loads, site.skin), buckling=False).cases
    hardest = max(rivet.greater_lbf for rivet in found.rivets)
    for side in site.sides[:2]:
        by_hand = 100.0 * side.cut_in / sum(cosine**2 for cosine in side.squareness)
        assert 0.95 * hardest < by_hand < 1.125 * hardest
        assert 100.0 * side.cut_in / len(side.half) < 0.6 * hardest
