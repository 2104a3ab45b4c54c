"""R901 to R907, R914 to R916: scope and what must be asked.

Areas without pressure, aircraft to 12,500 lb: [AC43.13-2B] cover letter, seen only restated. The rest: common practice,
no source.
"""

from __future__ import annotations

import pytest

from hatchwright.finding import Finding
from hatchwright.job.entry_words import help_of
from hatchwright.job.file import read_job
from hatchwright.job.gate import Gate
from hatchwright.job.other_side import other_side
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.words.tell import tell
from job_text import job_text
from rules.cases import CAUTION, PASS, PLAIN, STOP, UNKNOWN, Case, cases, changed, judged, rules
from told import advice_of, subject_of

QUESTIONS = (
    "spar_web_or_cap",
    "pressure_skin",
    "tank_wall",
    "movable_surface",
    "fitting_path",
    "member_cut",
    "over_12500_lb",
    "maker_data",
    "drain_covered",
    "fuel_or_controls_behind",
)


def gate(**answers: bool) -> dict:
    return {"gate": answers}


def rib(x: str, member: str = "rib") -> dict:
    return {"bay.rows": [{"name": "row", "member": member, "x": x}]}


CABLE = {"bay.keep_outs": [{"name": "cable", "x_from": "3", "depth": "1"}]}

CASES = (
    Case("R901", PASS, PLAIN, gate(pressure_skin=False)),
    Case("R901", STOP, PLAIN, gate(pressure_skin=True), said="unpressurized areas"),
    Case("R901", STOP, PLAIN, {"skin.pressurized": True}),
    Case("R902", PASS, PLAIN, gate(over_12500_lb=False), limit=12500),
    Case("R902", STOP, PLAIN, gate(over_12500_lb=True), said="engineer"),
    Case("R904", PASS, PLAIN, gate(movable_surface=False)),
    Case("R904", STOP, PLAIN, gate(movable_surface=True), said="flutter"),
    Case("R905", PASS, PLAIN, gate(tank_wall=False)),
    Case("R905", STOP, PLAIN, gate(tank_wall=True), said="vapor"),
    Case("R906", PASS, PLAIN, gate(spar_web_or_cap=False, fitting_path=False)),
    Case("R906", STOP, PLAIN, gate(spar_web_or_cap=True), said="web or a cap"),
    Case("R906", STOP, PLAIN, gate(spar_web_or_cap=False, fitting_path=True), said="strut or fitting"),
    # the opening's edge lies at X = 2
    Case("R907", PASS, PLAIN, rib("2.001")),
    Case("R907", STOP, PLAIN, rib("2"), said="opening cuts row (rib)"),
    Case("R907", PASS, PLAIN, rib("0", "other")),
    Case("R907", STOP, PLAIN, {"bay.flanges": [{"name": "flange", "x_from": "1.999"}]}, said="cuts flange"),
    Case("R907", PASS, PLAIN, {"bay.flanges": [{"name": "flange", "x_from": "2.001"}]}),
    Case("R907", STOP, PLAIN, gate(member_cut=True), said="as answered"),
    Case("R907", CAUTION, PLAIN, gate(member_cut=False), said="enter them"),
    Case("R914", PASS, PLAIN, gate(fuel_or_controls_behind=False)),
    Case("R914", PASS, PLAIN, {**gate(fuel_or_controls_behind=True), **CABLE}, said="cable"),
    Case("R914", STOP, PLAIN, gate(fuel_or_controls_behind=True), said="Find each line behind"),
    Case("R914", CAUTION, PLAIN, {**gate(fuel_or_controls_behind=False), **CABLE}, said="Correct the answer"),
    Case("R915", PASS, PLAIN, gate(**dict.fromkeys(QUESTIONS, False)), said="0 of 10"),
    Case("R915", UNKNOWN, PLAIN, gate(**dict.fromkeys(QUESTIONS[1:], False)), said="web or a cap of a spar?"),
    Case("R915", UNKNOWN, PLAIN, said="10 of 10 gate questions open"),
    Case("R916", PASS, PLAIN, {"mandate": {"kind": "directive", "reference": "D-1"}}),
    Case(
        "R916", UNKNOWN, PLAIN, {"mandate": {"kind": "directive"}}, said="Enter the number of the directive"
    ),
    Case(
        "R916",
        UNKNOWN,
        PLAIN,
        {"mandate": {"kind": "directive", "reference": "D-1", "bulletin": "B-1"}},
        said="Enter the revision of bulletin B-1",
    ),
    Case(
        "R916",
        PASS,
        PLAIN,
        {"mandate": {"kind": "directive", "reference": "D-1", "bulletin": "B-1", "revision": "A"}},
    ),
)


