"""A light skin buckles well below ultimate load, cut or not: judged against what it was, then by its members.

F1 to F5, U9 and P8 are cases of the review of strength, with its numbers. Theirs were of the modulus in tension, 10.5;
ours is that in compression, 10.7, so that theirs are 1.9 % lower; and theirs came from plate triangles.
"""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from hatchwright.fem.buckling import State
from hatchwright.job.file import read_job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.strength.edge_member import member_rivet_strength, member_strength, members_of
from hatchwright.strength.opening_analysis import CaseAnalysis
from hatchwright.strength.report import StrengthReport, strength_report
from hatchwright.strength.shear_bay import flange_bending, flange_stress_factor
from hatchwright.strength.site import site_of
from hatchwright.strength.worked import work_out
from tests.strength.jobs import ANSWERED, SQUARE, layout_of, running
from told import advice_of, subject_of

ALDER = (Path(__file__).parents[2] / "examples" / "alder.toml").read_text(encoding="utf-8")
OPEN = (Status.STOP, Status.UNKNOWN)


def in_bay(half_in: float, text: str = SQUARE) -> str:
    """The same job with rows so far from the middle of the opening."""
    return re.sub(r'([xy]) = "(-?)5"', rf'\1 = "\g<2>{half_in:g}"', text)


MIDDLE_ROW = """
[[rows]]
name = "middle"
lay = "offset"
rivet = "MS20470AD4"
edge = "opening"
distance = ".85"
pitch = ".55"
"""
THREE_ROWS = (
    in_bay(6.0).replace('width = "7"\nheight = "7"', 'width = "7.4"\nheight = "7.4"').replace(".040", ".050")
    + MIDDLE_ROW
)
ROUND = (
    in_bay(4.375)
    .replace('thickness = ".032"', 'thickness = ".025"')
    .replace(
        'shape = "rounded rectangle"\nwidth = "4"\nheight = "4"\nradius = "1"',
        'shape = "circle"\ndiameter = "2"',
    )
    .replace(
        'shape = "rounded rectangle"\nwidth = "7"\nheight = "7"\nradius = "1.5"',
        'shape = "circle"\ndiameter = "4"',
    )
    .replace('thickness = ".040"', 'thickness = ".032"')
)
ALONG = """
[[loads.members]]
edge = "{edge}"
alloy = "2024"
temper = "T3"
clad = true
thickness = ".050"
attached = ".75"
standing = ".75"
rivet = "MS20470AD4"
pitch = ".75"
"""
FRAMED = "".join(ALONG.format(edge=edge) for edge in ("X+", "X-", "Y+", "Y-"))


def only_case(found: StrengthReport) -> CaseAnalysis:
    assert found.analysis is not None
    return found.analysis.cases[0]


def of_code(found: StrengthReport, *codes: str) -> list[Status]:
    return [one.status for one in (*found.margins, *found.findings) if one.code in codes]


@pytest.mark.parametrize(
    ("base", "load", "before"),
    [
        pytest.param(THREE_ROWS, {"nx": -100.0, "q": 40.0}, 0.086, id="F1"),
        pytest.param(ROUND, {"q": 40.0}, 0.459, id="F2"),
    ],
)
def test_a_panel_that_always_buckled_and_buckles_no_sooner_passes(
    base: str, load: dict[str, float], before: float
) -> None:
    found = strength_report(layout_of(ANSWERED, running(load), base=base))
    case = only_case(found)
    assert case.buckling[State.AS_IT_WAS].factor / (10.7 / 10.5) == pytest.approx(before, rel=0.02)
    assert case.buckling[State.SHEETS_APART].factor > case.buckling[State.AS_IT_WAS].factor
    margin = next(margin for margin in found.margins if margin.code == "S803")
    assert margin.status is Status.PASS
    assert margin.ratio == pytest.approx(
        case.buckling[State.SHEETS_APART].lowered / case.buckling[State.AS_IT_WAS].factor - 1
    )
    assert "no sooner than before the cut" in subject_of(margin)
    assert not set(of_code(found, "S402", "S501", "S502", "S503", "S504", "S803", "S812")) & set(OPEN)


