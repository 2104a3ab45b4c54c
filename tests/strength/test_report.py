"""The whole report: hand-worked jobs, what it may not say, and how it answers to turning and changing a job."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from hatchwright.job.file import read_job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.strength.margin import Margin
from hatchwright.strength.report import NO_LOADS, StrengthReport, strength_findings, strength_report
from hatchwright.words.tell import tell
from hatchwright.workings import Grade
from tests.strength.jobs import ANSWERED, COVER, RESTORE, SQUARE, SYMMETRIC, layout_of, running
from told import advice_of, lines_of, subject_of

ALDER = (Path(__file__).parents[2] / "examples" / "alder.toml").read_text(encoding="utf-8")
WORDS = ("approved", "airworthy", "certified", "compliant")


def report(*parts: str, base: str = SQUARE) -> StrengthReport:
    return strength_report(layout_of(*parts, base=base), elements=None)


def only(found: StrengthReport, code: str, subject: str = "", case: str = "", level: str = "") -> Margin:
    margins = [
        margin
        for margin in found.margins
        if margin.code == code
        and subject in subject_of(margin)
        and case in tell(margin.case)
        and level in margin.level
    ]
    assert len(margins) == 1, [subject_of(margin) for margin in margins]
    return margins[0]


def as_drawn(text: str, *more: str) -> StrengthReport:
    """Alder without what was measured and without loads or gate of its own."""
    text = text[: text.index("[as_made]")].rstrip()
    text = text[: text.rindex("#")] if text.rsplit("\n", 1)[-1].startswith("#") else text
    return strength_report(lay_out(read_job(text + "\n" + "".join(more))), elements=None)


def without(text: str, *sections: str) -> str:
    """Drop whole sections of a job."""
    for name in sections:
        if f"\n[{name}]" in text:
            start = text.index(f"\n[{name}]")
            end = text.find("\n[", start + 2)
            text = text[:start] + (text[end:] if end >= 0 else "\n")
    return text


def test_alder_restores_both_directions() -> None:
    """Worked by hand for the opening as drawn, 5.00 x 4.00 in .032 clad 2024-T3, ring .040, outer 7 x 6, inner
    3.7 x 2.7: N = .032 x 59,000 = 1888 lb/in; one AD4: 388 x .96375 = 373.9 lb against bearing 447.8."""
    found = as_drawn(without(ALDER, "gate", "loads"), ANSWERED, RESTORE, 'efficiency = "1.00"\n')
    assert found.basis == "restore"
    assert not found.must_refer
    for side, rivets, load in (
        ("X+", 17, 1888 * 4.0),
        ("X-", 17, 1888 * 4.0),
        ("Y+", 19, 1888 * 5.0),
        ("Y-", 19, 1888 * 5.0),
    ):
        margin = only(found, "S201", f"side {side}", "tension")
        assert margin.ratio == pytest.approx(rivets * 373.9 / load - 1, abs=1e-3)
        needed = math.ceil(load / 373.9)
        assert advice_of(margin).startswith(f"This load needs {needed} rivets")
        assert rivets * 388 < load  # the thin-sheet factor is from memory, and 1 at best
        assert margin.status is Status.STOP
    # Doubler across the opening, load along X: 6.00 - 2.70 less 4 rivets of .1285 and 2 screws of .1695
    strap = only(found, "S302", "along X", "along X", "ultimate")
    assert strap.ratio == pytest.approx(
        59_000 * 0.040 * (3.30 - 4 * 0.1285 - 2 * 0.1695) / (1888 * 4.0) - 1, abs=1e-3
    )
    assert strap.status is Status.STOP
    put_back = [finding for finding in found.findings if finding.code == "S306"]
    assert [finding.value for finding in put_back] == pytest.approx(
        [0.04 * 3.3 / (0.032 * 4), 0.04 * 3.3 / (0.032 * 5)]
    )


def test_alder_on_the_restore_basis_says_what_it_left_out() -> None:
    found = as_drawn(without(ALDER, "gate", "loads"), RESTORE)
    assert any(line.startswith("Buckling: the restore basis") for line in lines_of(found.not_analyzed))
    assert found.must_refer
    assert {finding.status for finding in found.findings if finding.code == "S305"} == {Status.CAUTION}


def test_short_edge_distances_lower_bearing_as_made() -> None:
    """Rivets 4 and 6 of the example stand .248 and .243 from the filed edge, u .005: e/D less than 2."""
    pulled = running({"nx": 1000.0})
    made = strength_report(lay_out(read_job(without(ALDER, "gate", "loads") + pulled)), elements=None)
    drawn = as_drawn(without(ALDER, "gate", "loads"), pulled)
    softer, full = (only(one, "S202", "side X+").allowable for one in (made, drawn))
    assert softer is not None
    assert full is not None
    expected = 0.9 * 0.032 * 0.1285 * (68_000 + ((0.243 - 0.005) / 0.125 - 1.5) / 0.5 * 14_000)
    assert softer.value == pytest.approx(expected, rel=1e-3)
    assert softer.value < full.value


def test_no_loads_no_claim() -> None:
    """A bay too narrow, no loads: the gate and one sentence, nothing else."""
    for more in (ANSWERED, COVER, '\n[loads]\nbasis = "none"\n'):
        found = report(more)
        assert found.summary == (NO_LOADS,)
        assert (found.margins, found.findings, found.cases, found.inputs, found.assumptions) == (
            (),
            (),
            (),
            (),
            (),
        )
        assert found.gate


FLUSH_RING = """
schema = 2
title = "Hand hole, elevator lower skin"
[aircraft]
side = "left"
surface = "lower"
[frame]
origin = "hinge line x rib"
x = "OUTBD"
y = "AFT"
[skin]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".016"
stressed = true
[opening]
shape = "rounded rectangle"
width = "2.5"
height = "2"
radius = ".5"
center = ["0", "6.2"]
[doubler]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".020"
[doubler.outer]
shape = "rounded rectangle"
width = "4"
height = "3.5"
radius = ".75"
[[rows]]
name = "ring"
lay = "offset"
rivet = "MS20426AD3"
edge = "doubler outer"
distance = ".20"
pitch = ".30"
[gate]
movable_surface = true
"""


def test_flush_rivets_in_an_elevator_skin() -> None:
    """The movable surface stops first; flush joints have no confirmed strength, so no margin of theirs can be
    had.
    """
    found = report(RESTORE, base=FLUSH_RING)
    assert next(answer for answer in found.gate if answer.code == "S104").status is Status.STOP
    assert found.must_refer
    rivets = [margin for margin in found.margins if margin.code in ("S201", "S202")]
    assert rivets
    assert all(margin.status is Status.UNKNOWN and margin.ratio is None for margin in rivets)
    assert all(margin.enter == ("rows.preparation",) for margin in rivets)


def test_a_symmetric_job_has_symmetric_margins() -> None:
    found = report(ANSWERED, running({"nx": 100.0, "ny": 100.0, "q": 50.0}), base=SYMMETRIC)
    for code in ("S201", "S202", "S301", "S304"):
        by_side: dict[str, set[float]] = {}
        for margin in found.margins:
            if margin.code == code and margin.ratio is not None:
                by_side.setdefault(margin.level, set()).add(round(margin.ratio, 6))
        assert by_side
        assert all(len(ratios) == 1 for ratios in by_side.values()), by_side


def turned(text: str) -> str:
    """The same job with X and Y changed for each other."""
    for a, b in (("width", "height"), ('\nx = "', '\ny = "'), ("nx", "ny")):
        text = text.replace(a, "\0").replace(b, a).replace("\0", b)
    return text.replace('y = "OUTBD"', 'x = "OUTBD"').replace('x = "AFT"', 'y = "AFT"')


def test_turning_the_job_turns_the_answer() -> None:
    base = SYMMETRIC.replace('width = "4"', 'width = "3"').replace('thickness = ".032"', 'thickness = ".025"')
    loads = running({"nx": 120.0, "ny": -30.0, "q": 40.0})
    here = report(ANSWERED, loads, base=base)
    there = report(ANSWERED, turned(loads), base=turned(base))
    for found in (here, there):
        assert len(found.margins) > 20
    ratios = [sorted(m.ratio for m in found.margins if m.ratio is not None) for found in (here, there)]
    assert ratios[0] == pytest.approx(ratios[1], rel=1e-6)


def test_twice_the_load_halves_one_plus_the_margin() -> None:
    once, twice = (report(running({"nx": load, "q": load / 2})) for load in (100.0, 200.0))
    for code in ("S201", "S202", "S301", "S302", "S303", "S304"):
        a, b = (
            sorted(m.ratio for m in found.margins if m.code == code and m.ratio is not None)
            for found in (once, twice)
        )
        assert [1 + ratio for ratio in a] == pytest.approx([2 * (1 + ratio) for ratio in b], rel=1e-9)


def test_a_heavier_doubler_raises_its_own_margin() -> None:
    thin, thick = (
        report(RESTORE, base=SQUARE.replace('thickness = ".040"', f'thickness = "{t}"'))
        for t in (".040", ".050")
    )
    a, b = (only(found, "S302", "along X", "along X", "ultimate").ratio for found in (thin, thick))
    assert a is not None
    assert b is not None
    assert b > a


def test_compression_asks_for_stability() -> None:
    pulled, pressed = (report(running({"nx": load})) for load in (100.0, -100.0))
    assert not [m for m in pulled.margins if m.code in ("S401", "S402")]
    codes = {m.code for m in pressed.margins}
    assert {"S401", "S402"} <= codes
    assert not [m for m in pressed.margins if m.code == "S301"]
    strap = only(pressed, "S302")
    assert strap.allowable is not None
    assert strap.allowable.working[-1].formula == "Fcy t w net"


def test_shear_names_the_members_that_the_job_does_not_have() -> None:
    """q = 60 on .032: 1875 psi x 1.67 is beyond what a bay of 10 x 10 holds, so the web buckles."""
    found = report(running({"q": 60.0}))
    frames = [finding for finding in found.findings if finding.code == "S503"]
    assert len(frames) == 2
    assert all(finding.status is Status.UNKNOWN for finding in frames)
    # Cells 3, 4, 3: beside 60 (1 + 4/6) = 100, corner 60 (1 - 4/9) = 33.3; (100 - 33.3) x 3 = 200 lb
    assert [finding.value for finding in frames] == pytest.approx([200.0, 200.0])


def test_a_buckled_web_rests_on_memory_and_never_just_passes() -> None:
    found = report(running({"q": 400.0}))
    webs = [margin for margin in found.margins if margin.code in ("S501", "S502")]
    assert webs
    assert all(margin.grade is Grade.MEMORY for margin in webs)
    assert all(margin.status in (Status.CAUTION, Status.UNKNOWN) for margin in webs)


def test_cover_and_screws() -> None:
    bare = report(COVER, running({"nx": 100.0}, more='[loads.cover]\nair_pressure = "0.5"\n'))
    assert {m.code for m in bare.margins if m.status is Status.UNKNOWN} >= {"S602", "S603"}
    given = report(
        COVER,
        running(
            {"nx": 100.0},
            more='[loads.cover]\nair_pressure = "0.5"\nscrew_shear = 1200\nscrew_tension = 800\n',
        ),
    )
    drawn = only(given, "S603", "along X")
    slack = only(given, "S604", "along X")
    assert drawn.applied is not None
    assert slack.applied is not None
    assert 0 <= slack.applied.value < drawn.applied.value
    assert drawn.status is Status.PASS
    assert 1.15 in [value.value for value in drawn.applied.working[-1].values]


def test_more_than_four_rows_in_line_are_not_counted() -> None:
    wide = SQUARE.replace('width = "7"\nheight = "7"', 'width = "9"\nheight = "9"')
    rows = "".join(
        f'[[rows]]\nname = "more {k}"\nlay = "offset"\nrivet = "MS20470AD4"\nedge = "opening"\n'
        f'distance = "{0.3 + 0.4 * k}"\npitch = ".55"\n'
        for k in (1, 2, 3)
    )
    found = report(rows, RESTORE, base=wide)
    margin = only(found, "S201", "side X+", "tension")
    assert margin.allowable is not None
    assert margin.allowable.working[-1].formula == "P joint 4 / rows"


def test_special_factor_on_the_joint() -> None:
    plain = report(running({"nx": 100.0}))
    more = report(running({"nx": 100.0}, more='special_factors = [{ name = "doubt", value = "1.25" }]\n'))
    a, b = (only(found, "S201", "side X+").ratio for found in (plain, more))
    assert a is not None
    assert b is not None
    assert 1 + a == pytest.approx(1.25 * (1 + b))


def test_b_basis_is_higher_and_says_why() -> None:
    text = '\n[loads]\nbasis = "restore"\nstatistical_basis = "B"\nstatistical_reason = "three stringers beside"\n'
    found = report(text)
    assert found.cases[0].nx.value == pytest.approx(0.032 * 60_000)
    assert any("three stringers beside" in line for line in lines_of(found.assumptions))


def test_every_working_can_be_recomputed_from_what_stands_beside_it() -> None:
    """Each step names its source, and each number in it but entered ones is the result of an earlier step or is
    printed.
    """
    found = report(ANSWERED, COVER, running({"nx": 100.0, "ny": -40.0, "q": 60.0}))
    for margin in found.margins:
        for step in margin.working:
            assert step.formula
            assert step.source.key
            assert step.result.unit or step.result.symbol
            assert math.isfinite(step.result.value)


def test_no_word_of_approval() -> None:
    found = report(ANSWERED, COVER, running({"nx": 100.0, "q": 60.0}))
    said = " ".join(
        lines_of((*found.summary, *found.inputs, *found.assumptions, *found.not_analyzed))
        + [f"{subject_of(m)} {advice_of(m)}" for m in found.margins]
        + [f"{subject_of(f)} {advice_of(f)}" for f in (*found.gate, *found.findings)]
    ).lower()
    assert not [word for word in WORDS if word in said]


def test_a_job_without_a_doubler_has_no_joint() -> None:
    base = SQUARE[: SQUARE.index("[doubler]")]
    found = report(RESTORE, base=base)
    assert [(margin.code, tell(margin.case)) for margin in found.margins] == [
        ("S201", "restore shear"),
        ("S201", "restore tension along X"),
        ("S201", "restore tension along Y"),
    ]
    assert all(margin.ratio is None and "No doubler" in advice_of(margin) for margin in found.margins)


def test_every_answer_of_a_report_is_a_finding_once() -> None:
    """The questions of the gate that the rules ask too are counted there."""
    found = report(running({"nx": 100.0, "ny": -40.0, "q": 60.0}))
    counted = strength_findings(found)
    assert len(counted) == 2 + len(found.margins) + len(found.findings)
    assert [one.code for one in counted] == sorted(one.code for one in counted)
    holds = [one.status.holds_back for one in counted]
    assert any(holds) == any(
        status.holds_back
        for status in (
            *(one.status for one in found.gate if one.code == "S107"),
            *(one.status for one in found.margins),
            *(one.status for one in found.findings),
        )
    )
