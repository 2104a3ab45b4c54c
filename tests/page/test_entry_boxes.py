"""The boxes of a job: none is missing, each says its length back, each fault stands where it belongs."""

from __future__ import annotations

import tomllib
from copy import deepcopy

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.errors import Fault, JobError
from hatchwright.job.as_typed import raw_data
from hatchwright.job.entry import Entered
from hatchwright.job.file import read_job
from hatchwright.job.job import Job
from hatchwright.job.job_fields import fields_of, fresh
from hatchwright.page.fill_in import changed_boxes, fill_in, with_choice, with_part, without_part
from hatchwright.page.lay_out_sheet import echo_of, entry_sheet, sheet_of


def test_every_field_of_a_job_has_its_place_on_the_sheet():
    sheet = entry_sheet({})
    places = {path.split(".")[0] for path in (*sheet.boxes, *sheet.sections)}
    assert places - {""} == {info.alias or name for name, info in Job.model_fields.items()} - {"schema"}


def sections_below(model: type[Entered], seen: set[type[Entered]]) -> set[type[Entered]]:
    """Every model that a job file can hold."""
    for field in fields_of(model):
        for inner in field.models:
            if inner not in seen:
                seen.add(inner)
                sections_below(inner, seen)
    return seen


def test_every_field_of_every_section_is_known_in_kind_and_has_words():
    models = sections_below(Job, set())
    assert len(models) > 20
    for model in models:
        named = {field.name for field in fields_of(model)}
        own = {
            name
            for name, info in model.model_fields.items()
            if str(info.annotation).startswith("typing.Literal") and str(info.annotation).count("'") == 2
        }
        assert named | own == {info.alias or name for name, info in model.model_fields.items()}
        assert all(field.label for field in fields_of(model))


def test_every_value_of_the_example_stands_in_a_box(alder_text):
    def leaves(data, path=""):
        if isinstance(data, dict):
            for name, value in data.items():
                yield from leaves(value, f"{path}.{name}" if path else name)
        elif isinstance(data, list):
            for index, value in enumerate(data):
                yield from leaves(value, f"{path}.{index}")
        else:
            yield path, data

    boxes = sheet_of(alder_text).boxes
    for path, value in leaves(tomllib.loads(alder_text)):
        if path != "schema":
            shown = {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)
            assert boxes[path].value == shown


@pytest.mark.parametrize(
    ("text", "kind", "unit", "said"),
    [
        # by hand: 8 mm = .31496 in = 5/16 + .0025; 3/32 = .09375; letter drill F is .257 in (ASME B94.11M)
        ("8", "length", "mm", ".315 in = 5/16 + .002 = 8 mm"),
        ("3/32", "length", "in", ".094 in = 3/32 = 2.381 mm"),
        ("F", "diameter", "in", ".257 in = 1/4 + .007 = 6.528 mm"),
        ("-30", "diameter", "in", ".1285 in = 1/8 + .004 = 3.264 mm"),
        (".0315", "length", "in", ".0315 in = 1/32 + .00025 = 0.8 mm"),
        ("-30", "length", "in", ""),
        ("3,5", "length", "in", "3.500 in = 3 1/2 = 88.9 mm"),
        ("1,000", "length", "in", ""),
        ("", "length", "in", ""),
    ],
)
def test_lengths_are_said_back(text, kind, unit, said):
    assert echo_of(text, kind, unit) == said


def test_faults_stand_at_their_box_at_their_section_or_are_left_over(alder_text):
    faults = (
        Fault("opening.width", "box"),
        Fault("rows.0.start", "pair"),
        Fault("doubler", "section"),
        Fault("as_made.holes", "list"),
        Fault("nowhere.at.all", "loose"),
    )
    sheet = entry_sheet(raw_data(alder_text), faults)
    boxes, sections = sheet.boxes, sheet.sections
    assert boxes["opening.width"].faults == faults[:1]
    assert boxes["rows.0.start.0"].faults == faults[1:2]
    assert sections["doubler"].faults == faults[2:3]
    assert sections["as_made.holes"].faults == faults[3:4]
    assert sheet.loose_faults == faults[4:]


@pytest.mark.parametrize(
    ("path", "name"),
    [
        ("opening.width", "Opening, Width"),
        ("rows.2.rivet", "Rivet rows 3, Rivet part number"),
        ("rows.0.start", "Rivet rows 1, First hole"),
        ("doubler.outer.center.1", "Doubler outer outline, Center Y"),
        ("as_made.holes.3.1", "Holes as made 4, X"),
        ("doubler", "Doubler"),
        ("title", "Title"),
        ("nowhere.at.all", "nowhere.at.all"),
    ],
)
def test_a_place_is_called_what_the_sheet_calls_it(alder_text, path, name):
    assert sheet_of(alder_text).name_of(path) == name


