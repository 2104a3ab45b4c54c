"""R903: the manufacturer's data cover the job, which is the usual answer; an open departure from them stops.

The maker's data come before the circular: [AC43.13-1B] cover letter. What is asked of departures is common practice, no
source.
"""

from __future__ import annotations

import pytest

from hatchwright.errors import ExportError, JobError
from hatchwright.job.departures import SUBJECTS
from hatchwright.layout.lay_out import lay_out
from hatchwright.rules.departures import departure_number
from hatchwright.workflow.template_files import refuse_forbidden
from rules.cases import FLUSH, PASS, PLAIN, STOP, UNKNOWN, Case, cases, changed, job_of, judged
from told import advice_of, subject_of

YES = {"gate": {"maker_data": True}}
NONE = dict.fromkeys(SUBJECTS, "none")


def departing(of: str, **accepted: str) -> dict:
    """A job that departs in one subject, accepted as told."""
    listed = {"accepted": [{"of": of, **accepted}]} if accepted else {}
    return {**YES, "departures": {**NONE, of: "departs", **listed}}


def number_of(job: dict, of: str) -> str:
    return departure_number(lay_out(job_of(job)), of)


BY = {"by": "A. Holder", "data": "letter 12 of 3 May"}

CASES = (
    Case("R903", PASS, PLAIN, {"gate": {"maker_data": False}}, said="do not cover"),
    Case("R903", PASS, PLAIN, {**YES, "departures": NONE}, said="departs from them in nothing"),
    Case("R903", UNKNOWN, PLAIN, YES, said="not answered: size, place, hardware and sheet"),
    Case(
        "R903",
        UNKNOWN,
        PLAIN,
        {**YES, "departures": {of: "none" for of in SUBJECTS if of != "sheet"}},
        said="not answered: sheet",
    ),
    Case("R903", STOP, PLAIN, departing("size"), said="accept it"),
    Case(
        "R903",
        STOP,
        PLAIN,
        departing("place", **BY, number="0.000,0.000#000000"),
        said="at 0.000,0.000#000000, now",
    ),
)


@cases(*CASES)
def test_departures(case):
    case.holds()


CHANGES = {
    "size": {"opening.width": "4.01"},
    "place": {"opening.center": ["0", "0.005"], "rows.0.points": [["2.3", "0.005"]]},
    "hardware": {"rows.0.rivet": "MS20470AD5"},
    "sheet": {"doubler.thickness": ".032"},
}


@pytest.mark.parametrize("of", SUBJECTS)
def test_an_accepted_departure_stands_until_its_own_number_changes(of):
    """What is changed in another subject leaves it standing; its own change makes it open again, by name."""
    accepted = departing(of, **BY, number=number_of(FLUSH, of))
    (found,) = judged("R903", FLUSH, accepted)
    assert found.status is PASS
    assert "accepted by A. Holder on letter 12 of 3 May" in subject_of(found)
    for changing, change in CHANGES.items():
        (found,) = judged("R903", changed(FLUSH, change), accepted)
        assert (found.status is STOP) == (changing == of), changing
        if changing == of:
            now = number_of(changed(FLUSH, change), of)
            assert f"now {now}" in subject_of(found)
            assert f"enter the new number {now}" in advice_of(found)


def test_the_number_to_write_is_told_where_nobody_accepted():
    (found,) = judged("R903", FLUSH, departing("sheet"))
    assert f"the number {number_of(FLUSH, 'sheet')}." in advice_of(found)
    assert found.enter == ("departures.accepted",)


def test_the_number_does_not_depend_on_how_a_length_is_typed():
    typed = changed(FLUSH, {"opening.width": "101.6 mm", "doubler.thickness": "0.0400"})
    for of in SUBJECTS:
        assert number_of(typed, of) == number_of(FLUSH, of)


def test_an_open_departure_forbids_a_template():
    with pytest.raises(ExportError, match="R903"):
        refuse_forbidden(
            [one.of("R903") for one in judged("R903", FLUSH, departing("size"))], side="left", unit="in"
        )
    refuse_forbidden(judged("R903", FLUSH, YES), side="left", unit="in")  # not shown is no refusal


@pytest.mark.parametrize(
    ("entered", "told"),
    [
        ({**NONE, "accepted": [{"of": "size", **BY, "number": "1"}]}, "nothing departs in size"),
        (
            {"size": "departs", "accepted": [{"of": "size", **BY, "number": n} for n in ("1", "2")]},
            "size is accepted twice",
        ),
    ],
)
def test_an_acceptance_that_contradicts_the_answers_is_refused(entered, told):
    with pytest.raises(JobError, match=told):
        job_of(PLAIN, departures=entered)
