"""What no number can be is taken nowhere: every number of every file goes through one test.

The fields are found by what they take, not by their types: one that takes some honest number and refuses a word is a
number. What none of them may take is listed here.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from typing import Annotated, Any

import pytest
from pydantic import TypeAdapter, ValidationError, create_model

import hatchwright.job
from hatchwright.errors import EntryError, HatchwrightError, JobError
from hatchwright.job.entry import Entered
from hatchwright.job.file import read_job
from hatchwright.job.job import Job
from hatchwright.job.loads import LoadCase
from hatchwright.job.machine import Machine
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.layout.lay_out import lay_out
from hatchwright.tables.shop import load_shop_tables
from hatchwright.units import parse_length
from tests.conftest import EXAMPLES
from tests.told import remedy_of, what_of

HONEST = ("1/4", ".032", ".001", "30", 4, 1200, "1200", "1.2", ".75", "2", "150", "0")
NEVER = (
    True, False, None, "nan", "inf", "-inf", "1e400", "1e9", "1e-9", "1,000", "1.500,5", "999999999999",
    "9" * 39, "9" * 5000, "-999999999", "--1", "1 2", "1_0", "０", "²", "0x10", ".", "-", "", " ", [], {}, [["1"]],
)  # fmt: skip
"""What is no number, could be two, or is larger than any."""


def models() -> Iterator[type[Entered]]:
    """Every section of every file that a user hands in."""
    for module in pkgutil.iter_modules(hatchwright.job.__path__):
        importlib.import_module(f"hatchwright.job.{module.name}")
    left = [Entered]
    while left:
        model = left.pop()
        yield model
        left += model.__subclasses__()


def takes(adapter: TypeAdapter[Any], value: object) -> bool:
    """Whether a field takes a value, in a file in inches."""
    try:
        adapter.validate_python({"one": value}, context={"unit": "in", "folder": None})
    except ValidationError:
        return False
    return True


def numbers() -> dict[str, tuple[TypeAdapter[Any], Any]]:
    """Every field that takes a number, or a list of some, with what puts a value where its first number stands."""
    found: dict[str, tuple[TypeAdapter[Any], Any]] = {}
    for model in models():
        for name, info in model.model_fields.items():
            annotation: Any = info.annotation
            for mark in info.metadata:
                annotation = Annotated[annotation, mark]
            adapter = TypeAdapter(create_model("One", __base__=Entered, one=(annotation, ...)))
            for rest in (None, 0, 1, 2, 4):

                def laid(value: object, rest: int | None = rest, one: object = "1") -> object:
                    return value if rest is None else [value, *[one] * rest]

                if any(takes(adapter, laid(one)) for one in HONEST) and not takes(adapter, laid("word")):
                    found.setdefault(f"{model.__name__}.{name}", (adapter, laid))
                    break
    return found


NUMBERS = numbers()


def test_the_numbers_are_found():
    assert len(NUMBERS) > 90
    wanted = {"Skin.thickness", "MachineTool.spindle", "Tabs.width", "TrialReadings.gauge_limit", "LoadCase.nx",
              "OffsetRow.pitch", "Cutter.cut_width", "Bracket.legs", "Corners.diagonals", "Split.at", "Obround.angle",
              "Tool.body", "Finish.coats", "Loads.efficiency", "Machine.travel", "Template.blank"}  # fmt: skip
    assert wanted <= set(NUMBERS)


@pytest.mark.parametrize("field", NUMBERS)
def test_no_number_takes_what_is_none(field):
    adapter, laid = NUMBERS[field]
    may_be_left_out = takes(adapter, None)
    taken = [
        value for value in NEVER if takes(adapter, laid(value)) and not (value is None and may_be_left_out)
    ]
    assert taken == []


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("Cutter.cut_width", "-1"),
        ("Cutter.cut_width", "-4"),  # a rivet's diameter, to many
        ("MachineTool.spindle", True),
        ("MachineTool.spindle", 0),
        ("Tabs.width", ".0000001"),
        ("Tabs.height", ".0000001"),
        ("TrialReadings.gauge_limit", "3/2"),
        ("TrialReadings.template_uncertainty", "3/2"),
        ("AsMade.uncertainty", "3/2"),
        ("DamagePoint.uncertainty", "3/2"),
        ("Scatter.drill", "3/2"),
        ("Skin.thickness", "0"),
        ("Skin.thickness", ".0001"),
        ("Skin.thickness", "32"),  # thousandths, to who measures in them
        ("Template.end_mill", "99"),
        ("CoverLoads.screw_shear", "0"),
        ("LoadCase.nx", "900000"),
        ("SpecialFactor.value", "100"),
        ("Loads.efficiency", "0,4"),
    ],
)
def test_what_can_not_be_there_is_refused(field, value):
    adapter, laid = NUMBERS[field]
    assert not takes(adapter, laid(value))


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("0,8 mm", "0.8 mm"),
        ("12,75 mm", "12.75 mm"),
        ("1500,5 mm", "1500.5 mm"),
        ("0,800 mm", "0.8 mm"),
        ("26,000 mm", "26 mm"),  # no part of a light aircraft's skin is 26 m long
        ("0,8", ".8"),
        ("1,5", "1.5"),
        ("1,375", "1.375"),
        (",032", ".032"),
    ],
)
def test_a_comma_is_taken_where_it_can_mean_one_thing_only(text, read):
    assert parse_length(text).exact_in == parse_length(read).exact_in


@pytest.mark.parametrize("text", ["1,500 mm", "12,500 mm", "1,000"])
def test_any_other_comma_in_a_length_is_asked_about(text):
    with pytest.raises(EntryError, match="comma") as caught:
        parse_length(text)
    assert remedy_of(caught.value)


def test_loads_treat_a_comma_as_lengths_do():
    assert LoadCase(name="a", nx="21,5 N/mm").nx == LoadCase(name="a", nx="21.5 N/mm").nx
    assert LoadCase(name="a", nx="1,5 lbf/in").nx == LoadCase(name="a", nx="1.5").nx
    for text in ("1,500", "1,500 N/mm"):
        with pytest.raises(ValidationError) as caught:
            LoadCase(name="a", nx=text)
        assert caught.value.errors()[0]["ctx"]["what"].id == "error.number_comma"


@pytest.mark.parametrize("value", ["0", "-.25", "nan", "0_.25", "0.0"])
def test_a_limit_of_a_shop_is_a_number_that_can_be(tmp_path, value):
    """Ours is .25 and common practice, which a shop may replace."""
    head = "key,value,unit,note,source,place,edition,basis"
    row = f"stagger_rows,{value},of pitch,,OUR-BOOK,page 1,2025,the shop's own"
    (tmp_path / "rule_limits.csv").write_text(f"{head}\n{row}\n", encoding="utf-8")
    with pytest.raises(HatchwrightError, match="line 2, value"):
        load_shop_tables(tmp_path)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('pitch = ".62"', 'pitch = ".12"', "rows.0.pitch"),
        ('pitch = ".62"', 'pitch = "1/8"', "rows.0.pitch"),
        ('pitch = ".62"', 'pitch = ".2"\nfinal = "1/4"', "rows.0.pitch"),
        ('pitch = ".62"', "count = 50", "rows.0.count"),
        ("count = 16", 'pitch = ".15"', "cover.screws.pitch"),
    ],
)
def test_holes_that_run_into_each_other_are_not_laid_out(alder_text, old, new, field):
    """A pitch up to the diameter: 1/8 in of the rivet, .164 of the screw, .25 of the hole that is bored."""
    assert old in alder_text
    job = read_job(alder_text[: alder_text.index("# What was really made")].replace(old, new, 1))
    with pytest.raises(JobError) as caught:
        lay_out(job)
    (fault,) = caught.value.faults
    assert fault.field == field
    assert "run into each other" in what_of(fault)
    assert ("cover screws" if "cover" in field else "outboard, inner") in what_of(fault)


def test_a_machine_file_is_refused_with_the_lines(tmp_path):
    text = (EXAMPLES / "machines" / "machine.toml").read_text(encoding="utf-8")
    spoilt = text.replace('width = ".20"', 'width = "1e-7"', 1).replace(
        "spindle = 12000", "spindle = true", 1
    )
    with pytest.raises(JobError) as caught:
        Machine.read(spoilt)
    assert {fault.field for fault in caught.value.faults} == {"tabs.width", "tools.1.spindle"}
    assert all(fault.line for fault in caught.value.faults)


def test_control_characters_are_refused_and_never_printed(alder_text):
    """ESC begins what a terminal takes for an order (ECMA-48); a right-to-left override turns a text round (UAX 9)."""
    for mark in ("\\u001b[2J", "\\u202e", "\\u0000", "\\u009b"):
        with pytest.raises(JobError) as caught:
            read_job(alder_text.replace('"Inspection', f'"{mark}Inspection', 1))
        assert [fault.field for fault in caught.value.faults] == ["title"]
        assert str(caught.value).isprintable()
    with pytest.raises(JobError) as caught:
        read_job(alder_text.replace('title = "', "title = \x1b[2J", 1))
    assert str(caught.value).isprintable()


def test_a_job_has_no_other_schema_than_a_whole_number():
    for value in ("true", "2.0", '"2"', "0", "-2"):
        with pytest.raises(JobError, match="schema"):
            read_job(f"schema = {value}\n")
    assert Job.model_fields["schema_number"].is_required()
    with pytest.raises(JobError, match="schema"):
        TrialReadings.read("schema = true\n")
