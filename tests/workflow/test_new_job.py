"""A new job: every section of a job file stands in it, and what is commented out is sound once it is opened."""

from __future__ import annotations

import os
import re
import tomllib

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from hatchwright.job.gate import Gate
from hatchwright.job.job import Job
from hatchwright.job.job_fields import fields_of
from hatchwright.judged import Status
from hatchwright.page.fill_in import fill_in
from hatchwright.workflow.examine import examine
from hatchwright.workflow.new_job import NEW_JOBS, form, new_job, starting_text

_KEY = re.compile(r"# ((?:\w+ = .+)|(?:\[+[\w.]+\]+))")


def opened(text: str, *keys: str) -> str:
    """The text with the mark taken from its commented lines: all that are TOML, or those that begin with the keys."""
    lines = []
    for line in text.splitlines():
        found = _KEY.fullmatch(line)
        takes = found and (not keys or found[1].startswith(keys))
        lines.append(found[1] if found and takes else line)
    return "\n".join(lines) + "\n"


def without(text: str, *sections: str) -> str:
    """The text without some sections, commented out or not, and what is in them."""
    heading = re.compile(r"(?:# )?\[+([\w.]+)\]+")
    kept, is_out = [], False
    for line in text.splitlines():
        if found := heading.fullmatch(line):
            is_out = any(f"{found[1]}.".startswith(f"{section}.") for section in sections)
        kept += [] if is_out else [line]
    return "\n".join(kept) + "\n"


PLAIN = {f"gate.{key}": "no" for key in Gate.model_fields}
COVERED = {f"departures.{key}": "none" for key in ("size", "place", "hardware", "sheet")}
ITS_OWN = {
    "aircraft.registration": "EXAMPLE-9",
    "aircraft.serial": "0009",
    "mandate.purpose": "As the owner's letter of May asks.",
}


def confirmed_job(kind: str, answers: dict[str, str]) -> Job:
    """A new job with its gate answered, its aircraft and mandate entered, and every sample confirmed as it is."""
    text = re.sub(r"samples = \[.*?\]\n", "", starting_text(kind), flags=re.DOTALL)
    return read_job(fill_in(text, {**ITS_OWN, **answers}))


@pytest.mark.parametrize("kind", NEW_JOBS)
def test_a_new_job_answered_and_confirmed_stops_nowhere(kind):
    examination = examine(confirmed_job(kind, PLAIN))
    held_back = [one.code for one in examination.findings if one.status in (Status.STOP, Status.UNKNOWN)]
    assert held_back == []
    assert not examination.verdict.holds_back
    assert len(examination.findings) > 30  # it was judged


@pytest.mark.parametrize("kind", NEW_JOBS)
def test_nor_where_the_manufacturers_data_cover_it(kind):
    examination = examine(confirmed_job(kind, {**PLAIN, "gate.maker_data": "yes", **COVERED}))
    assert not examination.verdict.holds_back
    (found,) = [one for one in examination.findings if one.code == "R903"]
    assert found.status is Status.PASS


@pytest.mark.parametrize("kind", NEW_JOBS)
def test_no_question_of_the_gate_may_be_left_open(kind):
    for left in PLAIN:
        answers = {key: given for key, given in PLAIN.items() if key != left}
        assert examine(confirmed_job(kind, answers), with_strength=False).verdict.holds_back, left


@pytest.mark.parametrize("kind", NEW_JOBS)
def test_none_is_shown_to_pass_before_its_samples_are_confirmed(kind):
    (held,) = [one for one in examine(read_job(starting_text(kind))).findings if one.code == "R930"]
    assert held.status is Status.UNKNOWN


def test_each_kind_is_what_it_says():
    jobs = {kind: read_job(starting_text(kind)) for kind in NEW_JOBS}
    flush, lapped, clips = (jobs[kind].cover for kind in ("flush-cover", "lapped-cover", "clip-nuts"))
    assert (flush.fit, flush.screws.preparation) == ("flush", "dimple")
    assert flush.screws.nut == "100-degree two-lug nutplate"
    assert (lapped.fit, lapped.screws.nut) == ("lapped", "two-lug nutplate")
    assert (clips.fit, clips.screws.nut) == ("lapped", "clip nut")
    assert [kind for kind in NEW_JOBS if not jobs[kind].skin.stressed] == ["clip-nuts"]
    assert (jobs["antenna"].mount.kind, jobs["camera"].mount.kind) == ("antenna", "camera")
    assert [kind for kind in NEW_JOBS if jobs[kind].patch] == ["flush-patch"]
    assert [kind for kind in NEW_JOBS if jobs[kind].plain_hole] == ["plain-hole"]
    assert jobs["plain-hole"].cover is None
    assert len({job.title for job in jobs.values()}) == len(NEW_JOBS)


