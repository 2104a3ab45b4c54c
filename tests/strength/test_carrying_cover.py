"""A cover that carries: never unless chosen, both states of its screws, and what is said of it."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.judged import Status
from hatchwright.strength.cover_share import CoverFit
from hatchwright.strength.opening_analysis import CaseAnalysis
from hatchwright.strength.report import Elements, StrengthReport, strength_report
from tests.strength.jobs import ANSWERED, SYMMETRIC, layout_of, running
from tests.strength.jobs import COVER as NEAR
from told import advice_of, lines_of

COVER = NEAR.replace('lap = ".6"', 'lap = "1.0"').replace('inset = ".3"', 'inset = ".25"')
"""Screws midway between the two rows of rivets."""

CARRIES = '\n[loads.cover]\ncarries = "load"\nscrew_shear = "2000"\n'
LOADS = running({"nx": 150.0})
QUICK = Elements(buckling=False)


def report(*parts: str, elements: Elements | None = QUICK) -> StrengthReport:
    return strength_report(layout_of(ANSWERED, *parts, base=SYMMETRIC), elements=elements)


def cases(found: StrengthReport) -> tuple[CaseAnalysis, ...]:
    assert found.analysis is not None
    return found.analysis.cases


@pytest.fixture(scope="module")
def idle() -> StrengthReport:
    return report(COVER, LOADS)


@pytest.fixture(scope="module")
def carrying() -> StrengthReport:
    return report(COVER, LOADS, CARRIES)


def test_a_cover_carries_nothing_unless_chosen(idle: StrengthReport) -> None:
    (found,) = cases(idle)
    assert found.cover is None
    (alone,) = cases(report(LOADS))
    assert [rivet.huth_lbf for rivet in found.rivets] == pytest.approx(
        [rivet.huth_lbf for rivet in alone.rivets]
    )
    assert any(line.startswith("The cover carries no load;") for line in lines_of(idle.assumptions))
    assert not {margin.code for margin in idle.margins} & {"S804", "S805"}
    assert "S815" not in {finding.code for finding in idle.findings}


def test_each_case_stands_with_and_without_clearance(carrying: StrengthReport) -> None:
    centered, tight = cases(carrying)
    assert centered.cover
    assert tight.cover
    assert (centered.cover.fit, tight.cover.fit) == (CoverFit.CENTERED, CoverFit.TIGHT)
    assert len(tight.cover.screws) == 16
    assert 0 <= centered.cover.direct_lbf[0] < tight.cover.direct_lbf[0]
    names = {margin.case for margin in carrying.margins if margin.code in ("S801", "S802", "S804", "S805")}
    assert names == {centered.name, tight.name}


def test_a_tight_cover_spares_the_edge(idle: StrengthReport, carrying: StrengthReport) -> None:
    (nothing,), (centered, tight) = cases(idle), cases(carrying)
    assert abs(tight.after.stress_psi) < abs(centered.after.stress_psi) <= abs(nothing.after.stress_psi)


def test_the_cover_is_in_balance_with_its_screws(carrying: StrengthReport) -> None:
    for found in cases(carrying):
        assert found.cover is not None
        screws = found.cover.screws
        beyond = [screw for screw in screws if _place(carrying, screw.number) > 0]
        scale = sum(screw.huth_lbf for screw in screws)
        assert sum(screw.x_lbf for screw in screws) == pytest.approx(0.0, abs=1e-9 * scale)
        assert sum(screw.x_lbf for screw in beyond) == pytest.approx(found.cover.direct_lbf[0])


def _place(found: StrengthReport, number: int) -> float:
    model = cases(found)[0].response.unit.model
    return next(f.x_in for f in model.fasteners if f.name == f"screw {number}")


def test_screws_are_judged_by_what_they_may_carry(carrying: StrengthReport) -> None:
    screws = [margin for margin in carrying.margins if margin.code == "S804"]
    assert all(margin.applied and margin.allowable for margin in screws)
    unknown = report(COVER, LOADS, '\n[loads.cover]\ncarries = "load"\n')
    for margin in unknown.margins:
        if margin.code == "S804":
            assert margin.status is Status.UNKNOWN
            assert "Enter the shear strength of one screw" in advice_of(margin)
            assert margin.enter == ("loads.cover.screw_shear",)


def test_that_it_carries_is_always_a_caution_and_is_said(carrying: StrengthReport) -> None:
    (said,) = [finding for finding in carrying.findings if finding.code == "S815"]
    assert said.status is Status.CAUTION
    assert "Never load the opening without its cover" in advice_of(said)
    assert any(
        line.startswith("The cover carries load in the FE model") for line in lines_of(carrying.assumptions)
    )
    assert any("Buckling of a cover that carries" in line for line in lines_of(carrying.not_analyzed))


def test_without_finite_elements_it_gets_no_credit_and_that_is_said() -> None:
    by_hand = report(COVER, LOADS, CARRIES, elements=None)
    assert any(line.startswith("The cover carries no load, though") for line in lines_of(by_hand.assumptions))


def test_a_known_geometry_is_not_solved_again(carrying: StrengthReport) -> None:
    first = carrying
    thicker = COVER.replace('thickness = ".032"', 'thickness = ".050"')
    again = report(thicker, LOADS, CARRIES, elements=Elements(buckling=False, like=first.analysis))
    fresh = report(thicker, LOADS, CARRIES)
    for one, other in zip(cases(again), cases(fresh), strict=True):
        assert one.cover
        assert other.cover
        assert one.cover.direct_lbf == pytest.approx(other.cover.direct_lbf, rel=1e-6)
    assert cases(fresh)[1].cover.direct_lbf[0] > cases(first)[1].cover.direct_lbf[0]  # type: ignore[union-attr]


def test_a_screw_in_the_way_of_a_rivet_is_named() -> None:
    found = report(NEAR, LOADS, CARRIES)
    assert found.analysis is None
    assert any("rivet 1: its hole overlaps that of 'screw" in line for line in lines_of(found.not_analyzed))


def test_another_word_is_refused() -> None:
    with pytest.raises(JobError, match=r"loads\.cover\.carries"):
        report(COVER, LOADS, '\n[loads.cover]\ncarries = "half"\n')
