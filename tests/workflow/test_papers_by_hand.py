"""The papers that are filled in by hand, as the command makes them: how many sheets, and that they say the verdict."""

from __future__ import annotations

from datetime import UTC, datetime

import pypdfium2
import pytest

from hatchwright.drawings.made_file import MadeKind, Written
from hatchwright.drawings.writers import Paper
from hatchwright.job.file import load_job
from hatchwright.workflow.examine import examine
from hatchwright.workflow.paper_kinds import NAMES
from hatchwright.workflow.papers import papers
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
EVERY = ("alder", "birch", "cypress", "dogwood", "elder", "finch", "heron", "juniper")
BY_HAND = (MadeKind.TRIAL_SHEET, MadeKind.LISTS, MadeKind.LOG)


@pytest.fixture(scope="module", params=EVERY)
def examined(request):
    return examine(load_job(EXAMPLES / f"{request.param}.toml"), with_strength=False)


@pytest.mark.parametrize("paper", [Paper.LETTER, Paper.A4])
def test_trial_lists_and_log_are_one_sheet_each_with_the_whole_verdict(examined, paper):
    files = papers(examined, stamp=STAMP, paper=paper, only=("trial", "lists", "log"))
    sheets = [file for file in files if file.written is Written.PDF]
    assert {file.kind for file in sheets} == set(BY_HAND)
    assert len(sheets) == len(BY_HAND) * len(examined.sides)
    for file in sheets:
        with pypdfium2.PdfDocument(file.content) as pdf:
            assert len(pdf) == 1, file.name
            text = pdf[0].get_textpage().get_text_range()
        mark = {one.job.aircraft.side: one.verdict.mark for one in examined.sides}[file.side]
        assert f"ANSWERS {mark}" in text, file.name


def test_they_stand_in_reading_order():
    assert [NAMES.index(name) for name in ("trial", "lists", "log", "forms")] == sorted(
        NAMES.index(name) for name in ("trial", "lists", "log", "forms")
    )


def test_the_same_time_makes_the_same_bytes(dogwood):
    only, one = ("trial", "lists", "log", "forms"), examine(dogwood)
    assert papers(one, stamp=STAMP, only=only) == papers(one, stamp=STAMP, only=only)
