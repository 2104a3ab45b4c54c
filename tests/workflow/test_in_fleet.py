"""Which aircraft and mandate of the fleet files a job's records are told from, and when they are told nothing."""

from __future__ import annotations

from datetime import date

import pytest

from hatchwright.job.file import read_job
from hatchwright.records.entry import Entered
from hatchwright.workflow.hold_points import HoldState
from hatchwright.workflow.in_fleet import in_fleet
from hatchwright.workflow.record_facts import recorded_of
from tests.signing import DRAWN, NAME

FLEET = """
schema = 1
title = "Two"
[[mandates]]
number = "{number}"
effective = "2026-01-05"
[[mandates.actions]]
paragraph = "(g)"
asks = "inspect"
first = {{ hours = "100" }}
[[aircraft]]
registration = "{registration}"
serial = "0004"
done = [{{ mandate = "{number}", paragraph = "(g)", date = "2026-03-09" }}]
lines = [{{ side = "left", job = "alder.toml" }}]
"""


def found(folder, number, registration):
    (folder / "two.fleet").write_text(FLEET.format(number=number, registration=registration))
    return in_fleet(folder, NAME, read_job(DRAWN))


def test_the_mandate_is_the_one_that_the_job_names(tmp_path):
    there = found(tmp_path, "M-101", read_job(DRAWN).aircraft.registration)
    assert there.mandate.number == "M-101"
    assert there.done is not None


@pytest.mark.parametrize("reference", ["M-101", ""])
def test_another_mandate_is_not_taken_for_it_though_the_file_has_no_other(tmp_path, reference):
    text = DRAWN.replace('reference = "M-101"', f'reference = "{reference}"')
    aircraft = read_job(text).aircraft.registration
    (tmp_path / "two.fleet").write_text(FLEET.format(number="M-999", registration=aircraft))
    there = in_fleet(tmp_path, NAME, read_job(text))
    assert (there.mandate, there.done) == (None, None)


def test_a_line_of_another_aircraft_than_the_jobs_tells_nothing(tmp_path):
    assert found(tmp_path, "M-101", "EXAMPLE-99") is None


@pytest.mark.parametrize(
    ("day", "is_this_work"), [("2026-03-08", True), ("2026-03-10", True), ("2026-09-01", False)]
)
def test_what_was_done_before_the_plan_was_signed_is_not_this_work(tmp_path, day, is_this_work):
    """The aircraft's action of 2026-03-09, such as the last of a repeated inspection."""
    job = read_job(DRAWN)
    (tmp_path / "two.fleet").write_text(FLEET.format(number="M-101", registration=job.aircraft.registration))
    plan = Entered(1, "", "signed", NAME, "{}", "A. Mechanic", f"{day}T03:00:00Z", "", "", "")
    state = HoldState(plan, True, (), (), "A / 00000000")
    told = recorded_of(tmp_path, NAME, job, state, on=date(2026, 9, 2))
    assert (told.done is not None) == is_this_work
    assert told.mandate.number == "M-101"