@pytest.fixture(scope="module")
def alder() -> StrengthReport:
    """The three cases of the review."""
    text = re.sub(r"(?ms)^\[loads.*?(?=^\[(?!loads)|\Z)", "", ALDER)
    return strength_report(
        lay_out(
            read_job(
                text + running({"nx": 250.0, "q": 80.0}, {"nx": -120.0, "ny": -20.0, "q": 60.0}, {"q": 150.0})
            )
        )
    )


def test_alder_pressed_down_is_no_worse_than_it_was(alder: StrengthReport) -> None:
    """F3: .1045 before, .1256 after."""
    assert alder.analysis is not None
    case = alder.analysis.cases[1]
    assert case.buckling[State.AS_IT_WAS].factor == pytest.approx(0.1045 * 10.7 / 10.5, rel=2e-3)
    assert case.buckling[State.SHEETS_APART].factor == pytest.approx(0.1256 * 10.7 / 10.5, rel=2e-3)
    (margin,) = [one for one in alder.margins if one.code == "S803" and one.case == "case 2"]
    assert margin.status is Status.PASS
    told = [one for one in alder.findings if one.code == "S503" and "case 2" in subject_of(one)]
    assert [one.status for one in told] == [Status.CAUTION] * 2


def test_alder_in_shear_is_worse_than_it_was_and_stays_stopped(alder: StrengthReport) -> None:
    """Its sheets apart it buckles at .82 of what it did; only as one would they hold."""
    (margin,) = [one for one in alder.margins if one.code == "S803" and one.case == "case 3"]
    assert margin.status is Status.STOP
    told = [one for one in alder.findings if one.code == "S503" and "case 3" in subject_of(one)]
    assert [one.status for one in told] == [Status.UNKNOWN] * 2
    assert {one.enter for one in told} == {("loads.members",)}


def test_tension_across_shear_is_compared_with_what_it_was(alder: StrengthReport) -> None:
    """After over before .157; plate triangles that were 15 % low before had said .186."""
    (ratio,) = [one.value for one in alder.findings if one.code == "S812" and "case 1" in subject_of(one)]
    assert ratio == pytest.approx(0.157, abs=5e-4)


def test_a_strip_at_a_free_edge_does_not_pass_by_hand() -> None:
    """U9: +0.09 on simple supports all round, with Nx -80 and no finite elements; by them .20, so -0.80."""
    layout = layout_of(ANSWERED, running({"nx": -80.0}))
    by_hand = strength_report(layout, elements=None)
    margins = [one for one in by_hand.margins if one.code == "S402"]
    assert margins
    assert all(one.status is Status.STOP for one in margins)
    # K .5 instead of 4.04: (3/10)^2 + 6 (1 - .33)/pi^2 = .497 from above
    assert [one.ratio for one in margins] == pytest.approx([1.09 * 0.497 / 4.04 - 1] * len(margins), abs=0.01)
    by_elements = strength_report(layout)
    assert "S402" not in {one.code for one in by_elements.margins}
    assert set(of_code(by_elements, "S402")) == {Status.CAUTION}


def test_a_bay_that_does_not_buckle_asks_for_no_members() -> None:
    """P8: 2063 psi on a bay that buckles at 3655, crowded to 4127 beside the opening: no cell buckles by itself."""
    thick = SQUARE.replace('thickness = ".032"', 'thickness = ".063"')
    found = strength_report(layout_of(ANSWERED, running({"q": 130.0}), base=thick), elements=None)
    (before,) = [one for one in found.findings if one.code == "S505"]
    assert before.value == pytest.approx(2063, rel=1e-3)
    assert before.limit == pytest.approx(3655, rel=3e-3)
    assert before.status is Status.PASS
    assert set(of_code(found, "S503")) == {Status.CAUTION}
    # Folded only by the bay's own ratio, never by the cells' stress over the bay's: k 0
    (rows,) = [one for one in found.findings if one.code == "S504"]
    assert rows.value == pytest.approx(130.0 * (1 + 4 / 6))


def test_a_bay_that_buckled_and_is_judged_by_hand_alone_stays_open() -> None:
    found = strength_report(layout_of(ANSWERED, running({"q": 60.0})), elements=None)
    assert set(of_code(found, "S503")) == {Status.UNKNOWN}


