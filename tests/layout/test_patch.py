"""A flush patch laid out: its parts, what each rivet goes through, and a doubler that is split.

Figures are worked by hand from the entries of the job.
"""

from __future__ import annotations

import math

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.mass import sheet_masses
from hatchwright.layout.survey import survey
from hatchwright.layout.unlisted import unlisted_names
from hatchwright.strength.doubler_section import doubler_section
from hatchwright.strength.site import site_of
from job_text import job_text
from tests.rules.cases import PATCH, changed, rivets

SPLIT = {"patch.split": {"along": "y", "at": ".5", "gap": "1"}}


def laid(changes=None):
    return lay_out(read_job(job_text(changed(PATCH, changes or {}))))


def test_the_doubler_is_solid_and_the_plug_lies_in_the_cut_out():
    """A cut-out of 4 x 4, R 1, less 1/32 all round."""
    layout = laid()
    assert [(part.name, [edge.name for edge in part.edges]) for part in layout.parts] == [
        ("skin", ["opening edge"]),
        ("doubler", ["doubler outer edge"]),
        ("plug", ["plug edge"]),
    ]
    plug = layout.part("plug")
    assert plug.edges[0].loop.bounds == pytest.approx((-1.96875, -1.96875, 1.96875, 1.96875))
    assert plug.edges[0].corner.radius_in == pytest.approx(1 - 0.03125)


def test_rivets_in_the_cut_out_hold_the_plug_and_all_others_the_skin():
    layout = laid({"rows": [rivets((2.3, 0), (1.6, 0), (2.01, 0), (1.99, 0), name="across")]})
    assert [hole.stack for hole in layout.holes] == [
        ("skin", "doubler"),
        ("plug", "doubler"),
        ("skin", "doubler"),
        ("plug", "doubler"),
    ]


def test_a_row_runs_round_inside_the_edge_of_the_plug():
    row = {"name": "plug", "lay": "offset", "rivet": "MS20470AD4", "edge": "plug", "distance": ".25"}
    layout = laid({"rows.1": {**row, "pitch": ".5"}})
    held = [hole for hole in layout.holes if hole.row == "plug"]
    assert {hole.stack for hole in held} == {("plug", "doubler")}
    assert max(hole.x_in for hole in held) == pytest.approx(1.96875 - 0.25)


def test_the_plug_weighs_what_its_sheet_weighs():
    """Corners of R r take (4 - pi) r^2 off a square; the skin loses the whole cut-out."""
    masses = {mass.name: mass for mass in sheet_masses(laid())}
    plug_in2 = 3.9375**2 - (4 - math.pi) * 0.96875**2
    cut_in2 = 4.0**2 - (4 - math.pi) * 1.0
    doubler_in2 = 6.0**2 - (4 - math.pi) * 1.0
    skin = next(mass for name, mass in masses.items() if name not in ("doubler", "plug"))
    assert masses["plug"].mass_lb / -skin.mass_lb == pytest.approx(plug_in2 / cut_in2)
    assert masses["doubler"].mass_lb / -skin.mass_lb == pytest.approx(0.040 * doubler_in2 / (0.032 * cut_in2))


def test_a_plug_of_a_sheet_that_no_table_lists_is_named_by_its_entry():
    job = read_job(job_text(changed(PATCH, {"patch.plug.alloy": "2099"})))
    assert [name.entry for name in unlisted_names(job)] == ["patch.plug.alloy"]


def test_a_gap_that_leaves_no_plug_is_refused_by_its_entry():
    with pytest.raises(JobError) as refused:
        laid({"patch.plug.gap": "2.1"})
    assert [fault.field for fault in refused.value.faults] == ["patch.plug.gap"]


@pytest.mark.parametrize(("axis", "width_in"), [(0, 6.0), (1, 6.0)])
def test_a_solid_doubler_carries_with_its_whole_width(axis, width_in):
    section = doubler_section(site_of(laid()), axis)
    assert section.width_in == pytest.approx(width_in)


@pytest.mark.parametrize(("axis", "width_in"), [(0, 0.0), (1, 5.0)])
def test_a_split_doubler_carries_nothing_across_its_split(axis, width_in):
    """A strip 1 wide along Y: a load along X finds no metal there, one along Y what the strip leaves of 6."""
    assert doubler_section(site_of(laid(SPLIT)), axis).width_in == pytest.approx(width_in)


def test_a_rivet_beside_the_split_is_measured_to_its_side():
    found = survey(laid({**SPLIT, "rows": [rivets((1.25, 0), name="plug")]}))
    distance_in = {row.edge.name: float(row.distance_in[0]) for row in found.edges}
    assert distance_in["doubler split edge"] == pytest.approx(0.25)
