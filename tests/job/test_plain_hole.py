"""The entries of a plain hole, and what cannot be together with one."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from hatchwright.page.fill_in import fill_in, without_part
from hatchwright.workflow.new_job import Start, starting_text

HOLE = starting_text(Start("plain-hole"))
COVER = """
[cover]
alloy = "2024"
temper = "T3"
thickness = ".032"
fit = "lapped"
lap = ".5"
"""
MOUNT = """
[mount]
kind = "other"
base = ["3", "3"]
"""


def faults(text: str) -> dict[str, str]:
    with pytest.raises(JobError) as refused:
        read_job(text)
    return {fault.field: str(fault) for fault in refused.value.faults}


def test_it_is_read_with_its_edge_and_wire():
    hole = read_job(HOLE).plain_hole
    assert (hole.edge, hole.wires, hole.wire_distance) == ("grommet", True, None)


def test_a_job_without_one_has_none():
    assert read_job(starting_text(Start("lapped-cover"))).plain_hole is None


@pytest.mark.parametrize(("other", "section"), [("cover", COVER), ("mount", MOUNT)])
def test_it_has_no_cover_and_nothing_is_mounted_over_it(other, section):
    assert "Take out the" in faults(HOLE + section)[other]


def test_it_is_not_patched():
    patched = starting_text(Start("flush-patch")) + '[plain_hole]\nedge = "bare"\n'
    assert "not patched" in faults(patched)["patch"]


def test_a_ring_is_a_doubler():
    ring = HOLE.replace('edge = "grommet"', 'edge = "ring"')
    assert read_job(ring).plain_hole.edge == "ring"
    alone = without_part(without_part(without_part(ring, "rows.1"), "rows.0"), "doubler")
    assert "no doubler" in faults(alone)["plain_hole.edge"]
    assert read_job(alone.replace('edge = "ring"', 'edge = "bare"')).plain_hole.edge == "bare"


def test_a_distance_of_no_wire_is_refused():
    text = fill_in(HOLE, {"plain_hole.wires": "no", "plain_hole.wire_distance": ".5"})
    assert "no wire goes through" in faults(text)["plain_hole.wire_distance"]


def test_an_edge_that_there_is_not_is_named_with_those_there_are():
    told = faults(HOLE.replace('edge = "grommet"', 'edge = "lace"'))["plain_hole.edge"]
    assert all(edge in told for edge in ("grommet", "ring", "bare"))
