"""Parts, holes and nutplates on the work card, in the order of the work.

Drill undersize, dimple, then open: [REPAIR-1940S] par. 10; No. 32, dimpled, gives No. 30: [BUILDER-FORUMS], seen only
restated; a 1/8 rivet's hole .125 to .135: [TRADE-2001]; its countersink .222 to .228 across: [TM-9-2320-363-34-2] table
3; a nutplate takes two flush AD rivets of 3/32: [BUILDER-LOGS], seen only restated.
"""

from __future__ import annotations

import pytest

from hatchwright.documents.card_steps import card_steps
from hatchwright.documents.carry_front import gate
from hatchwright.documents.step import Work
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.guide import job_recipe
from hatchwright.tables.shop import load_shop_tables
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine
from rules.cases import FLUSH, LAPPED, PLAIN, RING, changed, job_of, rivets
from tests.cards import told_step
from tests.told import named


def steps(job, shop=None, **changes):
    layout = lay_out(job_of(job, **changes), shop)
    return [named(told_step(step, "in")) for step in card_steps(Work(layout, None, job_recipe(layout, None)))]


def place(found, title):
    (at,) = [index for index, step in enumerate(found) if step.title.startswith(title)]
    return at


def said(found, title):
    return " ".join(found[place(found, title)].lines)


def test_a_dimpled_hole_is_piloted_dimpled_and_judged_last():
    found = steps(RING, rows__0__rivet="MS20426AD4", rows__0__preparation="dimple")
    order = [
        place(found, title) for title in ("Prove", "Mark and", "Pin", "Take apart", "Dimple", "Ream dimpled")
    ]
    assert order == sorted(order)
    assert "MS20426AD4, skin: pilot #32 .1160 in, no. 1." in said(found, "Mark and")
    assert "MS20426AD4, doubler: pilot #32 .1160 in, no. 1." in said(found, "Pin")
    assert not any("Drill to final" in step.title for step in found)
    assert "Leave dimpled sheets at the pre-dimple drill" in said(found, "Take apart")
    coupon = said(found, "Prove")
    assert coupon.startswith("Scrap of the same sheets")
    assert "Set an actual rivet in it" in coupon
    dimple = said(found, "Dimple")
    assert "skin .032 in dimpled from a #32 hole, opens the hole to No. 30 (as entered)" in dimple
    assert "doubler .040 in dimpled from a #32 hole" in dimple
    judged = found[place(found, "Ream dimpled")]
    assert "Finished hole .125 to .135 in" in judged.lines[0]
    assert judged.blanks == ("oversize holes, numbers",)


def test_an_undersize_chain_ends_with_the_final_drill():
    found = steps(RING, rows__0__rivet="MS20426AD3", rows__0__preparation="dimple")
    assert said(found, "Ream dimpled").startswith(
        "MS20426AD3, skin + doubler: final drill #40 .0980 in, no. 1. Finished hole .093 to .103 in"
    )


def test_a_countersink_goes_into_the_finished_hole_with_its_width():
    found = steps(RING, rows__0__rivet="MS20426AD4", rows__0__preparation="countersink")
    assert place(found, "Drill to final size") < place(found, "Dimple or countersink")
    assert not any(step.title.startswith("Ream dimpled") for step in found)
    assert "doubler .040 in countersunk after the final drill, .222 to .228 in across" in said(
        found, "Dimple or"
    )
    assert "(as entered, but thin for it, R408)" in said(found, "Dimple or")


def test_over_a_countersink_each_sheet_is_told_its_own_work():
    found = steps(RING, rows__0__rivet="MS20426AD4", rows__0__preparation="dimple over countersink")
    # drilled through the stack, the doubler's final drill would open the skin, which must stay small for its dimple
    assert "MS20426AD4, skin: open #32 .1160 in, no. 1." in said(found, "Open the holes for dimpling")
    assert "final drill" not in said(found, "Open the holes for dimpling")
    assert "MS20426AD4, doubler: final drill #30 .1285 in, no. 1." in said(found, "Dimple or")
    assert "skin .032 in dimpled from a #32 hole" in said(found, "Dimple or")
    assert "doubler .040 in countersunk after the final drill" in said(found, "Dimple or")


