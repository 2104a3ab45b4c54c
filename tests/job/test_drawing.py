"""How a job is drawn: what it says itself, and what follows its unit where it does not."""

from __future__ import annotations

from pathlib import Path

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job

ALDER = Path(__file__).parents[2].joinpath("examples", "alder.toml").read_text(encoding="utf-8")


def drawing(more=""):
    return read_job(f"{ALDER}\n{more}").drawing


def test_an_inch_job_is_drawn_by_asme_in_third_angle_and_a_metric_one_by_iso_in_first():
    plain = drawing()
    assert (plain.standard_in("in"), plain.projection_in("in")) == ("asme", "third angle")
    assert (plain.standard_in("mm"), plain.projection_in("mm")) == ("iso", "first angle")


@pytest.mark.parametrize(
    ("entered", "standard", "projection"),
    [
        ('standard = "iso"', "iso", "first angle"),
        ('standard = "iso"\nprojection = "third angle"', "iso", "third angle"),
        ('projection = "first angle"', "asme", "first angle"),
    ],
)
def test_what_is_entered_goes_before_the_habit(entered, standard, projection):
    found = drawing(f"[drawing]\n{entered}")
    assert (found.standard_in("in"), found.projection_in("in")) == (standard, projection)


def test_its_revisions_are_kept_in_their_order():
    found = drawing(
        '[drawing]\nnumber = "D-101"\ntolerance = ".015"\n'
        '[[drawing.revisions]]\nrev = "A"\nwhat = "first issue"\n'
        '[[drawing.revisions]]\nrev = "B"\nwhat = "doubler .050"\ndate = "2 Mar"\n'
    )
    assert (found.number, found.tolerance.inch) == ("D-101", 0.015)
    assert [(one.rev, one.what, one.date) for one in found.revisions] == [
        ("A", "first issue", ""),
        ("B", "doubler .050", "2 Mar"),
    ]


@pytest.mark.parametrize(
    ("entered", "field"),
    [
        ('standard = "din"', "drawing.standard"),
        ('projection = "second angle"', "drawing.projection"),
        ('tolerance = "-.01"', "drawing.tolerance"),
        ('revisions = [{rev = "", what = "x"}]', "drawing.revisions.0.rev"),
        ('nmber = "4"', "drawing.nmber"),
    ],
)
def test_what_it_cannot_be_is_named_by_its_field(entered, field):
    with pytest.raises(JobError) as refused:
        drawing(f"[drawing]\n{entered}")
    assert [fault.field for fault in refused.value.faults] == [field]
