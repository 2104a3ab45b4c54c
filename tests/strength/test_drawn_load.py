"""The load that a doubler draws: by the cut, by its stiffness, and by the elements where they find more.

Strengths and AD4 of [MIL-HDBK-5J]; K of .040 is 1 - .04 (3.125 - 3), so that one AD4 carries 388 x .995 lb. U7 of the
review of stress: doubler 13 in, .071 on .040, one far row, Nx 1,650: elements pick up 13,443 lb, which 34 rivets don't
carry.
"""

from __future__ import annotations

import math

import pytest

from hatchwright.job.file import read_job
from hatchwright.job.job import Job
from hatchwright.job.loads import Loads
from hatchwright.layout.lay_out import lay_out
from hatchwright.strength.drawn_load import Load, drawn_load
from hatchwright.strength.load_case import cases_of
from hatchwright.strength.margin import Margin
from hatchwright.strength.report import Elements, StrengthReport, strength_report
from hatchwright.strength.site import Site, site_of
from strength.jobs import RESTORE, SQUARE, layout_of, running
from strength.rings import box, ring_job, row

FAR_ROW = ring_job(
    box(4, 4, 1, '["0", "0"]'),
    box(13, 13, 1.5),
    row("far", "doubler outer", 0.30, 0.60),
    skin=0.040,
    doubler=0.071,
    bay=8,
    case={"nx": 1650},
)
REVIEWED_LBF = 13_443


def named(one, hole):
    """What the subject of a margin names."""
    return dict(one.subject.values).get(hole)


def report(text: str, elements: Elements | None = None) -> StrengthReport:
    return strength_report(lay_out(read_job(text)), elements=elements)


@pytest.fixture(scope="module")
def by_hand() -> StrengthReport:
    return report(FAR_ROW)


@pytest.fixture(scope="module")
def by_elements() -> StrengthReport:
    return report(FAR_ROW, Elements(buckling=False))


def margins(found: StrengthReport, code: str) -> list[Margin]:
    return [one for one in found.margins if one.code == code and one.level == "ultimate"]


def applied_lbf(margin: Margin) -> float:
    assert margin.applied is not None
    return margin.applied.value


def test_a_wide_thick_doubler_draws_more_than_the_cut(by_hand: StrengthReport) -> None:
    """1,650 x 13 x .071 / .111 = 13,720 lb instead of 6,600; 34 rivets of 386.06 carry 13,126."""
    drawn_lbf = 1650 * 13 * 0.071 / 0.111
    assert drawn_lbf == pytest.approx(REVIEWED_LBF, rel=0.025)
    for margin in margins(by_hand, "S201"):
        assert margin.allowable is not None
        assert margin.allowable.value == pytest.approx(34 * 388 * 0.995)
        assert applied_lbf(margin) == pytest.approx(drawn_lbf)
        assert margin.status.holds_back
        assert any("W Ed td" in step.formula for step in margin.working)
    (strap,) = margins(by_hand, "S302")
    assert applied_lbf(strap) == pytest.approx(drawn_lbf)


def test_elements_raise_the_load_and_say_so(by_elements: StrengthReport, by_hand: StrengthReport) -> None:
    """The review's pick-up by Huth; the load takes the greater of Huth and Swift, with the error of the grid."""
    assert by_elements.analysis is not None
    (found,) = by_elements.analysis.cases
    assert found.pick_up_lbf[0] == pytest.approx(REVIEWED_LBF, rel=1e-3)
    raised_lbf = found.drawn_lbf[0][0] * (1 + found.grid_error.fastener_ratio)
    assert raised_lbf > 1650 * 13 * 0.071 / 0.111
    (strap,) = margins(by_elements, "S302")
    assert applied_lbf(strap) == pytest.approx(raised_lbf)
    assert strap.applied is not None
    assert strap.applied.working[-1].formula == "max(P hand, P elements)"
    assert [step.result.symbol for step in strap.applied.working[-3:]] == ["P hand", "P elements", "P"]
    for margin, before in zip(margins(by_elements, "S201"), margins(by_hand, "S201"), strict=True):
        assert applied_lbf(margin) > applied_lbf(before)


