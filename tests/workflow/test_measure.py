"""Entering readings: nothing that was measured before is lost, and nothing that was read."""

from __future__ import annotations

import math
import re

import pytest

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.rules.check import check
from hatchwright.workflow.measure import HowRead, enter, measured

FIVE = HowRead(u=".005")


@pytest.fixture(scope="module")
def drawn_text(alder_text):
    """ALDER before anything of it was measured."""
    return alder_text[: alder_text.index("# What was really made")]


@pytest.fixture(scope="module")
def places(drawn_text):
    """Number of some holes of ALDER to their drawn places [in]."""
    return {hole.number: hole.place for hole in lay_out(read_job(drawn_text)).holes[:18]}


def rows(places, but=(), *, end=""):
    """A row for each place."""
    return "".join(
        f"{number};{x:.3f};{y:.3f}{end}\n" for number, (x, y) in places.items() if number not in but
    )


def made_with(text, table, how=FIVE):
    """The section of what was made of a job with a table in it, and the job's text."""
    changed = measured(text, table, how, folder=None).changed_text
    return standing_at(raw_data(changed), "as_made"), changed


def line_of(made, number, field="holes"):
    return next((line for line in made.get(field, []) if line[0] == number), None)


def status_of(text, code, hole):
    return [one.status for one in check(lay_out(read_job(text))) if one.code == code and hole in one.holes]


def test_a_job_that_changed_meanwhile_is_not_written(tmp_path, alder_text):
    path = tmp_path / "alder.toml"
    path.write_text(alder_text, encoding="utf-8")
    holes = lay_out(read_job(alder_text)).holes
    table = "\n".join(f"{hole.number};{hole.place[0]:.3f};{hole.place[1]:.3f}" for hole in holes)
    found = measured(alder_text, table, HowRead(u=".003"), folder=tmp_path)
    path.write_text(alder_text + "\n# noted by another\n", encoding="utf-8")
    with pytest.raises(JobError, match="changed while"):
        enter(path, found)
    assert path.read_text(encoding="utf-8").endswith("# noted by another\n")


HELD = '\n[as_made]\nuncertainty = ".005"\nholes = [[5, "8.281", "4.502", ".141"{u}]]\n'


@pytest.mark.parametrize(
    ("held_u", "new_u", "hole", "size"),
    [
        ("", ".005", [5, "8.282", "4.503", ".141"], None),
        (', ".0005"', ".005", [5, "8.282", "4.503"], [5, ".141", ".0005"]),
        ("", ".002", [5, "8.282", "4.503", "", ".002"], [5, ".141"]),
    ],
)
def test_a_diameter_stays_with_its_u_where_only_the_place_is_read_again(
    drawn_text, places, held_u, new_u, hole, size
):
    held = drawn_text + HELD.format(u=held_u)
    assert status_of(held, "R404", 5) == ["stop"]
    table = f"{rows(places, [5])}5;8.282;4.503"
    made, changed = made_with(held, table, HowRead(u=new_u))
    assert (line_of(made, 5), line_of(made, 5, "sizes")) == (hole, size)
    assert status_of(changed, "R404", 5) == ["stop"]
    again, _ = made_with(changed, f"{rows(places, [5], end=';')}5;8.282;4.503;.130", HowRead(u=new_u))
    own = [] if new_u == ".005" else [new_u]
    assert line_of(again, 5) == [5, "8.282", "4.503", ".130", *own]
    assert line_of(again, 5, "sizes") is None


@pytest.mark.parametrize("zero_u", ["", ".01"])
def test_a_diameter_that_is_read_again_by_itself_takes_the_place_of_the_held_one(drawn_text, zero_u):
    how, held = HowRead(u=".005", zero_u=zero_u), drawn_text + HELD.format(u=', ".004"')
    made, changed = made_with(held, "diameter;5;.130;.0005", how)
    assert (made["holes"], made["sizes"]) == ([[5, "8.281", "4.502", "", ".004"]], [[5, ".130", ".0005"]])
    read_job(changed)
    with pytest.raises(JobError, match="this was read in row 1 too"):
        made_with(held, "hole;5;8.282;4.503;.129\nhole;4;8.28;3.88\ndiameter;5;.130;.0005", how)


def test_a_size_of_a_countersink_that_was_not_read_again_stays(drawn_text):
    held = drawn_text + '\n[as_made]\nuncertainty = ".005"\ncountersinks = [[101, ".240", ".030", ".004"]]\n'
    made, _ = made_with(held, "countersink;101;;.031;.002", HowRead())
    assert made["countersinks"] == [[101, ".240", ".031", ".004"]]


