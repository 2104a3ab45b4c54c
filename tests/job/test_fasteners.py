"""Rivets as they are typed: a part number without its length, which follows from the grip.

Fields of a part number: [FAA-CT-8080-8D] exhibit 1; half lengths [AC43.13-1B] par. 4-57a(4).
"""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from hatchwright.layout.unlisted import unlisted_names
from hatchwright.words.tell import tell
from job_text import job_text
from rules.cases import FLUSH, RING, changed
from tests.told import remedy_of, what_of

FIELDS = ("rows.0.rivet", "cover.screws.nut_rivet")


@pytest.mark.parametrize("field", FIELDS)
@pytest.mark.parametrize(
    ("typed", "said", "remedy"),
    [
        ("MS20470AD4-4", "follows from the grip", "Write MS20470AD4."),
        ("MS20470-AD-4-5", "follows from the grip", "Write MS20470AD4."),
        ("ms20426ad3-3.5", "follows from the grip", "Write MS20426AD3."),
        ("MS20470 AD 4 - 4", "follows from the grip", "Write MS20470AD4."),
    ],
)
def test_a_rivet_that_cannot_be_meant_is_refused_at_the_door(field, typed, said, remedy):
    with pytest.raises(JobError) as caught:
        read_job(job_text(changed(FLUSH, {field: typed})))
    (fault,) = caught.value.faults
    assert (fault.field, fault.given) == (field, typed)
    assert fault.line
    assert said in what_of(fault)
    assert remedy in remedy_of(fault)


@pytest.mark.parametrize("field", FIELDS)
@pytest.mark.parametrize(
    ("typed", "remedy"),
    [
        ("MS20470AD4-99", "half sixteenths"),
        ("MS20470AD4-4-4", "MS20470AD4"),
        ("MS20470AD4 x 1/4", "MS20470AD4"),
        ("AD4", "MS20470AD4"),
        ("1/8", "MS20470AD4"),
        ("MS20470-4", "MS20470AD4"),
        ("MS20470AD44", "2, 3, 4, 5, 6"),
        ("MS2470AD4", "MS20470"),
        ("pop rivet", "MS20470AD4"),
    ],
)
def test_a_rivet_that_no_table_lists_stands_as_typed_with_what_the_tables_have(field, typed, remedy):
    (found,) = unlisted_names(read_job(job_text(changed(FLUSH, {field: f" {typed} "}))))
    assert found.entry == field
    assert f"{typed} isn't in the tables: size not known" in tell(found.what)
    assert remedy in tell(found.remedy)


@pytest.mark.parametrize("typed", ["MS20470AD4", "MS20470-AD-4", " ms20470ad4 ", "MS20470 AD 4"])
def test_the_same_rivet_in_other_writing_is_the_same_rivet(typed):
    job = read_job(job_text(changed(FLUSH, dict.fromkeys(FIELDS, typed))))
    assert job.rows[0].rivet == job.cover.screws.nut_rivet == "MS20470AD4"


@pytest.mark.parametrize("typed", ["", "   "])
def test_a_row_has_a_rivet_and_a_nutplate_may_be_left_without(typed):
    with pytest.raises(JobError) as caught:
        read_job(job_text(changed(RING, {"rows.0.rivet": typed})))
    assert [fault.field for fault in caught.value.faults] == ["rows.0.rivet"]
    assert read_job(job_text(changed(FLUSH, {FIELDS[1]: typed}))).cover.screws.nut_rivet == ""


def faults_of(changes):
    with pytest.raises(JobError) as caught:
        read_job(job_text(changed(FLUSH, changes)))
    return caught.value.faults


def test_a_strap_without_thickness_is_named():
    (fault,) = faults_of({"cover.screws.strap": {"alloy": "2024", "temper": "T3"}})
    assert fault.field == "cover.screws.strap.thickness"


def test_a_strap_under_clip_nuts_is_named():
    strap = {"alloy": "2024", "temper": "T3", "thickness": ".064"}
    (fault,) = faults_of({"cover.screws.strap": strap, "cover.screws.nut": "clip nut"})
    assert fault.field.startswith("cover.screws")
    assert "under nutplates only" in what_of(fault)


@pytest.mark.parametrize(("field", "word"), [("nut_ears", "glue"), ("nut_lugs", "sideways")])
def test_a_word_that_says_nothing_of_the_nutplate_is_named(field, word):
    (fault,) = faults_of({f"cover.screws.{field}": word})
    assert (fault.field, fault.given) == (f"cover.screws.{field}", word)
