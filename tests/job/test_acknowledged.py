"""Cautions that somebody lets stand: with a reason and initials, never a STOP, and open again with another number."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from msgspec.structs import replace

from hatchwright.cli.check import command
from hatchwright.errors import JobError
from hatchwright.job.file import load_job_text, read_job
from hatchwright.job.other_side import other_side
from hatchwright.judged import Status
from hatchwright.verdict import acknowledged_number
from hatchwright.words.tell import tell
from hatchwright.words.verdict import unheard_said
from hatchwright.workflow.examine import examine
from told import subject_of

ALDER = Path(__file__).parents[2] / "examples" / "alder.toml"


@pytest.fixture(scope="module")
def alder():
    return load_job_text(ALDER)


def with_one(text: str, code: str, number: str, reason: str = "borescope only", initials: str = "RB") -> str:
    made = f'code = "{code}"\nnumber = "{number}"\nreason = "{reason}"\ninitials = "{initials}"\n'
    return f"{text}\n[[acknowledged]]\n{made}"


def number_of(text: str, code: str) -> str:
    return next(acknowledged_number(one) for one in examine(read_job(text)).findings if one.code == code)


def test_a_caution_is_folded_with_its_reason(alder, tmp_path):
    text = with_one(alder, "R303", number_of(alder, "R303"))
    verdict, before = examine(read_job(text)).verdict, examine(read_job(alder)).verdict
    (line,) = verdict.acknowledged_lines
    assert (line.worst.code, line.acknowledged.reason, line.acknowledged.initials) == (
        "R303",
        "borescope only",
        "RB",
    )
    assert verdict.count(Status.CAUTION) == before.count(Status.CAUTION) - 1
    assert verdict.status is before.status
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    short = CliRunner().invoke(command, [str(path)]).output
    assert "Acknowledged: 1, see --more." in short
    assert "R303" not in short
    full = CliRunner().invoke(command, ["--more", str(path)]).output
    assert "Acknowledged by RB (borescope only): " in " ".join(full.split())


def test_more_prints_the_number_to_write(alder):
    shown = CliRunner().invoke(command, ["--more", str(ALDER)]).output
    assert f"R303, number {number_of(alder, 'R303')}" in shown


def test_another_number_opens_it_again(alder, tmp_path):
    text = with_one(alder, "R303", number_of(alder, "R303"))
    wider = text.replace(
        'inset = "', 'inset = "0', 1
    )  # no other number: the same length, typed in another way
    assert examine(read_job(wider)).verdict.acknowledged_lines
    changed = with_one(alder, "R303", "1.9/3.5")
    path = tmp_path / "job.toml"
    path.write_text(changed, encoding="utf-8")
    assert examine(read_job(changed)).verdict.acknowledged_lines == ()
    shown = CliRunner().invoke(command, [str(path)]).output
    assert "R303 (RB) open again: number 1.9/3.5 changed." in " ".join(shown.split())


def test_a_stop_is_never_acknowledged_and_that_is_told(alder, tmp_path):
    text = with_one(alder, "R101", number_of(alder, "R101"))
    found = [one for one in examine(read_job(alder)).findings if one.code == "R101"]
    stops = [one for one in found if one.status is Status.STOP]
    for one in stops:
        text = with_one(text, "R101", acknowledged_number(one))
    verdict = examine(read_job(text)).verdict
    assert verdict.status is Status.STOP
    assert verdict.acknowledged_lines == ()
    assert len(verdict.unheard) == len(stops) + 1
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(command, [str(path)])
    assert result.exit_code == 1
    assert "a STOP or NOT SHOWN can't be acknowledged" in " ".join(result.output.split())


def test_one_that_is_just_as_short_elsewhere_stays_open(alder):
    found = [one for one in examine(read_job(alder)).findings if one.code == "R103"]
    short = [one for one in found if one.status is Status.CAUTION]
    assert len({f"{one.value:.6g}" for one in short}) < len(short)  # two edges, one number
    text = with_one(alder, "R103", acknowledged_number(short[0]))
    verdict = examine(read_job(text)).verdict
    assert verdict.acknowledged_lines == ()  # they are told in one line, which stays open for the other
    (why,) = (tell(one) for one in unheard_said(verdict))
    assert "stays open until all its numbers are acknowledged" in why
    for one in short[1:]:
        text = with_one(text, "R103", acknowledged_number(one))
    (line,) = examine(read_job(text)).verdict.acknowledged_lines
    assert set(line.holes) == {number for one in short for number in one.holes}


def test_another_thing_with_the_same_number_stays_open(alder):
    """A fuel line entered beside the tube that was acknowledged, at the same place and depth."""
    near = alder.replace(
        'depth = "2.1"', 'depth = ".7"'
    )  # .1 behind a nibbler that reaches .6, beside the line
    near = re.sub(r"(?m)^(moves|swing|clearance) = .*\n", "", near)
    tube = next(one for one in examine(read_job(near)).findings if one.code == "T303")
    text = with_one(near, "T303", acknowledged_number(tube))
    assert [line.worst.code for line in examine(read_job(text)).verdict.acknowledged_lines] == ["T303"]
    start = text.index("[[bay.keep_outs]]")
    entry = text[start : text.index("\n\n", start)]
    line = re.sub(r'name = "[^"]+"', 'name = "fuel line"', entry)
    verdict = examine(read_job(text.replace(entry, f"{entry}\n\n{line}", 1))).verdict
    assert any("fuel line" in subject_of(one) for line in verdict.open_lines for one in line.findings)


def test_what_has_no_number_is_known_by_what_is_said():
    cypress = load_job_text(ALDER.with_name("cypress.toml"))
    found = next(one for one in examine(read_job(cypress)).findings if one.code == "R917")
    assert (found.status, found.value) == (Status.CAUTION, None)
    number = acknowledged_number(found)
    assert examine(read_job(with_one(cypress, "R917", number))).verdict.acknowledged_lines
    assert acknowledged_number(replace(found, holes=(7,))) != number


def test_it_holds_on_the_side_that_was_looked_at(alder):
    job = read_job(with_one(alder, "R303", number_of(alder, "R303")))
    assert other_side(job).acknowledged == ()


@pytest.mark.parametrize(
    ("code", "reason", "initials", "field"),
    [
        ("R3", "because", "RB", "code"),
        ("X303", "because", "RB", "code"),
        ("R303", "ok", "RB", "reason"),
        ("R303", "because", "", "initials"),
    ],
)
def test_it_needs_a_code_a_reason_and_initials(alder, code, reason, initials, field):
    with pytest.raises(JobError) as refused:
        read_job(with_one(alder, code, "1", reason, initials))
    assert [fault.field for fault in refused.value.faults] == [f"acknowledged.0.{field}"]
