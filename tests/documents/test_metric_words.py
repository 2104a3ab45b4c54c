"""No inch in what card and drawings of a metric job say: units of the sheet are millimeters, newtons, kilograms."""

from __future__ import annotations

import re

import pytest

from hatchwright.drawings.bay_view import bay_sheet
from hatchwright.drawings.deviation_view import deviation_sheet
from hatchwright.drawings.ink import Text
from hatchwright.drawings.pin_view import pin_sheets
from hatchwright.drawings.template_view import template_sheet
from hatchwright.making.pins.pin_layout import planned_pins
from hatchwright.words.catalog import languages
from hatchwright.workflow.examine import examine
from tests.cards import card_of, carried_card_of

INCHES = re.compile(r"\d in\b(?! the)|(?<![\w#/.])\.\d|\blbf?\b|\bin-lb|\bpsi\b")
"""A length marked as inches or written as they are, without a zero before the point; a load or torque of theirs."""


def words_of_card(one, tongue):
    card = card_of(one, tongue=tongue)
    yield from (*card.cautions, *carried_card_of(one, tongue=tongue).gate)
    yield from (words for _, words in card.summary)
    for step in card.steps:
        yield from (step.title, *step.lines, *step.blanks)


def sheets_of(one):
    yield bay_sheet(one.layout, one.findings, date="2026-03-01")
    if one.making:
        yield template_sheet(one.making, one.findings, date="2026-03-01")
        yield deviation_sheet(one.making, date="2026-03-01")
        if pins := planned_pins(one.making):
            yield from pin_sheets(one.making, pins, date="2026-03-01")


@pytest.mark.parametrize("job", ["alder", "dogwood"])
def test_a_metric_job_says_no_inch(job, request):
    one = examine(request.getfixturevalue(job).model_copy(update={"units": "mm"}))
    said = [words for tongue in languages() for words in words_of_card(one, tongue)]
    for sheet in sheets_of(one):
        said += [sheet.title, *sheet.notes, *(table.title for table in sheet.tables)]
        said += [part.words for part in sheet.parts() if isinstance(part, Text)]
    assert not [words for words in said if INCHES.search(words)]
    assert any(" mm" in words for words in said)


def test_the_same_look_finds_inches_in_an_inch_job(alder):
    assert any(map(INCHES.search, words_of_card(examine(alder), languages()[0])))
