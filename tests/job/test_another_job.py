"""A job for the other side or another aircraft: its geometry as that of the mirrored job, its numbers as typed."""

from __future__ import annotations

import re
import tomllib

import pytest

from hatchwright.errors import JobError
from hatchwright.job.another_job import on_another_aircraft, on_the_other_side
from hatchwright.job.file import load_job, read_job
from hatchwright.job.gate import Gate
from hatchwright.job.other_side import other_side
from hatchwright.job.samples import confirmed
from hatchwright.judged import Status
from hatchwright.workflow.examine import examine
from hatchwright.workflow.mirror import mirror
from job_text import job_text
from tests.conftest import EXAMPLES

LEFT_HERE = {"gate", "samples", "revision", "acknowledged", "departures", "title"}
"""What the mirrored job of the screen keeps or has no need of, and a job of its own is asked again."""


def text_of(name: str) -> str:
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["alder", "juniper", "birch"])
def test_the_other_side_lies_where_the_mirrored_job_lies(name):
    job, own = load_job(EXAMPLES / f"{name}.toml"), read_job(on_the_other_side(text_of(name)))
    mirrored = other_side(job)
    assert own.aircraft.side == mirrored.aircraft.side != job.aircraft.side
    kept = set(type(job).model_fields) - LEFT_HERE - {"aircraft"}
    assert own.model_dump(include=kept) == mirrored.model_dump(include=kept)
    assert own.frame.matrix == mirrored.frame.matrix


@pytest.mark.parametrize("to", [on_the_other_side, on_another_aircraft])
def test_numbers_and_comments_stay_as_typed_and_what_is_asked_again_is_blank(to, alder_text):
    made, drawn = to(alder_text), alder_text.partition("[as_made]")[0]
    lines = {
        line for line in drawn.splitlines() if re.match(r"(width|radius|distance|pitch|x_to|depth) = ", line)
    }
    assert lines - set(made.splitlines()) == set()
    job = read_job(made)
    assert job.gate == Gate()
    assert (job.skin.measured, job.bay.corners, job.as_made, job.acknowledged) == (None, None, None, ())
    assert (job.revision, job.aircraft.both_sides) == ("A", False)
    assert {"skin.thickness", "frame.origin", "bay.rows.0", "bay.flanges.0"} <= set(job.samples)
    examination = examine(job, with_strength=False)
    assert examination.verdict.holds_back
    assert [one.status for one in examination.findings if one.code == "R930"] == [Status.UNKNOWN]


def test_another_aircraft_has_no_name_yet_and_its_side_is_to_be_confirmed(alder_text):
    job = read_job(on_another_aircraft(alder_text))
    assert (job.aircraft.registration, job.aircraft.serial) == ("", "")
    assert (job.mandate.reference, job.mandate.revision) == ("M-101", "")
    assert "aircraft.side" in job.samples
    assert "aircraft.side" not in read_job(on_the_other_side(alder_text)).samples
    assert read_job(on_the_other_side(alder_text)).aircraft.registration == "EXAMPLE-1"


def test_axes_that_run_left_run_right_there():
    text = text_of("alder").replace('side = "left"', 'side = "right"', 1)
    data = tomllib.loads(text)["frame"]
    turned = text.replace(f'x = "{data["x"]}"', 'x = "LEFT"', 1)
    assert tomllib.loads(on_the_other_side(turned))["frame"]["x"] == "RIGHT"


def test_the_start_of_a_row_is_mirrored_however_it_is_written():
    row = {"name": "ring", "lay": "offset", "edge": "opening", "distance": ".5", "rivet": "MS20470AD4"}
    text = job_text(
        {"aircraft": {"side": "left"}, "rows": [row | {"start_at": "left"}, row | {"start_at": "up"}]}
    )
    assert [one["start_at"] for one in tomllib.loads(on_the_other_side(text))["rows"]] == ["RIGHT", "up"]


def test_each_fastener_expected_there_is_confirmed_by_itself():
    there = [{"at": [f"{x}", "1"], "diameter": ".125"} for x in range(2)]
    text = on_the_other_side(job_text({"aircraft": {"side": "left"}, "bay": {"existing": there}}))
    left = tomllib.loads(confirmed(text, ["bay.existing.0.diameter"]))["samples"]
    assert [name for name in left if name.startswith("bay.existing")] == ["bay.existing.1"]


def test_twice_is_the_same_job_again_but_for_what_was_left_out(alder_text):
    once = on_the_other_side(alder_text)
    twice = on_the_other_side(on_the_other_side(once))
    assert read_job(twice) == read_job(once)


def test_a_job_on_the_center_line_has_no_other_side():
    with pytest.raises(JobError, match="has no other side"):
        on_the_other_side(text_of("cypress"))


def test_mirror_writes_a_file_once_and_nothing_where_it_refuses(tmp_path, alder_text):
    source, target = tmp_path / "wing.toml", tmp_path / "right.toml"
    source.write_text(alder_text, encoding="utf-8")
    mirror(source, target)
    assert load_job(target).aircraft.side == "right"
    held = target.read_bytes()
    with pytest.raises(JobError, match="already exists"):
        mirror(source, target)
    assert target.read_bytes() == held
    source.write_text(alder_text.replace('width = "5.00"', 'width = "wide"'), encoding="utf-8")
    with pytest.raises(JobError, match="width"):
        mirror(source, tmp_path / "none.toml")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["right.toml", "wing.toml"]
