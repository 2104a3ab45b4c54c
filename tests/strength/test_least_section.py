"""The doubler's least section along the opening, each leg by its own load, direct load and shear together.

Ftu 59, Fty 39, Fsu 37 ksi: [MIL-HDBK-5J], clad 2024-T3. U6, U8, U10 and P4 of the review of stress, its own figures.
Sections of random rings are measured with Shapely, which knows nothing of ours.
"""

from __future__ import annotations

import math
import random

import pytest
import shapely

from hatchwright.job.file import read_job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.strength.doubler_section import doubler_section, least_section
from hatchwright.strength.margin import Margin
from hatchwright.strength.report import strength_report
from hatchwright.strength.site import Site, finished_hole_in, site_of
from strength.rings import box, ring_job, row
from told import subject_of

HALVES = (0.5, 0.5)
AD4_IN = 0.1285


def margins(text: str, code: str, level: str = "ultimate", about: str = "along X") -> list[Margin]:
    found = strength_report(lay_out(read_job(text)), elements=None)
    own = [one for one in found.margins if one.code == code and one.level == level]
    return [one for one in own if about in subject_of(one)]


def ratio(margin: Margin) -> float:
    assert margin.ratio is not None
    return margin.ratio


def rows(inner: float = 0.30, outer: float = 0.30) -> tuple[str, str]:
    return row("inner", "opening", inner, 0.55), row("outer", "doubler outer", outer, 0.55)


ROUND_OUTSIDE = ring_job(
    box(4, 4, 0.5, '["0", "0"]'),
    'shape = "circle"\ndiameter = "7.55"\n',
    *rows(),
    skin=0.032,
    doubler=0.025,
    bay=5,
    case={"nx": 1000},
)


def test_a_round_doubler_round_a_square_opening_is_weakest_beyond_the_corner_tangent() -> None:
    """U6: in the middle 7.55 - 4 - 4 holes: +.12 of 4,000 lb; at the tangent of the corner, 1.5 from the middle, the
    chord of the doubler is 6.929: -.11, at limit load -.12. Beyond it the opening narrows less than the doubler."""
    middle_in = 7.55 - 4 - 4 * AD4_IN
    tangent_in = 2 * math.sqrt(3.775**2 - 1.5**2) - 4 - 4 * AD4_IN
    by_middle, by_tangent = (59_000 * 0.025 * net / 4000 - 1 for net in (middle_in, tangent_in))
    assert (by_middle, by_tangent) == pytest.approx((0.12, -0.11), abs=0.005)
    assert (by_tangent + 1) * 39 / 59 * 1.5 - 1 == pytest.approx(-0.12, abs=0.005)
    (margin,) = margins(ROUND_OUTSIDE, "S302")
    beyond = min(
        2 * math.sqrt(3.775**2 - at**2) - 3 - 2 * math.sqrt(0.25 - (at - 1.5) ** 2) - 4 * AD4_IN
        for at in (1.5 + 0.5 * k / 10_000 for k in range(10_000))
    )
    assert ratio(margin) == pytest.approx(59_000 * 0.025 * beyond / 4000 - 1, abs=1e-4)
    assert ratio(margin) < by_tangent
    assert margin.status is Status.STOP


def off_center(nx: float, offset: float = 0.85) -> str:
    return ring_job(
        box(4, 4, 1, '["0", "0"]'),
        box(7, 7, 1.5, f'["0", "{offset}"]'),
        row("far", "doubler outer", 0.30, 0.55),
        skin=0.032,
        doubler=0.040,
        bay=6,
        case={"nx": nx},
    )


def test_the_thin_leg_counts_by_itself() -> None:
    """U8: opening .85 off the doubler's middle: legs .65 and 2.35, half of the load each. Together +.9 (shown as +.83
    to +1.25 by the load), the thin one alone -.26."""
    together = 59_000 * 0.040 * (3.0 - 2 * AD4_IN) / (830 * 4) - 1
    alone = 59_000 * 0.040 * (0.65 - AD4_IN) / (830 * 2) - 1
    assert 0.83 < together < 1.25
    assert alone == pytest.approx(-0.26, abs=0.005)
    (margin,) = margins(off_center(830.0), "S302")
    assert ratio(margin) == pytest.approx(alone)
    assert "side Y-" in subject_of(margin)
    assert margin.status is Status.STOP


def test_legs_that_are_alike_are_told_together() -> None:
    (margin,) = margins(off_center(830.0, offset=0.0), "S302")
    assert ratio(margin) == pytest.approx(59_000 * 0.040 * (3.0 - 2 * AD4_IN) / (830 * 4) - 1)
    assert subject_of(margin).endswith("across the opening, load along X")


def test_direct_load_and_shear_act_together() -> None:
    """U10: .040 doubler 5.3 in wide, one AD5 (.159) a leg, Nx 545 and q 340 over 4 in: Rt 1/1.063, Rs 1/1.069, so that
    Rt^2 + Rs^2 = 1.76 and the margin is -.25."""
    text = ring_job(
        box(4, 4, 0.5, '["0", "0"]'),
        box(5.3, 5.3, 1),
        row("only", "opening", 0.325, 0.70, "MS20470AD5"),
        skin=0.125,
        doubler=0.040,
        bay=10,
        case={"nx": 545, "q": 340},
    )
    (direct,), (shear,) = margins(text, "S302"), margins(text, "S303", about="")[:1]
    assert (ratio(direct), ratio(shear)) == pytest.approx((0.063, 0.069), abs=0.001)
    (both,) = margins(text, "S308")
    assert both.applied is not None
    assert both.applied.value**2 == pytest.approx(1.76, abs=0.005)
    assert ratio(both) == pytest.approx(-0.25, abs=0.005)
    assert both.status is Status.STOP
    (limit,) = margins(text, "S308", "limit, yield")
    assert limit.applied is not None
    f_psi = 545 * 4 / 1.5 / (0.040 * (1.3 - 2 * 0.159))
    fs_psi = 340 * 4 / 1.5 / (0.040 * (1.3 - 2 * 0.159))
    assert limit.applied.value == pytest.approx(
        math.sqrt(f_psi**2 + 3 * fs_psi**2) / 39_000
    )  # Hencky, von Mises


