"""Starter hole and corner holes: clear of the line, of what lies behind, of a plug, and of each other.

Places are worked by hand beside each test. Whether holes overlap is judged by shapely, which shares no code with them.
The fuel line is that of the fourth scenario: .60 behind the skin from X 3.2 to 4.0.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from msgspec.structs import replace
from shapely.geometry import Point, Polygon

from hatchwright.errors import GeometryError
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.cutter.starter import (
    best_starter,
    chosen_starter,
    clear_starter,
    corner_holes,
    largest_starter_in,
    starter_hole,
)
from hatchwright.making.cutter.starter_findings import starter_findings
from hatchwright.making.cutter.starter_stops import step_drill_stop
from hatchwright.making.making import cutting_of, making_of
from hatchwright.making.template.guide_template import job_chain
from told import advice_of, subject_of

WINDOW = {"cutter__template": "female"}
SQUARE = 'shape = "rounded rectangle"\nwidth = "{w}"\nheight = "{h}"\nradius = "{r}"\ncenter = ["4", "3"]'


def by_code(layout):
    found = {}
    for finding in starter_findings(making_of(layout)):
        found.setdefault(finding.code, []).append(finding)
    return found


def wanting(job, x: str, y: str, *, size: str = "1/2", template: str = "female"):
    """The same job with the starter hole wanted at a place."""
    entered = {"starter_at": [x, y], "starter": size, "template": template}
    cutter = job.cutter.model_validate(
        {**job.cutter.model_dump(exclude_none=True), **entered}, context={"unit": "in"}
    )
    return lay_out(job.model_copy(update={"cutter": cutter}))


def shape_of(profile) -> Polygon:
    """A region of one edge, to 1e-4 in."""
    (loop,) = profile.loops
    return Polygon(loop.points(1e-4))


def test_starter_over_the_fuel_line_is_moved(dogwood):
    """The line lies .60 behind the skin from X 3.2 to 4.0; the hole is moved to 3.2 - .25 - .25 = 2.70 or less."""
    (starter,) = by_code(wanting(dogwood, "3.6", "0"))["T601"]
    assert starter.status is Status.STOP
    assert "over or beside the fuel drain line, .600 deep" in advice_of(starter)
    assert "Move it to X 2.700 Y .000." in advice_of(starter)


def test_starter_where_it_is_told_to_move_to_passes(dogwood):
    (starter,) = by_code(wanting(dogwood, "2.700", "0"))["T601"]
    assert starter.status is Status.PASS


def test_drill_stop_stays_under_the_fuel_line(dogwood):
    """.040 + .125 = .165, and .60 - .165 is left of which .125 is kept."""
    (stop,) = by_code(wanting(dogwood, "3.6", "0"))["T602"]
    assert stop.status is Status.PASS
    assert stop.value == pytest.approx(0.60 - 0.165)
    assert stop.limit == pytest.approx(0.125)
    assert "Drill stop .165" in subject_of(stop)
    assert "never past .475" in subject_of(stop)


def test_something_close_behind_leaves_no_room_for_the_drill(layout_of):
    (stop,) = by_code(layout_of("dogwood", bay__keep_outs__0__depth=".25"))["T602"]
    assert stop.status is Status.STOP


def test_starter_away_from_the_line_passes(dogwood):
    (starter,) = by_code(wanting(dogwood, "-2", "0.5"))["T601"]
    assert starter.status is Status.PASS
    assert starter.value == pytest.approx(1.5 - 0.5 - 0.25)


def test_starter_near_the_rough_line_is_moved_inwards(dogwood):
    (starter,) = by_code(wanting(dogwood, "0", "1.2"))["T601"]
    assert starter.status is Status.STOP
    assert starter.value == pytest.approx(0.05)
    assert "comes within .050 of the rough line" in advice_of(starter)
    assert "Move it to X .000 Y 1.000." in advice_of(starter)


@pytest.mark.parametrize(
    ("y", "words"),
    # the rough line lies at Y 1.5, half the hole is .25
    [("1.4", "reaches .150 past the rough line"), ("1.9", "is outside the rough line")],
)
def test_starter_beyond_the_rough_line_is_said_in_words(dogwood, y, words):
    (starter,) = by_code(wanting(dogwood, "0", y))["T601"]
    assert starter.status is Status.STOP
    assert words in advice_of(starter)
    assert "-" not in advice_of(starter).split("rough line")[0]


def test_proposed_place_keeps_every_distance(dogwood):
    """2.7 is .25 and half the hole from the line at 3.2; 1.0 is .25 and half the hole from the rough line at 1.5."""
    layout = wanting(dogwood, "3.6", "1.4")
    hole = best_starter(making_of(layout))
    assert hole.to_line_in == pytest.approx(0.25)
    assert hole.center == pytest.approx((2.7, 1.0))
    assert hole.over == ()


def test_no_place_is_clear(layout_of):
    """The keep-out covers the whole bay."""
    covered = layout_of("dogwood", bay__keep_outs__0__x_from="-9", bay__keep_outs__0__x_to="9", **WINDOW)
    (starter,) = by_code(covered)["T601"]
    assert starter.status is Status.STOP
    assert "No place in the waste is clear" in advice_of(starter)
    assert "shield what is behind" in advice_of(starter)


def test_the_largest_hole_that_finds_a_place_is_named(layout_of):
    """1.0 in less .015 all round is .97 across; .485 from the middle to the line, less .25, leaves .47 across."""
    layout = layout_of("plain", opening=SQUARE.format(w="1", h="1", r=".3"), cutter__starter="9/16")
    assert largest_starter_in(making_of(layout)) == pytest.approx(0.47, abs=1.5e-3)
    (starter, *_) = by_code(layout)["T601"]
    assert starter.status is Status.STOP
    assert "start from a hole of .4" in advice_of(starter)


def test_a_hole_under_a_plug_is_no_start(layout_of):
    """The tool's guide would stand on the plug: 9/16 beside a plug, .193 cut, .500 guide.

    Beside it the tool's middle lies .0965 inside the rough line at most; .281 + .250 = .531 is asked for.
    """
    opening = SQUARE.format(w="4", h="3", r=".5")
    layout = layout_of("plain", opening=opening, cutter__starter="9/16", cutter__template="male")
    (starter, *_) = by_code(layout)["T601"]
    assert starter.status is Status.STOP
    assert best_starter(making_of(layout)) is None
    assert clear_starter(making_of(layout)) is None
    for said in (
        "onto the plug",
        ".096 or less inside",
        ".532 or more inside",
        "A window template leaves room: with one the hole is clear in the waste at X 4.000 Y 3.000.",
    ):
        assert said in advice_of(starter)


def test_asked_for_on_a_plug_it_is_sent_to_the_path_beside_it(dogwood):
    """The plug ends at X 3.5625; its guide needs .3125, so at 3.6 it stands on it by .275.

    The path lies .125 inside the line, at Y 1.375; clear of the fuel line is X 3.2 - .125 - .25 = 2.825 and less.
    """
    layout = wanting(dogwood, "3.6", "0", size=".25", template="male")
    (starter,) = by_code(layout)["T601"]
    assert starter.status is Status.STOP
    assert "sit .275 onto the plug" in advice_of(starter)
    best = best_starter(making_of(layout))
    assert best.center[0] == pytest.approx(2.825, abs=0.006)
    assert best.center[0] <= 2.825
    assert abs(best.center[1]) == pytest.approx(1.375)
    assert clear_starter(making_of(layout)) is None


def test_a_hole_as_wide_as_the_cut_may_lie_on_the_path_beside_a_plug(layout_of):
    """Half the guide from the plug, half the cut from the line: 4/2 - .015 - .0965 from the middle."""
    opening = SQUARE.format(w="5", h="4", r=".5")
    layout = layout_of("plain", opening=opening, cutter__template="male", cutter__starter=".193")
    chain = job_chain(layout)
    hole = chosen_starter(making_of(layout))
    assert hole == clear_starter(making_of(layout))
    assert hole.center[0] == pytest.approx(4.0)
    assert abs(hole.center[1] - 3.0) == pytest.approx(2.0 - 0.015 - 0.0965)
    assert hole.to_line_in == pytest.approx(0.0, abs=1e-9)
    assert hole.guide_clear_in == pytest.approx(0.0, abs=1e-9)
    (starter,) = by_code(layout)["T601"]
    assert starter.status is Status.CAUTION
    assert "touches the rough line" in advice_of(starter)
    guide = Point(hole.center).buffer(0.25)
    assert guide.intersection(shape_of(chain.machinable)).area < 1e-4


def test_corners_that_the_cutter_follows_are_not_drilled(layout_of):
    """R .735 with a cut of .193: the cutter makes them, so no hole is offered."""
    layout = layout_of("alder")
    assert corner_holes(making_of(layout)) == ()
    assert corner_holes(cutting_of(layout)) == ()


def wide(layout_of, *, radius: str = "1/4", width: str = "5", **changes):
    """A router of 1 in in a window with corners of 1/4, less than half its cut."""
    return layout_of(
        "plain",
        opening=SQUARE.format(w=width, h=width, r=radius),
        cutter__kind="router",
        cutter__cut_width="1",
        cutter__guide="1.25",
        cutter__filing_allowance="0",
        cutter__starter="1",
        **changes,
    )


def test_corners_sharper_than_the_cutter_are_drilled(layout_of):
    """5 in square about (4, 3), R 1/4: holes of 1/2 about X 1.75 and 6.25, Y .75 and 5.25."""
    layout = wide(layout_of)
    holes = corner_holes(making_of(layout))
    assert [hole.mark for hole in holes] == ["D1", "D2", "D3", "D4"]
    assert {hole.diameter_in for hole in holes} == {0.5}
    assert {hole.center for hole in holes} == {(x, y) for x in (1.75, 6.25) for y in (0.75, 5.25)}


@pytest.mark.parametrize("width", ["1.3", "1.6", "2", "2.5", "3", "5"])
@pytest.mark.parametrize("radius", [".1", ".3", ".45"])
@pytest.mark.parametrize("kind", ["female", "male"])
def test_no_hole_meets_another_the_line_or_a_plug(layout_of, width, radius, kind):
    try:
        layout = wide(layout_of, radius=radius, width=width, cutter__template=kind)
        chain = job_chain(layout)
    except GeometryError:
        assert kind == "male"  # an opening so small leaves no plug
        return
    starter = clear_starter(making_of(layout))
    holes = [*corner_holes(making_of(layout)), *([starter] if starter else [])]
    discs = [Point(hole.center).buffer(hole.diameter_in / 2.0, quad_segs=64) for hole in holes]
    line = shape_of(layout.rough_cut).buffer(2e-4)
    for number, disc in enumerate(discs):
        assert line.contains(disc)
        assert not any(disc.intersection(other).area > 1e-4 for other in discs[:number])
        if kind == "male" and holes[number].mark != "S":
            assert disc.intersection(shape_of(chain.machinable)).area < 1e-4
    if kind == "female" and width == "5":
        assert len(holes) == 5


def test_corner_holes_that_would_lie_under_a_plug_are_not_offered(layout_of):
    """The plug's corner lies .1768 from the middle of a hole of .3125 radius: sqrt 2 times .4375 - .3125."""
    layout = layout_of("dogwood")
    assert math.hypot(3.6875 - 3.5625, 1.1875 - 1.0625) == pytest.approx(0.1768, abs=1e-4)
    assert corner_holes(making_of(layout)) == ()
    assert "T603" not in by_code(layout)


