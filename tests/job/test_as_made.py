"""The readings of a job: own uncertainties, edges and corners singly, what was found at single holes, and the looks.

The areas of the measured outlines are those of a rectangle less (4 - pi) r^2 / 4 at each corner, and of a rectangle
between two half circles: plane geometry.
"""

from __future__ import annotations

import math
from datetime import date

import numpy as np
import pytest

from hatchwright.errors import JobError
from hatchwright.job.another_job import on_another_aircraft
from hatchwright.job.as_typed import raw_data
from hatchwright.job.file import read_job
from hatchwright.job.other_side import other_side
from hatchwright.page.fill_in import fill_in
from hatchwright.page.paste import with_pasted

MADE = """
date = "2026-03-09"
measured_by = "RB"
sizes = [[21, ".129", ".001"], [22, ".130"]]
heads = [[1, ".190", ".062"], [2, ".185", ".060", ".002"]]
countersinks = [[101, ".330"], [102, "", ".040", ".003"]]
cracked_dimples = [[103, ".06", ".02"]]
strays = [["4.10", "2.20", ".128"], ["5.00", "6.80", "#30", "", "MS20470AD4"]]
"""
LOOKS = """
[[looks]]
date = "2027-03-09"
at = "2140 h"
uncertainty = ".01"
sealant = "sound"
readings = [["gap at corner 2", ".012"]]
cracks = [["A", 12, ".06", ".02"]]
cracks_elsewhere = [["B", "8.01", "2.50", ".12"]]

[[looks]]
date = "2028-02-27"
uncertainty = ".01"
cracks = [["A", 12, ".09"]]
resolved = [["B", "RB", "drawing 12"]]
"""


@pytest.fixture(scope="module")
def read_text(alder_text):
    """The job with readings of every kind."""
    text = alder_text.replace('[1, "8.283", "2.020"]', '[1, "8.283", "2.020", "", ".002"]')
    return text.replace('uncertainty = ".005"\n', f'uncertainty = ".005"\n{MADE}', 1) + LOOKS


def test_each_reading_has_its_own_uncertainty_or_the_common_one(read_text):
    made = read_job(read_text).as_made
    assert [made.u_in(hole) for hole in made.holes[:2]] == [0.002, 0.005]
    assert [(hole.number, made.u_in(hole)) for hole in made.sized_holes] == [(21, 0.001), (22, 0.005)]
    assert [made.u_in(head) for head in made.heads] == [0.005, 0.002]
    assert (made.countersinks[1].diameter, made.countersinks[1].depth.inch) == (None, 0.040)
    assert (made.strays[1].filled, made.u_in(made.strays[1])) == ("MS20470AD4", 0.005)
    assert made.date == date(2026, 3, 9)


def test_a_line_goes_back_as_it_was_typed(read_text):
    dumped = read_job(read_text).as_made.model_dump(mode="json")
    assert dumped["holes"][0] == [1, "8.283", "2.020", "", ".002"]
    assert dumped["holes"][1] == [2, "8.279", "2.641"]
    assert dumped["countersinks"] == [[101, ".330"], [102, "", ".040", ".003"]]
    assert dumped["strays"][1] == ["5.00", "6.80", "#30", "", "MS20470AD4"]


def _made_opening(alder_text, rest):
    return alder_text.partition("[as_made.opening]")[0] + f"[as_made.opening]\n{rest}"


def test_edges_and_corners_singly_make_an_exact_outline(alder_text):
    edges = 'shape = "edges"\nx_from = "3"\nx_to = "8"\ny_from = "2.5"\ny_to = "6.5"\nradius = ".75"\n'
    text = _made_opening(alder_text, f'{edges}radius_2 = ".50"\nradius_4 = "0"\nuncertainty = ".002"\n')
    made = read_job(text).as_made
    loop = made.opening.loop((0.0, 0.0))
    radii = (0.75, 0.50, 0.75, 0.0)
    corners = sum((1.0 - math.pi / 4.0) * radius**2 for radius in radii)
    assert loop.area_sq_in == pytest.approx(5.0 * 4.0 - corners, abs=1e-12)
    assert made.edge_u_in(made.opening) == 0.002
    assert made.edge_u_in(None) == 0.0