def test_what_is_not_entered_is_chosen_by_thickness_and_said_to_be():
    found = steps(RING, rows__0__rivet="MS20426AD4", doubler__thickness=".063")
    assert (
        "skin .032 in dimpled from a #32 hole, opens the hole to No. 30 (not entered; by thickness"
        in said(found, "Dimple")
    )
    assert "doubler .063 in countersunk" in said(found, "Dimple")


def test_what_no_table_lists_is_left_to_the_trial_and_said():
    found = steps(RING, rows__0__rivet="MS20426AD6", rows__0__preparation="dimple")
    assert "NOT SHOWN for MS20426AD6: skin + doubler: No drill sequence is listed for a dimpled" in said(
        found, "Prove"
    )
    assert "hole before dimpling, MS20426AD6" in found[place(found, "Prove")].blanks


def test_rows_of_one_fastener_with_other_heads_are_told_apart():
    rows = [
        rivets((2.3, 0.0), name="a", rivet="MS20426AD4", preparation="dimple"),
        rivets((2.3, 1.0), name="b", rivet="MS20426AD4", preparation="dimple over countersink"),
    ]
    found = steps(RING, rows=rows)
    lines = [line for line in found[place(found, "Dimple")].lines if line.startswith("MS20426AD4 (")]
    assert [line.partition(":")[0].rpartition(" (")[2] for line in lines] == ["a)", "b)"]
    assert "MS20426AD4, doubler: final drill #30 .1285 in, no. 2." in said(found, "Dimple")


def test_a_hole_stays_at_the_pilot_until_it_is_said_how_its_head_is_taken():
    found = steps(changed(FLUSH, {"cover.screws.preparation": None}))
    assert "10-32, cover + doubler: final drill NOT KNOWN" in said(found, "Drill to final size")
    assert "Don't drill to size until it is entered." in said(found, "Drill to final size")
    assert "NOT SHOWN for 10-32: cover + doubler: Neither dimple nor countersink is known" in said(
        found, "Prove"
    )


def test_nutplates_are_drilled_for_and_riveted_on():
    found = steps(FLUSH, cover__screws__nut_rivet="MS20426AD3")
    order = (
        "Drill the doubler for the nutplates",
        "Dimple",
        "Clean, treat",
        "Fit the nutplates",
        "Rivet",
        "Fit the cover",
    )
    places = [place(found, title) for title in order]
    assert places == sorted(places)
    ears = said(found, "Drill the doubler for the nutplates")
    assert "8 x two-lug nutplate 10-32 on the doubler, 16 rivet holes" in ears
    assert "Drill the ear holes before dimpling the screw hole" in ears
    assert "MS20426AD3, doubler: final #40 .0980, countersink. Finished hole .093 to .103 in" in ears
    fitted = said(found, "Fit the nutplates")
    assert "two rivets each: 16" in fitted
    assert "MS20426AD3-3.5" in fitted
    assert "Set an actual screw in it" in said(found, "Prove")
    assert "Try each countersink with the rivet" not in said(found, "Dimple")


def test_protruding_nutplate_rivets_are_warned_of():
    assert "hold it off" in said(steps(FLUSH), "Drill the doubler for the nutplates")


def test_nutplates_without_a_rivet_are_asked_about():
    found = steps(changed(FLUSH, {"cover.screws.nut_rivet": None}))
    for title in ("Drill the doubler for the nutplates", "Fit the nutplates"):
        assert "NOT SHOWN" in said(found, title)
        assert "Enter the nutplate rivet" in said(found, title)


