"""The survey of a job file: what it takes, and what it refuses, each named and explained."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.another_job import on_another_aircraft, on_the_other_side
from hatchwright.job.file import read_job
from hatchwright.job.other_side import other_side
from surveys import ALDER, with_survey


@pytest.mark.parametrize(
    ("old", "new", "field", "told"),
    [
        ('u = ".01"', 'u = "nan"', "site.u", "not a length"),
        ('u = ".01"', 'u = "inf"', "site.u", "not a length"),
        ('u = ".01"', "u = nan", "site.u", "not a length"),
        ('u = ".01"', 'u = "0"', "site.u", "zero"),
        ('u = ".01"', 'u = "-.01"', "site.u", "negative"),
        ('u = ".01"', 'u = "3"', "site.u", "more than .250"),
        ('u = ".01"', "", "site.u", "missing"),
        ('u = ".008"', 'u = "0"', "site.routes.0.u", "zero"),
        ('x = "5.503"', 'x = "-5.503"', "site.routes.0.x", "negative"),
        ('x = "5.503"', 'x = "0"', "site.routes.0.x", "zero"),
        ('x = "5.503"\n', "", "site.routes.0", "landmark"),
        ('x = "5.503"\n', 'x = "5.503"\na = "3"\n', "site.routes.0", "landmark"),
        ('second_at = "8"\n', "", "site.rows.1", "both stations"),
        ('second_at = "8"\n', 'second_at = "1"\n', "site.rows.1", "same station"),
        ('x_to = ".34"', 'x_to = ".34"\ny_to = "1"', "site.flanges.0", "one bound"),
        ('x = "10.997"', 'x = "10.997"\ny = "1"', "site.rows.1", "X or Y"),
        ('ab = "11.003"', 'ab = "nan"', "site.corners.ab", "not a length"),
        ('ab = "11.003"', 'ab = "-11"', "site.corners.ab", "negative"),
        ('x_to = "8.2"', 'x_to = "1"', "site.hazards.0", "Swap them"),
        ('thickness = [".0315"]', 'thickness = ["3.15"]', "site.thickness.0", "more than 1.000"),
        ('seen_from = "outside"', 'seen_from = "above"', "site.seen_from", "outside"),
        ('up = "FWD"', 'up = "NORTH"', "site.up", "FWD"),
        ('up = "FWD"', 'up = "FWD"\ntapes = [["rib 4"]]', "site.tapes.0", "landmark and a length"),
        ('up = "FWD"', 'up = "FWD"\ncolour = "red"', "site.colour", "unknown"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_where_it_stands(old, new, field, told):
    text = with_survey("alder", ALDER)
    assert old in text
    with pytest.raises(JobError) as refused:
        read_job(text.replace(old, new, 1))
    (fault,) = refused.value.faults
    assert fault.field == field
    assert told in str(fault)
    assert fault.remedy
    assert fault.line


def test_an_empty_survey_is_read():
    """Nothing but the u: what is missing is told, not refused."""
    job = read_job(with_survey("alder", '[site]\nu = ".03"\n'))
    assert job.site is not None
    assert job.site.landmarks == ()


def test_what_was_surveyed_holds_on_this_side_and_aircraft_alone():
    text = with_survey("alder", ALDER)
    assert other_side(read_job(text)).site is None
    assert "[site" not in on_the_other_side(text)
    assert "[site" not in on_another_aircraft(text)
