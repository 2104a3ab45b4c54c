"""A row copied to the three other sides, and a point put in by hand: worked by hand from the entries."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.page.copy_row import with_copied_row
from hatchwright.page.tapped_point import newest_point, with_point
from job_text import job_text

JOB = {
    "schema": 2,
    "title": "copied",
    "units": "in",
    "aircraft": {"side": "left", "surface": "lower"},
    "frame": {"origin": "here", "x": "OUTBD", "y": "AFT"},
    "skin": {"alloy": "2024", "temper": "T3", "clad": True, "thickness": ".032", "stressed": True},
    "opening": {
        "shape": "rounded rectangle",
        "width": "6",
        "height": "4",
        "radius": ".5",
        "center": ["5", "3"],
    },
}
ROW = {
    "name": "outboard, inner",
    "lay": "line",
    "rivet": "MS20470AD4",
    "start": ["8.5", "1.25"],
    "end": ["8.5", "4.5"],
    "first_number": 1,
}


def text_with(**changes):
    return job_text(JOB | {"rows": [ROW | {"pitch": ".75"} | changes]})


def rows_of(text):
    return raw_data(text)["rows"]


def test_the_three_other_sides_get_their_rows():
    """The opening reaches from X 2 to 8 and from Y 1 to 5; the row lies .5 outside, its ends .25 and .5 from the
    corners."""
    copied = with_copied_row(text_with(), "rows.0")
    read_job(copied)
    first, *others = rows_of(copied)
    assert [(one["name"], one["start"], one["end"]) for one in others] == [
        ("aft, inner", ["7.75", "5.5"], ["2.5", "5.5"]),
        ("inboard, inner", ["1.5", "4.5"], ["1.5", "1.25"]),
        ("forward, inner", ["2.25", "0.5"], ["7.5", "0.5"]),
    ]
    assert {one["pitch"] for one in others} == {".75"}
    assert first["first_number"] == 1
    assert not any("first_number" in one for one in others)


def test_a_row_that_runs_the_other_way_round_is_copied_so():
    copied = with_copied_row(text_with(start=ROW["end"], end=ROW["start"]), "rows.0")
    assert [(one["start"], one["end"]) for one in rows_of(copied)[1:]] == [
        (["2.5", "5.5"], ["7.75", "5.5"]),
        (["1.5", "1.25"], ["1.5", "4.5"]),
        (["7.5", "0.5"], ["2.25", "0.5"]),
    ]


def test_a_count_keeps_the_spaces():
    """3.25 in four spaces is .8125; 5.25 takes 6.46 of them, so 6 and seven holes."""
    row = {name: value for name, value in ROW.items() if name != "pitch"} | {"count": 5}
    copied = with_copied_row(job_text(JOB | {"rows": [row]}), "rows.0")
    assert [one["count"] for one in rows_of(copied)] == [5, 7, 5, 7]


def test_a_row_without_the_word_of_its_side_gets_the_word_of_the_other():
    copied = with_copied_row(text_with(name="inner"), "rows.0")
    assert [one["name"] for one in rows_of(copied)] == [
        "inner",
        "inner, aft",
        "inner, inboard",
        "inner, forward",
    ]


def test_comments_of_a_job_stay(alder_text):
    one = alder_text[: alder_text.index('[[rows]]\nname = "outboard, outer"')]
    rest = alder_text[alder_text.index("[cover]") : alder_text.index("# What was really made")]
    copied = with_copied_row(one + rest, "rows.0")
    assert all(line in copied for line in (one + rest).splitlines())
    assert len(read_job(copied).rows) == 4


@pytest.mark.parametrize(
    ("changes", "what"),
    [
        ({"end": ["8.6", "4.5"]}, "copy_row.no_side"),
        ({"start": ["8.5", "6"], "end": ["8.5", "9"]}, "copy_row.no_side"),
        ({"lay": "points", "points": [["8", "1"]]}, "copy_row.no_line"),
    ],
)
def test_what_can_not_be_copied_is_refused(changes, what):
    row = {**ROW, "pitch": ".75"} | changes
    if changes.get("lay") == "points":
        row = {name: row[name] for name in ("name", "lay", "rivet", "points")}
    with pytest.raises(JobError) as caught:
        with_copied_row(job_text(JOB | {"rows": [row]}), "rows.0")
    assert caught.value.faults[0].what.id == what


def test_no_row_is_copied_twice():
    copied = with_copied_row(text_with(), "rows.0")
    with pytest.raises(JobError) as caught:
        with_copied_row(copied, "rows.0")
    assert caught.value.faults[0].what.id == "copy_row.there_already"
    with pytest.raises(JobError):
        with_copied_row(copied, "rows.9")


def test_a_tapped_point_goes_to_the_last_row_of_points_or_makes_one():
    once = with_point(text_with(), 8.28, 2.0)
    assert rows_of(once)[-1] == {
        "name": "by hand",
        "lay": "points",
        "rivet": "MS20470AD4",
        "points": [["8.28", "2"]],
    }
    twice = with_point(once, -0.00001, 4.6412)
    assert rows_of(twice)[-1]["points"] == [["8.28", "2"], ["0", "4.6412"]]
    assert len(read_job(twice).rows) == 2


def test_ends_that_would_pass_each_other_are_refused():
    """The long side has room for them 1.4 from one corner, the short one of 1.2 has not."""
    tall = JOB["opening"] | {"width": "1.2", "height": "4.5", "radius": ".25", "center": ["5", "3"]}
    row = {**ROW, "start": ["6.1", "2.15"], "end": ["6.1", "3.35"], "pitch": ".4"}
    with pytest.raises(JobError) as caught:
        with_copied_row(job_text(JOB | {"opening": tall, "rows": [row]}), "rows.0")
    assert caught.value.faults[0].what.id == "copy_row.no_room"


def test_a_tapped_point_moves_no_number():
    points = {"name": "by hand", "lay": "points", "rivet": "MS20470AD4", "points": [["9", "2"], ["9", "3"]]}
    line = {name: value for name, value in ROW.items() if name != "first_number"} | {"count": 4}
    text = job_text(
        JOB | {"rows": [points, line], "as_made": {"uncertainty": ".005", "sizes": [[3, ".129"]]}}
    )
    before, after = (lay_out(read_job(one)).holes for one in (text, with_point(text, 9.28, 3.0)))
    assert [(hole.number, hole.row, hole.place, hole.hole_in) for hole in after[:-1]] == [
        (hole.number, hole.row, hole.place, hole.hole_in) for hole in before
    ]
    assert (after[-1].number, after[-1].row, after[-1].place) == (7, "by hand 2", (9.28, 3.0))
    assert newest_point(with_point(text, 9.28, 3.0)) == "rows.2.points.0"


@pytest.mark.parametrize(
    ("first", "read", "is_refused"), [(94, 101, False), (95, 101, True), (95, 99, False)]
)
def test_a_tapped_point_leaves_no_reading_of_a_cover_screw_without_its_screw(
    alder_text, first, read, is_refused
):
    """Five rivets from 95 on end at 99 and the screws begin at 101; one more would be 100, and they at 201."""
    row = {"name": "by hand", "lay": "points", "rivet": "MS20470AD4", "first_number": first}
    row |= {"points": [["2", f"{1 + at}"] for at in range(5)]}
    readings = {"as_made": {"uncertainty": ".005", "sizes": [[read, ".2"]]}}
    text = job_text(raw_data(alder_text) | {"rows": [row]} | readings)
    if is_refused:
        with pytest.raises(JobError) as caught:
            with_point(text, 2.0, 7.0)
        assert caught.value.faults[0].what.id == "tapped.moves_screws"
    else:
        numbers = [
            {hole.number for hole in lay_out(read_job(one)).holes}
            for one in (text, with_point(text, 2.0, 7.0))
        ]
        assert read in set.intersection(*numbers)


def test_a_tapped_point_is_written_in_the_unit_of_the_job():
    metric = text_with().replace('units = "in"', 'units = "mm"')
    assert rows_of(with_point(metric, 1.0, 0.5))[-1]["points"] == [["25.4", "12.7"]]


def test_a_job_without_a_row_names_no_rivet_for_a_tapped_point():
    with pytest.raises(JobError) as caught:
        with_point(job_text(JOB), 1.0, 2.0)
    assert caught.value.faults[0].what.id == "tapped.no_rivet"