def test_an_unknown_kind_is_refused_with_those_there_are_and_nothing_is_written(tmp_path):
    with pytest.raises(JobError) as refused:
        new_job(tmp_path / "job.toml", "porthole")
    (fault,) = refused.value.faults
    assert fault.given == "porthole"
    assert all(kind in str(fault) for kind in NEW_JOBS)
    assert list(tmp_path.iterdir()) == []


def test_what_a_kind_enters_is_not_told_again_below():
    lapped = starting_text("lapped-cover")
    assert "#   lap: " not in lapped
    assert "#   lap: " in starting_text("flush-cover")
    assert lapped.count("[cover.screws]\n") == 1
    assert "\n# [cutter]\n" in starting_text("antenna")
    assert "\n[cutter]\n" in starting_text("camera")


def test_it_is_sound_as_it_is_and_with_every_line_opened():
    assert read_job(starting_text()).gate == Gate()
    whole = opened(without(form(), "patch", "plain_hole")).replace(
        'basis = "none"', 'basis = "running loads"'
    )
    job = read_job(whole)
    assert job.cover.screws.nut_rivet == "MS20426AD3"
    assert job.mount.kind == "antenna"
    assert job.choices[0].rule == "R601"
    assert job.loads.cases[0].name == "gust up"
    assert job.as_made


def test_every_section_of_a_job_stands_in_it():
    shown = tomllib.loads(opened(form()))
    assert set(shown) == {info.alias or name for name, info in Job.model_fields.items()}


def test_every_question_of_the_gate_stands_in_it_unanswered_and_takes_an_answer():
    for key in Gate.model_fields:
        answered = read_job(opened(starting_text(), f"{key} ="))
        given = answered.gate.model_dump(exclude_none=True)
        assert given == {key: False}


@pytest.mark.parametrize("key", list(Gate.model_fields))
def test_an_answer_given_on_the_page_goes_under_the_gate(key):
    filled = fill_in(starting_text(), {f"gate.{key}": "no"})
    assert getattr(read_job(filled).gate, key) is False
    gate = filled[filled.index("[gate]") : filled.index("[frame]")]
    assert f"\n{key} = false" in gate


def test_a_file_that_is_there_is_never_touched(tmp_path):
    path = tmp_path / "job.toml"
    new_job(path)
    assert path.read_text(encoding="utf-8") == starting_text()
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(JobError, match="already"):
        new_job(path)
    assert path.read_text(encoding="utf-8") == "mine"


_HEADING = re.compile(r"(?:# +)?\[+([\w.]+)\]+(?::.*)?")
_ENTRY = re.compile(r"(?:# +)?(\w+)(?: = |: (?P<help>.*))")
_SHAPES = ("doubler.outer", "doubler.inner", "cover.outline", "as_made.opening", "as_made.doubler_outer")
"""Outlines that take the same entries as the opening's."""


@pytest.mark.skipif(os.name != "posix", reason="links of POSIX")
def test_a_link_that_leads_nowhere_is_not_written_through_and_a_name_too_long_is_told(tmp_path):
    (tmp_path / "a.toml").symlink_to(tmp_path / "elsewhere.toml")
    with pytest.raises(JobError, match="already exists"):
        new_job(tmp_path / "a.toml")
    with pytest.raises(JobError, match="File name too long"):
        new_job(tmp_path / f"{'b' * 300}.toml")
    assert [path.name for path in tmp_path.iterdir()] == ["a.toml"]


def told() -> dict[str, set[str]]:
    """The keys that the text of a new job names, by section, with what it says of those that it only tells."""
    found: dict[str, set[str]] = {}
    section = ""
    for line in form().splitlines():
        if heading := _HEADING.fullmatch(line):
            section = heading[1]
        elif entry := _ENTRY.match(line):
            found.setdefault(section, set()).add(entry[1])
    return found


def entered(model, path=""):
    """Every section of a job with its fields; forms of one section together."""
    for field in fields_of(model):
        at = f"{path}.{field.name}".lstrip(".")
        yield path, field
        for inner in field.models if at not in _SHAPES else ():
            yield from entered(inner, at)


def test_it_names_every_entry_of_a_job():
    names = told()
    missing = [
        f"{path}.{field.name}"
        for path, field in entered(Job)
        if not field.models and field.name not in names.get(path, set())
    ]
    assert missing == []


def test_what_it_says_of_an_entry_is_what_the_page_says():
    helps = {(field.name, field.help) for _, field in entered(Job)}
    said = re.findall(r"^#  +(\w+): (.+?)(?: \((?:\w+, )*\w+\))?$", form(), re.MULTILINE)
    assert len(said) > 50
    assert [one for one in said if one not in helps] == []