def test_members_that_the_job_names_are_judged() -> None:
    """F4, worked by hand: q 300, cells 3, 4, 3: beside 500, corner 166.7, so 1000 lbf of end load. Cell 3 x 4, Ks
    7.474: 8397 psi; tau 15 625, k = tanh(.5 log10 1.861) = .1340; folds .1340 x 500 x 3 = 201 more."""
    found = strength_report(layout_of(ANSWERED, running({"q": 300.0}), FRAMED), elements=None)
    ends = [one for one in found.margins if one.code == "S503"]
    assert len(ends) == 4
    for margin in ends:
        assert margin.applied is not None
        assert margin.applied.value == pytest.approx(1000 + 201, rel=2e-3)
    rivets = [one for one in found.margins if one.code == "S504"]
    assert [one.applied and one.applied.value for one in rivets] == pytest.approx(
        [500 * (1 + 0.414 * 0.1340)] * 4, rel=2e-3
    )
    assert "S503" not in {one.code for one in found.findings}
    webs = [one for one in found.margins if one.code in ("S501", "S502")]
    assert not any("members along" in advice_of(one) for one in webs)


def test_a_sheared_panel_between_members_is_left_to_them() -> None:
    """F4: q 60 buckles the panel at .38 of it, at .50 before; members, webs and rivets carry it after.

    Pressed, it stops."""
    found = strength_report(layout_of(ANSWERED, running({"q": 60.0}, {"nx": -5.0, "q": 60.0}), FRAMED))
    assert not [one for one in found.margins if one.code == "S803" and one.case == "case 1"]
    (told,) = [one for one in found.findings if one.code == "S803"]
    assert (told.status, told.limit) == (Status.CAUTION, 1.0)
    assert told.value == pytest.approx(0.95 * 0.38, abs=0.02)  # sheets part between their rivets
    assert not {one.status for one in found.margins if one.case == "case 1"} & set(OPEN)
    (pressed,) = [one for one in found.margins if one.code == "S803"]
    assert (pressed.case, pressed.status) == ("case 2", Status.STOP)


def test_an_angle_worked_by_hand() -> None:
    """.75 x .75 x .050: A .0375 + .0350 = .0725; middle (.0375 x .025 + .035 x .4) / .0725 = .2060 off its face;
    I .003983, rho .2344, e .2060 + .016 = .2220: Ae .0725 / 1.897 = .03821. Flange: K .414 from above, 18 170 psi, so
    694 lbf; as a column over 10 in pi^2 x 10.7e6 x .003983 / 100 = 4206."""
    site = site_of(layout_of(ANSWERED, running({"q": 300.0}), FRAMED))
    member = members_of(site)[0]
    assert member.area_in2 == pytest.approx(0.0725)
    assert member.off_in == pytest.approx(0.20603, abs=1e-5)
    assert member.upright_in4 == pytest.approx(0.003983, rel=1e-3)
    assert member.across_in4 == pytest.approx(member.upright_in4)  # equal flanges
    carried = member_strength(site, member)
    assert carried.value == pytest.approx(694, rel=3e-3)
    by_symbol = {step.result.symbol: step.result.value for step in carried.working}
    assert by_symbol["P column"] == pytest.approx(4206, rel=1e-3)
    # AD4 in .032 at 1.5 D: wet pin .9 x 97 000 x .032 x .1285 = 359 lbf, less than 388 x .96375 in shear
    assert member_rivet_strength(site, member).value == pytest.approx(359.0 / 0.75, rel=1e-3)


@pytest.mark.parametrize("missing", ["X+", "Y-"])
def test_an_edge_without_its_member_stays_open(missing: str) -> None:
    some = "".join(ALONG.format(edge=edge) for edge in ("X+", "X-", "Y+", "Y-") if edge != missing)
    found = strength_report(layout_of(ANSWERED, running({"q": 300.0}), some), elements=None)
    told = [one for one in found.findings if one.code == "S503"]
    assert [one.status for one in told] == [Status.UNKNOWN]
    assert len([one for one in found.margins if one.code == "S503"]) == 3