def random_ring(draw: random.Random) -> Site:
    opening = draw.choice(
        [
            f'shape = "circle"\ndiameter = "{draw.uniform(2.5, 4):.3f}"\ncenter = ["0", "0"]\n',
            box(round(draw.uniform(2.5, 4), 3), round(draw.uniform(2.5, 4), 3), 0.5, '["0", "0"]'),
        ]
    )
    place = f'["{draw.uniform(-0.4, 0.4):.3f}", "{draw.uniform(-0.4, 0.4):.3f}"]'
    outer = draw.choice(
        [
            f'shape = "circle"\ndiameter = "{draw.uniform(7.2, 8.5):.3f}"\ncenter = {place}\n',
            box(round(draw.uniform(6.2, 8), 3), round(draw.uniform(6.2, 8), 3), 1.0, place),
        ]
    )
    text = ring_job(opening, outer, *rows(), skin=0.032, doubler=0.040, bay=8, case={"nx": 100})
    return site_of(lay_out(read_job(text)))


def net_in(site: Site, axis: int, at_in: float) -> tuple[float, float]:
    """Metal of both legs, less the holes that the section passes within their radius, by Shapely."""
    assert site.doubler is not None
    outer, inner = (shapely.Polygon(edge.loop.points(1e-6)) for edge in site.doubler.part.edges)
    ends = [(at_in, -20.0), (at_in, 20.0)] if axis == 0 else [(-20.0, at_in), (20.0, at_in)]
    metal = outer.difference(inner).intersection(shapely.LineString(ends))
    nets = []
    for above in (False, True):
        low, high = (0.0, 30.0) if above else (-30.0, 0.0)
        half = shapely.box(*((-30, low, 30, high) if axis == 0 else (low, -30, high, 30)))
        lost = sum(
            finished_hole_in(site, hole) for hole in site.layout.holes
            if abs(hole.place[axis] - at_in) < finished_hole_in(site, hole) / 2
            and (hole.place[1 - axis] > 0.0) == above
        )  # fmt: skip
        nets.append(metal.intersection(half).length - lost)
    return nets[0], nets[1]


@pytest.mark.property
@pytest.mark.parametrize("seed", range(40))
def test_no_section_anywhere_along_the_opening_has_less_metal(seed: int) -> None:
    draw = random.Random(seed)
    site = random_ring(draw)
    for axis in (0, 1):
        least = least_section(site, axis, HALVES)
        found_in = (least.width_in - sum(least.holes_in)) * (0.5 if least.leg is None else 1.0)
        low, high = site.layout.opening.bounds[axis], site.layout.opening.bounds[axis + 2]
        for at_in in [*(draw.uniform(low, high) for _ in range(60)), site.layout.center_in[axis]]:
            assert min(net_in(site, axis, at_in)) >= found_in - 1e-4
        middle = doubler_section(site, axis)
        assert 2.0 * found_in <= middle.width_in - sum(middle.holes_in) + 1e-4


def line_row(name: str, at: float) -> str:
    return (
        f'[[rows]]\nname = "{name}"\nlay = "line"\nrivet = "MS20470AD4"\ncount = 11\n'
        f'start = ["{at}", "-3"]\nend = ["{at}", "3"]\n'
    )


@pytest.mark.parametrize(
    ("case", "status"),
    [
        ({"nx": 400.0}, Status.CAUTION),
        ({"nx": -40.0}, Status.UNKNOWN),
        ({"nx": 400.0, "q": 10.0}, Status.UNKNOWN),
    ],
)
def test_legs_without_rivets_beside_the_opening_are_named(case: dict[str, float], status: Status) -> None:
    """Rows ahead and behind only, at 2.4 and 2.95 from the middle: the legs along X are free for 4.8 in."""
    ends = [line_row(f"row {k}", at) for k, at in enumerate((-2.95, -2.4, 2.4, 2.95))]
    text = ring_job(
        box(4, 4, 1, '["0", "0"]'), box(7, 7, 1.5), *ends, skin=0.032, doubler=0.040, bay=5, case=case
    )
    found = strength_report(lay_out(read_job(text)), elements=None)
    legs = {
        subject_of(one): one.status
        for one in found.findings
        if one.code == "S309" and "along X" in subject_of(one)
    }
    assert list(legs.values()) == [status, status]
    assert all("no rivet beside the opening for 4.8" in subject for subject in legs)
    assert [subject.split(",")[0] for subject in legs] == ["Doubler leg on side Y-", "Doubler leg on side Y+"]


def test_a_leg_with_rivets_is_not_named() -> None:
    found = strength_report(lay_out(read_job(ROUND_OUTSIDE)), elements=None)
    assert not [one for one in found.findings if one.code == "S309"]