def test_clip_nuts_are_pushed_on_and_take_no_rivets():
    found = steps(LAPPED)
    told = said(found, "Fit the cover")
    assert told.index("8 clip nuts: push each on") < told.index(
        "Start all by hand"
    )  # before a screw can go in
    assert place(found, "Prove the drills on a coupon") > 0  # with no die and no rivet to prove
    assert not any("nutplate" in step.title for step in found)


def test_doubler_and_cover_are_made_first():
    found = steps(FLUSH)
    assert found[0].title == "Make the doubler and cover"
    assert place(found, "Protect") > 0  # the blanks are cut before the aircraft is down
    assert found[0].lines[0] == (
        "Doubler, 2024-T3 CLAD .040 in: outer 6.000 x 6.000 in, smallest corner R 1.0000 in; inner 2.600 x 2.600 in, "
        "smallest corner R .5000 in."
    )
    # the opening of 4 less a gap of 1/32 all round
    assert "Cover, 2024-T3 CLAD .032 in: 3.9375 x 3.9375 in" in found[0].lines[1]
    assert "doubler along X (6.000 in)" in found[0].blanks
    assert steps(LAPPED)[0].title == "Make the cover"
    assert not any(step.title.startswith("Make") for step in steps(PLAIN))


@pytest.mark.parametrize(
    ("size", "way"),
    [
        # the opening of 4 x 4 with corners of 1 has a longest chord of 2 sqrt(2) + 2 = 4.828
        ("4.8", "passes straight through the opening, narrow side first"),
        ("4.9", "won't pass through flat and whole"),
    ],
)
def test_the_doubler_is_brought_in_by_a_way_that_it_passes(size, way):
    outer = {"shape": "rounded rectangle", "width": size, "height": "6", "radius": "1"}
    job = job_of(RING, doubler__outer=outer)
    found = steps(RING, doubler__outer=outer)
    assert place(found, "Mark and pilot") < place(found, "Bring the doubler in") < place(found, "Locate")
    assert way in said(found, "Bring the doubler in")
    assert "4.828" in said(found, "Bring the doubler in")
    asked = map(tell, gate(job, examine(job).findings, has_template=False))
    settled = [item for item in asked if "Way in tried" in item]
    assert bool(settled) is ("won't pass" in way)


def test_a_doubler_that_lies_outside_is_not_brought_in():
    assert not any(step.title.startswith("Bring") for step in steps(RING, doubler__face="outside"))


def test_a_step_that_only_opens_holes_promises_no_final_size():
    """No table gives the hole before a screw's dimple: it is opened to what the coupon gave, and finished after."""
    found = steps(changed(FLUSH, {"rows": []}))
    opened = said(found, "Open the holes for dimpling")
    assert "open to the size proved on the coupon" in opened
    assert "don't open them" in opened
    coupon = found[place(found, "Prove")]
    assert any(line.startswith("10-32: find the hole before dimpling.") for line in coupon.lines)
    assert "hole before dimpling, 10-32" in coupon.blanks
    assert not any("NOT SHOWN" in line or "NOT KNOWN" in line for step in (coupon,) for line in step.lines)
    assert place(found, "Open the holes") < place(found, "Dimple") < place(found, "Ream dimpled")
    assert not any(step.title == "Drill to final size" for step in found)


def test_a_doubler_that_came_out_for_primer_goes_in_again_before_it_is_riveted():
    again = "Bring the doubler in again the way it went before, and pin it."
    assert again in steps(RING)[place(steps(RING), "Rivet")].lines
    outside = steps(changed(RING, {"doubler.face": "outside"}))
    assert again not in outside[place(outside, "Rivet")].lines


def test_nutplate_rivets_have_one_length_to_start_with():
    """Grip .040 and .030, and 1.5 x 3/32: .2106, the next half sixteenth is 7/32, -3.5."""
    found = steps(FLUSH, cover__screws__nut_rivet="MS20426AD3")
    told = said(found, "Fit the nutplates")
    assert "Grip .070 in, the doubler plus a .030 in ear." in told
    assert "Start with MS20426AD3-3.5: it gives a" in told
    assert "Head short of the limits: next length up." in told


