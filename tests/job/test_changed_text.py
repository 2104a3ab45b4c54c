"""What a remedy enters stands in the text as in the job that was judged, and every comment stays."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.changed_text import changed_text
from hatchwright.job.file import read_job
from hatchwright.job.retyped_job import retyped_job
from hatchwright.job.text_file import load_text
from hatchwright.remedy import EntryChange, PartChange
from tests.conftest import EXAMPLES

TEXT = load_text(EXAMPLES / "alder.toml")
JOB = read_job(TEXT)


@pytest.mark.parametrize(
    "parts",
    [
        (PartChange("as_made.fitted.0", {"holes": [3], "rivet": "MS20470AD5"}),),
        (PartChange("as_made.holes.2", [3, "8.288", "3.259", "#21", ".001"]),),
        (PartChange("as_made.holes.16", None), PartChange("as_made.holes.0", None)),
        (PartChange("as_made.opening", None),),
        (PartChange("as_made.strays.0", ["8.3", "3.3", "#30"]), PartChange("samples", ["as_made.strays.0"])),
        (
            PartChange(
                "rows.8", {"name": "added", "lay": "points", "rivet": "MS20470AD4", "points": [["5", "1"]]}
            ),
        ),
        (PartChange("doubler.outer.center", ["5.51", "4.5"]),),
        (PartChange("cover.gap", None), PartChange("cover.outline", {"shape": "circle", "diameter": "3"})),
    ],
)
def test_text_and_job_are_one(parts):
    in_file = read_job(changed_text(TEXT, (), parts))
    assert retyped_job(JOB, {}, parts) == in_file


def test_a_section_keeps_the_keys_that_stay_with_their_comments():
    row = {
        "name": "outboard, inner",
        "lay": "points",
        "rivet": "MS20470AD4",
        "first_number": 1,
        "points": [["8.3", "4"]],
    }
    new = changed_text(TEXT, (), [PartChange("rows.0", row)])
    assert read_job(new).rows[0].lay == "points"
    kept = [line for line in TEXT.splitlines() if "#" in line]
    assert [line for line in new.splitlines() if "#" in line] == kept


def test_samples_follow_a_line_that_goes():
    text = TEXT.replace("schema = 2", 'schema = 2\nsamples = ["rows.1.pitch", "rows.0.pitch"]', 1)
    parts = (PartChange("rows.0", None),)
    assert read_job(changed_text(text, (), parts)).samples == ("rows.0.pitch",)
    assert retyped_job(read_job(text), {}, parts).samples == ("rows.0.pitch",)


def test_an_entry_that_is_not_there_is_added():
    new = changed_text(TEXT, [EntryChange("doubler.holes_reason", "", "proved on scrap")])
    assert read_job(new).doubler.holes_reason == "proved on scrap"


@pytest.mark.parametrize("field", ["rows.99", "nothing.at.all", "as_made.holes.99", "as_made.opening.x_to.3"])
def test_a_place_that_is_not_there_is_refused(field):
    parts = (PartChange(field, ["1"]),)
    with pytest.raises(JobError):
        read_job(changed_text(TEXT, (), parts))
    with pytest.raises(JobError):
        retyped_job(JOB, {}, parts)