@cases(*CASES)
def test_scope(case):
    case.holds()


def test_open_questions_are_asked_and_no_others():
    """In words by what they ask; the keys of the file only where a page links to the entries."""
    (finding,) = judged("R915", PLAIN, gate(tank_wall=False, maker_data=False))
    still_open = [key for key in QUESTIONS if key not in ("tank_wall", "maker_data")]
    assert finding.enter == tuple(f"gate.{key}" for key in still_open)
    for key in QUESTIONS:
        assert (tell(help_of(Gate, key)) in advice_of(finding)) is (key in still_open)
        assert key not in advice_of(finding)


def test_every_question_of_the_gate_is_asked():
    assert tuple(Gate.model_fields) == QUESTIONS
    assert all("?" in tell(help_of(Gate, key)) for key in QUESTIONS)


@pytest.mark.parametrize("code", ["R901", "R902", "R903", "R904", "R905", "R906", "R914"])
def test_an_open_question_is_left_to_the_one_rule_that_counts_them(code):
    assert judged(code, PLAIN) == []


def test_an_owner_needs_no_number():
    assert judged("R916", PLAIN, {"mandate": {"kind": "owner"}}) == []


ANSWERED = {
    **gate(**dict.fromkeys(QUESTIONS, False)),
    "mandate": {"kind": "owner", "bay_x": "8"},
    "bay.rows": [{"name": f"rib {x}", "member": "rib", "x": x, "diameter": "1/8"} for x in ("-4", "4")],
    "bay.existing": [{"at": ["4", "1"], "diameter": "1/8"}],
}


def both(code: str) -> tuple[list[Finding], list[Finding]]:
    """What a rule finds on a job that was seen, and on that of the other side, which was not."""
    job = read_job(job_text(changed(PLAIN, ANSWERED)))
    return tuple(list(rules()[code].check(survey(lay_out(one)))) for one in (job, other_side(job)))


def test_the_other_side_is_surveyed_for_itself():
    here, there = both("R915")
    assert [found.status for found in here] == [PASS]
    questions, place = there
    assert (questions.status, place.status) == (UNKNOWN, UNKNOWN)
    assert subject_of(questions).startswith("8 of 10")
    assert "fuel tank wall?" in advice_of(questions)
    assert "12,500 lb" not in advice_of(questions)
    assert "on the RIGHT side" in advice_of(questions)
    assert "keep-outs, existing fasteners" in subject_of(place)
    assert "not surveyed" in subject_of(place)
    assert "Survey the RIGHT side" in advice_of(place)
    assert "toml" not in advice_of(place)


@pytest.mark.parametrize("code", ["R901", "R904", "R905", "R906", "R910", "R914"])
def test_nothing_passes_on_the_other_side_by_what_was_seen_on_this_one(code):
    here, there = both(code)
    assert {found.status for found in here} == {PASS}
    assert there == []


def test_the_bay_of_the_other_side_is_not_found_yet():
    (here,), (there,) = both("R908")
    assert (here.status, there.status) == (PASS, UNKNOWN)
    assert "not measured on this one" in subject_of(there)
    assert "RIGHT side" in advice_of(there)