def test_of_a_point_the_end_that_is_no_length_is_the_faulty_one(alder_text):
    data = deepcopy(raw_data(alder_text))  # what is kept for the next who asks stays as it is
    data["rows"][0]["start"] = ["8.28", "x y"]
    boxes = entry_sheet(data, [Fault("rows.0.start", "pair")]).boxes
    assert not boxes["rows.0.start.0"].faults
    assert boxes["rows.0.start.1"].faults


@pytest.mark.parametrize(
    "data",
    [
        {},
        {"skin": 3, "rows": "x", "opening": []},
        {"rows": [1, [], {}]},
        {"as_made": {"holes": [1, [], [1, 2, 3, 4, 5]]}},
        {"opening": {"shape": "star"}},
    ],
)
def test_data_that_is_no_job_still_has_a_sheet(data):
    assert entry_sheet(data).boxes["title"].value == ""


def test_what_stands_in_the_boxes_already_changes_nothing(alder_text):
    typed = {path: box.value for path, box in sheet_of(alder_text).boxes.items()}
    assert changed_boxes(alder_text, typed) == {}
    assert fill_in(alder_text, typed) == alder_text


def test_paths_that_are_no_boxes_are_never_written(alder_text):
    assert (
        fill_in(alder_text, {"schema": "2", "skin.nonsense": "1", "": "x", "rows.99.name": "x"}) == alder_text
    )


TYPED = st.one_of(
    st.text(max_size=25),
    st.sampled_from(["", " ", "1 3/8", "35 mm", '"', "\\", "yes", "no", "0", "\x00", "'''", "# x", "]]"]),
)


@pytest.mark.property
@given(st.data())
@settings(deadline=None, max_examples=150)
def test_whatever_is_typed_into_whatever_box_is_kept_and_harms_nothing_else(alder_text, data):
    sheet = sheet_of(alder_text)
    forms = sheet.forms()
    boxes = {path: box for path, box in sheet.boxes.items() if path not in forms and path != "units"}
    path = data.draw(st.sampled_from(sorted(boxes)))
    value = data.draw(TYPED)
    after = sheet_of(fill_in(alder_text, {path: value})).boxes
    kept = after[path].value if path in after else ""
    shown = {"true": "yes", "false": "no"}.get(
        value, value
    )  # what the file's own words are called on the page
    assert kept in (value, shown) or (not value.strip() and not boxes[path].required and kept == "")
    others = {other: box.value for other, box in boxes.items() if other != path}
    assert {other: after[other].value for other in others if other in after} == {
        o: v for o, v in others.items() if o in after
    }
    assert all(other in after for other in others if other.rpartition(".")[0] != path.rpartition(".")[0])


@pytest.mark.parametrize(
    "path",
    [
        "doubler",
        "cover",
        "as_made",
        "skin.curvature",
        "cover.screws",
        "cover.outline",
        "bay.corners",
        "template",
        "doubler.inner",
    ],
)
def test_a_section_is_taken_away_and_added_empty(alder_text, path):
    section = sheet_of(alder_text).sections[path]
    without = without_part(alder_text, path) if section.is_present else alder_text
    gone = sheet_of(without).sections[path]
    assert not gone.is_present
    again, at = with_part(without, path)
    assert at == path
    new = sheet_of(again).sections[path]
    assert new.is_present
    assert any(box.required and not box.value for part in new.walk() for box in part.own_boxes())
    with pytest.raises(JobError):
        with_part(again, path)


def test_every_list_takes_a_new_line_at_its_end(alder_text):
    for path, part in sheet_of(alder_text).sections.items():
        if part.is_list:
            text, at = with_part(alder_text, path)
            assert at == f"{path}.{len(part.parts)}"
            listing = sheet_of(text).sections[path]
            assert listing.is_list
            assert len(listing.parts) == len(part.parts) + 1
            assert sheet_of(without_part(text, at)).boxes.keys() == sheet_of(alder_text).boxes.keys()


def test_a_new_section_holds_its_required_boxes_only():
    field = next(field for field in fields_of(Job) if field.name == "doubler")
    assert fresh(field.models) == {
        "alloy": "",
        "temper": "",
        "thickness": "",
        "outer": {"shape": "rounded rectangle", "width": "", "height": "", "radius": ""},
    }


def test_a_choice_replaces_an_earlier_one_for_the_same_rule(alder_text):
    text = with_choice(alder_text, rule="R601", reading="table 4-9, note c", reason="because of the lap")
    assert [c.reading for c in read_job(text).choices] == ["table 4-9, note c"]
    more = with_choice(text, rule="R999", reading="another", reason="for the test")
    assert [c.rule for c in read_job(more).choices] == ["R601", "R999"]
