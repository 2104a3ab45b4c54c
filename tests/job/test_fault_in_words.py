"""Every fault of a file is told in our own words: nothing of the validation library's reaches a user."""

from __future__ import annotations

import datetime
import re
import tomllib

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import edited, read_job
from hatchwright.job.machine import Machine
from hatchwright.workflow.new_job import Start, starting_text
from job_text import job_text
from tests.conftest import EXAMPLES
from tests.told import remedy_of, what_of

STRANGE = (
    "", "x", "yes", "../x", "x" * 5000, 5, -1, 1.5, True, datetime.date(2020, 1, 1),
    [], ["x"], [[]], [1, 2, 3], {}, {"a": 1}, [{}], [{"a": 1}],
)  # fmt: skip
NOT_OURS = re.compile(
    r"(?i)\binput\b|should|tuple|dictionar|validat|literal|pattern|instance|change it|cannot be read here"
)
TAGS = ("shape", "lay", "kind", "schema")


def leaves_replaced(node, value):
    """The same data with every value but the words that tell one form from another replaced."""
    if isinstance(node, dict):
        return {k: v if k in TAGS else leaves_replaced(v, value) for k, v in node.items()}
    if isinstance(node, list) and any(isinstance(item, dict) for item in node):
        return [leaves_replaced(item, value) for item in node]
    return value


def items_replaced(node, value):
    """The same data with every member of every list replaced."""
    if isinstance(node, dict):
        return {k: items_replaced(v, value) for k, v in node.items()}
    return [value for _ in node] if isinstance(node, list) else node


def told_of(read, data):
    try:
        read(job_text(data))
    except JobError as error:
        return error.faults
    return ()


@pytest.mark.parametrize("value", STRANGE, ids=lambda value: repr(value)[:20])
@pytest.mark.parametrize(
    ("example", "read"), [("alder", read_job), ("cypress", read_job), ("machines/machine", Machine.read)]
)
def test_no_strange_value_is_told_in_the_library_s_words(example, read, value):
    data = tomllib.loads((EXAMPLES / f"{example}.toml").read_text(encoding="utf-8"))
    replaced = [leaves_replaced(data, value), items_replaced(data, value)]
    replaced += [{**data, key: value} for key in data]
    faults = [fault for changed in replaced for fault in told_of(read, changed)]
    assert faults
    for fault in faults:
        assert remedy_of(fault).endswith("."), fault
        assert not NOT_OURS.search(f"{what_of(fault)} {remedy_of(fault)}"), fault


@pytest.mark.parametrize(
    ("old", "new", "field", "what", "remedy"),
    [
        ("[opening]", "[[opening]]", "opening", "only one of these", "[opening] in single brackets"),
        ("[[bay.keep_outs]]", "[bay.keep_outs]", "bay.keep_outs", "single section", "[[bay.keep_outs]] in double"),
        ("clad = true", 'clad = "yes"', "skin.clad", "true or false", "Write clad = true, without quotes."),
        ("stressed = true", 'stressed = "no"', "skin.stressed", "true or false", "Write stressed = false, without"),
        ("stressed = true", "stressed = 1", "skin.stressed", "true or false", "Write stressed = true or stressed ="),
        ("clad = true", 'clad = "true"', "skin.clad", "true or false", "Write clad = true, without quotes."),
        ('title = "Inspection', 'title = "' + "A" * 300, "title", "longer than 200", "Shorten it to 200"),
    ],
)  # fmt: skip
def test_what_would_do_is_told(alder_text, old, new, field, what, remedy):
    assert old in alder_text
    text = alder_text.replace(old, new, 1)
    with pytest.raises(JobError) as caught:
        read_job(text)
    (fault,) = [fault for fault in caught.value.faults if fault.field == field]
    assert what in what_of(fault)
    assert remedy in remedy_of(fault)


@pytest.mark.parametrize(
    ("opening", "field", "what", "remedy"),
    [
        ('shape = "polygon"\ncorners = [["3", "2"], ["8", "2"]]\nradii = ["0"]',
         "opening.corners", "2 entered, at least 3", "at least 3"),
        ('shape = "dxf"\nfile = "/etc/passwd"', "opening.file", "without a folder", "its name alone"),
        ('shape = "dxf"\nfile = "../a.toml"', "opening.file", "without a folder", "its name alone"),
        ('shape = "dxf"\nfile = "a\\\\b.dxf"', "opening.file", "without a folder", "its name alone"),
    ],
)  # fmt: skip
def test_an_opening_that_cannot_be_is_told_with_what_would_do(
    alder_text, tmp_path, opening, field, what, remedy
):
    start, end = alder_text.index("[opening]"), alder_text.index("[doubler]")
    with pytest.raises(JobError) as caught:
        read_job(f"{alder_text[:start]}[opening]\n{opening}\n\n{alder_text[end:]}", folder=tmp_path)
    (fault,) = caught.value.faults
    assert fault.field == field
    assert what in what_of(fault)
    assert remedy in remedy_of(fault)


def test_a_fillet_that_does_not_fit_is_told_without_a_stray_comma(alder_text):
    """Sides of 4 in and radii of 3 in: two fillets want 6 in of a side of 4."""
    start, end = alder_text.index("[opening]"), alder_text.index("[doubler]")
    corners = '[["3", "2.5"], ["8", "2.5"], ["8", "6.5"], ["3", "6.5"]]'
    opening = f'[opening]\nshape = "polygon"\ncorners = {corners}\nradii = ["3"]\n\n'
    with pytest.raises(JobError, match=r"doesn't fit, by 2\.000 in\. Move the corner"):
        read_job(alder_text[:start] + opening + alder_text[end:])


def test_a_change_of_a_field_that_is_not_there_yet_may_be_true_or_false(alder_text):
    """As a sweep asks for it, which knows no quotes."""
    assert "steel" not in alder_text
    assert read_job(edited(alder_text, {"cover.screws.steel": "false"})).cover.screws.steel is False


def refusals(text: str) -> dict[str, str]:
    """What is said of each entry of a new job that was changed."""
    with pytest.raises(JobError) as refused:
        read_job(text)
    return {fault.field: str(fault) for fault in refused.value.faults}


def test_a_fault_of_a_metric_job_tells_no_inch():
    text = starting_text(Start()).replace('units = "in"', 'units = "mm"').replace('"1/8"', '"3.2"')
    text = text.replace('length = "1/2"', 'length = "12"').replace('height = "4.6"', 'height = "1"')
    assert "Make it 0.50 mm or less" in refusals(text)["opening.radius"]


def test_an_example_fits_its_box():
    text = (
        starting_text(Start()).replace('thickness = ".025"', 'thickness = "thin"').replace('".500"', '"wide"')
    )
    said = refusals(text)
    assert "#30" not in said["skin.thickness"]
    assert "1 3/8, 1-3/8, 1.375 or 35 mm" in said["skin.thickness"]
    assert "#30 or F" in said["cutter.guide"]
