"""Old beside new: what is paired, and what counts as a change."""

from __future__ import annotations

from hatchwright.finding import stated
from hatchwright.ground import practice
from hatchwright.judged import Status
from hatchwright.said import said
from hatchwright.search.changed_findings import changed_findings


def finding(status, value=None, *, hole=4, code="R101"):
    return stated(code, status, said("edge.one"), practice("made up"), value=value, unit="in", holes=(hole,))


def test_a_number_that_moves_is_a_change_and_one_that_stays_is_none():
    old = [finding(Status.PASS, 0.30), finding(Status.PASS, 0.31, hole=5)]
    new = [finding(Status.PASS, 0.29), finding(Status.PASS, 0.31, hole=5)]
    (one,) = changed_findings(old, new)
    assert (one.old.value, one.new.value, one.is_of_status) == (0.30, 0.29, False)


def test_answers_come_before_numbers_and_the_gravest_first():
    old = [finding(Status.PASS, 0.3), finding(Status.PASS, 0.3, hole=5), finding(Status.PASS, 0.3, hole=6)]
    new = [
        finding(Status.PASS, 0.2),
        finding(Status.CAUTION, 0.2, hole=5),
        finding(Status.STOP, 0.2, hole=6),
    ]
    found = changed_findings(old, new)
    assert [one.new.status for one in found] == [Status.STOP, Status.CAUTION, Status.PASS]


def test_a_finding_that_passes_is_as_good_as_none():
    assert changed_findings([finding(Status.PASS, 0.3)], []) == ()
    (one,) = changed_findings([], [finding(Status.STOP, 0.2)])
    assert (one.old, one.is_of_status) == (None, True)