@pytest.mark.parametrize(
    ("five", "unnumbered", "stray"),
    [
        ("9.400;4.502", "8.281;4.503", ["9.400", "4.502", ".1285"]),
        ("8.280;6.980", "8.281;4.503", ["8.281", "4.503", ".1285"]),
    ],
)
def test_every_reading_of_a_hole_is_in_a_line(drawn_text, places, five, unnumbered, stray):
    """A second hole, with the number of the first; and one that was numbered as another, said to be so."""
    table = f"{rows(places, [5, 9], end=';')}5;{five};.1285\n;{unnumbered};.1285"
    made, _ = made_with(drawn_text, table)
    assert made["strays"] == [stray]
    assert len(made["holes"]) + len(made["strays"]) == len(table.splitlines())


def test_a_hole_that_was_read_twice_is_not_entered_as_a_hole_of_no_row(tmp_path, drawn_text, places):
    """Two rows .0014 apart, each to .005: .0071 together."""
    path = tmp_path / "alder.toml"
    path.write_text(drawn_text, encoding="utf-8")
    table = f"{rows(places, [5], end=';')}5;8.281;4.502;.1285\n;8.282;4.503;.1285"
    found = measured(drawn_text, table, FIVE, folder=None)
    with pytest.raises(JobError, match="read twice or drilled twice"):
        enter(path, found)
    assert path.read_text(encoding="utf-8") == drawn_text
    enter(path, found, as_they_are=True)
    made = standing_at(raw_data(path.read_text(encoding="utf-8")), "as_made")
    assert line_of(made, 5) == [5, "8.281", "4.502", ".1285"]
    assert "strays" not in made
    assert found.count == len(made["holes"]) == len(table.splitlines()) - 1


def test_a_hole_of_no_row_that_is_read_again_is_one_hole_still(drawn_text, places):
    """Held to .005; the first new row is .0014 off it, the second .0108, farther than both are uncertain."""
    strays = 'strays = [["8.500", "6.800", ".1285", "", "MS20470AD4"]]'
    held = drawn_text + f'\n[as_made]\nuncertainty = ".005"\n{strays}\n'
    table = f"{rows(places, end=';')};8.501;6.801;.130\n;8.510;6.804;.129"
    made, changed = made_with(held, table)
    both = [["8.501", "6.801", ".130", "", "MS20470AD4"], ["8.510", "6.804", ".129"]]
    assert made["strays"] == both
    assert made_with(changed, table)[0]["strays"] == both
    again, _ = made_with(changed, "stray;8.502;6.800;.131;.002", HowRead())
    assert again["strays"] == [["8.502", "6.800", ".131", ".002", "MS20470AD4"], both[1]]


def test_an_uncertainty_is_in_the_unit_of_the_readings(drawn_text, places):
    """A metric job measured in inches: .005 in is .127 mm."""
    metric = re.sub(r'"(-?[\d./ ]*\d)"', r'"\1 in"', drawn_text.replace('units = "in"', 'units = "mm"'))
    metric = metric.replace('serial = "0001 in"', 'serial = "0001"')
    how = HowRead(u=".005", unit="in", zero_u=".01")
    found = measured(metric, rows(places), how, folder=None)
    assert {one.u_in for one in found.fit.readings} == {0.005}
    assert found.fit.fit.common.place_in == pytest.approx(0.005)
    _, changed = made_with(metric, rows(places), HowRead(u=".005", unit="in"))
    assert read_job(changed).as_made.uncertainty.mm == pytest.approx(0.127)
    _, changed = made_with(metric, "thickness;skin;.0315", HowRead(u=".0005", unit="in"))
    assert read_job(changed).skin.measured_u.mm == pytest.approx(0.0127)


def test_a_place_is_entered_as_uncertain_as_its_zero_makes_it(drawn_text, places):
    """Their squares add, as in a triangle of 3, 4 and 5; a diameter and a radius have no zero."""
    edges = ("x_from;2.99", "x_to;8.01", "y_from;2.49", "y_to;6.51;.008")
    table = "".join(f"hole;{row}\n" for row in rows(places, [5], end=";.1285").splitlines())
    table += "hole;5;8.281;4.502;.1285;.008\ncorner;opening;all;.75\nstray;9.4;4.5;.1285\n"
    table += "\n".join(f"edge;opening;{edge}" for edge in edges)
    made, changed = made_with(drawn_text, table, HowRead(u=".003", zero_u=".004"))
    rss = f"{math.hypot(0.008, 0.004) + 0.00005:.4f}".lstrip("0")
    assert made["uncertainty"] == ".003"
    assert {tuple(line[3:]) for line in made["holes"] if line[0] != 5} == {("", ".0050")}
    assert line_of(made, 5)[4] == rss
    assert {tuple(line[1:]) for line in made["sizes"]} == {(".1285",), (".1285", ".008")}
    assert made["strays"] == [["9.4", "4.5", ".1285", ".0050"]]
    assert {name: made["opening"][name] for name in made["opening"] if name.endswith("_u")} == {
        "x_from_u": ".0050",
        "x_to_u": ".0050",
        "y_from_u": ".0050",
        "y_to_u": rss,
    }
    assert lay_out(read_job(changed)).holes[0].size_uncertainty_in == 0.003
