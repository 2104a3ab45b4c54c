"""All rules together."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.register import Entry, Shelf
from hatchwright.rules import check as checking
from hatchwright.rules.check import check
from hatchwright.rules.rule import Rule, all_rules
from hatchwright.workings import Grade
from rules.cases import FLUSH, LAPPED, PLAIN, RING, job_of
from told import advice_of, subject_of


@pytest.mark.parametrize("job", [PLAIN, RING, FLUSH, LAPPED], ids=lambda job: job["title"])
def test_findings_come_in_the_order_of_their_code(job):
    codes = [finding.code for finding in check(lay_out(job_of(job)))]
    assert codes == sorted(codes)
    assert len(codes) > 10


def test_a_number_that_no_table_has_is_a_cannot_tell_and_the_other_rules_go_on(monkeypatch):
    def beyond(measured):
        raise TableError("no row for that", where="some table", remedy="Ask for data.")
        yield

    fails = Rule(Entry("R000", Shelf.HOLDS), beyond, ())
    monkeypatch.setattr(checking, "all_rules", lambda: (fails, *all_rules()))
    found = check(lay_out(job_of(PLAIN)))
    assert found[0].code == "R000"
    assert found[0].status is Status.UNKNOWN
    assert advice_of(found[0]) == "Ask for data."
    assert len(found) > 10


def test_a_skin_thicker_than_any_stock_is_not_a_crash():
    found = check(lay_out(job_of(RING, skin__thickness=".19", doubler__thickness=".25")))
    told = [finding for finding in found if finding.code == "R402"]
    assert [finding.status for finding in told] == [Status.UNKNOWN]


def test_nothing_from_memory_stops_an_example(every_job):
    for layout in every_job:
        for finding in check(layout):
            if finding.grade is Grade.MEMORY:
                assert finding.status in (Status.PASS, Status.CAUTION), finding


def test_every_finding_that_does_not_pass_says_what_to_do(every_job):
    for layout in every_job:
        for finding in check(layout):
            assert advice_of(finding) or finding.status is Status.PASS, finding
            assert advice_of(finding)[:1] == advice_of(finding)[:1].upper()


def test_no_word_of_approval_is_ever_said(every_job):
    for layout in every_job:
        for finding in check(layout):
            said = f"{subject_of(finding)} {advice_of(finding)}".lower()
            assert not any(word in said for word in ("approved", "airworthy", "certified", "compliant")), said


def test_few_and_firm_stops(every_job):
    """No code stops a drawn job more often than it has sides: what is short is told once for its row."""
    for layout in every_job:
        stops = [
            finding.code for finding in check(layout) if finding.status is Status.STOP and not finding.holes
        ]
        assert all(stops.count(code) <= 4 for code in stops), stops


def test_the_pattern_of_a_row_is_all_that_hangs_together():
    measured = survey(lay_out(job_of(RING, rows=[_row(k) for k in range(3)])))
    assert measured.pattern("row 0") == {"row 0", "row 1", "row 2"}


def _row(k: int) -> dict:
    points = [[repr(2.25 + 0.33 * k), repr(-0.8 + 0.5 * n)] for n in range(4)]
    return {"name": f"row {k}", "lay": "points", "rivet": "MS20470AD4", "points": points}
