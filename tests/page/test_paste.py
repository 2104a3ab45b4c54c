"""Rows pasted from a spreadsheet: the same job as the numbers typed, or told by row and column and nothing written."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.file import read_job
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.layout.lay_out import lay_out
from hatchwright.page.paste import paste_list, with_pasted
from hatchwright.words.tell import tell
from job_text import job_text
from tests.told import remedy_of, what_of

SHEET = {"alloy": "2024", "temper": "T3", "clad": True}
JOB = {
    "schema": 2,
    "title": "pasted",
    "units": "in",
    "aircraft": {"side": "left", "surface": "lower"},
    "frame": {"origin": "here", "x": "OUTBD", "y": "AFT"},
    "skin": {**SHEET, "thickness": ".032", "stressed": True},
    "opening": {"shape": "circle", "diameter": "4", "center": ["5", "4"]},
    "doubler": {**SHEET, "thickness": ".040", "outer": {"shape": "circle", "diameter": "8"}},
    "rows": [{"name": "by hand", "lay": "points", "rivet": "MS20470AD4", "points": [["8", "4"]]}],
}
POINTS = [["8.283", "4.02"], ["8.279", "4.641"], ["7.5", "-1.25"]]
TYPED = job_text(JOB | {"rows": [{**JOB["rows"][0], "points": POINTS}]})
U = {"uncertainty": ".005"}


def faults_of(path, pasted, text=TYPED, **how):
    with pytest.raises(JobError) as caught:
        with_pasted(text, path, pasted, **how)
    return [(fault.line, fault.field, what_of(fault)) for fault in caught.value.faults]


@pytest.mark.parametrize(
    "pasted",
    [
        "8.283\t4.02\n8.279\t4.641\n7.5\t-1.25\n",
        "8.283 4.02\r\n8.279   4.641\r\n\r\n7.5 -1.25",
        "8.283, 4.02\n8.279, 4.641\n7.5, -1.25",
        "8.283,4.02\n8.279,4.641\n7.5,-1.25",
        '"8.283";"4.02"\n"8.279";"4.641"\n"7.5";"-1.25"',
        "8,283;4,02\n8,279;4,641\n7,5;-1,25",
        "8,283 4,02\n8,279 4,641\n7,5 -1,25",
        "X\tY\n8.283\t4.02\n8.279\t4.641\n7.5\t-1.25\n",
        "Y;X\n4.02;8.283\n4.641;8.279\n-1.25;7.5",
        "holes of the left wing\nX [in];Y [in]\n8.283;4.02\n8.279;4.641\n7.5;-1.25;;",
        'X Y\nin in\n8.283 in 4.02"\n8.279 4.641\n7 1/2 -1 1/4'.replace("7 1/2 -1 1/4", "7-1/2 -1.25"),
        "X,mm;Y,mm\n210,3882;102,108\n210,2866;117,8814\n190,5;-31,75",
        "210.3882 mm\t102.108 mm\n210.2866 mm\t117.8814 mm\n190.5 mm\t-31.75 mm",
    ],
)
def test_pasted_points_give_the_same_job_as_points_typed(pasted):
    """An inch is 25.4 mm."""
    made = with_pasted(job_text(JOB), "rows.0.points", pasted, replacing=True)
    assert made.rows == 3
    by_paste, by_hand = (lay_out(read_job(text)).holes for text in (made.text, TYPED))
    for one, other in zip(by_paste, by_hand, strict=True):
        assert (one.number, one.row, one.fastener, one.stack) == (
            other.number,
            other.row,
            other.fastener,
            other.stack,
        )
        assert one.place == pytest.approx(other.place, abs=1e-9)


@pytest.mark.parametrize(
    ("path", "typed", "pasted"),
    [
        (
            "as_made.holes",
            [[1, "8.28", "4.02", ".129"], [2, "8.27", "4.6"]],
            "No;X;Y;Dia\n1;8.28;4.02;.129\n2.0;8.27;4.6;",
        ),
        ("as_made.sizes", [[1, ".129"], [3, "#30"]], "#\tD\n1\t.129\n3\t#30"),
        (
            "bay.existing",
            [{"at": ["1", "2"], "diameter": "1/8"}, {"at": ["1", "3"], "diameter": ".125"}],
            "1 2 1/8\n1 3 .125",
        ),
    ],
)
def test_pasted_readings_stand_in_the_file_as_typed_ones_do(path, typed, pasted):
    section, _, name = path.partition(".")
    whole = JOB | {"rows": [{**JOB["rows"][0], "points": POINTS}]}
    for first in (whole,) if section == "as_made" else (JOB, whole):
        made = with_pasted(job_text(first), path, pasted)
        assert standing_at(raw_data(made.text), path) == typed
    by_hand = read_job(TYPED + job_text({section: (U if section == "as_made" else {}) | {name: typed}}))
    by_paste = read_job(made.text.replace('uncertainty = ""', 'uncertainty = ".005"'))
    assert lay_out(by_paste).holes == lay_out(by_hand).holes
    assert by_paste.bay.fasteners == by_hand.bay.fasteners


def test_readings_by_radius_and_angle_are_pasted_too():
    text = TYPED + job_text({"as_made": U | {"polar": [{"holes": []}]}})
    pasted = "Hole\tRadius\tAngle\n\tmm\tdeg\n1\t82,5\t0\n2\t82,5\t22,5°\n"
    made = with_pasted(text, "as_made.polar.0.holes", pasted)
    assert [tell(note) for note in made.notes] == [
        "Row 1 is a heading and was not entered: Hole, Radius, Angle.",
        "Row 2 gives the units: mm, deg.",
        "Commas were read as decimal marks.",
    ]
    assert standing_at(raw_data(made.text), "as_made.polar.0.holes") == [
        [1, "82.5 mm", "0"],
        [2, "82.5 mm", "22.5"],
    ]


def test_readings_of_a_trial_are_pasted_into_their_own_file():
    trial = {
        "schema": 1,
        "units": "mm",
        "piece": "square",
        "size": "75",
        "template_x": "82",
        "template_y": "82",
        "template_uncertainty": "0.05",
        "gauge_limit": "0.05",
        "cuts": [{"x": ["75.1"], "y": ["75.0"]}],
    }
    made = with_pasted(job_text(trial), "cuts.0.x", "75,08\n75,12\n")
    assert [one.text for one in TrialReadings.read(made.text).cuts[0].x] == ["75.1", "75.08", "75.12"]
    assert [one[0] for one in faults_of("cuts.0.x", "75.1\n0\n", job_text(trial))] == [2]


def test_comments_and_what_is_in_the_list_stay(alder_text):
    made = with_pasted(alder_text, "as_made.holes", "42 8.72 7.3\n41 2.72 6.98\n")
    assert made.text == alder_text.replace(
        '    [18, "8.718", "6.672"],\n',
        '    [18, "8.718", "6.672"],\n    [42, "8.72", "7.3"],\n    [41, "2.72", "6.98"],\n',
    )


HELD = TYPED + job_text({"as_made": U | {"holes": [[1, "8.28", "4.02"]]}})


@pytest.mark.parametrize(
    ("path", "pasted", "told"),
    [
        (
            "rows.0.points",
            "1;2\nabc;2\n1;two",
            [(2, "X", "this is not a length"), (3, "Y", "this is not a length")],
        ),
        ("rows.0.points", "1;2;3\n1;2", [(1, "", "this row has 3 cells, more than the list takes")]),
        ("rows.0.points", "1;2\n;2\n3", [(2, "X", "this cell is blank"), (3, "Y", "this cell is blank")]),
        ("rows.0.points", "", [(None, "", "there are no rows of numbers here")]),
        ("rows.0.points", "nothing here\nat all", [(None, "", "there are no rows of numbers here")]),
        ("rows.0.points", "1 2\n" * 10_000, [(None, "", "10000 rows are more than the list has room for")]),
        (
            "rows.0.points",
            "8,283\n8,279",
            [(None, "", "the commas could separate columns, or be decimal marks")],
        ),
        ("rows.0.points", "X cm\n", [(None, "", "there are no rows of numbers here")]),
        ("rows.0.points", "X;Y\ncm;cm\n1;2", [(2, "X", "'cm' is not a unit of length here")]),
        ("rows.0.points", "1 2\n1 20000", [(2, "", "this is longer than any skin")]),
        (
            "as_made.holes",
            "Y X Row\n1 2 3",
            [(1, "", "the headings are in another order than the columns of this list")],
        ),
        ("as_made.holes", "2 1 2\n2 3 4", [(n, "Number", "this number stands in two rows") for n in (1, 2)]),
        ("as_made.holes", "2 1 2\n1 3 4", [(2, "Number", "the list has this number already")]),
        ("as_made.holes", "2;1;2\n2.5;3;4", [(2, "Number", "this is not the number of a hole")]),
        (
            "as_made.holes",
            "2;1;2\n3;1;2;99",
            [(2, "Diameter", "this is more than 36.000 in, which can't be right here")],
        ),
        ("title", "1 2", [(None, "title", "no rows can be pasted here")]),
        ("rows.7.points", "1 2", [(None, "rows.7.points", "no rows can be pasted here")]),
    ],
)
def test_what_can_not_be_read_is_told_by_row_and_column(path, pasted, told):
    assert faults_of(path, pasted, HELD) == told


def test_every_fault_says_what_would_do():
    with pytest.raises(JobError) as caught:
        with_pasted(HELD, "as_made.holes", "2;x;2\n1;3;4;5;6;7\n9.5;1;2\n;1;2")
    assert len(caught.value.faults) == 4
    assert all(remedy_of(fault) for fault in caught.value.faults)


def test_commas_that_could_set_off_thousands_are_asked_about_unless_the_person_says():
    """In millimeters 1,283 could be 1283: a part as long as that may be."""
    text = TYPED.replace('units = "in"', 'units = "mm"')
    assert faults_of("rows.0.points", "1,283;1,020", text)[0][2].startswith("the comma could be")
    made = with_pasted(text, "rows.0.points", "1,283;1,020", replacing=True, commas_are_decimal=True)
    assert standing_at(raw_data(made.text), "rows.0.points") == [["1.283", "1.020"]]


POLAR = TYPED + job_text({"as_made": U | {"polar": [{"holes": []}]}})
ASKED = "the comma could be a thousands or a decimal mark"


@pytest.mark.parametrize(
    ("path", "pasted", "told"),
    [
        ("rows.0.points", "X (mm);Y (mm)\n1,500;2,250", [(2, "X", ASKED), (2, "Y", ASKED)]),
        ("as_made.holes", "1,000;8.28;4.02\n2,000;8.27;4.6", [(n, "Number", ASKED) for n in (1, 2)]),
        (
            "as_made.polar.0.holes",
            "No;Radius (mm);Angle (rad)\n1;82.5;1.5708",
            [(1, "Angle", "'rad' is not a unit of an angle here")],
        ),
        (
            "as_made.polar.0.holes",
            "No;Radius;Angle\n;mm;rad\n1;82.5;1.5708",
            [(2, "Angle", "'rad' is not a unit of an angle here")],
        ),
    ],
)
def test_a_heading_is_heeded_before_a_comma_is_read(path, pasted, told):
    """As "1,500 mm" typed: 1500 mm is a size too, 1500 in is none; a hole may have the number 1000."""
    assert faults_of(path, pasted, POLAR) == told


def test_a_number_that_ends_with_its_mark_has_the_unit_of_its_column():
    made = with_pasted(TYPED, "rows.0.points", "X (mm);Y (mm)\n12.;50.8\n25.4;76.2 mm", replacing=True)
    (first, second) = read_job(made.text).rows[0].points
    assert [at.mm for at in (*first, *second)] == pytest.approx([12.0, 50.8, 25.4, 76.2])


def test_a_number_of_a_hole_with_zeros_is_read_where_commas_are_decimal():
    made = with_pasted(TYPED, "as_made.holes", "1,000;8,28;4,02\n2,000;8,27;4,6")
    assert standing_at(raw_data(made.text), "as_made.holes") == [[1, "8.28", "4.02"], [2, "8.27", "4.6"]]


def test_a_list_says_its_columns_and_what_it_holds():
    place = paste_list(HELD, "as_made.holes")
    assert [(one.label, one.required) for one in place.columns] == [
        ("Number", True),
        ("X", True),
        ("Y", True),
        ("Diameter", False),
        ("u", False),
    ]
    assert (place.held, place.unit) == (1, "in")


def test_a_reading_of_a_hole_that_is_not_there_is_refused_by_its_row(alder_text):
    """ALDER's rivets are numbered to 78, its screws from 101 to 116."""
    text = alder_text[: alder_text.index("[as_made]")]
    with pytest.raises(JobError) as refused:
        with_pasted(text, "as_made.holes", "1\t8.28\t2.02\n999\t8.28\t2.6")
    (fault,) = refused.value.faults
    assert (fault.line, fault.given) == (2, "999")