@pytest.mark.parametrize(("x_to", "area"), [("8", 4.0 + math.pi), ("5", math.pi * 0.25 + 1.0)])
def test_round_ends_by_their_extremes(alder_text, x_to, area):
    text = _made_opening(
        alder_text, f'shape = "round ends"\nx_from = "4"\nx_to = "{x_to}"\ny_from = "3"\ny_to = "5"\n'
    )
    loop = read_job(text).as_made.opening.loop((0.0, 0.0))
    assert loop.area_sq_in == pytest.approx(area, abs=1e-12)
    assert loop.bounds == pytest.approx((4.0, 3.0, float(x_to), 5.0), abs=1e-12)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("2026-03-09", "9 March", "as_made.date"),
        ("2026-03-09", "2026-02-30", "as_made.date"),
        ('[102, "", ".040", ".003"]', "[102]", "as_made.countersinks.1"),
        ('[103, ".06", ".02"]', '[103, "0"]', "as_made.cracked_dimples.0.length"),
        ('[2, ".185"', '[1, ".185"', "as_made.heads"),
        ("heads = [", 'fitted = [{ holes = [1], rivet = "none" }]\nheads = [', "as_made"),
        ("2028-02-27", "2027-03-09", "looks.1.date"),
        ('["B", "RB", "drawing 12"]', '["B", "RB"]', "looks.1.resolved.0"),
        ('["B", "RB", "drawing 12"]', '["B", "RB", " "]', "looks.1.resolved.0.data"),
        ('["B", "RB", "drawing 12"]', '["B", " ", "drawing 12"]', "looks.1.resolved.0.by"),
        ('["B", "RB", "drawing 12"]', '["C", "RB", "drawing 12"]', "looks.1.resolved.0.mark"),
        ('["B", "RB", "drawing 12"]', '["A", "RB", "drawing 12"]', "looks.1"),
        ('["B", "8.01"', '["A", "8.01"', "looks.0"),
        ('["gap at corner 2", ".012"]', '["gap"]', "looks.0.readings.0"),
        (
            'radius = ".75"\n\n[[looks]]',
            'radius = ".75"\nradius_3 = "3.5"\n\n[[looks]]',
            "as_made.opening.radius_3",
        ),
    ],
)
def test_what_cannot_be_is_named_with_its_field_and_what_would_do(read_text, old, new, field):
    assert old in read_text
    with pytest.raises(JobError) as caught:
        read_job(read_text.replace(old, new, 1))
    (fault,) = caught.value.faults
    assert fault.field == field
    assert fault.remedy


def test_another_place_has_none_of_the_readings(read_text):
    there = read_text.replace('face = "inside"', 'face = "inside"\nmeasured = ".0405"', 1)
    job = read_job(there)
    assert job.doubler.measured.inch == 0.0405
    other = other_side(job)
    assert (other.as_made, other.looks, other.doubler.measured) == (None, (), None)
    new = raw_data(on_another_aircraft(there))
    assert not {"as_made", "looks"} & set(new)
    assert "measured" not in new["doubler"]


def test_a_place_left_out_on_the_page_is_held_by_an_empty_text(read_text):
    filled = fill_in(read_text, {"as_made.holes.1.4": ".002"})
    assert raw_data(filled)["as_made"]["holes"][1] == [2, "8.279", "2.641", "", ".002"]
    sized = fill_in(filled, {"as_made.holes.1.3": ".128"})
    assert fill_in(sized, {"as_made.holes.1.3": ""}) == filled
    assert raw_data(fill_in(filled, {"as_made.holes.1.4": ""}))["as_made"]["holes"][1][3:] in ([], [""])


def test_pasted_rows_may_leave_a_place_out(alder_text):
    pasted = with_pasted(
        alder_text, "as_made.countersinks", "number\tdepth\tdiameter\tu\n101\t.041\t\t.003\n102\t\t.33"
    )
    made = read_job(pasted.text).as_made
    assert [one.as_typed() for one in made.countersinks] == [[101, "", ".041", ".003"], [102, ".33"]]


EDGES = """
[as_made.opening]
shape = "edges"
x_from = "3"
x_to = "8"
y_from = "2.5"
y_to = "6.5"
radius = ".75"
radius_2 = "0"
uncertainty = ".002"
x_to_u = ".004"
radius_3_u = ".006"
"""


def test_each_side_and_corner_of_an_outline_has_its_own_uncertainty(alder_text):
    """On a side that of the side; round a corner, and at a sharp one, the greatest of what meets there."""
    made = read_job(alder_text.partition("[as_made.opening]")[0] + EDGES).as_made
    own, bounds = made.own_edge_u(made.opening), made.opening.loop((0.0, 0.0)).bounds
    on_arc = 0.75 * math.sqrt(0.5)
    points = {
        (3.0, 4.0): 0.002,
        (8.0, 4.0): 0.004,
        (5.0, 6.5): 0.002,
        (8.0, 2.5): 0.004,
        (7.25 + on_arc, 5.75 + on_arc): 0.006,
        (3.75 - on_arc, 5.75 + on_arc): 0.002,
    }
    assert own.at(bounds, np.array(list(points))).tolist() == pytest.approx(list(points.values()))
    assert (own.greatest_in, made.edge_u_in(made.opening)) == (0.006, 0.006)
    assert [own.of_corner(bounds, place) for place in ((7.8, 6.3), (3.2, 2.7))] == [0.006, 0.002]
    assert made.own_edge_u(made.doubler_outer) is None


def test_round_ends_have_their_own_uncertainty_too(alder_text):
    ends = EDGES.replace('"edges"', '"round ends"').replace('radius = ".75"\nradius_2 = "0"\n', "")
    ends = ends.replace('radius_3_u = ".006"\n', "")
    made = read_job(alder_text.partition("[as_made.opening]")[0] + ends).as_made
    own = made.own_edge_u(made.opening)
    assert own.sides_in == (0.002, 0.004, 0.002, 0.002)
