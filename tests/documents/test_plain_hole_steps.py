"""The step of the work card for the edge of a plain hole.

Supports 24 in apart at most, a wire 3/8 in from the edge: [AC43.13-1B], par. 11-96a and 11-115.
"""

from __future__ import annotations

import pytest

from hatchwright.documents.work_card import work_card
from hatchwright.layout.lay_out import lay_out
from hatchwright.verdict import StrengthState, judge_all
from rules.cases import PLAIN, RING, changed, job_of
from tests.told import named

CLEAR = judge_all((), side="left", strength=StrengthState.NOT_ASKED)


def steps(sections, edge, **more):
    layout = lay_out(job_of(changed(sections, {"plain_hole": {"edge": edge, **more}})))
    told = named(work_card(layout, None, (), verdict=CLEAR, not_checked=(), date="")).steps
    return {one.title: one for one in told}


def test_the_groove_takes_the_skin_that_shows():
    """The skin is .032."""
    found = steps(PLAIN, "grommet", wires=True)["Fit the grommet"]
    assert found.lines[0] == "Groove to suit the skin, .032 in."
    assert "Supports 2 ft apart at most." in found.lines[-1]
    assert "AC43.13-1B, par. 11-96a, page 11-43: published" in found.rests_on


def test_a_ring_with_a_window_of_its_own_leaves_the_groove_to_be_measured():
    told = steps(changed(RING, {"doubler.inner": {"shape": "circle", "diameter": "2"}}), "grommet")
    assert "measure it" in told["Fit the grommet"].lines[0]


def test_wires_without_a_grommet_are_tied_clear_and_measured():
    found = steps(PLAIN, "bare", wires=True, wire_distance=".5")["Tie the wires clear of the edge"]
    assert found.lines[0] == "No grommet: tie them .375 in or more from the edge."
    assert found.blanks == ("wire to edge, measured",)


@pytest.mark.parametrize("edge", ["bare", "ring"])
def test_without_wires_and_grommet_there_is_no_step(edge):
    told = steps(RING, edge, wires=False)
    assert not {"Fit the grommet", "Tie the wires clear of the edge"} & told.keys()


def test_it_comes_after_the_rivets_and_before_closing():
    titles = list(steps(RING, "grommet", wires=True))
    assert titles.index("Fit the grommet") == len(titles) - 2
