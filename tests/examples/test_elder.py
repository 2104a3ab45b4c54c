"""Scenario ELDER: the numbered answers that the job must give.

Expected figures are those of the scenario sheet (invented job, its arithmetic made independently of this program); the
limits behind them are the published ones that each finding names.
"""

from __future__ import annotations

import pytest

from examples.answers import EXAMPLES, examined, found, one
from hatchwright.job.file import edited, read_job
from hatchwright.job.job_text import added
from hatchwright.job.text_file import load_text
from hatchwright.judged import Status
from hatchwright.workflow.examine import examine
from told import advice_of, subject_of

NOTE_C = {"rule": "R601", "reading": "table 4-10, note c", "reason": "the circular's own splice example"}


def changed(texts: dict[str, str], new: dict | None = None):
    """The job with fields changed, and others added."""
    text = edited(load_text(EXAMPLES / "elder.toml"), texts)
    return examine(read_job(added(text, new or {}), name="elder"))


@pytest.fixture(scope="module")
def elder():
    """As the drawing asks for it."""
    return examined("elder")


def test_answer_1_the_sheets_cannot_be_countersunk(elder):
    sheets = found(elder, "R408")
    assert [f.status for f in sheets] == [Status.STOP, Status.STOP]
    for sheet in sheets:
        assert "Knife edge" in advice_of(sheet)
        assert "too thin to countersink" in advice_of(sheet)
        assert "dimple" not in advice_of(sheet)  # answer 2: a dimpled hole is too large, so nobody is told to
        # below every document's least, the .032 of the knife edge note too
        assert all(sheet.value < bound.limit for bound in sheet.judged.bounds)


def test_answer_2_a_dimpled_number_40_hole_is_too_large():
    by_list = changed({"rows.0.preparation": "dimple"})
    hole = one(by_list, "R410")
    assert hole.value == pytest.approx(0.104)
    assert hole.limit == pytest.approx(0.103)
    assert hole.status is Status.UNKNOWN
    assert "Ask the design approval holder" in advice_of(hole)
    assert "dimpled skin .016 and doubler .020" in subject_of(hole)
    assert found(by_list, "R408") == []


def test_answer_3_both_rules_for_the_diameter_are_shown(elder):
    diameter = one(elder, "R401")
    # the size that AC 43.13-1B par. 4-58g(2) takes, which NAVEDTRA 14018 has as too large: told, and no caution
    assert diameter.status is Status.PASS
    assert "References differ" in advice_of(diameter)
    navy = next(working for working in diameter.working if "D <= 3 t" in working.formula)
    assert 3 * navy.values[0].value == pytest.approx(0.060)
    assert navy.result.value == pytest.approx(0.094, abs=0.0005)
    structure = diameter.working[-1]
    assert (structure.formula, structure.values[-1].value) == ("D >= limit", 3 / 32)


def test_answer_4_thirteen_and_ten_rivets_are_needed():
    chosen = changed({}, {"choices.0": NOTE_C})
    needed = {subject_of(f)[:7]: f.limit for f in found(chosen, "R601")}
    assert needed == {"side X+": 10, "side X-": 10, "side Y+": 13, "side Y-": 13}
    note_c = next(
        step
        for step in found(chosen, "R601")[0].working
        if step.formula.startswith("needed by table 4-10, note c")
    )
    values = {value.symbol: value.value for value in note_c.values}
    assert values["n"] * values["note c"] == pytest.approx(4.875)


def test_answer_4_the_pitch_of_an_outer_row_over_its_span():
    # a straight row from corner to corner, .20 from the ring's edge: 4.00 - .40 = 3.60 in twelve steps
    row = {
        "name": "outer row, aft",
        "lay": "line",
        "rivet": "MS20426AD3",
        "start": ["3.20", "7.75"],
        "end": ["6.80", "7.75"],
        "count": 13,
        "preparation": "dimple",
    }
    spacing = one(changed({}, {"rows.0": row}), "R201")
    assert spacing.value == pytest.approx(0.300)
    assert spacing.value / 0.09375 == pytest.approx(3.2)
    assert spacing.status is Status.PASS


def test_answer_5_the_edge_holds_two_diameters_but_not_two_and_a_half(elder):
    edge = one(elder, "R102", "doubler outer edge")
    assert edge.value == pytest.approx(0.20)
    handbook, circular = edge.working
    assert (handbook.reading, handbook.formula) == ("handbook, flush heads", "e >= 2.5 D")
    assert (circular.reading, circular.formula) == ("circular, any head", "e >= 2 D")
    assert pytest.approx(0.234, abs=0.0005) == 2.5 * 0.09375
    assert edge.limit == pytest.approx(0.234, abs=0.0005)
    assert edge.status is Status.STOP
    assert "References differ" in advice_of(edge)


def test_answer_6_the_screws_hold_two_diameters_until_the_opening_is_filed_over(elder):
    screws = one(elder, "R103", "opening edge")
    assert screws.value == pytest.approx(0.28)
    assert screws.working[0].result.value == pytest.approx(2.03, abs=0.005)
    assert screws.status is Status.PASS
    # filed .010 over on every side: 2.52 x 2.02
    filed = {
        "shape": "edges",
        "x_from": "3.74",
        "x_to": "6.26",
        "y_from": "5.19",
        "y_to": "7.21",
        "radius": ".50",
    }
    as_filed = changed({}, {"as_made": {"uncertainty": ".001", "opening": filed}})
    over = min(found(as_filed, "R103", "opening edge"), key=lambda finding: finding.value)
    assert over.value == pytest.approx(0.270)
    assert over.working[0].result.value == pytest.approx(1.96, abs=0.005)
    assert over.status is Status.CAUTION
    assert "1.96D of 2D, .006 short" in advice_of(over)


def test_answer_7_the_rivet_length(elder):
    length = one(elder, "R501")
    (by_formula,) = (w.result.value for w in length.working if w.result.symbol == "L")
    assert by_formula == pytest.approx(0.1766, abs=0.00005)
    assert "length by formula .1766" in subject_of(length)
    assert length.limit == pytest.approx(0.1875)
    assert "MS20426AD3-3" in advice_of(length)


def test_answer_9_a_movable_surface_stops(elder):
    surface = one(elder, "R904")
    assert surface.status is Status.STOP
    assert "balance" in advice_of(surface)
    assert "design approval holder" in advice_of(surface)
