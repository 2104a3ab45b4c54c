"""Tables of drilled holes: read whatever way they are written, or refused by row and column."""

from __future__ import annotations

import math

import pytest

from hatchwright.errors import JobError
from hatchwright.inspection.readings import JOB_FRAME, ReadingFrame, read_readings
from hatchwright.words.tell import tell
from tests.told import remedy_of, what_of

KNOWN = range(1, 200)


def read(text, *, unit="in", job_unit="in", frame=JOB_FRAME, **how):
    return read_readings(
        text, unit=unit, job_unit=job_unit, u_in=0.005, known=KNOWN, center_in=(5.0, 4.0), frame=frame, **how
    )


def told(text, **how):
    return [(one.number, one.x_in, one.y_in, one.diameter_in, one.u_in) for one in read(text, **how).all]


WANTED = [(12, 8.25, 2.125, 0.129, 0.002), (13, -1.5, 4.0, None, 0.005)]


@pytest.mark.parametrize(
    "text",
    [
        "No;X;Y;Dia;u\n12;8.25;2.125;.129;.002\n13;-1.5;4",
        "No\tX\tY\tDia\tu\n\tin\tin\tin\tin\n12\t8.25\t2.125\t.129\t.002\n13\t-1.5\t4.0\n",
        "12, 8.25, 2.125, .129, .002\n13, -1.5, 4.0",
        "12 8.25 2.125 .129 .002\n13 -1.5 4.0",
        "12;8,25;2,125;,129;,002\n13;-1,5;4,0",
        'Hole;Y;X;u;Dia\n12;2.125";8.25";.002";#30\n13;4;-1.5;;'.replace("#30", ".129"),
        "No;X [mm];Y [mm];Dia [mm];u [mm]\n12;209.55;53.975;3.2766;0.0508\n13;-38.1;101.6;;",
    ],
)
def test_one_set_in_every_form(text):
    """An inch is 25.4 mm."""
    found = told(text)
    for one, wanted in zip(found, WANTED, strict=True):
        assert one == pytest.approx(wanted, abs=1e-9)


def test_numbers_may_be_left_out_or_blank():
    assert [one[0] for one in told("X;Y\n1.5;2\n2.5;3")] == [None, None]
    assert [one[0] for one in told("1.5 2.25\n2.5 3")] == [None, None]
    assert [one[0] for one in told("No;X;Y\n1;1.5;2\n;2.5;3")] == [1, None]


def test_radius_and_angle_are_about_the_center():
    (found,) = told("No;Radius;Angle\n7;2;30°")
    assert found[1:3] == pytest.approx((5.0 + 2.0 * math.cos(math.pi / 6), 4.0 + 1.0))


def test_another_frame():
    """Zero at (10, 1), X toward the job's Y, Y flipped: (3, 2) is 3 up and 2 right of it, by hand."""
    frame = ReadingFrame((10.0, 1.0), 90.0, flipped=True)
    (found,) = told("No;X;Y\n7;3;2", frame=frame)
    assert found[1:3] == pytest.approx((12.0, 4.0))
    assert read("No;X;Y\n7;3;2", frame=frame).all[0].typed == ()


def test_lengths_in_another_unit_than_the_jobs_bear_it():
    (found,) = read("No;X;Y;Dia\n7;209.55;53.975;#30", unit="mm").all
    assert (found.typed, found.diameter) == (("209.55 mm", "53.975 mm"), "#30")


def test_what_the_table_does_not_say_is_told():
    notes = [tell(note) for note in read("12 8.25 2.125\n13 1 2").notes]
    assert notes == [
        "The first column was read as hole numbers.",
        "No unit in the table: lengths were read in inches.",
    ]
    assert read("No;X [in];Y [in]\n12;8.25;2.125").notes[1:] == ()


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("No;X;Y\n1;2;3\n2;3;4\n1;5;6", [(4, "Number", "this number stands in row 2 too")]),
        ("No;X;Y\n1;2;3\n777;3;4", [(3, "Number", "the job has no hole of this number")]),
        ("No;X;Y\n1;2;3\n2;three;4", [(3, "X", "this is not a length")]),
        ("No;X;Y\n1;2;3\n2;3;", [(3, "Y", "this cell is blank")]),
        ("No;X;Y;Dia;u\n1;2;3;.1;3", [(2, "u", "no reading is this uncertain")]),
        ("No;X [cm];Y [cm]\n1;2;3", [(1, "X", "'cm' is not a unit of length here")] * 1),
        ("No;X;Y\n1;2;3\n2;3 " + " " * 60_000 + "°;4", [(3, "", "a cell is longer than any number")]),
        ("nothing", [(None, "", "there are no rows of numbers here")]),
        ("", [(None, "", "there are no rows of numbers here")]),
    ],
)
def test_what_can_not_be_read_is_told_by_row_and_column(text, wanted):
    with pytest.raises(JobError) as caught:
        read(text)
    found = [(fault.line, fault.field, what_of(fault)) for fault in caught.value.faults]
    assert found[: len(wanted)] == wanted
    assert all(remedy_of(fault) for fault in caught.value.faults)


def test_a_million_rows_are_refused_by_their_number():
    with pytest.raises(JobError) as caught:
        read("1;2;3\n" * 1_000_000)
    assert "1000000 rows" in str(caught.value.faults[0])