def test_a_strap_is_made_with_the_other_parts_and_is_in_the_grip_of_its_rivets():
    """Doubler .040, strap .064, ear .030."""
    strap = {"alloy": "2024", "temper": "T3", "clad": True, "thickness": ".064", "width": ".75"}
    found = steps(FLUSH, cover__screws__strap=strap, cover__screws__nut_rivet="MS20426AD3")
    assert any(one.startswith("Strap, 2024-T3 CLAD .064 in, .750 in wide") for one in found[0].lines)
    assert "Grip .134 in, the doubler and the strap plus a .030 in ear." in said(found, "Fit the nutplates")


def test_a_doubler_that_leads_from_inside_is_said_to_be_drilled_from_there():
    """Doubler .040, skin .032, and .125 for the point, from the doubler's inner face."""
    leads = {"doubler__holes_from": "doubler", "doubler__holes_reason": "It comes drilled."}
    keep = [{"name": "bundle", "x_from": "2.3", "x_to": "2.3", "depth": ".50"}]
    told = said(steps(RING, **leads, bay__keep_outs=keep), "Pin and match-drill")
    assert "Drill from inside: stop .197 in, from the inner face of the sheets drilled." in told
    assert "Hold a block against the skin outside, hands clear." in told
    assert "bundle, .500 in below the outer face, lies near the drill" in told
    assert "Drill from inside" not in said(steps(RING), "Pin and match-drill")


def test_a_shop_head_has_one_line_with_the_limits_that_hold_in_every_document(tmp_path):
    """1/8: 1.3 D = .1625 [MIL-HDBK-5H], .163 and .050 to .070 [MIL-R-47196A], .160 to .210 and .040 to .080
    [COLLEGE-NOTES]; a shop whose own sheet asks for .215 at least can't meet them all, and is told each."""
    lines = steps(RING)[place(steps(RING), "Inspect")].lines
    assert [line for line in lines if line.startswith("MS20470AD4")] == [
        "MS20470AD4 shop head, within every document's limits: "
        "diameter min. .163 in, diameter max. .210 in, height min. .050 in, height max. .070 in."
    ]
    heading = "document,diameter_in,head_min_in,head_max_in,height_min_in,height_max_in"
    row = "our sheet,.125,.215,,.050,.070,OUR-SHEET,page 1,2024,the shop's own"
    (tmp_path / "driven_heads.csv").write_text(
        f"{heading},source,place,edition,basis\n{row}\n", encoding="utf-8"
    )
    found = steps(RING, load_shop_tables(tmp_path))
    told = said(found, "Inspect")
    assert "within every document's limits" not in told
    assert "MS20470AD4, our sheet: diameter min. .215 in, height min. .050 in, height max. .070 in." in told
    assert "MS20470AD4, design minimum: diameter min. .163 in" in told


def test_lock_washers_and_the_torque_wrench_are_told_only_where_there_are_some():
    """A nutplate locks by itself, a flush head lies on none; clip nuts under pan heads may take one. A torque that no
    table lists is set to the manufacturer's."""
    assert "lock washers" not in said(steps(FLUSH), "Fit the cover")
    assert "No lock washers on primary or secondary structure" in said(steps(LAPPED), "Fit the cover")
    assert "Calibrate the torque wrench" in said(steps(FLUSH), "Fit the cover")
    unlisted = said(steps(FLUSH, cover__screws__size="4-40"), "Fit the cover")
    assert "No torque is published" in unlisted
    assert "Calibrate the torque wrench" not in unlisted


def test_the_rivet_to_start_with_makes_a_head_that_the_inspection_takes():
    """Through .072: 1/4 leaves .178 of shank, whose head is 1.67 D = .209 wide; 9/32 would give .226, over the .210 of
    [COLLEGE-NOTES]."""
    found = steps(RING)
    assert "Start with MS20470AD4-4: it gives a .209 in dia." in said(found, "Rivet")
    assert "diameter max. .210 in" in said(found, "Inspect")
