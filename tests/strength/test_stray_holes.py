"""An open hole beside the first row of the skin counts in its net section: arithmetic by hand, (p - Dh - d - u) / p."""

from __future__ import annotations

import pytest

from hatchwright.judged import Status
from hatchwright.strength.doubler_section import least_section
from hatchwright.strength.left_out import not_analyzed
from hatchwright.strength.lost_width import first_row_lost_in
from hatchwright.strength.report import Elements, strength_report
from hatchwright.strength.site import site_of
from hatchwright.words.tell import tell
from tests.strength.jobs import ANSWERED, RESTORE, SQUARE, layout_of

HOLE_IN = 0.1285
"""Of an AD4 by its usual drill, No. 30."""


def strays(*lines: str) -> str:
    return f'\n[as_made]\nuncertainty = ".002"\nstrays = [{", ".join(lines)}]\n'


def lost(*lines: str) -> float:
    site = site_of(layout_of(RESTORE, strays(*lines), base=SQUARE))
    side = next(one for one in site.sides if one.name == "X+")
    return first_row_lost_in(site, side.rows[-1])


def beside_the_row(up_in: float) -> tuple[float, float]:
    """A place so far beyond the outer row of the X+ side, halfway between two of its rivets."""
    site = site_of(layout_of(RESTORE, base=SQUARE))
    row = next(one for one in site.sides if one.name == "X+").rows[-1]
    first, second = row.holes[len(row.holes) // 2 - 1 : len(row.holes) // 2 + 1]
    return first.x_in + up_in, (first.y_in + second.y_in) / 2.0


@pytest.mark.parametrize(
    ("up_in", "filled", "more_in"),
    [(0.3, "", 0.132), (0.3, ', "", "MS20470AD4"', 0.0), (0.9, "", 0.0)],
)
def test_an_open_stray_hole_within_a_pitch_takes_its_width(up_in: float, filled: str, more_in: float) -> None:
    x_in, y_in = beside_the_row(up_in)
    found = lost(f'["{x_in:.4f}", "{y_in:.4f}", ".130"{filled}]')
    assert found == pytest.approx(HOLE_IN + more_in, abs=1e-9)


def test_two_beside_one_pair_count_together() -> None:
    x_in, y_in = beside_the_row(0.2)
    found = lost(f'["{x_in:.4f}", "{y_in:.4f}", ".130"]', f'["{x_in + 0.1:.4f}", "{y_in:.4f}", ".098"]')
    assert found == pytest.approx(HOLE_IN + 0.132 + 0.100, abs=1e-9)


def test_the_report_keeps_less_and_says_what_it_leaves_out() -> None:
    x_in, y_in = beside_the_row(0.3)
    open_hole = strays(f'["{x_in:.4f}", "{y_in:.4f}", ".130"]')
    shares = [
        next(
            one.value
            for one in strength_report(
                layout_of(ANSWERED, RESTORE, more, base=SQUARE), elements=None
            ).findings
            if one.code == "S305" and "X+" in tell(one.subject)
        )
        for more in ("", open_hole)
    ]
    assert shares[0] is not None
    assert shares[1] is not None
    pitch_in = HOLE_IN / (1.0 - shares[0])
    assert shares[1] == pytest.approx(1.0 - (HOLE_IN + 0.132) / pitch_in, abs=1e-9)
    told = not_analyzed(layout_of(ANSWERED, RESTORE, open_hole, base=SQUARE), ())
    assert any("stray holes" in tell(one) for one in told)


def in_leg() -> tuple[float, float]:
    """A place in the doubler's leg at the highest Y, beside the middle of the opening, between two lines of holes."""
    layout = layout_of(RESTORE, base=SQUARE)
    center = layout.center_in
    doubler = layout.part("doubler")
    assert doubler is not None
    outer = doubler.edges[0].loop.bounds
    return center[0] + 0.02, (layout.opening.bounds[3] + outer[3]) / 2.0


@pytest.mark.parametrize(("part", "more_in"), [("doubler", 0.132), ("both", 0.132), ("skin", 0.0)])
def test_an_open_stray_hole_in_a_leg_takes_its_width_of_the_doublers_weakest_section(
    part: str, more_in: float
) -> None:
    """A load along X passes the leg; the section through the hole keeps that much less than before."""
    x_in, y_in = in_leg()
    bare, holed = (
        least_section(site_of(layout_of(RESTORE, more, base=SQUARE)), 0, (0.5, 0.5))
        for more in ("", strays(f'["{x_in:.4f}", "{y_in:.4f}", ".130", "", "", "{part}"]'))
    )
    upper = (bare.width_in - sum(bare.holes_in)) / (1.0 if bare.leg == 1 else 2.0)
    kept = holed.width_in - sum(holed.holes_in)
    assert (holed.leg, kept) == (1, pytest.approx(upper - more_in, abs=2e-5)) if more_in else holed == bare


def test_the_finite_elements_say_that_no_stray_hole_is_in_them() -> None:
    x_in, y_in = in_leg()
    elements = Elements(buckling=False)
    told = {}
    for filled in ("", "MS20470AD4"):
        line = f'["{x_in:.4f}", "{y_in:.4f}", ".130", "", "{filled}", "both"]'
        report = strength_report(layout_of(ANSWERED, RESTORE, strays(line), base=SQUARE), elements=elements)
        told[filled] = [one.status for one in report.findings if one.code == "S817"]
    assert told == {"": [Status.UNKNOWN], "MS20470AD4": []}


def test_a_doubler_measured_thin_carries_what_it_is() -> None:
    thin = SQUARE.replace('thickness = ".040"', 'thickness = ".040"\nmeasured = ".032"')
    doubler = site_of(layout_of(RESTORE, base=thin)).doubler
    assert doubler is not None
    assert doubler.thickness_in == 0.032
