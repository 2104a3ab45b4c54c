"""The finite elements behind the report: balance, symmetry, what a missing or oversize rivet does, and how they
agree with the hand methods.
"""

from __future__ import annotations

import math
import os
import re

import numpy as np
import pytest

from hatchwright.errors import JobError, SolveError
from hatchwright.fem.buckling import State
from hatchwright.judged import Status
from hatchwright.strength.fem_model import fem_model
from hatchwright.strength.load_case import cases_of
from hatchwright.strength.opening_analysis import OpeningAnalysis, analyze_opening
from hatchwright.strength.report import Elements, strength_report
from hatchwright.strength.site import Site, site_of
from hatchwright.words.tell import tell
from tests.strength.jobs import ANSWERED, RESTORE, SQUARE, SYMMETRIC, layout_of, running
from told import advice_of, lines_of, subject_of

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def site(*parts: str, base: str = SYMMETRIC) -> Site:
    return site_of(layout_of(*parts, base=base))


def analyzed(
    *loads: dict[str, float], base: str = SYMMETRIC, more: str = "", **how: object
) -> OpeningAnalysis:
    where = site(running(*loads), more, base=base)
    how.setdefault("buckling", False)
    return analyze_opening(where, cases_of(where.layout.job.loads, where.skin), **how)  # type: ignore[arg-type]


def fitted(number: int, rivet: str) -> str:
    """A hole with another rivet than its row's, or none."""
    return f'\n[as_made]\nuncertainty = ".005"\n[[as_made.fitted]]\nholes = [{number}]\nrivet = "{rivet}"\n'


@pytest.fixture(scope="module")
def plain() -> OpeningAnalysis:
    return analyzed({"nx": 100.0}, {"ny": 100.0}, {"q": 100.0})


def test_every_rivet_is_in_the_model(plain: OpeningAnalysis) -> None:
    assert [rivet.number for rivet in plain.cases[0].rivets] == list(range(1, 65))
    assert tell(plain.panel).startswith("bay of 10.000 in x 10.000 in")


def test_the_doubler_is_in_balance(plain: OpeningAnalysis) -> None:
    centers = plain.idle.fine.model.centers
    for found in plain.cases:
        forces = np.array([(rivet.x_lbf, rivet.y_lbf) for rivet in found.rivets])
        turn = centers[:, 0] * forces[:, 1] - centers[:, 1] * forces[:, 0]
        scale = np.abs(forces).sum()
        assert np.abs(forces.sum(axis=0)).max() < 1e-9 * scale
        assert abs(turn.sum()) < 1e-8 * scale


def test_a_symmetric_job_is_loaded_symmetrically(plain: OpeningAnalysis) -> None:
    """Under Nx a rivet and its mirror at -X carry the same; under Ny the same turned by a quarter."""
    along_x, along_y, shear = plain.cases
    centers = [tuple(np.round(place, 6)) for place in plain.idle.fine.model.centers]
    at = {place: k for k, place in enumerate(centers)}
    for k, (x, y) in enumerate(centers):
        mirror, turned = at[-x, y], at[y, x]
        assert along_x.rivets[k].huth_lbf == pytest.approx(
            along_x.rivets[mirror].huth_lbf, rel=1e-3, abs=1e-3
        )
        assert along_x.rivets[k].huth_lbf == pytest.approx(
            along_y.rivets[turned].huth_lbf, rel=2e-2, abs=2e-2
        )
        assert shear.rivets[k].huth_lbf == pytest.approx(shear.rivets[turned].huth_lbf, rel=2e-2, abs=2e-2)


def test_the_doubler_takes_the_peak_off_the_edge(plain: OpeningAnalysis) -> None:
    for found in plain.cases:
        assert 0 < abs(found.after.stress_psi) < abs(found.before.stress_psi)
        assert found.grid_error.edge_ratio < 0.05
        assert found.grid_error.fastener_ratio < 0.05


def test_swift_is_stiffer_and_loads_rivets_more(plain: OpeningAnalysis) -> None:
    for found in plain.cases:
        assert max(r.swift_lbf for r in found.rivets) > max(r.huth_lbf for r in found.rivets)


def test_what_the_doubler_picks_up_is_what_the_rivets_of_a_side_hand_over(plain: OpeningAnalysis) -> None:
    found = plain.cases[0]
    centers = plain.idle.fine.model.centers
    beyond = sum(rivet.x_lbf for rivet, x in zip(found.rivets, centers[:, 0], strict=True) if x > 0)
    assert found.pick_up_lbf[0] == pytest.approx(beyond, rel=1e-9)
    assert 0 < found.pick_up_lbf[0] < 100.0 * 10.0