def site(*parts: str, base: str = SQUARE) -> Site:
    return site_of(layout_of(*parts, base=base))


def test_elements_never_lower_the_load() -> None:
    found = site(running({"nx": 400.0, "q": 300.0}))
    (case,) = cases_of(found.layout.job.loads, found.skin)
    little = {(case, 0): (1.0, 2.0)}
    for of, flow in ((Load.DIRECT, 400.0), (Load.SHEAR, 300.0), (Load.BOTH, 500.0)):
        load = drawn_load(found, 0, case, of, cut_in=4.0, picked_up=little)
        assert load.value == pytest.approx(flow * 4.0)  # 7 x .040 / .072 = 3.89 of skin, less than the cut
        more = drawn_load(found, 0, case, of, cut_in=4.0, picked_up={(case, 0): (9000.0, 9000.0)})
        assert more.value >= 9000.0


def test_on_the_restore_basis_nothing_is_drawn() -> None:
    wide = SQUARE.replace('width = "7"\nheight = "7"', 'width = "9"\nheight = "9"')
    restored, known = site(RESTORE, base=wide), site(running({"nx": 1888.0}), base=wide)
    pull, given = (cases_of(one.layout.job.loads, one.skin)[0] for one in (restored, known))
    assert drawn_load(restored, 0, pull, Load.DIRECT, cut_in=4.0).value == pytest.approx(1888 * 4)
    assert drawn_load(known, 0, given, Load.DIRECT, cut_in=4.0).value == pytest.approx(
        1888 * 9 * 0.040 / 0.072
    )


CASES = [{"name": "up", "nx": "250", "q": "80"}, {"name": "twist", "q": "150"}]


def test_alder_is_raised_by_elements_alone(alder_drawn: Job) -> None:
    """7 x 6 in, .040 on .032: 5/9 of 6 and of 7 is less than the cut of 4 and of 5. The review's 1,095 lb by Huth in
    the place of 1,000, and its strengths: 6,356.9 lb of 17 rivets, 5,774.9 and 3,621.6 of the doubler.

    Two of the 17 stand where Nx and q of side X+ and q of side Y+ point the same way: (1000, 320) lb and (400, 0),
    1,436 together for 1,050, so that .731 of each is left for X+; at the other corner they are opposed."""
    loads = Loads.model_validate({"basis": "running loads", "source": "review", "cases": CASES})
    layout = lay_out(alder_drawn.model_copy(update={"loads": loads}))
    found = strength_report(layout, elements=Elements(buckling=False))
    assert found.analysis is not None
    up = found.analysis.cases[0]
    assert up.pick_up_lbf[0] == pytest.approx(1095.5, abs=0.1)
    direct_lbf, shear_lbf = (one * (1 + up.grid_error.fastener_ratio) for one in up.drawn_lbf[0])
    of_up, of_twist = ([one for one in found.margins if one.case == case] for case in ("up", "twist"))
    left = (15 + 2 * math.hypot(1000, 320) / math.hypot(1400, 320)) / 17
    for code, load_lbf, strength_lbf in (
        ("S201", math.hypot(direct_lbf, shear_lbf), 6356.9 * left),
        ("S302", direct_lbf, 5774.9),
        ("S303", 80 * 4.0, 3621.6),
    ):
        raised = next(
            one for one in of_up if one.code == code and one.level == "ultimate" and about(one) in "X+"
        )
        assert applied_lbf(raised) == pytest.approx(load_lbf)
        assert raised.allowable is not None
        assert raised.allowable.value == pytest.approx(strength_lbf, abs=0.1)
    for code, axis in (("S201", "X+"), ("S303", "X")):
        same = next(one for one in of_twist if one.code == code and about(one) == axis)
        assert applied_lbf(same) == pytest.approx(150 * 4.0)


def about(margin: Margin) -> str:
    return str(named(margin, "side") or named(margin, "axis"))
