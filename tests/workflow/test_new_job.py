"""A new job: every entry of a job file stands in it, explained, and each kind, shape and unit is sound as it is."""

from __future__ import annotations

import os
import re
import tomllib
from functools import cache
from typing import Annotated, get_args

import pytest
from pydantic import TypeAdapter

from hatchwright.errors import JobError
from hatchwright.job.entry import Entered
from hatchwright.job.entry_words import help_of
from hatchwright.job.file import read_job
from hatchwright.job.gate import Gate
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.page.fill_in import fill_in
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine
from hatchwright.workflow.new_job import NEW_JOBS, SIDES, UNITS, Start, new_job, shapes_of, starting_text

STARTS = [Start(kind, shape, units) for kind in NEW_JOBS for shape in shapes_of(kind) for units in UNITS]
PLAIN = {f"gate.{key}": "no" for key in Gate.model_fields}
COVERED = {f"departures.{key}": "none" for key in ("size", "place", "hardware", "sheet")}
ITS_OWN = {
    "aircraft.registration": "EXAMPLE-9",
    "aircraft.serial": "0009",
    "mandate.purpose": "As the owner's letter of May asks.",
}


def confirmed_job(start: Start, answers: dict[str, str]) -> Job:
    """A new job with its gate answered, its aircraft and mandate entered, and every sample confirmed as it is."""
    text = re.sub(r"samples = \[.*?\]\n", "", starting_text(start), flags=re.DOTALL)
    return read_job(fill_in(text, {**ITS_OWN, **answers}))


@pytest.mark.parametrize("start", STARTS, ids=lambda start: f"{start.kind} {start.shape} {start.units}")
def test_a_new_job_answered_and_confirmed_stops_nowhere(start):
    examination = examine(confirmed_job(start, PLAIN))
    held_back = [one.code for one in examination.findings if one.status in (Status.STOP, Status.UNKNOWN)]
    assert held_back == []
    assert not examination.verdict.holds_back
    assert len(examination.findings) > 30  # it was judged


@pytest.mark.parametrize("kind", NEW_JOBS)
def test_a_metric_job_is_one_of_round_millimeters(kind):
    """No length of it is a conversion: what is not whole is a sheet, a gap or a reading of .1 mm."""
    for shape in shapes_of(kind):
        job = read_job(starting_text(Start(kind, shape, "mm")))
        assert job.unit == "mm"
        sizes = re.findall(
            r'"(\d+\.\d+)"', job.model_dump_json(include={"opening", "doubler", "cover", "rows"})
        )
        assert [size for size in sizes if len(size.partition(".")[2]) > 1] == []
        assert 0.4 < job.skin.thickness.inch * 25.4 < 2
        (x, y) = job.opening.center
        assert (x.text, y.text) == ("150", "100")


@pytest.mark.parametrize("side", SIDES)
def test_a_side_that_was_asked_for_is_no_sample(side):
    job = read_job(starting_text(Start(side=side)))
    assert job.aircraft.side == side
    assert "aircraft.side" not in job.samples
    assert "skin.thickness" in job.samples
    assert not examine(confirmed_job(Start(side=side), PLAIN), with_strength=False).verdict.holds_back


def test_a_side_that_nobody_asked_for_is_one():
    assert "aircraft.side" in read_job(starting_text(Start())).samples


def test_nor_where_the_manufacturers_data_cover_it():
    examination = examine(confirmed_job(Start(), {**PLAIN, "gate.maker_data": "yes", **COVERED}))
    assert not examination.verdict.holds_back
    (found,) = [one for one in examination.findings if one.code == "R903"]
    assert found.status is Status.PASS


def test_no_question_of_the_gate_may_be_left_open():
    for left in PLAIN:
        answers = {key: given for key, given in PLAIN.items() if key != left}
        job = confirmed_job(Start("clip-nuts"), answers)
        assert examine(job, with_strength=False).verdict.holds_back, left


