"""The print of a set: each template once, every side's papers, and labels whose codes lead to their jobs."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime

import numpy as np
import pypdfium2
import pytest
import zxingcpp

from hatchwright.drawings.made_file import MadeKind, Written
from hatchwright.errors import JobError
from hatchwright.job.file import load_job
from hatchwright.page.coded_sheet import coded_sheets
from hatchwright.workflow.fleet_entries import new_fleet_text
from hatchwright.workflow.fleet_folder import FleetFolder
from hatchwright.workflow.fleet_lines import make_jobs
from hatchwright.workflow.fleet_papers import template_mark
from hatchwright.workflow.fleet_print import fleet_print
from hatchwright.workflow.job_folder import JobFolder, version_of
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
ROWS = "N101HW\t0001\nN102HW\t0002\tleft\n"


def one_after_the_other(work, tasks):
    return map(work, tasks)


def fleet_in(folder, rows):
    shutil.copy(EXAMPLES / "alder.toml", folder)
    fleets, jobs = FleetFolder(folder), JobFolder(folder)
    text = new_fleet_text("Wing", "alder.toml", rows)
    name = fleets.new("Wing", text)
    make_jobs(fleets, jobs, name, version_of(text))
    return fleets, jobs, name


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("fleet")


@pytest.fixture(scope="module")
def made(folder):
    fleets, jobs, name = fleet_in(folder, ROWS)
    return fleet_print(fleets, jobs, name, stamp=STAMP, do=one_after_the_other)


def pages_of(content) -> list[str]:
    with pypdfium2.PdfDocument(content) as pdf:
        return [page.get_textpage().get_text_range() for page in pdf]


def test_the_whole_set_is_all_of_its_parts_in_reading_order(made):
    whole, *parts = (one for one in made if one.written is Written.PDF)
    assert pages_of(whole.content) == [page for part in parts for page in pages_of(part.content)]
    kinds = [one.kind for one in parts]
    # Two sides take the left template and one the right: each is printed once, with the sheet that goes with it.
    assert kinds == [
        MadeKind.FLEET, MadeKind.PULL_LIST, *[MadeKind.TEMPLATE, MadeKind.TEMPLATE_SHEET] * 2,
        *[MadeKind.PRINT] * 3, MadeKind.LABELS,
    ]  # fmt: skip


def test_the_set_list_gives_each_side_its_template_and_no_sheet_of_it_says_that_work_may_begin(made):
    (listed,) = (pages_of(one.content) for one in made if one.kind is MadeKind.FLEET)
    rows = [line.split() for line in listed[0].splitlines() if line.startswith("N10")]
    assert [row[:4] for row in rows] == [
        ["N101HW", "0001", "LEFT", "1"],
        ["N101HW", "0001", "RIGHT", "2"],
        ["N102HW", "0002", "LEFT", "1"],
    ]
    templates = [pages_of(one.content) for one in made if one.kind is MadeKind.TEMPLATE]
    for number, (pages, side) in enumerate(zip(templates, ("LEFT", "RIGHT"), strict=True), start=1):
        for page in pages:
            assert f"Wing, template {number}" in page
            assert side in page
            assert "DO NOT CUT, DRILL OR RIVET" in page
            assert "N10" not in page  # it is for several: the set list says for which


def test_the_code_of_each_label_leads_to_its_job(made, folder):
    (labels,) = (one for one in made if one.kind is MadeKind.LABELS)
    with pypdfium2.PdfDocument(labels.content) as pdf:
        pictures = [np.array(page.render(scale=300 / 72).to_pil().convert("L")) for page in pdf]
    codes = [one.text for picture in pictures for one in zxingcpp.read_barcodes(picture)]
    found = [sheet for code in codes for sheet in coded_sheets(code, JobFolder(folder))]
    assert {(sheet.job_name, sheet.side) for sheet in found} == {
        ("wing-n101hw-left.toml", "LEFT"),
        ("wing-n101hw-right.toml", "RIGHT"),
        ("wing-n102hw-left.toml", "LEFT"),
    }
    assert all(sheet.is_current for sheet in found)


def test_two_sides_take_one_template_only_where_all_on_its_sheet_is_the_same(folder, made):
    one, other, right = (
        load_job(folder / f"wing-{name}.toml") for name in ("n101hw-left", "n102hw-left", "n101hw-right")
    )
    assert template_mark(one, None) == template_mark(other, None) != template_mark(right, None)
    for old, new in (
        ('pitch = ".62"', 'pitch = ".60"'),
        ('radius = ".75"', 'radius = ".80"'),
        ('x_to = ".34"', 'x_to = ".36"'),
    ):
        path = folder / "changed.toml"
        text = (folder / "wing-n102hw-left.toml").read_text()
        assert old in text, old
        path.write_text(text.replace(old, new))
        is_alike = template_mark(load_job(path), None) == template_mark(one, None)
        path.unlink()
        assert is_alike == (old.startswith("x_to"))  # a flange behind the skin is on no template


def test_a_job_that_is_refused_is_named_and_no_pull_list_is_short(tmp_path):
    fleets, jobs, name = fleet_in(tmp_path, "N101HW\t0001\n")
    spoilt = tmp_path / "wing-n101hw-right.toml"
    spoilt.write_text(spoilt.read_text().replace('pitch = ".62"', 'pitch = "much"', 1))
    made = fleet_print(fleets, jobs, name, stamp=STAMP, do=one_after_the_other)
    (listed,) = (pages_of(one.content) for one in made if one.kind is MadeKind.FLEET)
    assert "N101HW RIGHT: no papers." in listed[0]
    assert [one.side for one in made if one.kind is MadeKind.PRINT] == ["", "left"]
    assert not [one for one in made if one.kind is MadeKind.PULL_LIST]
    spoilt.unlink()
    with pytest.raises(JobError, match="no job yet"):
        fleet_print(fleets, jobs, name, stamp=STAMP, do=one_after_the_other)
