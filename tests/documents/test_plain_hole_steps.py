"""The step of the work card for the edge of a plain hole.

Supports 24 in apart at most, a wire 3/8 in from the edge: [AC43.13-1B], par. 11-96a and 11-115.
"""

from __future__ import annotations

import pytest

from hatchwright.layout.lay_out import lay_out
from rules.cases import PLAIN, RING, changed, job_of
from tests.cards import long_steps


def steps(sections, edge, **more):
    layout = lay_out(job_of(changed(sections, {"plain_hole": {"edge": edge, **more}})))
    return {one.title: one for one in long_steps(layout)}


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


def test_without_a_cutter_the_pilot_has_its_stop_and_metal_is_left_to_file():
    """The skin is .032, and a drill comes out .125; the opening is 4 x 4."""
    told = steps(PLAIN, "bare")
    assert "Drill stop .157 in, from the face drilled." in told["Drill the starter"].lines
    assert "size the starter to your tool" in told["Drill the starter"].lines[0]
    cut = told["Cut to the rough line, remove the cutout and keep it"].lines[0]
    assert cut.endswith("cut inside its line and leave metal to file.")
    assert "Rough cut" not in cut


def test_a_tool_that_was_not_measured_is_not_let_in_front_of_something():
    line = {"name": "fuel line", "x_from": "0", "x_to": "0", "depth": ".3"}
    told = steps(changed(PLAIN, {"bay.keep_outs": [line]}), "bare")
    cut = told["Cut to the rough line, remove the cutout and keep it"].lines
    assert any("reach of the cutting tool isn't entered (R708)" in one for one in cut)
    pilot = " ".join(told["Drill the starter"].lines)
    assert "Behind: fuel line, .300 in below the outer face. Never set it past .175 in." in pilot


def test_the_bar_is_referred_to_the_rule_that_judges_it():
    cable = {"name": "cable", "x_from": "2.3", "x_to": "2.3", "depth": "2"}
    told = " ".join(steps(changed(PLAIN, {"bay.keep_outs": [cable]}), "bare")["Rivet"].lines)
    assert "the reach of the bucking bar isn't entered (R706)" in told


@pytest.mark.parametrize(
    ("opening", "told"),
    [
        ({"shape": "circle", "diameter": "1.5"}, "diameter, two ways (1.500 in)"),
        ({"shape": "obround", "length": "3", "width": "2"}, "each end R (1.0000 in)"),
    ],
)
def test_a_round_opening_is_measured_across(opening, told):
    job = changed(PLAIN, {"opening": {"center": ["0", "0"], **opening}})
    assert steps(job, "bare")["Measure the opening"].blanks[-1] == told


def test_a_circle_is_told_by_its_diameter():
    opening = {"shape": "circle", "diameter": "1.5", "center": ["0", "0"]}
    doubler = {"doubler.outer": {"shape": "circle", "diameter": "6"}}
    found = steps(changed(RING, {"opening": opening, **doubler}), "bare")
    assert "File to diameter 1.500 in, no farther." in found["File to the line and deburr"].lines
    assert "outer diameter 6.000 in; inner diameter 1.500 in." in found["Make the doubler"].lines[0]
    cut = found["Cut to the rough line, remove the cutout and keep it"]
    assert "Finished opening diameter 1.500 in:" in " ".join(cut.lines)
    square = " ".join(steps(PLAIN, "bare")["File to the line and deburr"].lines)
    assert "File to 4.000 x 4.000 in, no farther. Smallest corner: R 1.0000 in." in square
