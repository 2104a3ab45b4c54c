"""Another unit for bare numbers changes no length."""

from __future__ import annotations

import pytest

from hatchwright.job.file import read_job
from hatchwright.page.fill_in import with_unit
from hatchwright.page.lay_out_sheet import sheet_of


def echoes(text):
    return {path: box.echo for path, box in sheet_of(text).boxes.items() if box.echo}


def test_every_length_stays_as_long_as_it_was(alder_text):
    switched = with_unit(alder_text, "mm")
    job = read_job(switched)
    assert job.units == "mm"
    assert job.opening.width.text == "5.00 in"
    assert job.template.end_mill.text == "1/8 in"
    assert echoes(switched) == echoes(alder_text)
    assert echoes(with_unit(switched, "in")) == echoes(alder_text)


def test_what_names_its_unit_or_a_drill_or_is_zero_is_left_as_typed(alder_text):
    text = alder_text.replace('end_mill = "1/8"', 'end_mill = "#30"').replace(
        'border = "1.5"', 'border = "38 mm"'
    )
    boxes = sheet_of(with_unit(text, "mm")).boxes
    assert boxes["template.end_mill"].value == "#30"
    assert boxes["template.border"].value == "38 mm"
    assert boxes["bay.rows.0.x"].value == "0"
    assert boxes["skin.thickness"].value == ".032 in"


def test_words_and_counts_and_faulty_entries_are_left_alone(alder_text):
    text = alder_text.replace('width = "5.00"', 'width = "3 5"')
    before, after = sheet_of(text).boxes, sheet_of(with_unit(text, "mm")).boxes
    assert after["opening.width"].value == "3 5"
    for path in ("title", "cover.screws.count", "cover.screws.size", "skin.alloy", "rows.0.first_number"):
        assert after[path].value == before[path].value


@pytest.mark.parametrize("unit", ["in"])
def test_the_same_unit_changes_nothing(alder_text, unit):
    assert with_unit(alder_text, unit) == alder_text


def test_a_job_that_names_no_unit_gets_one(alder_text):
    text = alder_text.replace('units = "in"\n', "")
    assert read_job(with_unit(text, "mm")).units == "mm"
