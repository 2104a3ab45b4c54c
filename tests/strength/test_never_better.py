"""What takes metal or a rivet away never makes a margin better: 300 random jobs, by hand methods."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from msgspec.structs import replace

from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out, without_rivets
from hatchwright.layout.layout import Layout
from hatchwright.strength.checks.rivets import rivet_margins
from hatchwright.strength.checks.sheets import sheet_margins
from hatchwright.strength.factors import factors_of
from hatchwright.strength.family import worked_out
from hatchwright.strength.load_case import cases_of
from hatchwright.strength.margin import Margin
from hatchwright.strength.rivet_joint import rivet_joints
from hatchwright.strength.site import site_of
from tests.strength.random_jobs import random_job

pytestmark = pytest.mark.property

SEEDS, JOBS = range(10), 30

Key = tuple[str, str, str]


def margins(layout: Layout) -> dict[Key, Margin]:
    """The lowest margin of every check on every side or along every axis, at each load."""
    site, factors = site_of(layout), factors_of(layout.job.loads)
    cases = cases_of(layout.job.loads, site.skin)
    joints = rivet_joints(site)
    families = [*rivet_margins(site, joints, cases, factors), *sheet_margins(site, cases, factors)]
    lowest: dict[Key, Margin] = {}
    for one in worked_out(layout, families)[0]:
        told = dict(one.subject.values)
        key = (one.code, str(told.get("side") or told["axis"]), str(one.level))
        if one.ratio is not None and (key not in lowest or one.ratio < (lowest[key].ratio or 0.0)):
            lowest[key] = one
    return lowest


def better(before: dict[Key, Margin], after: dict[Key, Margin], codes: tuple[str, ...]) -> list[str]:
    """Margins that were raised."""
    return [
        f"{key}: {before[key].ratio} to {one.ratio}"
        for key, one in after.items()
        if key[0] in codes
        and key in before
        and (one.ratio or 0.0) > (before[key].ratio or 0.0) + 1e-9 * (1.0 + abs(before[key].ratio or 0.0))
    ]


@dataclass(frozen=True)
class Drawn:
    """One random job as drawn, with the margins that nothing may raise."""

    text: str
    layout: Layout
    margins: dict[Key, Margin]


@pytest.fixture(scope="module", params=SEEDS)
def drawn(request: pytest.FixtureRequest) -> tuple[np.random.Generator, list[Drawn]]:
    """Thirty jobs of a seed, made once for all that is taken away from them."""
    rng = np.random.default_rng(request.param)
    made = [random_job(rng) for _ in range(JOBS)]
    return rng, [Drawn(text, layout, margins(layout)) for text, layout in made]


def test_a_rivet_left_out_never_raises_the_margin_of_its_joint(
    drawn: tuple[np.random.Generator, list[Drawn]],
) -> None:
    rng, jobs = drawn
    compared = 0
    for one in jobs:
        rivets = [hole.number for hole in one.layout.holes_of("rivet")]
        out = rng.choice(rivets, size=int(rng.integers(1, max(2, len(rivets) // 4))), replace=False)
        after = margins(without_rivets(one.layout, sorted(out.tolist())))
        assert not better(one.margins, after, ("S201",)), one.text
        compared += len(one.margins.keys() & after.keys())
    assert compared > JOBS


def test_a_thinner_measured_sheet_never_raises_its_own_margins(
    drawn: tuple[np.random.Generator, list[Drawn]],
) -> None:
    rng, jobs = drawn
    compared = 0
    for one in jobs:
        gauge_in = one.layout.job.skin.thickness.inch
        skin = one.text.replace(
            "stressed = true", f'stressed = true\nmeasured = "{gauge_in * rng.uniform(0.7, 0.99):.4f}"'
        )
        after = margins(lay_out(read_job(skin)))
        assert not better(one.margins, after, ("S201", "S301")), one.text
        compared += len(one.margins.keys() & after.keys())
    assert compared > JOBS


def test_a_larger_hole_never_raises_a_net_section(drawn: tuple[np.random.Generator, list[Drawn]]) -> None:
    rng, jobs = drawn
    compared = 0
    for one in jobs:
        rivets = one.layout.holes_of("rivet")
        large = [rivets[int(k)] for k in rng.choice(len(rivets), size=min(5, len(rivets)), replace=False)]
        holes = tuple(
            replace(hole, hole_in=hole.diameter_in * rng.uniform(1.05, 1.4)) if hole in large else hole
            for hole in one.layout.holes
        )
        after = margins(replace(one.layout, holes=holes))
        assert not better(one.margins, after, ("S201", "S301", "S302", "S303", "S308")), one.text
        compared += len(one.margins.keys() & after.keys())
    assert compared > JOBS
