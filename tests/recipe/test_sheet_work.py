"""The work on each sheet of a hole, in the order of the work.

Drill undersize, dimple, then open: [REPAIR-1940S] par. 10; No. 32, dimpled, gives No. 30: [BUILDER-FORUMS], seen only
restated; upper sheet dimpled, lower sheet dimpled or countersunk: [NAVEDTRA-14018] flush riveting; thinnest countersunk
sheet for 1/8 .050: [TM-9-2320-363-34-2] table 4; sheet to .040 dimples well: [AC65-15A] ch. 5.
"""

from __future__ import annotations

import pytest

from hatchwright.layout.lay_out import lay_out
from hatchwright.recipe.sheet_work import hole_work, lacks_of
from hatchwright.words.tell import tell
from rules.cases import FLUSH, LAPPED, RING, changed, job_of


def work(**row):
    """The work on the two sheets, .032 skin and .040 doubler, of a row of flush 1/8 rivets."""
    layout = lay_out(
        job_of(RING, **{f"rows__0__{key}": value for key, value in {"rivet": "MS20426AD4", **row}.items()})
    )
    return hole_work(layout.holes[0], layout)


def told(layer):
    return [f"{step.operation} {step.drill or ''}".strip() for step in layer.steps]


def test_a_dimpled_sheet_is_drilled_small_then_dimpled_and_opened_last():
    for layer in work(preparation="dimple", rivet="MS20426AD3"):
        assert (layer.preparation, tell(layer.why)) == ("dimple", "as entered")
        assert told(layer) == ["pilot #42", "dimple", "final #40"]
        assert str(layer.before_dimple) == "#42"
    for layer in work(preparation="dimple"):
        assert told(layer) == ["pilot #32", "dimple", "ream #30"]
        assert layer.steps[1].note == "opens the hole to No. 30"


def test_a_countersink_goes_into_the_finished_hole():
    for layer in work(preparation="countersink"):
        assert told(layer) == ["pilot #40", "final #30", "countersink"]
        assert layer.before_dimple is None
        assert tell(layer.why) == "as entered, but thin for it, R408"


@pytest.mark.parametrize(
    ("doubler", "preparation", "why"),
    [
        (".040", "dimple", "as entered"),
        (".0401", "dimple", "as entered, but thick for it, R409"),
        (".050", "countersink", "as entered"),
        (".0499", "countersink", "as entered, but thin for it, R408"),
    ],
)
def test_what_is_entered_is_kept_and_its_doubt_is_said(doubler, preparation, why):
    entered = {"rows__0__rivet": "MS20426AD4", "rows__0__preparation": preparation}
    layout = lay_out(job_of(RING, **entered, doubler__thickness=doubler))
    layer = hole_work(layout.holes[0], layout)[1]
    assert (layer.preparation, tell(layer.why)) == (preparation, why)


def test_over_a_countersink_only_the_outer_sheet_is_dimpled_and_both_begin_with_one_drill():
    skin, doubler = work(preparation="dimple over countersink")
    assert (skin.part, told(skin)) == ("skin", ["pilot #40", "open #32", "dimple", "ream #30"])
    assert (doubler.part, told(doubler)) == ("doubler", ["pilot #40", "final #30", "countersink"])


@pytest.mark.parametrize(
    ("doubler", "how"), [(".040", "dimple"), (".0401", ""), (".0499", ""), (".050", "countersink")]
)
def test_nothing_entered_goes_by_thickness_and_says_so(doubler, how):
    layout = lay_out(job_of(RING, rows__0__rivet="MS20426AD4", doubler__thickness=doubler))
    layer = hole_work(layout.holes[0], layout)[1]
    assert layer.preparation == how
    assert tell(layer.why).startswith("not entered; by thickness: ")
    assert bool(layer.lacks) is (not how)


def test_a_protruding_head_needs_no_preparation_whatever_is_entered():
    for layer in work(rivet="MS20470AD4", preparation="dimple"):
        assert (layer.preparation, told(layer)) == ("plain", ["pilot #40", "final #30"])


def test_drills_that_are_entered_take_the_place_of_the_listed_ones():
    for layer in work(preparation="dimple", pilot="#33", final=".129"):
        assert told(layer) == ["pilot #33", "dimple", "final .1290 in"]
    for layer in work(preparation="countersink", pilot="3/32", final="#30"):
        assert told(layer) == ["pilot 3/32", "final #30", "countersink"]


def test_a_trial_gives_what_no_table_lists_and_is_then_entered():
    untried = work(preparation="dimple", rivet="MS20426AD6")
    assert [told(layer) for layer in untried] == [["pilot #40", "open", "dimple", "final #11"]] * 2
    (lack,) = lacks_of(untried)
    assert tell(lack).startswith("skin + doubler: ")
    assert lacks_of(work(preparation="dimple", rivet="MS20426AD6", pilot="5/32")) == ()


def screw_work(job, **screws):
    layout = lay_out(job_of(job, **{f"cover__screws__{key}": value for key, value in screws.items()}))
    return hole_work(layout.holes_of("screw")[0], layout)


def test_screws_follow_the_same_order_and_their_hole_before_a_dimple_comes_from_a_trial():
    cover, doubler = screw_work(FLUSH)
    assert [layer.part for layer in (cover, doubler)] == ["cover", "doubler"]
    assert told(cover) == ["pilot #40", "open", "dimple", "final #10"]
    assert cover.before_dimple is None
    assert tell(lacks_of((cover, doubler))[0]).startswith("cover + doubler: Hole before dimpling: not known")
    tried = screw_work(FLUSH, pilot="#19")
    assert told(tried[0]) == ["pilot #19", "dimple", "final #10"]
    assert lacks_of(tried) == ()
    assert told(screw_work(FLUSH, preparation="countersink")[0]) == ["pilot #40", "final #10", "countersink"]


def test_a_flush_screw_without_preparation_is_asked_about_and_a_pan_head_is_not():
    unsaid = screw_work(changed(FLUSH, {"cover.screws.preparation": None}))
    (lack,) = lacks_of(unsaid)
    assert "Enter how their holes are prepared" in tell(lack)
    assert [told(layer) for layer in unsaid] == [["pilot #40", "final"]] * 2
    for layer in screw_work(LAPPED):
        assert (layer.preparation, told(layer), layer.lacks) == ("plain", ["pilot #40", "final #18"], ())


def test_metric_screws_take_metric_drills_and_what_is_entered_in_millimeters_keeps_its_name():
    """4.3 mm: [ISO-273] fine series, seen only restated; 2.5 mm for No. 40: common practice, no source."""
    for layer in screw_work(LAPPED, size="M4"):
        assert told(layer) == ["pilot 2.5 mm", "final 4.3 mm"]
    for layer in screw_work(FLUSH, size="M4", pilot="4 mm", final="4.5 mm"):
        assert told(layer) == ["pilot 4.0 mm", "dimple", "final 4.5 mm"]
