"""The survey as its page shows it: legs of the walk, what doesn't agree, which reading, and what goes into the job."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data
from hatchwright.page.screen import Asked
from hatchwright.page.survey import begun, beside, survey_view, with_survey
from hatchwright.page.ways_out import with_way_out
from tests.conftest import EXAMPLES
from tests.drawings.test_site_view import SURVEY

ALDER = (EXAMPLES / "alder.toml").read_text(encoding="utf-8").partition("[as_made]")[0]


def asked(survey=SURVEY, text=ALDER):
    return Asked(text + survey, EXAMPLES, "alder.toml")


def told(view):
    return " ".join(cell for table in view.center_tables for row in table.rows for cell in row)


def test_the_walk_begins_with_the_right_bay_and_every_entry_of_the_survey_stands_on_it():
    view = survey_view(asked())
    assert view.legs[0].name == "bay"
    standing = {part.path for leg in view.legs for part in leg.parts}
    standing |= {box.path for leg in view.legs for box in leg.boxes}
    top = view.sheet.sections["site"]
    assert {one.path for one in (*top.boxes, *top.parts)} <= standing
    routes = next(part for leg in view.legs for part in leg.parts if part.path == "site.routes")
    offered = next(box for box in routes.parts[0].boxes if box.path.endswith("x_from"))
    assert offered.choices == ("rib 3", "rib 4", "spar", "stringer")


def test_the_right_bay_is_asked_and_held_against_the_rows_measured():
    """Rib pitch 8.00 measured: of a bulletin's 8.00 it is the bay, of 11.00 it is not."""
    assert survey_view(asked()).asks_bay
    same = survey_view(asked(text=ALDER.replace("[mandate]", '[mandate]\nbay_x = "8.00"')))
    assert not same.asks_bay
    other = survey_view(asked(text=ALDER.replace("[mandate]", '[mandate]\nbay_x = "14.00"')))
    first = other.open_checks[0]
    assert (first.code, str(first.status)) == ("R908", "stop")


def test_of_two_readings_either_is_entered_by_one_tap():
    open_ = asked(SURVEY.replace('seen_from = "outside"\nup = "FWD"\n', ""))
    view = survey_view(open_)
    assert len(view.readings) == 2
    assert not view.may_enter
    ways = []
    for one in view.readings:
        text = with_way_out(open_.text, one.changes, open_)
        assert not survey_view(Asked(text, EXAMPLES, "alder.toml")).readings
        frame = raw_data(text)["frame"]
        ways.append((frame["x"], frame["y"]))
    assert ways == [("OUTBD", "AFT"), ("INBD", "AFT")]


def test_what_a_survey_says_goes_into_the_job_and_then_nothing_differs():
    one = asked()
    view = survey_view(one)
    assert view.may_enter
    after = survey_view(Asked(with_survey(one.text, one), EXAMPLES, "alder.toml"))
    assert not after.has_changes
    rows = {row["name"]: row for row in raw_data(after.asked.text)["bay"]["rows"]}
    assert rows["stringer"]["y"] == "6.00"


def test_a_survey_that_contradicts_itself_is_not_entered():
    """A diagonal of 17 over sides of 8 and 6 makes no triangle."""
    one = asked(SURVEY.replace('ac = "10.00"', 'ac = "17.00"'))
    view = survey_view(one)
    assert not view.may_enter
    assert any(str(each.status) == "stop" for each in view.open_checks)
    with pytest.raises(JobError):
        with_survey(one.text, one)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('u = ".03"', 'u = "nan"', "site.u"),
        ('x = "8.00"', 'x = "8.00", second = "8.01"', "site.rows.1"),
        ('y_from = "spar"\n', "", "site.routes.0"),
    ],
)
def test_what_is_refused_is_named_at_its_box(old, new, field):
    view = survey_view(asked(SURVEY.replace(old, new, 1)))
    assert view.answer is None
    assert [fault.field for fault in view.own_faults] == [field]


def test_an_empty_survey_is_answered_and_names_what_is_missing():
    view = survey_view(Asked(begun(ALDER, ".02"), EXAMPLES, "alder.toml"))
    assert view.answer is not None
    assert view.svg == ""
    assert "R938" in {one.code for one in view.open_checks}
    with pytest.raises(JobError):
        begun(view.asked.text, ".02")


def test_a_hazard_outside_the_bay_is_named():
    view = survey_view(asked(SURVEY.replace("6.2", "19.5")))
    assert {one.code for one in view.open_checks} >= {"R941"}
    assert "push-pull tube" in view.svg or ">1<" in view.svg


def test_the_other_side_stands_beside_with_what_differs_by_name():
    right = ALDER.replace('side = "left"', 'side = "right"')
    one = survey_view(asked()).answer
    same = beside(one, asked(text=right))
    assert same.table is None
    other = beside(one, asked(SURVEY.replace('x = "8.00"', 'x = "8.25"'), right))
    assert other.table.heads[2:4] == ("LEFT", "RIGHT")
    assert ["rib 4", "X", "8.000", "8.250"] in [list(row[:4]) for row in other.table.rows]
    with pytest.raises(JobError):
        beside(one, Asked(ALDER, EXAMPLES, "alder.toml"))