def broad(layout_of, **changes):
    """The fourth scenario with a window and a router wider than its corners take."""
    return layout_of("dogwood", cutter__cut_width=".75", cutter__guide=".8", **WINDOW, **changes)


def test_corner_holes_over_the_line_are_named(layout_of):
    """D-holes at X +-3.6875: those at the right lie over the line, .60 deep; its point stays .125 before it."""
    layout = broad(layout_of)
    (asked,) = by_code(layout)["T603"]
    assert (asked.status, asked.enter) == (Status.UNKNOWN, ("cutter.starter_reach",))
    assert "comes through by its full height, and it is .600 deep" in advice_of(asked)
    (corner,) = by_code(broad(layout_of, cutter__starter_reach=".475"))["T603"]
    assert corner.status is Status.PASS
    assert corner.value == pytest.approx(0.125)
    assert "never reach past .475 from the outer face" in subject_of(corner)
    (deep,) = by_code(broad(layout_of, cutter__starter_reach=".476"))["T603"]
    assert deep.status is Status.STOP
    over = [hole for hole in corner_holes(making_of(layout)) if hole.over]
    assert [np.sign(hole.center[0]) for hole in over] == [1, 1]
    assert all(hole.mark in subject_of(corner) for hole in over)


def test_a_millimetre_job_is_told_in_millimetres(layout_of):
    """.475 in is 12.065 mm: a bare .475 would be set as less than half a millimetre."""
    layout = lay_out(broad(layout_of, cutter__starter_reach=".3").job.model_copy(update={"units": "mm"}))
    (corner,) = by_code(layout)["T603"]
    assert "never reach past 12.06 mm from" in subject_of(corner, "mm")  # never rounded up
    assert " in from" not in subject_of(corner, "mm")


