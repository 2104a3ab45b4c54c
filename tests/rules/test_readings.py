"""How a reading is chosen, and what is said of it."""

from __future__ import annotations

import pytest

from hatchwright.finding import held
from hatchwright.judged import Bound, Judgement, Measure, Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.rules.check import check
from hatchwright.words.findings import reading_notes
from hatchwright.words.tell import tell, tell_all
from hatchwright.words.workings import note_text
from hatchwright.workings import Grade, Source
from rules.cases import CAUTION, PASS, PLAIN, STOP, UNKNOWN, job_of, rules
from told import advice_of, subject_of


def one(name: str, limit: float, grade: Grade = Grade.PUBLISHED) -> Bound:
    return Bound(limit, Source("PRACTICE", name), grade, reading=name)


STRICT, LOOSE = one("strict", 3.0), one("loose", 2.0)
FROM_MEMORY = one("from memory", 1.0, Grade.MEMORY)


def judged(value: float, *bounds: Bound, chosen: str = "", rule: str = "R202", differ: Status | None = None):
    choices = [{"rule": rule, "reading": chosen, "reason": "as beside it"}] if chosen else []
    found = survey(lay_out(job_of(PLAIN, choices=choices))).chosen("R202")
    return Judgement(Measure("v", value), bounds, chosen=found, differ=differ)


def notes(judgement: Judgement) -> str:
    return tell_all(reading_notes(held("R202", judgement, "a row")))


def test_the_default_is_the_first_reading():
    found = judged(2.5, STRICT, LOOSE)
    assert (found.by, found.status, found.documents_differ) == (STRICT, STOP, True)
    assert notes(found).startswith("References differ (strict; loose): choose one and give the reason")


def test_a_rule_may_leave_it_open_where_the_readings_differ():
    assert judged(2.5, STRICT, LOOSE, differ=UNKNOWN).status is UNKNOWN
    assert judged(3.0, STRICT, LOOSE, differ=UNKNOWN).status is PASS
    assert judged(1.9, STRICT, LOOSE, differ=UNKNOWN).status is STOP


def test_the_choice_decides_and_its_reason_is_told():
    found = judged(2.5, STRICT, LOOSE, chosen="loose", differ=UNKNOWN)
    assert (found.by, found.status) == (LOOSE, PASS)
    assert notes(found) == "Chosen: loose. Reason: as beside it."
    assert judged(1.9, STRICT, LOOSE, chosen="loose", differ=UNKNOWN).status is STOP


def test_a_choice_for_another_rule_does_not_count():
    assert judged(2.5, STRICT, LOOSE, chosen="loose", rule="R204").by is STRICT


def test_a_reading_from_memory_neither_passes_silently_nor_stops():
    found = judged(2.5, STRICT, FROM_MEMORY, chosen="from memory")
    assert (found.by, found.status) == (FROM_MEMORY, CAUTION)
    assert "confirm it" in notes(found)
    # short even of that: the default, which was seen, is what stops
    found = judged(0.9, STRICT, FROM_MEMORY, chosen="from memory")
    assert (found.by, found.status, notes(found)) == (STRICT, STOP, "")


def test_a_default_from_memory_cautions_whether_it_is_met_or_not():
    assert judged(2.0, FROM_MEMORY).status is CAUTION
    assert judged(0.5, FROM_MEMORY).status is CAUTION


def test_a_reading_from_memory_does_not_make_the_documents_differ():
    found = judged(2.5, STRICT, FROM_MEMORY, differ=UNKNOWN)
    assert (found.status, found.documents_differ) == (STOP, False)


def test_a_passing_default_says_so_where_another_reading_would_not_pass():
    found = judged(2.5, LOOSE, STRICT)
    assert found.status is PASS
    assert notes(found) == "References differ; loose is the default."


def test_a_finding_shows_every_reading_in_order():
    finding = held("R202", judged(2.5, STRICT, LOOSE), "a row")
    assert finding.judged.readings == ("strict", "loose")
    assert [working.reading for working in finding.working] == ["strict", "loose"]
    assert [note_text(working, "in") for working in finding.working] == ["strict", "loose"]
    assert (finding.limit, finding.judged.shortfall) == (3.0, 0.5)


def test_a_single_reading_leaves_nothing_to_choose():
    assert held("R202", judged(3.0, STRICT), "a row").judged.readings == ()


def findings_of(code: str, **choices: object):
    return [finding for finding in check(lay_out(job_of(PLAIN, **choices))) if finding.code == code]


def chose(rule: str, reading: str) -> dict[str, str]:
    return {"rule": rule, "reading": reading, "reason": "as beside it"}


@pytest.mark.parametrize(
    ("choices", "code", "said"),
    [
        (
            [chose("R401", "the old book")],
            "R401",
            "Choose one of: AC 43.13-1B (in the job file: circular); NAVEDTRA 14018 (in",
        ),
        ([chose("R101", "two diameters")], "R101", "Delete the choice."),
        ([chose("R999", "circular")], "R999", "no such rule"),
        ([chose("R401", "circular"), chose("R401", "Navy manual")], "R401", "Keep one of the two."),
    ],
)
def test_a_choice_that_cannot_be_honoured_is_a_cannot_tell(choices, code, said):
    unknown = [
        finding for finding in findings_of(code, choices=choices) if subject_of(finding).startswith("choice ")
    ]
    assert len(unknown) == 1
    assert unknown[0].status is UNKNOWN
    assert said in f"{subject_of(unknown[0])} {advice_of(unknown[0])}"


def test_a_choice_for_a_rule_that_does_not_concern_the_job_is_let_be():
    assert findings_of("R408", choices=[chose("R408", "Army table")]) == []


def test_the_names_that_findings_offer_are_those_of_the_rule_book(every_job):
    for layout in every_job:
        for finding in check(layout):
            if finding.judged.readings:
                assert set(finding.judged.readings) <= set(rules()[finding.code].readings), finding.code


def test_every_rule_with_readings_says_what_is_the_default():
    with_readings = [rule for rule in rules().values() if rule.readings]
    assert {rule.code for rule in with_readings} >= {"R202", "R204", "R401", "R402", "R408", "R501", "R601"}
    for rule in with_readings:
        assert len(rule.readings) == len(set(rule.readings)) > 1
        assert any(word in tell(rule.entry.asks) for word in ("default", "Until one is chosen")), rule.code
