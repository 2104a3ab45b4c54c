"""Loads and gate as they are entered: the bases, units, and what is refused."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from hatchwright.job.loads import LoadCase

JOB = """
schema = 2
title = "Plain"
[aircraft]
side = "left"
surface = "lower"
[frame]
origin = "corner of the bay"
x = "OUTBD"
y = "AFT"
[skin]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".032"
stressed = true
[opening]
shape = "circle"
diameter = "4"
center = ["0", "0"]
"""

KNOWN = '[loads]\nbasis = "running loads"\nsource = "report 7, page 3"\n[[loads.cases]]\nname = "gust up"\n'


def refused(extra: str) -> str:
    with pytest.raises(JobError) as caught:
        read_job(JOB + extra)
    return str(caught.value)


def test_a_job_that_says_nothing_has_no_loads_and_no_answers() -> None:
    job = read_job(JOB)
    assert job.loads.basis == "none"
    assert set(job.gate.model_dump().values()) == {None}


def test_named_cases_keep_their_signs() -> None:
    job = read_job(JOB + KNOWN + 'nx = "-120"\nq = 80\n')
    assert [(case.nx, case.ny, case.q) for case in job.loads.cases] == [(-120.0, 0.0, 80.0)]


def test_newtons_a_millimeter_are_read() -> None:
    """21 N/mm = 21 x 25.4 / 4.4482216 lbf/in, by the definitions of [NIST SP 811]."""
    assert LoadCase(name="a", nx="21 N/mm").nx == pytest.approx(21 * 25.4 / 4.4482216152605)


def test_what_was_typed_is_kept() -> None:
    assert LoadCase(name="a", nx="21 N/mm").model_dump()["nx"] == "21 N/mm"


@pytest.mark.parametrize(
    ("extra", "field", "what"),
    [
        ('[loads]\nbasis = "running loads"\nsource = "x"\n', "loads", "at least one load case"),
        (
            KNOWN.replace('source = "report 7, page 3"\n', "") + "nx = 10\n",
            "loads",
            "the loads have no source",
        ),
        (KNOWN, "loads.cases.0", "no load"),
        (KNOWN + 'nx = "1,200"\n', "loads.cases.0.nx", "comma"),
        (KNOWN + 'nx = "12 N"\n', "loads.cases.0.nx", "lbf/in or N/mm"),
        (KNOWN + 'nx = "nan"\n', "loads.cases.0.nx", "not a number"),
        (KNOWN + 'nx = "99999999"\n', "loads.cases.0.nx", "more than 50000 lbf/in: wrong unit?"),
        ('[loads]\nbasis = "restore"\n[[loads.cases]]\nname = "a"\nnx = 1\n', "loads", "basis is 'restore'"),
        ('[loads]\nbasis = "restore"\nstatistical_basis = "B"\n', "loads", "redundant structure"),
        (
            '[loads]\nspecial_factors = [{ name = "fitting", value = "0.9" }]\n',
            "special_factors.0.value",
            "1 or more",
        ),
        ('[loads.cover]\nair_pressure = "0.4"\n', "loads.cover.air_pressure", "no cover"),
        ('[loads.cover]\nscrew_shear = "-1"\n', "loads.cover.screw_shear", "10 or more"),
        ('[gate]\ntank_wall = "perhaps"\n', "gate.tank_wall", "true or false"),
    ],
)
def test_what_cannot_be_is_refused_by_its_field(extra: str, field: str, what: str) -> None:
    said = refused(extra)
    assert field in said
    assert what in said


def test_the_gate_must_agree_with_the_skin() -> None:
    text = JOB.replace("stressed = true", "stressed = true\npressurized = true")
    with pytest.raises(JobError, match=r"gate\.pressure_skin: the skin's own entry says the opposite"):
        read_job(text + "[gate]\npressure_skin = false\n")


def test_an_efficiency_is_kept_as_typed() -> None:
    job = read_job(JOB + '[loads]\nbasis = "restore"\nsource = "note 4"\nefficiency = ".75"\n')
    assert job.loads.efficiency == 0.75
    assert job.loads.model_dump()["efficiency"] == ".75"
    words = read_job(JOB + '[loads]\nbasis = "restore"\nefficiency = "landmark row"\n').loads
    assert words.efficiency == words.model_dump()["efficiency"] == "landmark row"
    assert read_job(JOB).loads.efficiency is None


@pytest.mark.parametrize(
    ("entries", "why"),
    [
        ('basis = "restore"\nsource = "note 4"\nefficiency = "1.2"\n', "efficiency runs from 0.5 to 1.00"),
        ('basis = "restore"\nsource = "note 4"\nefficiency = ".3"\n', "efficiency runs from 0.5 to 1.00"),
        ('basis = "restore"\nefficiency = "most of it"\n', "neither a number nor a way"),
        ('basis = "restore"\nefficiency = true\n', "neither a number nor a way"),
        ('basis = "restore"\nefficiency = ".8"\n', "the efficiency has no source"),
        ('basis = "none"\nefficiency = "table note"\n', "an efficiency is for restore only"),
    ],
)
def test_an_efficiency_that_cannot_be_is_refused(entries: str, why: str) -> None:
    assert why in refused("[loads]\n" + entries)


def test_a_row_is_no_closer_than_two_diameters() -> None:
    row = '[[bay.rows]]\nname = "rib"\nx = "5"\ndiameter = "1/8"\npitch = "{}"\n'
    assert read_job(JOB + row.format(".25")).bay.rows[0].pitch.inch == 0.25
    assert "under two rivet diameters" in refused(row.format(".2"))


MEMBER = """
[[loads.members]]
edge = "{edge}"
alloy = "2024"
temper = "T3"
thickness = "{thickness}"
attached = ".75"
standing = ".75"
rivet = "MS20470AD4"
pitch = "{pitch}"
"""


def member(edge: str = "X+", thickness: str = ".050", pitch: str = ".75") -> str:
    return MEMBER.format(edge=edge, thickness=thickness, pitch=pitch)


def test_members_along_the_opening_are_read() -> None:
    job = read_job(JOB + KNOWN + "q = 80\n" + member() + member("Y-"))
    assert [one.edge for one in job.loads.members] == ["X+", "Y-"]
    assert job.loads.members[0].standing.inch == pytest.approx(0.75)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (member() + member(), "same edge"),
        (member("Z+"), "edge"),
        (member(thickness=".50"), "narrower than twice its thickness"),
        (member(pitch=".2"), "closer than 2D"),
        (member().replace("MS20470AD4", "MS20470AD4-5"), "length"),
    ],
)
def test_a_member_that_cannot_be_is_refused(text: str, why: str) -> None:
    assert why in refused(KNOWN + "q = 80\n" + text)