def test_a_member_whose_rivet_no_table_lists_is_not_shown() -> None:
    layout = layout_of(ANSWERED, running({"q": 300.0}), FRAMED.replace("MS20470AD4", "MS20426AD4"))
    found = strength_report(layout, elements=None)
    rivets = [one for one in found.margins if one.code == "S504"]
    assert [one.status for one in rivets] == [Status.UNKNOWN] * 4


def test_the_example_of_the_note_on_diagonal_tension() -> None:
    """NACA TN 2661, figure 18: wd 1.2 gives C2 .0115 by its closed form, printed .01."""
    found = flange_stress_factor(work_out(1.2, "wd")).value
    assert found == pytest.approx(0.0115, abs=5e-5)
    assert round(found, 2) == 0.01


@pytest.mark.parametrize("wd", [0.05, 0.5, 1.2, 2.5, 4.0, 12.0])
def test_the_flange_factor_is_a_beam_on_its_web(wd: float) -> None:
    """The same beam, clamped at both ends on an elastic bed, by finite differences: E I = 1, length 1, bed 4 wd^4."""
    count = 800
    step, bed = 1.0 / count, 4 * wd**4
    inner = count - 1
    beam = np.zeros((inner, inner))
    for offset, weight in ((0, 6.0), (1, -4.0), (2, 1.0)):
        beam += np.diag(np.full(inner - offset, weight), offset)
        if offset:
            beam += np.diag(np.full(inner - offset, weight), -offset)
    beam[0, 0] = beam[-1, -1] = 7.0  # its neighbor beyond the end mirrors it
    v = np.linalg.solve(beam / step**4 + bed * np.eye(inner), np.ones(inner))
    mean = 1.0 - bed * v.sum() * step
    assert flange_stress_factor(work_out(wd, "wd")).value == pytest.approx(1 / mean - 1, rel=2e-3)


@pytest.mark.parametrize(("wd", "above"), [(2.5, 0.01), (3.0, 0.10), (3.5, 0.14), (4.0, 0.06)])
def test_the_flange_factor_is_near_the_figure_of_the_note_where_it_can_be_read(
    wd: float, above: float
) -> None:
    """Figure 18 of NACA TN 2661 as digitised: u^2 (.09234 - .06227 u + .05784 u^2 - .01187 u^3), u = wd - 1, lies as
    much above the closed form from 2.5 on, worked by hand; below that it sinks to less than a third of it, .0033 at
    1.2.
    """
    u = wd - 1.0
    read = u**2 * (0.09234 - 0.06227 * u + 0.05784 * u**2 - 0.01187 * u**3)
    assert read / flange_stress_factor(work_out(wd, "wd")).value - 1 == pytest.approx(above, abs=0.006)


def test_a_stiffer_flange_spreads_the_folds_better() -> None:
    light, stiff = (
        flange_bending(length_in=4.0, thickness_in=0.032, depth_in=3.0, bends_in4=bends).value
        for bends in (0.001, 0.016)
    )
    assert light == pytest.approx(2 * stiff)


D_SHAPED = SQUARE.replace(
    'shape = "rounded rectangle"\nwidth = "4"\nheight = "4"\nradius = "1"\ncenter = ["0", "0"]',
    'shape = "obround"\nlength = "4"\nwidth = "2.5"\nangle = 30\ncenter = ["0", "0"]',
    1,
)


def test_a_shape_that_no_chart_covers_takes_the_peak_of_the_elements() -> None:
    """F5: a turned obround has a bare peak, which S811 tells too; without finite elements it stays not shown."""
    layout = layout_of(ANSWERED, running({"nx": 200.0}), base=D_SHAPED)
    found = strength_report(layout)
    (screen,) = [one for one in found.findings if one.code == "S701"]
    assert screen.status in (Status.PASS, Status.CAUTION)
    error = only_case(found).grid_error.edge_ratio
    peak = abs(only_case(found).before.stress_psi) * (1 + error) / 1.5
    assert screen.value == pytest.approx(peak)
    assert "by finite elements" in subject_of(screen)
    by_hand = strength_report(layout, elements=None)
    assert set(of_code(by_hand, "S701")) == {Status.UNKNOWN}