def test_a_missing_rivet_loads_its_neighbors(plain: OpeningAnalysis) -> None:
    hardest = max(plain.cases[0].rivets, key=lambda rivet: rivet.huth_lbf)
    less = analyzed({"nx": 100.0}, more=fitted(hardest.number, "none"))
    left = [rivet.number for rivet in less.cases[0].rivets]
    assert hardest.number not in left
    assert len(left) == 63
    assert max(r.huth_lbf for r in less.cases[0].rivets) > hardest.huth_lbf
    with pytest.raises(JobError, match="900"):
        analyzed({"nx": 100.0}, more=fitted(900, "none"))


def test_a_rivet_in_a_hole_that_it_does_not_fill_carries_nothing() -> None:
    """An AD4 in a hole of .191: the range of a 1/8 rivet ends at .135."""
    one = layout_of(running({"nx": 100.0}), base=SYMMETRIC).holes[0]
    made = f'\n[as_made]\nuncertainty = ".005"\nholes = [[1, "{one.x_in:.4f}", "{one.y_in:.4f}", ".191"]]\n'
    assert 1 not in [rivet.number for rivet in analyzed({"nx": 100.0}, more=made).cases[0].rivets]


def test_an_oversize_rivet_takes_more() -> None:
    made = '\n[as_made]\nuncertainty = ".005"\nholes = [[1, "{x}", "{y}"{size}]]\n'
    layout = layout_of(running({"nx": 100.0}), base=SYMMETRIC)
    one = layout.holes[0]
    plain, oversize = (
        analyzed({"nx": 100.0}, more=made.format(x=f"{one.x_in:.4f}", y=f"{one.y_in:.4f}", size=size) + rivet)
        for size, rivet in (("", ""), (', ".159"', '[[as_made.fitted]]\nholes = [1]\nrivet = "MS20470AD5"\n'))
    )
    assert oversize.idle.fine.model.fasteners[0].diameter_in == 0.159
    assert oversize.cases[0].rivets[0].huth_lbf > plain.cases[0].rivets[0].huth_lbf


def test_a_job_without_rows_on_four_sides_gets_a_wide_panel() -> None:
    base = SYMMETRIC.replace('name = "aft spar"\ny = "5"', 'name = "far rib"\nx = "9"')
    where = site(running({"nx": 100.0}), base=base)
    assert where.cells is None
    x_min, _, x_max, _ = fem_model(where).skin.outer.bounds
    assert x_max - x_min > 300.0
    found = analyze_opening(where, cases_of(where.layout.job.loads, where.skin), buckling=False)
    assert tell(found.panel).startswith("wide panel")


def test_the_bare_opening_agrees_with_the_chart_in_a_wide_panel() -> None:
    """4 x 4 with radius 1 in a wide skin: r/b .5, chart 3.00; the chart's own tolerance of 1 percent and the
    grid's.
    """
    base = SYMMETRIC.replace('name = "aft spar"\ny = "5"', 'name = "far rib"\nx = "9"')
    found = analyzed({"nx": 100.0}, base=base).cases[0]
    assert found.before.stress_psi * 0.032 / 100.0 == pytest.approx(3.002, rel=0.015)


def test_in_a_bay_the_hand_screen_of_tension_is_never_below_the_elements(plain: OpeningAnalysis) -> None:
    """S701 crowds the loads into the skin beside the opening; the elements solve the same bay. In shear the bare
    opening bends like a frame and no such bound holds, so the screen only cautions."""
    report = strength_report(
        layout_of(running({"nx": 100.0}, {"ny": 100.0}, {"q": 100.0}), base=SYMMETRIC), elements=None
    )
    screens = [finding for finding in report.findings if finding.code == "S701"]
    for screen, found in zip(screens[:2], plain.cases[:2], strict=True):
        assert screen.value is not None
        assert screen.value * 1.5 >= abs(found.before.stress_psi) * 0.999
    assert screens[2].status is Status.CAUTION
    assert "finite-element result" in advice_of(screens[2])


def test_in_tension_the_rivets_nearest_the_corners_work_hardest(plain: OpeningAnalysis) -> None:
    centers = plain.idle.fine.model.centers
    for found in plain.cases[:2]:
        hardest = max(range(len(found.rivets)), key=lambda k: found.rivets[k].huth_lbf)
        assert np.hypot(*centers[hardest]) == pytest.approx(np.hypot(*centers.T).max(), rel=1e-6)


def test_margins_and_findings_of_the_elements() -> None:
    found = strength_report(
        layout_of(ANSWERED, running({"nx": 100.0}, {"nx": -60.0, "q": 20.0}), base=SYMMETRIC)
    )
    assert found.analysis is not None
    codes = {margin.code for margin in found.margins} | {finding.code for finding in found.findings}
    assert {"S801", "S802", "S803", "S811", "S812"} <= codes
    by_code = {(m.code, m.case): m for m in found.margins}
    hardest = by_code["S801", "case 1"]
    assert hardest.applied is not None
    limit = 1.04 * max(r.greater_lbf for r in found.analysis.cases[0].rivets) / 1.5  # open holes add 4 %
    assert hardest.applied.value == pytest.approx(limit, rel=0.03)
    buckling = found.analysis.cases[1].buckling
    assert list(buckling) == [State.AS_IT_WAS, State.SHEETS_APART, State.SHEETS_TOGETHER]
    was, apart, together = (one.factor for one in buckling.values())
    assert apart < together
    assert was < apart < 1
    assert by_code["S803", "case 2"].ratio == pytest.approx(apart / was - 1, abs=0.03)
    pulled = found.analysis.cases[0].buckling
    assert pulled == {}