@pytest.mark.parametrize("kind", NEW_JOBS)
def test_none_is_shown_to_pass_before_its_samples_are_confirmed(kind):
    job = read_job(starting_text(Start(kind)))
    (held,) = [one for one in examine(job, with_strength=False).findings if one.code == "R930"]
    assert held.status is Status.UNKNOWN


def test_each_kind_is_what_it_says():
    jobs = {kind: read_job(starting_text(Start(kind))) for kind in NEW_JOBS}
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
    assert (jobs["antenna"].cutter, jobs["plain-hole"].cutter) == (None, None)


def test_each_shape_is_what_it_says():
    is_round = {"rectangle": "rounded rectangle", "round": "circle", "obround": "obround"}
    for start in STARTS:
        assert read_job(starting_text(start)).opening.shape == is_round[start.shape]


def test_a_shape_may_lead_its_kind_and_a_window_is_the_usual_one():
    asked = Start("flush-cover", "round", "mm")
    assert Start("round-window", units="mm") == Start("round-flush-cover", "round", "mm") == asked
    with pytest.raises(JobError, match="kind"):
        Start("round-window", "obround")


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({"kind": "porthole"}, "kind"),
        ({"kind": "clip-nuts", "shape": "round"}, "shape"),
        ({"units": "ft"}, "units"),
        ({"side": "top"}, "side"),
    ],
)
def test_what_there_is_not_is_refused_with_what_there_is(asked, field):
    with pytest.raises(JobError) as refused:
        Start(**asked)
    (fault,) = refused.value.faults
    assert (fault.field, fault.given) == (field, asked[field])
    there = {"kind": NEW_JOBS, "shape": ("rectangle",), "units": UNITS, "side": SIDES}[field]
    assert all(one in str(fault) for one in there)


def test_every_question_of_the_gate_stands_in_it_unanswered_and_takes_an_answer():
    text = starting_text(Start())
    for key in Gate.model_fields:
        answered = read_job(text.replace(f"\n# {key} = ", f"\n{key} = "))
        assert answered.gate.model_dump(exclude_none=True) == {key: False}


@pytest.mark.parametrize("key", list(Gate.model_fields))
def test_an_answer_given_on_the_page_goes_under_the_gate(key):
    filled = fill_in(starting_text(Start()), {f"gate.{key}": "no"})
    assert getattr(read_job(filled).gate, key) is False
    gate = filled[filled.index("[gate]") : filled.index("[departures]")]
    assert f"\n{key} = false" in gate


def test_a_key_of_a_section_below_is_not_taken_for_ones_own():
    """Without its own commented line a key goes to the end of its section, not among the comments of another."""
    text = starting_text(Start()).replace('# pitch = "1/2"', "")
    filled = fill_in(text, {"bay.rows.3.pitch": "1"})
    assert read_job(filled).bay.rows[3].pitch.text == "1"
    assert filled.index('\npitch = "1"') < filled.index("[[bay.flanges]]")


def test_a_file_that_is_there_is_never_touched(tmp_path):
    path = tmp_path / "job.toml"
    new_job(path, Start())
    assert path.read_text(encoding="utf-8") == starting_text(Start())
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(JobError, match="already"):
        new_job(path, Start())
    assert path.read_text(encoding="utf-8") == "mine"


@pytest.mark.skipif(os.name != "posix", reason="links of POSIX")
def test_a_link_that_leads_nowhere_is_not_written_through_and_a_name_too_long_is_told(tmp_path):
    (tmp_path / "a.toml").symlink_to(tmp_path / "elsewhere.toml")
    with pytest.raises(JobError, match="already exists"):
        new_job(tmp_path / "a.toml", Start())
    with pytest.raises(JobError, match="File name too long"):
        new_job(tmp_path / f"{'b' * 300}.toml", Start())
    assert [path.name for path in tmp_path.iterdir()] == ["a.toml"]


# What the form tells, read apart from how it is written: from pydantic's own fields, line by line.

