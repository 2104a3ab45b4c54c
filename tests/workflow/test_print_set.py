"""All papers of a side in one file, in the order in which they are read; read with pypdfium2 and pypdf."""

from __future__ import annotations

import io
from datetime import UTC, datetime

import pypdfium2
import pytest
from pypdf import PdfReader

from hatchwright.drawings.made_file import MadeKind, Written
from hatchwright.workflow.examine import examine
from hatchwright.workflow.paper_kinds import NAMES, ON_REQUEST
from hatchwright.workflow.papers import papers

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
MOST_SHEETS = 14
"""More than these for one side nobody reads: common practice, no source."""


@pytest.fixture(scope="module")
def made(alder):
    return papers(examine(alder), stamp=STAMP, stem="alder", in_one=True)


def sheets_of(content):
    with pypdfium2.PdfDocument(content) as pdf:
        return [page.get_textpage().get_text_range() for page in pdf]


def test_each_side_has_one_file_that_holds_its_papers_in_reading_order(made):
    whole = {file.side: file for file in made if file.kind is MadeKind.PRINT}
    assert set(whole) == {"left", "right"}
    for side, file in whole.items():
        single = [one for one in made if one.side == side and one.written is Written.PDF and one is not file]
        assert len(single) > 2
        assert sheets_of(file.content) == [sheet for one in single for sheet in sheets_of(one.content)]
        assert all(side.upper() in sheet for sheet in sheets_of(file.content))
        assert len(sheets_of(file.content)) <= MOST_SHEETS


def test_its_list_of_contents_names_each_paper_and_it_is_not_to_be_scaled(made):
    (left,) = (file for file in made if file.kind is MadeKind.PRINT and file.side == "left")
    reader = PdfReader(io.BytesIO(left.content))
    assert [one.title for one in reader.outline][-1] == "desk annex"
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_one_paper_alone_is_not_made_twice(alder):
    made = papers(examine(alder), stamp=STAMP, only=("annex",), in_one=True)
    assert [file.kind for file in made] == [MadeKind.ANNEX, MadeKind.ANNEX]


def test_what_is_for_an_engineer_is_printed_by_itself(dogwood):
    made = papers(examine(dogwood), stamp=STAMP, only=("card", "annex", "package"), in_one=True)
    (whole,) = (file for file in made if file.kind is MadeKind.PRINT)
    assert not any("REFERENCES" in sheet for sheet in sheets_of(whole.content))


def test_papers_are_named_in_the_order_in_which_they_are_read():
    order = ("card", "overview", "layout", "doubler", "parts", "template", "pins", "trial", "lists", "as-built",
             "looks", "log", "record", "annex", "forms", "package")  # fmt: skip
    assert tuple(name for name in order if name in NAMES) == NAMES
    assert "package" in ON_REQUEST & set(NAMES)