def test_buckling_of_the_whole_bay_agrees_with_the_hand_formula() -> None:
    """Square bay in shear, simply supported: Ks pi^2 Ec / (12 (1 - nu^2)) (t/b)^2 t, with the modulus in compression
    for both; Ks is printed to a thousandth."""
    found = analyzed({"q": 20.0}, buckling=True).cases[0].buckling[State.AS_IT_WAS]
    critical = 9.325 * math.pi**2 * 10.7e6 / (12 * (1 - 0.33**2)) * (0.032 / 10) ** 2 * 0.032
    assert found.factor * 20.0 == pytest.approx(critical, rel=3e-4)


NO_ROWS = re.sub(r'\[\[bay.rows\]\]\nname = "[^"]*"\n[xy] = "[^"]*"\n', "", SYMMETRIC)


def test_buckling_that_cannot_be_looked_for_cannot_be_told() -> None:
    """Without rows on all four sides the panel has no supports: pressed or sheared skin is no matter to pass over."""
    pulled, pressed, sheared = {"nx": 50.0}, {"nx": -50.0, "ny": 20.0}, {"q": 50.0}
    found = strength_report(layout_of(ANSWERED, running(pulled, pressed, sheared), base=NO_ROWS))
    margins = [margin for margin in found.margins if margin.code == "S803"]
    assert [margin.case for margin in margins] == ["case 2", "case 3"]
    for margin in margins:
        assert (margin.status, margin.ratio) == (Status.UNKNOWN, None)
        assert "enter the rows on all four sides" in advice_of(margin)
        assert margin.enter == ("bay.rows",)


def test_a_panel_that_cannot_be_laid_out_says_why(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise SolveError("its rings cross", where="skin", remedy="A rounder opening")

    monkeypatch.setattr("hatchwright.strength.opening_analysis.panel", refuse)
    found = strength_report(layout_of(ANSWERED, running({"q": 50.0}), base=SYMMETRIC))
    advice = next(advice_of(margin) for margin in found.margins if margin.code == "S803")
    assert advice == "Buckling not analyzed: skin: its rings cross. A rounder opening."


def test_buckling_that_cannot_be_compared_cannot_be_told_on_the_restore_basis() -> None:
    found = strength_report(layout_of(ANSWERED, RESTORE, base=NO_ROWS))
    compared = [finding for finding in found.findings if finding.code == "S812"]
    assert [finding.status for finding in compared] == [Status.UNKNOWN] * 3
    assert all(finding.enter == ("bay.rows",) for finding in compared)


def test_buckling_that_was_not_asked_for_is_no_answer_either_way() -> None:
    cases = analyzed({"q": 50.0}, base=NO_ROWS).cases
    assert [(one.buckling, one.not_buckled) for one in cases] == [({}, None)]


def test_the_restore_basis_compares_buckling_before_and_after() -> None:
    found = strength_report(layout_of(ANSWERED, RESTORE, base=SYMMETRIC))
    compared = [finding for finding in found.findings if finding.code == "S812"]
    assert len(compared) == 3
    assert all(f.status in (Status.PASS, Status.UNKNOWN, Status.STOP) for f in compared)
    assert not [m for m in found.margins if m.code in ("S801", "S802", "S803")]
    hardest = [finding for finding in found.findings if finding.code == "S814"]
    assert len(hardest) == 3
    assert all(f.status in (Status.PASS, Status.CAUTION) and f.working for f in hardest)


def test_a_model_that_cannot_be_solved_is_said_and_hand_methods_stand() -> None:
    """A doubler larger than the bay: the elements refuse, and the report names why."""
    base = SQUARE.replace('width = "7"\nheight = "7"', 'width = "12"\nheight = "12"')
    found = strength_report(layout_of(ANSWERED, RESTORE, base=base))
    assert found.analysis is None
    assert any(line.startswith("Finite elements:") for line in lines_of(found.not_analyzed))
    (said,) = [finding for finding in found.findings if finding.code == "S816"]
    assert said.status is Status.UNKNOWN
    assert "it reaches beyond 'skin'" in subject_of(said)
    assert "Make it smaller" in advice_of(said)
    assert found.must_stop
    assert found.margins


def test_no_loads_no_elements() -> None:
    found = strength_report(layout_of(ANSWERED, base=SYMMETRIC), elements=Elements())
    assert found.analysis is None
    assert found.margins == ()
