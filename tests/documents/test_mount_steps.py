"""Steps of the work card for a mounted part and its bracket; figures are those of the published examples."""

from __future__ import annotations

import pytest

from hatchwright.documents.work_card import work_card
from hatchwright.job.mount import Mount
from hatchwright.layout.lay_out import lay_out
from hatchwright.verdict import StrengthState, judge_all
from tests.told import named

CLEAR = judge_all((), side="left", strength=StrengthState.NOT_ASKED)

ANTENNA = {"kind": "antenna", "base": ["5", "2.2"]}
LOADED = {"weight": "7", "where": "outside", "category": "utility", "frontal_area": ".135", "speed": "250"}
CHANNEL = {"alloy": "2024", "temper": "T3", "thickness": ".040", "radius": ".16", "legs": ["1", "2", "1"]}


@pytest.fixture
def layout_with(dogwood):
    return lambda **more: lay_out(
        dogwood.model_copy(update={"mount": Mount.model_validate({**ANTENNA, **more})})
    )


def steps(layout):
    return named(work_card(layout, None, (), verdict=CLEAR, not_checked=(), date="")).steps


def step(layout, title):
    (found,) = [one for one in steps(layout) if one.title == title]
    return found


def test_each_load_is_told_with_its_factor_and_where_that_stands(layout_with):
    found = step(layout_with(**LOADED), "Prove the mount")
    assert found.lines[0] == "Down 46.2 lbf: factor 6.6 x weight 7 lb."
    assert (
        found.lines[4] == "Aft 4.2 lbf: D = 0.000327 A V^2, A 0.135 ft^2, V 250 mph; 1.5 D at ultimate load."
    )
    assert "AC43.13-2A, ch. 1, static loads: from memory, unverified" in found.rests_on
    assert "14CFR23, 23.2230" in found.rests_on
    assert found.blanks == (
        "held down (46.2 lbf)",
        "held up (21 lbf)",
        "held forward (63 lbf)",
        "held side (10.5 lbf)",
        "held aft (4.2 lbf)",
    )


def test_the_bracket_is_laid_out_flat_by_both_documents(layout_with):
    """Setback .200, flats .8, 1.6 and .8; 3.754 by .0173 and 3.758 by .01743."""
    found = step(layout_with(bracket=CHANNEL), "Form the mount bracket")
    said = " ".join(found.lines)
    assert "Setback .200 in, K (R + T)." in said
    assert "AC43.13-1B, table 4-7, page 4-15: published" in found.rests_on
    assert "Flats between tangent lines: .800 in + bend + 1.600 in + bend + .800 in." in said
    assert "(0.0173 R + 0.0078 T) N: blank 3.7544 in wide." in said
    assert "NAVEDTRA-14018, ch. 13: published" in found.rests_on
    assert "(0.01743 R + 0.0078 T) N: blank 3.758 in wide." in said
    assert "FAA-H-8083-31, ch. 4: seen only restated" in found.rests_on
    assert found.blanks[1] == "leg to the mold lines (2.000 in)"


def test_a_card_has_both_steps_in_their_place(layout_with):
    titles = [one.title for one in steps(layout_with(**LOADED, bracket=CHANNEL))]
    assert titles.index("Form the mount bracket") < titles.index("Protect and contain")
    assert titles.index("Prove the mount") == len(titles) - 2


def test_what_the_mount_must_hold_is_asked_for_where_it_is_not_entered(layout_with, dogwood):
    found = step(layout_with(), "Prove the mount")
    assert found.lines[0].startswith("NOT SHOWN: what it must hold.")
    assert not any("bracket" in one.title for one in steps(layout_with()))
    assert not any("mount" in one.title for one in steps(lay_out(dogwood)))
