"""S801 and S806: the elastic peak at limit load, and rivets that yield at ultimate load."""

from __future__ import annotations

import os

import pytest

from hatchwright.judged import Status
from hatchwright.strength.margin import Margin
from hatchwright.strength.report import Elements, StrengthReport, strength_report
from hatchwright.workings import Grade
from tests.strength.jobs import ANSWERED, SQUARE, layout_of, running
from told import subject_of

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def ahead_and_behind(thickness: str = ".071") -> str:
    """U2 of the review: AD4, 17 in two rows ahead and 17 behind, none beside the opening."""
    rows = "".join(
        f'[[rows]]\nname = "{name}"\nlay = "line"\nrivet = "MS20470AD4"\ncount = {count}\n'
        f'start = ["{at}", "{-reach}"]\nend = ["{at}", "{reach}"]\n'
        for name, at, count, reach in (
            ("inner, outboard", 2.3, 9, 2.15),
            ("outer, outboard", 3.2, 8, 1.9),
            ("inner, inboard", -2.3, 9, 2.15),
            ("outer, inboard", -3.2, 8, 1.9),
        )
    )
    base = SQUARE[: SQUARE.index("[[rows]]\nname")] + rows
    return base.replace('".032"', f'"{thickness}"').replace('".040"', f'"{thickness}"')


def report(nx: float, base: str, more: str = "") -> StrengthReport:
    layout = layout_of(ANSWERED, running({"nx": nx}, more=more), base=base)
    return strength_report(layout, elements=Elements(buckling=False))


def margin(found: StrengthReport, code: str) -> Margin:
    return next(one for one in found.margins if one.code == code)


def value(one: Margin) -> tuple[float, float]:
    assert one.applied is not None
    assert one.allowable is not None
    return one.applied.value, one.allowable.value


@pytest.fixture(scope="module")
def u2() -> StrengthReport:
    return report(1600.0, ahead_and_behind())


def test_the_elastic_peak_at_limit_is_held_to_shear_too(u2: StrengthReport) -> None:
    """The review's S201 +0.03 stays; its S801 was +0.52, 400 lbf against 607 of bearing yield: by shear 388, -0.03, and
    with the 4 percent that open holes add -0.07."""
    assert margin(u2, "S201").ratio == pytest.approx(0.03, abs=0.005)
    hardest = margin(u2, "S801")
    assert value(hardest) == (pytest.approx(400.0 * 1.045, abs=4.0), pytest.approx(388.0))
    assert hardest.ratio == pytest.approx(-0.07, abs=0.015)
    assert hardest.status is Status.STOP
    assert u2.must_stop


def test_at_ultimate_rivets_at_their_strength_slip_and_leave_the_rest(u2: StrengthReport) -> None:
    """Elastic, the peak is 1.5 times 418 = 628 lbf, .38 over; evened out it carries, by a slip from memory."""
    evened = margin(u2, "S806")
    assert evened.status is Status.CAUTION
    assert evened.grade is Grade.MEMORY
    assert len(evened.holes) == 12
    assert "12 of 34 at their strength" in subject_of(evened)
    assert evened.ratio is not None
    assert evened.ratio > 0.0
    assert evened.ratio > 388.0 / 628.0 - 1.0


def test_a_load_that_slips_too_far_is_not_shown(u2: StrengthReport) -> None:
    """The growth that is told for 1,600 lbf/in is where a load of so much more is no longer shown."""
    growth = value(margin(u2, "S806"))[1]
    for nx, status in ((1600.0 * growth * 0.99, Status.CAUTION), (1600.0 * growth * 1.01, Status.UNKNOWN)):
        assert margin(report(nx, ahead_and_behind()), "S806").status is status
    too_far = margin(report(1600.0 * growth * 1.01, ahead_and_behind()), "S806")
    assert any("slip too far" in str(line.id) or line.id == "S806.slips" for line in too_far.advice)


def test_while_no_rivet_is_at_its_strength_nothing_rests_on_memory() -> None:
    """By hand from S801: its limit load x 1.5 is the peak at ultimate load, held to 388."""
    found = report(800.0, ahead_and_behind())
    peak_lbf = value(margin(found, "S801"))[0] * 1.5
    elastic = margin(found, "S806")
    assert elastic.status is Status.PASS
    assert value(elastic)[1] == pytest.approx(388.0 / peak_lbf)
    assert "none at its strength" in subject_of(elastic)


def test_a_special_factor_is_carried_into_the_growth() -> None:
    plain, raised = (
        value(margin(report(700.0, ahead_and_behind(), more), "S806"))[1]
        for more in ("", 'special_factors = [{ name = "casting", value = "1.25", on = "doubler joint" }]\n')
    )
    assert raised == pytest.approx(plain / 1.25)


def test_forces_that_do_not_settle_leave_it_open_and_nothing_else(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("hatchwright.fem.yielding._STEPS", 1)
    found = report(1600.0, ahead_and_behind())
    assert margin(found, "S806").status is Status.UNKNOWN
    assert margin(found, "S806").advice
    assert margin(found, "S801").ratio is not None
    assert margin(found, "S802").ratio is not None


def test_a_rivet_without_a_strength_leaves_it_open() -> None:
    flush = ahead_and_behind().replace("MS20470AD4", "MS20426AD4")
    found = margin(report(800.0, flush), "S806")
    assert (found.status, found.allowable) == (Status.UNKNOWN, None)
    assert found.advice