_HEADING = re.compile(r"(?:# )?\[+([\w.]+)\]+")
_ENTRY = re.compile(r"(# )?(\w+) = (.+?)(?: +# (.+))?")
_WITHIN = re.compile(r"#   (\w+): .+")


def models_in(annotation):
    """Every model that an annotation may hold."""
    if isinstance(annotation, type) and issubclass(annotation, Entered):
        return [annotation]
    return [model for one in get_args(annotation) for model in models_in(one)]


@cache
def models_at(path: str) -> tuple[type[Entered], ...]:
    """The models of a section by its dotted path."""
    models = [Job]
    for name in path.split(".") if path else ():
        models = [
            inner
            for model in models
            for own, info in model.model_fields.items()
            if (info.alias or own) == name
            for inner in models_in(info.annotation)
        ]
    return tuple(models)


def told(text: str):
    """Every key that a form tells, with its section's path, the word of its form, its value as TOML and its help."""
    path, word, last, above = "", "", "", []
    for line in text.splitlines():
        is_prose = False
        if heading := _HEADING.fullmatch(line):
            path, word = heading[1], ""
        elif inner := _WITHIN.fullmatch(line):
            yield f"{path}.{last}", word, inner[1], None, line
        elif (entry := _ENTRY.fullmatch(line)) and entry[2] in keys_at(path):
            if entry[2] in ("shape", "lay") and path:
                word = entry[3].strip('"')
            last = entry[2]
            yield path, word, entry[2], entry[3], entry[4] or " ".join(above)
        else:
            is_prose = line.startswith("# ")
        above = [*above, line.removeprefix("# ")] if is_prose else []


def keys_of(model) -> set[str]:
    return {info.alias or name for name, info in model.model_fields.items()}


def keys_at(path: str) -> set[str]:
    return {key for model in models_at(path) for key in keys_of(model)}


def every_key() -> set[tuple[str, str]]:
    """Every model that a job may hold, by name, with each of its keys."""
    found: set[type[Entered]] = set()
    left = [Job]
    while left:
        model = left.pop()
        if model not in found:
            found.add(model)
            left += [inner for info in model.model_fields.values() for inner in models_in(info.annotation)]
    return {(model.__name__, key) for model in found for key in keys_of(model)}


def field_of(path: str, word: str, key: str):
    """The model that an entry belongs to, and its field."""
    models = [model for model in models_at(path) if key in keys_of(model)]
    own = [model for model in models if word and f"[{word!r}]" in repr(model.model_fields.values())]
    model = (own or models)[0]
    return model, next(info for name, info in model.model_fields.items() if (info.alias or name) == key)


@pytest.mark.parametrize("units", UNITS)
def test_every_key_of_every_model_stands_in_the_form(units):
    text = starting_text(Start(units=units))
    names = {(field_of(path, word, key)[0].__name__, key) for path, word, key, _, _ in told(text)}
    sections = set(re.findall(r"^(?:# )?\[+([\w.]+)\]+$", text, re.MULTILINE))
    for path in sections:
        parent, _, key = path.rpartition(".")
        names |= {(model.__name__, key) for model in models_at(parent) if key in keys_of(model)}
    assert every_key() - names == set()
    assert len(names) > 250


@pytest.mark.parametrize("units", UNITS)
def test_every_example_of_the_form_reads_back(units):
    read = 0
    for path, word, key, value, _ in told(starting_text(Start(units=units))):
        if value in (None, "["):
            continue
        info = field_of(path, word, key)[1]
        whole = info.annotation
        for mark in info.metadata:
            whole = Annotated[whole, mark]
        TypeAdapter(whole).validate_python(tomllib.loads(f"v = {value}")["v"], context={"unit": units})
        read += 1
    assert read > 250


def test_what_it_says_of_an_entry_is_what_the_page_says():
    said = 0
    for path, word, key, _, help_ in told(starting_text(Start())):
        if help_ and key not in ("shape", "lay"):
            assert tell(help_of(field_of(path, word, key)[0], key)) in help_, (path, key)
            said += 1
    assert said > 250
