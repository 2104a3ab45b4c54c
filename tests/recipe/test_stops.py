"""The stop of a drill: how far it may go, by what lies behind.

Worked by hand from the outer face of the skin: .125 for the point and .125 kept free, common practice, no source.
"""

from __future__ import annotations

import pytest

from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.recipe.recipe import recipe_of
from hatchwright.recipe.stops import stops_for
from hatchwright.recipe.tools import TEMPORARY
from rules.cases import FLUSH, LAPPED, PLAIN, RING, job_of, rivets


def behind(depth: str | None, **more: object) -> dict:
    there = {"name": "bundle", "x_from": "2.3", "x_to": "2.3", **more}
    return {"bay__keep_outs": [{**there, "depth": depth} if depth else there]}


def stop_of(job, *through: str, template_in: float = 0.0, **changes: object):
    layout = lay_out(job_of(job, **changes))
    return stops_for(layout, layout.holes, through, template_in=template_in)


@pytest.mark.parametrize(
    ("job", "changes", "through", "template_in", "setting_in"),
    [
        (PLAIN, {}, ("skin",), 0.0, 0.032 + 0.125),
        (RING, {}, ("skin",), 0.0, 0.032 + 0.125),
        (RING, {}, ("skin", "doubler"), 0.0, 0.032 + 0.040 + 0.125),
        # the stop stands on the template
        (PLAIN, {}, ("skin",), 0.118, 0.118 + 0.032 + 0.125),
        # a doubler outside is drilled through first, one inside alone from its own face
        (RING, {"doubler__face": "outside"}, ("doubler", "skin"), 0.0, 0.040 + 0.032 + 0.125),
        (FLUSH, {}, ("doubler",), 0.0, 0.040 + 0.125),
        (LAPPED, {}, ("cover", "skin"), 0.0, 0.040 + 0.040 + 0.125),
    ],
)
def test_a_stop_is_set_from_the_face_that_it_stands_on(job, changes, through, template_in, setting_in):
    stop = stop_of(job, *through, template_in=template_in, **changes)
    assert stop.setting_in == pytest.approx(setting_in)
    assert (stop.before, stop.most_in, stop.left_in, stop.status) == (None, None, None, Status.PASS)


def test_a_bundle_close_behind_pilot_holes_stops():
    stop = stop_of(PLAIN, "skin", **behind(".14"))
    assert stop.status is Status.STOP
    assert stop.left_in == pytest.approx(0.14 - 0.157)
    assert stop.most_in == pytest.approx(0.14 - 0.125)


def test_a_stop_that_leaves_what_is_kept_is_told_with_the_most_it_may_be_set_to():
    stop = stop_of(RING, "skin", "doubler", template_in=0.118, **behind(".50"))
    assert stop.status is Status.PASS
    assert stop.left_in == pytest.approx(0.50 - 0.197)
    assert stop.most_in == pytest.approx(0.118 + 0.50 - 0.125)


def test_the_thing_that_leaves_least_is_the_one_that_is_told():
    """The wire is .01 nearer, the cable keeps .25: it leaves .093 where the wire leaves .208."""
    wire = {"name": "wire", "x_from": "2.3", "x_to": "2.3", "depth": ".49"}
    cable = {"name": "cable", "x_from": "2.3", "x_to": "2.3", "depth": ".50", "clearance": ".25"}
    stop = stop_of(PLAIN, "skin", bay__keep_outs=[wire, cable])
    assert stop.before.keep_out.name == "cable"
    assert stop.most_in == pytest.approx(0.25)


def test_what_lies_on_the_skin_leaves_no_room():
    assert stop_of(PLAIN, "skin", **behind(None)).left_in == pytest.approx(-0.125)


def test_what_lies_beside_every_hole_is_not_in_front():
    assert stop_of(PLAIN, "skin", **behind(".14", x_from="2.43", x_to="2.5")).before is None


LEADS = {"doubler__holes_from": "doubler", "doubler__holes_reason": "It comes drilled."}


@pytest.mark.parametrize("face", ["inside", "outside"])
@pytest.mark.parametrize("task", ["locate", "back_drill"])
def test_a_doubler_that_leads_is_drilled_through_from_its_own_side(face, task):
    """Doubler .040 and skin .032, and the point through, whichever side it is seen from."""
    row = rivets((2.3, 0), (0, 2.3), (-2.3, 0), (0, -2.3))
    layout = lay_out(job_of(RING, doubler__face=face, rows=[row], **LEADS))
    made = recipe_of(layout).task(task)
    assert {one.part for one in made.made} == {"skin"}
    assert made.stop.setting_in == pytest.approx(0.040 + 0.032 + 0.125)
    assert made.stop.is_from_inside is (face == "inside")


def test_what_lies_behind_is_beside_the_drill_that_comes_from_inside():
    """Drilled outward nothing behind is struck; whether the drill finds room there nobody has entered."""
    layout = lay_out(job_of(RING, **LEADS, **behind(".14")))
    stop = recipe_of(layout).task("back_drill").stop
    assert stop.before.keep_out.name == "bundle"
    assert (stop.most_in, stop.left_in) == (None, None)
    assert stop.status is Status.UNKNOWN


def test_a_cover_drilled_from_inside_has_its_stop_on_the_doubler():
    """Doubler .040 and cover .032."""
    changes = {"cover__holes_from": "inside", "cover__holes_reason": "Kit drawing."}
    made = recipe_of(lay_out(job_of(FLUSH, bay__way_in="next bay", **changes))).task("transfer_cover")
    assert made.stop.setting_in == pytest.approx(0.040 + 0.032 + 0.125)
    assert any(one.name.id == TEMPORARY for one in made.tools)
