"""The sample values of a new job: none passes for the aircraft's own until it is typed or confirmed."""

from __future__ import annotations

import re
import tomllib

import pytest

from hatchwright.errors import JobError
from hatchwright.job.as_typed import standing_at
from hatchwright.job.file import read_job
from hatchwright.job.retyped_job import retyped_job
from hatchwright.job.samples import confirmed, without_line
from hatchwright.judged import Status
from hatchwright.page.fill_in import fill_in, without_part
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine
from hatchwright.workflow.new_job import Start, starting_text

_TYPED = re.compile(r"[#-]?[\d./]+|[A-Z]")
"""A length, a number or a drill, as somebody types it."""
_ITS_OWN = {"schema", "revision", "units", "title"}


def samples_of(text: str) -> list[str]:
    return tomllib.loads(text).get("samples", [])


def leaves(node, path=""):
    """Every value of a job's data with its place; a list of plain values is one."""
    if isinstance(node, dict):
        for name, inner in node.items():
            yield from leaves(inner, f"{path}.{name}".lstrip("."))
    elif isinstance(node, list) and node and isinstance(node[0], dict):
        for index, inner in enumerate(node):
            yield from leaves(inner, f"{path}.{index}")
    else:
        yield path, node


def test_every_number_of_a_new_job_is_among_its_samples():
    data = tomllib.loads(starting_text(Start()))
    numbers = {
        path
        for path, value in leaves(data)
        if path not in _ITS_OWN
        and ((isinstance(value, int) and not isinstance(value, bool))
             or _TYPED.fullmatch(str(value[0] if isinstance(value, list) else value)))
    }  # fmt: skip
    assert numbers - set(samples_of(starting_text(Start()))) == set()


def test_every_sample_stands_in_the_new_job_once():
    names = samples_of(starting_text(Start()))
    assert len(names) == len(set(names))
    data = tomllib.loads(starting_text(Start()))
    assert [name for name in names if standing_at(data, name) is None] == []


def test_a_new_job_is_not_shown_while_a_sample_is_left():
    text = starting_text(Start())
    (found,) = [one for one in examine(read_job(text)).findings if one.code == "R930"]
    assert found.status is Status.UNKNOWN
    assert found.enter == tuple(samples_of(text))
    assert f"{len(samples_of(text))} sample values" in tell(found.subject, "in")
    assert "skin.thickness" in {one.entry for one in examine(read_job(text)).verdict.to_enter}


def test_none_left_passes():
    text = re.sub(r"samples = \[.*?\]\n", "", starting_text(Start()), flags=re.DOTALL)
    assert samples_of(text) == []
    (found,) = [one for one in examine(read_job(text)).findings if one.code == "R930"]
    assert (found.status, found.enter, found.advice) == (Status.PASS, (), ())


def test_the_other_side_holds_the_same_samples():
    text = starting_text(Start()).replace("both_sides = false", "both_sides = true")
    other = examine(read_job(text)).other
    assert other is not None
    assert [one.status for one in other.findings if one.code == "R930"] == [Status.UNKNOWN]


def test_what_is_typed_on_the_page_goes_off_the_list():
    before = samples_of(starting_text(Start()))
    text = fill_in(starting_text(Start()), {"skin.thickness": ".040", "opening.center.0": "6.1"})
    assert set(before) - set(samples_of(text)) == {"skin.thickness", "opening.center"}
    assert read_job(text).skin.thickness.text == ".040"
    assert "# Unit of a number without one: in or mm" in text


def test_what_is_not_changed_stays_on_it():
    assert fill_in(starting_text(Start()), {"skin.thickness": ".025"}) == starting_text(Start())


def test_another_shape_takes_its_sizes_off_the_list():
    text = fill_in(starting_text(Start()), {"opening.shape": "circle"})
    assert [name for name in samples_of(text) if name.startswith("opening.")] == ["opening.center"]


def test_a_row_that_goes_takes_its_samples_and_those_behind_move_up():
    text = without_part(starting_text(Start()), "rows.0")
    assert [name for name in samples_of(text) if name.startswith("rows.")] == [
        "rows.0.rivet",
        "rows.0.distance",
        "rows.0.pitch",
        "rows.0.corners",
    ]
    assert [name for name in samples_of(without_part(text, "rows.0")) if name.startswith("rows.")] == []


def test_a_section_that_goes_takes_its_samples():
    assert not [name for name in samples_of(without_part(starting_text(Start()), "cover")) if "cover" in name]


def test_a_sample_is_confirmed_by_deleting_it_from_the_list():
    at = samples_of(starting_text(Start())).index("skin.alloy")
    text = without_part(starting_text(Start()), f"samples.{at}")
    assert set(samples_of(starting_text(Start()))) - set(samples_of(text)) == {"skin.alloy"}
    assert read_job(text).skin.alloy == "2024"


def test_the_last_one_takes_the_list_with_it():
    text = 'schema = 2\nsamples = ["skin.alloy"]  # note\n\n[skin]\nalloy = "2024"\n'
    assert "samples" not in confirmed(text, ["skin.alloy"])
    assert '[skin]\nalloy = "2024"' in confirmed(text, ["skin.alloy"])


def test_a_line_of_another_list_moves_nothing():
    text = 'samples = ["rows.2.pitch", "rows.10.pitch"]\n'
    assert samples_of(without_line(text, "bay.rows.0")) == ["rows.2.pitch", "rows.10.pitch"]
    assert samples_of(without_line(text, "rows.3")) == ["rows.2.pitch", "rows.9.pitch"]
    assert samples_of(without_line(text, "skin.measured")) == ["rows.2.pitch", "rows.10.pitch"]


def test_a_sample_that_is_no_entry_is_refused():
    text = starting_text(Start()).replace('"skin.alloy"', '"the skin"')
    with pytest.raises(JobError, match=r"skin\.thickness"):
        read_job(text)


def test_a_misspelled_sample_is_refused_with_the_nearest_name_and_its_line():
    text = starting_text(Start()).replace('"skin.thickness"', '"skin.thicknes"')
    with pytest.raises(JobError, match=r"Did you mean skin\.thickness\?") as refused:
        read_job(text)
    (fault,) = refused.value.faults
    assert fault.given == "skin.thicknes"
    assert text.splitlines()[fault.line - 1].startswith("samples")


def test_a_sample_of_an_entry_that_is_gone_is_refused_and_says_so():
    text = starting_text(Start()).replace('\nface = "inside"', '\n# face = "inside"')
    with pytest.raises(JobError, match="If the entry is gone, delete its name from this list"):
        read_job(text)


def test_the_samples_lay_out_a_sound_pattern():
    """Nothing stops, and all that can't be shown is the samples themselves and what is still to enter."""
    examination = examine(read_job(starting_text(Start())))
    held_back = [one for one in examination.findings if one.status.holds_back and not one.enter]
    assert [one.code for one in held_back] == []
    rows = [one for one in examination.findings if one.code == "R601"]
    assert len(rows) == 4
    assert {one.status for one in rows} == {Status.PASS}


def test_an_entry_of_a_new_job_can_be_tried_and_its_samples_stay():
    """What is tried is no file, so that no name of a sample can be misspelled in it."""
    job = read_job(starting_text(Start()))
    assert retyped_job(job, {"opening.width": "3.5"}).samples == job.samples


def test_a_new_job_is_told_what_was_tried_for_it():
    wide = retyped_job(read_job(starting_text(Start())), {"rows.0.pitch": ".7"})
    examination = examine(wide, with_strength=False)
    assert examination.has_to_try
    for _, remedy in examination.remedies:
        assert remedy.entries
