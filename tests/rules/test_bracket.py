"""R926: the bends of a mount's bracket.

Radii: [AC43.13-1B] table 4-6, page 4-14: 2024-T3 of .032, 2 to 4 t; that table is for 90 degrees.
"""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.layout.lay_out import lay_out
from hatchwright.rules.check import check
from rules.cases import CAUTION, PASS, RING, STOP, UNKNOWN, Case, cases, job_of
from told import subject_of


def bracket(radius: str, **more: object) -> dict:
    sheet = {"alloy": "2024", "temper": "T3", "thickness": ".032", "legs": ["1", "2"], **more}
    return {"mount": {"kind": "other", "base": ["3", "3"], "bracket": {**sheet, "radius": radius}}}


CASES = (
    Case("R926", PASS, RING, bracket(".128"), value=0.128, limit=0.128),
    Case("R926", CAUTION, RING, bracket(".1279"), said="Some batches crack"),
    Case("R926", CAUTION, RING, bracket(".064"), said="Some batches crack"),
    Case("R926", STOP, RING, bracket(".0639"), limit=0.064, said=".001 short"),
    Case("R926", CAUTION, RING, bracket(".128", angle=91), said="for 90 deg"),
)


@cases(*CASES)
def test_bracket(case):
    case.holds()


def test_a_sheet_that_the_table_does_not_list_cannot_be_told():
    found = check(lay_out(job_of(RING, **bracket(".128", alloy="3003", temper="H99"))))
    (finding,) = [one for one in found if one.code == "R926"]
    assert finding.status is UNKNOWN
    assert "no bend radius is listed for alloy 3003" in subject_of(finding)


@pytest.mark.parametrize(
    ("legs", "named"), [([".159", "1"], "legs.0"), (["1", ".159"], "legs.1"), (["1", ".319", "1"], "legs.1")]
)
def test_a_leg_that_its_bends_take_up_is_refused(legs, named):
    """Setback of 90 degrees is R + T: .128 + .032 = .160, twice that for a leg between two bends."""
    with pytest.raises(JobError) as refused:
        job_of(RING, **bracket(".128", legs=legs))
    assert refused.value.faults[0].field == f"mount.bracket.{named}"


def test_a_leg_that_just_fits_is_taken():
    assert job_of(RING, **bracket(".128", legs=[".160", ".320", ".160"])).mount


@pytest.mark.parametrize("angle", [0, 180, -90])
def test_a_bend_that_is_none_is_refused(angle):
    with pytest.raises(JobError, match="more than 0 and less than 180"):
        job_of(RING, **bracket(".128", angle=angle))
