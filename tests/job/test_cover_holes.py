"""From which side the cover's screw holes are drilled, and why."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from rules.cases import LAPPED, job_of


def test_the_holes_of_a_cover_are_drilled_from_outside_where_nothing_else_is_entered():
    assert job_of(LAPPED).cover.holes_from == "outside"


def test_from_inside_needs_a_reason():
    reason = "the skin comes with its screw holes"
    cover = job_of(LAPPED, cover__holes_from="inside", cover__holes_reason=reason).cover
    assert (cover.holes_from, cover.holes_reason) == ("inside", reason)
    for blank in ({}, {"cover__holes_reason": "  "}):
        with pytest.raises(JobError, match="no reason is entered"):
            job_of(LAPPED, cover__holes_from="inside", **blank)


def test_a_side_that_is_none_is_refused():
    with pytest.raises(JobError):
        job_of(LAPPED, cover__holes_from="template", cover__holes_reason="kit part")
