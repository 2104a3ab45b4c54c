"""Steps of the work card for a mounted part and its bracket; figures are those of the published examples."""

from __future__ import annotations

import pytest

from hatchwright.job.bay import KeepOut
from hatchwright.job.mount import Mount
from hatchwright.layout.lay_out import lay_out
from hatchwright.rules.mount_loads import mount_findings
from hatchwright.words.tell import tell
from tests.cards import long_steps

ANTENNA = {"kind": "antenna", "base": ["5", "2.2"]}
LOADED = {"weight": "7", "where": "outside", "category": "utility", "frontal_area": ".135", "speed": "250"}
CHANNEL = {"alloy": "2024", "temper": "T3", "thickness": ".040", "radius": ".16", "legs": ["1", "2", "1"]}


@pytest.fixture
def layout_with(dogwood):
    return lambda **more: lay_out(
        dogwood.model_copy(update={"mount": Mount.model_validate({**ANTENNA, **more})})
    )


def steps(layout):
    return long_steps(layout)


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


SCREWED = {"screw_size": "8-32", "screw_pattern": ["4.3", "1.5"]}


def test_the_base_is_the_guide_of_its_own_holes(layout_with):
    """Close clearance drill of a No. 8 screw: #18, .1695."""
    found = step(layout_with(**SCREWED), "Drill the base screw holes")
    assert "4 holes for 8-32 screws, spaced 4.300 in x 1.500 in." in found.lines
    assert "Drill #18 .1695." in found.lines
    assert "Temporary fasteners: 2 x .156 in, black." in found.lines


def test_the_marks_that_the_base_is_set_on_are_made_first(layout_with):
    """Half of 4.3 and of 1.5 about the middle of the opening; without a pattern its center lines show."""
    layout = layout_with(**SCREWED)
    mark, guide = step(layout, "Drill the base screw holes").lines[:2]
    assert mark.startswith("Mark its screw holes on the skin from both datums: ")
    assert layout.center_in == (0.0, 0.0)
    for place in ("X 2.150 Y .750", "X 2.150 Y -.750", "X -2.150 Y -.750", "X -2.150 Y .750"):
        assert f"{place} in" in mark
    assert guide.startswith("Set the base on these marks")
    assert step(layout_with(), "Drill the base screw holes").lines[0].startswith("Mark the center lines")


def test_a_load_under_a_pound_reads_as_its_rule_tells_it(layout_with):
    """1.5 x .5 lb to the side, 14 CFR 23.561 as amended before 23-36."""
    layout = layout_with(weight="0.5", where="outside", category="normal")
    (rule,) = [one for one in mount_findings(layout) if one.code == "R924"]
    assert "0.75 lbf" in tell(rule.subject)
    assert "held side (0.75 lbf)" in step(layout, "Prove the mount").blanks


def test_no_pattern_and_no_listed_drill_are_told_as_not_known(layout_with):
    told = " ".join(step(layout_with(), "Drill the base screw holes").lines)
    assert "NOT KNOWN: size and pattern of the screws" in told
    assert "#" not in told
    told = " ".join(
        step(layout_with(screw_size="7-30", screw_pattern=["4.3", "1.5"]), "Drill the base screw holes").lines
    )
    assert "Drill NOT KNOWN for 7-30 screws" in told


@pytest.mark.parametrize(
    ("bonded", "sealed", "bond", "seal"),
    [
        (True, True, "bare metal under the contact area", "Seal all around the base"),
        (False, False, "leave the primer under the base", "No sealant under the base"),
        (None, None, "NOT KNOWN whether it needs", "NOT KNOWN whether it is sealed"),
    ],
)
def test_bond_and_seal_are_told_as_entered(layout_with, bonded, sealed, bond, seal):
    found = step(layout_with(**SCREWED, bonded=bonded, sealed=sealed), "Mount the part")
    assert bond in found.lines[1]
    assert seal in found.lines[-1]  # the bond is measured before it is sealed
    assert ("bond measured, milliohms" in found.blanks) is (bonded is True)


def test_the_part_is_fitted_before_it_is_proved(layout_with):
    titles = [one.title for one in steps(layout_with(**SCREWED))]
    assert (
        titles.index("Drill the base screw holes")
        < titles.index("Mount the part")
        < titles.index("Prove the mount")
    )


@pytest.mark.parametrize(
    ("kind", "told"),
    [("antenna", "drip loop"), ("camera", "through the lens"), ("other", "what belongs to it")],
)
def test_what_goes_through_the_hole_is_told_by_its_kind(layout_with, kind, told):
    assert told in step(layout_with(**SCREWED, kind=kind), "Mount the part").lines[0]


def test_a_screw_of_the_base_is_referred_to_its_own_rule(dogwood):
    behind = {"name": "bundle", "x_from": "0", "x_to": "20", "y_from": "0", "y_to": "20", "depth": "2"}
    bay = dogwood.bay.model_copy(update={"keep_outs": (KeepOut.model_validate(behind),)})
    mount = Mount.model_validate({**ANTENNA, **SCREWED})
    found = step(lay_out(dogwood.model_copy(update={"mount": mount, "bay": bay})), "Mount the part")
    assert any("the reach of the screw isn't entered (R707)" in one for one in found.lines)