def test_corner_holes_against_something_on_the_skin_stop(layout_of):
    (corner,) = by_code(broad(layout_of, bay__keep_outs__0__depth="0"))["T603"]
    assert corner.status is Status.STOP
    assert "keep .125 in front of it" in advice_of(corner)


def test_a_step_drill_gets_no_stop_without_its_reach(layout_of):
    """Nothing behind asks for no reach and gives no stop; with one entered the stop follows from it."""
    for reach, setting_in in ((None, None), (".9", 0.9 + 0.118)):
        entered = {"cutter__starter_reach": reach} if reach else {}
        cutting = cutting_of(layout_of("plain", cutter__starter="1/2", **entered))
        stop = step_drill_stop(cutting, (starter_hole(cutting, (4.0, 3.0)),), template_in=0.118)
        assert (stop.status, stop.before, stop.setting_in) == (Status.PASS, None, setting_in)
    cutting = cutting_of(layout_of("dogwood", cutter__starter="1/2"))
    stop = step_drill_stop(cutting, (starter_hole(cutting, (3.6, 0.0)),))
    assert (stop.status, stop.enter, stop.left_in) == (Status.UNKNOWN, "cutter.starter_reach", None)
    narrow = replace(starter_hole(cutting, (3.6, 0.0)), diameter_in=0.25)
    assert step_drill_stop(cutting, (narrow,)) is None


def test_unmeasured_starter_of_a_nibbler_is_asked_for(layout_of):
    starters = by_code(layout_of("alder"))["T601"]
    assert [finding.status for finding in starters] == [Status.PASS, Status.CAUTION]
    assert starters[1].enter == ("cutter.starter",)


def test_a_job_without_a_cutter(alder):
    layout = lay_out(alder.model_copy(update={"cutter": None, "template": None}))
    assert cutting_of(layout) is None
    assert making_of(layout) is None
