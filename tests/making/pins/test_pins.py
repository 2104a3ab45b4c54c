"""Blocked stretches and pin plans against points sampled along the path, which share no code with them."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from shapely.geometry import LineString, MultiPoint, Point, Polygon

from hatchwright.errors import JobError
from hatchwright.job.file import load_job
from hatchwright.job.other_side import other_side
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.making import making_of
from hatchwright.making.pins.findings import pin_findings
from hatchwright.making.pins.notes import stage_lines
from hatchwright.making.pins.pin_layout import Pin, pin_layout, widest_body_in
from hatchwright.making.pins.pins import blocked, worst_holds
from hatchwright.making.pins.plan import HOLD_AIM, Stage, Stretch, pin_plan, with_few_pins
from hatchwright.making.pins.runs import runs_of
from hatchwright.making.template.guide_template import job_chain
from hatchwright.making.template.holes import template_holes, through_which
from hatchwright.making.template.part import part_on_skin
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.outlines import circle, obround, polygon, rounded_rectangle
from hatchwright.shapes.profile import Arc, Profile
from hatchwright.shapes.stations import places_at, stations, tangent_points
from hatchwright.units import figure
from hatchwright.words.tell import tell_all
from tests.conftest import EXAMPLES
from told import advice_of


def sampled(loop, count: int = 4000):
    """Places and arc lengths along a loop, piece by piece, from its lines and arcs."""
    pieces = list(loop.pieces())
    lengths = [
        piece.radius_in * abs(piece.sweep_rad)
        if isinstance(piece, Arc)
        else math.dist(piece.start, piece.end)
        for piece in pieces
    ]
    total = sum(lengths)
    points, along, begun = [], [], 0.0
    for piece, length in zip(pieces, lengths, strict=True):
        shares = (np.arange(max(2, round(count * length / total))) + 0.5) / max(
            2, round(count * length / total)
        )
        if isinstance(piece, Arc):
            first = math.atan2(piece.start[1] - piece.center[1], piece.start[0] - piece.center[0])
            angle = first + piece.sweep_rad * shares
            points.append(
                np.array(piece.center) + piece.radius_in * np.column_stack([np.cos(angle), np.sin(angle)])
            )
        else:
            points.append(
                np.array(piece.start) + shares[:, None] * (np.array(piece.end) - np.array(piece.start))
            )
        along.append(begun + shares * length)
        begun += length
    return np.vstack(points), np.concatenate(along), total


LOOPS = {
    "rounded rectangle": rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.75),
    "circle": circle(diameter_in=4.0, center=(1.0, 2.0)),
    "obround": obround(length_in=6.0, width_in=2.0, angle_deg=30.0),
    "L": polygon([(0, 0), (8, 0), (8, 3), (4, 3), (4, 6), (0, 6)], 0.5),
}


@pytest.mark.parametrize("name", LOOPS)
@pytest.mark.parametrize("reach", [0.3, 0.9, 2.0, 9.0])
def test_blocked_stretches_are_those_of_sampled_places(name, reach):
    loop = LOOPS[name]
    random = np.random.default_rng(5)
    pins = random.uniform(-4.0, 9.0, (25, 2))
    points, along, total = sampled(loop)
    found = blocked(loop, pins, reach)
    for pin in range(len(pins)):
        mine = found.pin == pin
        inside = np.zeros(len(along), dtype=bool)
        for low, high in zip(found.start_in[mine], found.end_in[mine], strict=True):
            inside |= (along > low) & (along < high)
        near = np.hypot(*(points - pins[pin]).T) < reach
        apart = inside != near
        assert apart.sum() <= 8  # only samples that lie within rounding of the end of a stretch
        assert np.all(np.abs(np.hypot(*(points[apart] - pins[pin]).T) - reach) < 2.0 * total / len(along))


def test_a_pin_at_the_center_of_an_arc_blocks_all_of_it_or_nothing():
    ring = circle(diameter_in=4.0)
    assert len(blocked(ring, [(0.0, 0.0)], 1.9).pin) == 0
    found = blocked(ring, [(0.0, 0.0)], 2.1)
    assert float((found.end_in - found.start_in).sum()) == pytest.approx(4.0 * math.pi)


def ring_of_pins(opening, *, edge: float, pitch: float) -> np.ndarray:
    return stations(grow(Profile((opening,)), edge).loops[0], pitch_in=pitch).points


def check_plan(path, pins, reach, plan) -> None:
    """Every sampled place is cut in exactly one stage, clear of every pin of it, and each stage holds as it says."""
    points, along, total = sampled(path)
    cut_in = np.zeros(len(along), dtype=int)
    for stage in plan.stages:
        mine = np.zeros(len(along), dtype=bool)
        for one in stage.stretches:
            if len(plan.stages) == 1:
                mine |= True
            elif one.start_in < one.end_in:
                mine |= (along >= one.start_in) & (along < one.end_in)
            else:
                mine |= (along >= one.start_in) | (along < one.end_in)
        cut_in += mine
        held = pins[list(stage.pins)]
        assert len(held) >= 3
        gap = np.hypot(*(points[mine][:, None, :] - held[None, :, :]).transpose(2, 0, 1)).min()
        assert gap > reach - 2.0 * total / len(along)
        middle = held.mean(axis=0)
        lever = ((points[mine] - middle) ** 2).sum(axis=1).max()
        g = math.sqrt(1.0 / len(held) + lever / ((held - middle) ** 2).sum())
        assert stage.hold_ratio == pytest.approx(g, rel=0.01)
        assert stage.hold_ratio <= 1.0
    assert np.all(cut_in == 1)


@pytest.mark.parametrize("reach", [0.6, 0.8, 1.0, 1.3, 1.7])
def test_plan_of_an_opening_of_10_by_6(reach):
    opening = rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=1.0)
    path = erode(Profile((opening,)), 0.125).loops[0]
    pins = ring_of_pins(opening, edge=0.5, pitch=1.0)
    plan = pin_plan(path, pins, reach)
    check_plan(path, pins, reach, plan)
    assert plan.hold_ratio < 0.5


def test_plan_of_the_study():
    """10 x 6, radius 1, edge distance .5, pitch 1, body .25 and tool .75 by radius: the path is blocked all round, four
    stretches in two stages, hold .36 with pins forced at the tangent points (measured by a second program to .36)."""
    opening = rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=1.0)
    path = erode(Profile((opening,)), 0.125).loops[0]
    ring = grow(Profile((opening,)), 0.5).loops[0]
    pins = stations(ring, pitch_in=1.0, forced=tangent_points(ring)).points
    plan = pin_plan(path, pins, 1.0)
    assert plan.blocked_share == pytest.approx(1.0)
    assert [len(stage.stretches) for stage in plan.stages] == [2, 2]
    assert plan.hold_ratio == pytest.approx(0.36, abs=0.03)


def test_small_circle_with_a_large_tool_has_no_plan():
    """A 3 in circle, tool 1.75: no plan at all."""
    opening = circle(diameter_in=3.0)
    path = erode(Profile((opening,)), 0.125).loops[0]
    assert pin_plan(path, ring_of_pins(opening, edge=0.5, pitch=1.0), 2.0) is None


def test_three_stages_where_two_would_not_hold():
    """Twelve pins round a 4 in path: half the edge at a time leaves them on one side, a third leaves four spread."""
    path = circle(diameter_in=4.0)
    angles = np.arange(12) * math.pi / 6.0 + 0.3
    pins = 2.9 * np.column_stack([np.cos(angles), np.sin(angles)])
    plan = pin_plan(path, pins, 1.8)
    assert len(plan.stages) == 3
    check_plan(path, pins, 1.8, plan)


def test_pins_out_of_the_way_need_one_stage():
    path = rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.75)
    pins = np.array([(5.0, 4.0), (-5.0, 4.0), (-5.0, -4.0), (5.0, -4.0)])
    plan = pin_plan(path, pins, 1.0)
    assert len(plan.stages) == 1
    assert plan.stages[0].pins == (0, 1, 2, 3)
    assert plan.blocked_share == 0.0


def test_too_few_or_too_close_pins_hold_nothing():
    path = rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.75)
    assert pin_plan(path, [(5.0, 4.0), (-5.0, -4.0)], 1.0) is None
    assert pin_plan(path, [(5.0, 4.0), (5.1, 4.0), (5.0, 4.1)], 1.0) is None
    assert pin_plan(path, np.empty((0, 2)), 1.0) is None
    one_place = np.array([1.0 + 1.0j, 1.0 + 1.0j])
    (g,), _ = worst_holds(one_place, np.array([0.0j]), np.full((1, 2), True), np.full((1, 1), True))
    assert g == np.inf


@pytest.mark.property
@settings(deadline=None, max_examples=60)
@given(
    width=st.floats(3.0, 12.0),
    height=st.floats(3.0, 9.0),
    radius=st.floats(0.3, 1.4),
    edge=st.floats(0.25, 0.9),
    pitch=st.floats(0.5, 1.5),
    reach=st.floats(0.4, 2.2),
)
def test_every_plan_that_is_offered_can_be_cut(width, height, radius, edge, pitch, reach):
    opening = rounded_rectangle(width_in=width, height_in=height, radius_in=radius)
    path = erode(Profile((opening,)), 0.1).loops[0]
    pins = ring_of_pins(opening, edge=edge, pitch=pitch)
    plan = pin_plan(path, pins, reach)
    if plan is not None:
        check_plan(path, pins, reach, plan)
        few = with_few_pins(plan, path, pins)
        check_plan(path, pins, reach, few)
        assert all(one.pins != other.pins for one, other in pairwise(few.stages))
        for stage in few.stages:
            assert any(set(stage.pins) <= set(may_hold.pins) for may_hold in plan.stages)
            assert stage.hold_ratio <= max(HOLD_AIM, plan.hold_ratio + 1e-9)


@pytest.mark.parametrize("example", ["finch", "heron"])
def test_stages_that_the_same_pins_hold_are_one(example):
    """Every other pin blocks a part of the edge, and none of those that are put in does: nothing has to be moved."""
    layout = lay_out(load_job(EXAMPLES / f"{example}.toml"))
    pins, _ = pins_of(layout)
    (stage,) = pins.plan.stages
    (stretch,) = stage.stretches
    assert stretch.start == pytest.approx(stretch.end)
    assert len(notes_of(layout, pins)) == 1


def test_a_hand_puts_in_few_pins_and_leaves_in_what_may_stay(layout_of):
    first, second = pins_of(layout_of("alder", **SIZES))[0].plan.stages
    assert len(first.pins) <= 6
    assert len(second.pins) <= 6
    assert set(first.pins) & set(second.pins)


SIZES = {"cutter__body": "1.75", "template__pin_body": ".25", "template__pin_clearance": ".004"}


def pins_of(layout):
    making = making_of(layout)
    pins = pin_layout(making)
    return pins, {finding.code: finding for finding in pin_findings(making, pins)}


def notes_of(layout, pins):
    """What the pin sheet says of each stage."""
    making = making_of(layout)
    return [tell_all(lines, making.unit) for lines in stage_lines(making, pins)]


def test_rivet_holes_pin_the_template_of_a_stressed_opening(layout_of):
    layout = layout_of("alder", **SIZES)
    pins, findings = pins_of(layout)
    assert pins.reach_in == pytest.approx(1.0625)
    assert len(pins.plan.stages) == 2
    assert findings["T501"].status is Status.PASS
    assert findings["T502"].value == pytest.approx(0.004 * pins.plan.hold_ratio)
    check_plan(
        job_chain(layout).reached.loops[0], np.array([pin.place for pin in pins.pins]), 1.0625, pins.plan
    )
    assert all(1 <= pin.hole <= 78 for pin in pins.pins)


def test_holes_of_the_template_and_their_parts(layout_of):
    """The screws of a flush cover lie inside the window, on no plate; every rivet goes through skin and doubler."""
    layout = layout_of("alder")
    holes = template_holes(making_of(layout))
    assert {one.pilot_in for one in holes} == {0.098}
    listed = through_which(holes)
    assert set(listed) == {(0.098, ("skin", "doubler"))}
    assert len(listed[0.098, ("skin", "doubler")]) == len(layout.holes_of("rivet"))


def test_plug_gets_pins_in_the_waste(layout_of):
    pins, findings = pins_of(layout_of("dogwood", **(SIZES | {"cutter__body": "1.5"})))
    assert [pin.hole for pin in pins.pins] == [None] * 4
    inset = (1.5 + 0.25) / 2 + 0.0625 - 0.3125
    assert {tuple(np.round(np.abs(pin.place), 5)) for pin in pins.pins} == {(3.5625 - inset, 1.0625 - inset)}
    assert len(pins.plan.stages) == 1
    assert findings["T501"].status is Status.PASS
    assert findings["T502"].status is Status.CAUTION  # nothing is left to be filed on this job


def test_plug_too_small_for_its_pins_is_told_what_would_hold(layout_of):
    """A tool of the width that is named holds it, one 1/64 wider does not."""
    layout = layout_of("dogwood", **(SIZES | {"cutter__body": "2.5"}))
    pins, findings = pins_of(layout)
    assert pins.plan is None
    assert findings["T501"].status is Status.STOP
    widest = widest_body_in(making_of(layout))
    told = math.floor(1000.0 * widest) / 1000.0
    assert f"a tool with a body of {figure(told, 'in')} in or less" in advice_of(findings["T501"])
    assert "Use a window template" in advice_of(findings["T501"])
    assert "clamp it" not in advice_of(findings["T501"]).lower()
    for wider, held in ((0.0, True), (1.0 / 64.0, False)):
        other = layout_of("dogwood", **(SIZES | {"cutter__body": repr(widest + wider)}))
        assert (pin_layout(making_of(other)).plan is not None) is held


@pytest.mark.parametrize(
    ("example", "body", "size", "hold"),
    [
        # 10 x 8, R 1, router .25 in a guide of .5: pins stand .6 + .125 + .0625 - .25 = .5375 inside the plug
        ("plain", "1.2", ("10", "8", "1"), 0.764),
        ("dogwood", "1.4", None, 0.83),
    ],
)
def test_a_plug_that_is_large_enough_is_held_by_pins_just_out_of_reach(layout_of, example, body, size, hold):
    changes = {"cutter__body": body}
    opening = ""
    if size:
        opening = 'shape = "rounded rectangle"\nwidth = "{}"\nheight = "{}"\nradius = "{}"\ncenter = ["6", "4"]'.format(
            *size
        )
        changes |= {"cutter__kind": "router", "cutter__cut_width": ".25", "cutter__template": "male"}
        changes |= {"cutter__filing_allowance": ".010"}
    layout = layout_of(example, opening=opening, **(SIZES | changes))
    pins, findings = pins_of(layout)
    assert findings["T501"].status is Status.PASS
    assert pins.plan.hold_ratio == pytest.approx(hold, abs=0.005)
    (stage,) = pins.plan.stages
    path = sampled(job_chain(layout).reached.loops[0])[0]
    held = np.array([pins.pins[index].place for index in stage.pins])
    gap = np.hypot(*(path[:, None, :] - held[None, :, :]).transpose(2, 0, 1)).min()
    assert gap >= float(body) / 2.0 + 0.125 + 0.0625
    assert gap == pytest.approx(float(body) / 2.0 + 0.125 + 0.0625, abs=1e-3)
    middle = held.mean(axis=0)
    g = math.sqrt(1 / 4 + ((path - middle) ** 2).sum(axis=1).max() / ((held - middle) ** 2).sum())
    assert pins.plan.hold_ratio == pytest.approx(g, rel=0.01)


def test_no_pin_stands_over_the_key_hole_of_a_plug(layout_of):
    """A plug of 7.125 x 3.125 has its key .36 and .18 of that off its middle, 2.565 and .5625.

    Pins .9975 from each edge stand at 2.565 and .565: three of the four.
    """
    opening = 'shape = "rounded rectangle"\nwidth = "8"\nheight = "4"\nradius = ".3125"\ncenter = ["0", "0"]'
    router = {
        "kind": "router",
        "cut_width": ".25",
        "guide": ".625",
        "filing_allowance": "0",
        "template": "male",
    }
    sizes = SIZES | {f"cutter__{field}": value for field, value in router.items()} | {"cutter__body": "2.245"}
    layout = layout_of("plain", opening=opening, **sizes)
    pins, _ = pins_of(layout)
    (key,) = (hole for hole in part_on_skin(making_of(layout)).holes if hole.name == "key hole")
    assert sorted(abs(part) for part in key.center) == pytest.approx([0.5625, 2.565])
    assert len(pins.pins) == 3
    for pin in pins.pins:
        assert (abs(pin.place[0]), abs(pin.place[1])) == pytest.approx((2.565, 0.565), abs=1e-5)
        assert math.dist(layout.frame.to_page(*pin.place), key.center) > 0.25


def clear_of(layout, pins) -> tuple[float, float]:
    """Least distance of the clamps from the sampled path, and from the outer edge of the plate, a plain rectangle."""
    chain = job_chain(layout)
    places = np.array([pin.place for pin in pins.clamps])
    path = sampled(chain.reached.loops[0])[0]
    to_path = np.hypot(*(path[:, None, :] - places[None, :, :]).transpose(2, 0, 1)).min()
    x_min, y_min, x_max, y_max = chain.machinable.bounds
    border = layout.job.template.border.inch
    sides = np.array([x_min - border, y_min - border, -x_max - border, -y_max - border])
    return float(to_path), float((np.hstack([places, -places]) - sides).min())


def test_a_window_without_holes_is_clamped_on_a_border_that_is_wide_enough(layout_of):
    """Body 1.75, fastener .25, guide .5: .875 + .125 + .0625 - .25 + .125 = .9375 of border takes a clamp."""
    layout = layout_of("plain", **SIZES)
    pins, findings = pins_of(layout)
    assert pins.border_in == pytest.approx(0.9375)
    assert len(pins.clamps) == 4
    assert findings["T501"].status is Status.CAUTION
    for pin in pins.clamps:
        assert f"X {figure(pin.place[0], 'in')} Y {figure(pin.place[1], 'in')} in" in advice_of(
            findings["T501"]
        )
    assert "T502" not in findings  # a clamp has no play
    to_path, to_edge = clear_of(layout, pins)
    assert to_path >= 1.0625
    assert to_edge >= 0.125
    assert notes_of(layout, pins)[0].startswith("Stage 1 of 1: clamp the border at X ")
    assert pins.clear_in == pytest.approx(1.0625 - 0.0965)


@pytest.mark.parametrize(("border", "is_held"), [(".93", False), (".945", True)])
def test_a_border_too_narrow_for_clamps_is_told_how_wide(layout_of, border, is_held):
    layout = layout_of("plain", template__border=border, **SIZES)
    pins, findings = pins_of(layout)
    assert (pins.plan is not None) is is_held
    if not is_held:
        assert findings["T501"].status is Status.STOP
        assert "a border of .938 in or more around the window (it has .930 in)" in advice_of(findings["T501"])


def test_a_millimetre_job_is_told_in_millimetres(layout_of):
    """.9375 in is 23.8125 mm."""
    job = layout_of("plain", template__border=".5", **SIZES).job
    _, findings = pins_of(lay_out(job.model_copy(update={"units": "mm"})))
    told = advice_of(findings["T501"], "mm")
    assert "a border of 23.82 mm or more around the window (it has 12.70 mm)" in told
    assert " in or" not in told


def test_notes_name_pins_and_runs_as_a_person_sees_them(layout_of):
    layout = layout_of("alder", **SIZES)
    notes = notes_of(layout, pins_of(layout)[0])
    assert len(notes) == 2
    assert notes[0].startswith("Stage 1 of 2: pin holes ")
    assert "Cut clockwise, seen from outside" in notes[0]  # the job's X and Y show mirrored from below
    assert "Run in straight through the waste from S (X 5.500 Y 4.500 in)" in notes[0]
    assert "Put the new pins in first, then pull holes" in notes[1]
    assert "Run in" not in notes[1]
    assert "The run-ins split the waste into 2 pieces" in notes[1]


def test_every_run_can_be_reached_and_the_waste_hangs_to_the_end(layout_of):
    """Runs begin at a run-in through the waste or where an earlier one ends; nothing is cut through before the tabs."""
    layout = layout_of("alder", **SIZES)
    chain, pins = job_chain(layout), pins_of(layout)[0]
    stages = runs_of(making_of(layout), pins)
    waste = Polygon(chain.reached.loops[0].points(1e-4)).buffer(1e-3)
    assert [[run.name for run in runs] for runs in stages] == [["1A", "1B"], ["2A", "2B"]]
    ended = []
    for runs, stage in zip(stages, pins.plan.stages, strict=True):
        for run, stretch in zip(runs, stage.stretches, strict=True):
            assert run.start == pytest.approx(stretch.start, abs=1e-9)
            assert run.end == pytest.approx(stretch.end, abs=1e-9)
            if run.begin == "run-in":
                assert waste.contains(LineString([(5.5, 4.5), run.start]))
            else:
                assert run.begin == "end of a run"
                assert min(math.dist(run.start, end) for end in ended) < 1e-9
            held = MultiPoint([pins.pins[index].place for index in stage.pins])
            assert LineString(run.way).distance(held) >= pins.reach_in - 1e-3
            assert (run.tab is not None) is (runs is stages[-1])
            if run.tab:
                # .5 along a straight side
                assert math.dist(run.tab, run.end) == pytest.approx(0.5, abs=1e-6)
        ended += [run.end for run in runs]


def test_beside_a_plug_the_cut_begins_in_the_starter_hole(layout_of):
    layout = layout_of("dogwood", **(SIZES | {"cutter__body": "1.4"}))
    ((run,),) = runs_of(making_of(layout), pins_of(layout)[0])
    assert run.begin == "starter"
    assert run.start == run.end
    (note,) = notes_of(layout, pins_of(layout)[0])
    assert "1A: Start in S (X .000 Y" in note
    assert "Cut all around." in note


def test_without_a_starter_no_way_is_named(layout_of):
    layout = layout_of("plain", cutter__starter="3.7", **SIZES)
    (note,) = notes_of(layout, pins_of(layout)[0])
    assert "The starter hole is not resolved (T601)" in note


def with_stages(pins, *stages):
    """The same pins with a plan of our own: the stretches of each stage and the places that hold meanwhile."""
    places = [place for _, held in stages for place in held]
    numbers = iter(range(len(places)))
    made = tuple(
        Stage(stretches, tuple(next(numbers) for _ in held), 0.5, (0.0, 0.0)) for stretches, held in stages
    )
    plan = replace(pins.plan, stages=made)
    return replace(pins, pins=tuple(Pin(place, None) for place in places), plan=plan)


def halves(chain, first_in: float):
    """Both halves of the path, from a place on."""
    path = chain.reached.loops[0]
    along = np.mod(first_in + np.array([0.0, path.length_in / 2.0]), path.length_in)
    start, end = (tuple(point) for point in places_at(path, along).points)
    return Stretch(along[0], along[1], start, end), Stretch(along[1], along[0], end, start)


def test_round_a_corner_another_hole_is_asked_for(layout_of):
    """An L of limbs 2 wide, the starter at the end of one: it sees starts in its own limb, not those in the other."""
    opening = (
        'shape = "polygon"\nradii = [".3"]\n'
        'corners = [["0", "0"], ["9", "0"], ["9", "2"], ["2", "2"], ["2", "9"], ["0", "9"]]'
    )
    layout = layout_of("plain", opening=opening, cutter__starter=".5", **SIZES)
    cutter = layout.job.cutter.model_validate(
        {**layout.job.cutter.model_dump(exclude_none=True), "starter_at": ["8", "1"]}, context={"unit": "in"}
    )
    layout = lay_out(layout.job.model_copy(update={"cutter": cutter}))
    chain = job_chain(layout)
    shape = Polygon(chain.reached.loops[0].points(1e-4)).buffer(1e-3)
    seen = set()
    for share in np.arange(0.05, 1.0, 0.1):
        first, second = halves(chain, share * chain.reached.loops[0].length_in)
        far = [(30.0, 30.0), (-30.0, 30.0), (-30.0, -30.0)]
        made = with_stages(pin_layout(making_of(layout)), ((first,), far), ((second,), far))
        ((run,), _) = runs_of(making_of(layout), made)
        sees = shape.contains(LineString([(8.0, 1.0), run.start]))
        assert run.begin == ("run-in" if sees else "own hole")
        assert (run.hole is None) is sees
        if run.hole:  # it runs in from there through nothing but waste, and keeps .25 to the line
            assert run.hole.mark == "S2"
            assert shape.contains(LineString([run.hole.center, run.start]))
            rough = Polygon(layout.rough_cut.loops[0].points(1e-4))
            assert rough.exterior.distance(Point(run.hole.center)) > 0.25 + 0.25 - 1e-3
        seen.add(sees)
    assert seen == {True, False}


@pytest.mark.parametrize(
    ("kind", "begin"), [("round-punch nibbler", "before the pins"), ("router", "end of a run")]
)
def test_pins_of_a_stage_in_the_way_along_the_cut_are_seen(layout_of, kind, begin):
    """A fastener of the second stage that stands beside the first run: a nibbler must pass before it goes in."""
    layout = layout_of("plain", cutter__starter=".5", **SIZES)
    cutter = layout.job.cutter.model_copy(update={"kind": kind})
    layout = lay_out(layout.job.model_copy(update={"cutter": cutter}))
    chain = job_chain(layout)
    first, second = halves(chain, 0.0)
    far = [(30.0, 30.0), (-30.0, 30.0), (-30.0, -30.0)]
    middle = places_at(chain.reached.loops[0], [chain.reached.loops[0].length_in / 4.0]).points[0]
    outside = np.array([4.0, 3.0]) + 1.3 * (middle - [4.0, 3.0])
    ((_,), (run,)) = runs_of(
        making_of(layout),
        with_stages(pin_layout(making_of(layout)), ((first,), far), ((second,), [*far, tuple(outside)])),
    )
    assert run.begin == begin
    assert run.after == "1A"


@pytest.mark.parametrize("made_for_the_other_side", [False, True])
def test_a_router_runs_clockwise_in_a_window_on_both_sides(layout_of, made_for_the_other_side):
    """Against the turn of its spindle, which the other side does not turn round: common practice, no source."""
    job = layout_of("alder", **SIZES).job
    router = job.cutter.model_copy(update={"kind": "router", "advance": None})
    job = job.model_copy(update={"cutter": router})
    layout = lay_out(other_side(job) if made_for_the_other_side else job)
    notes = notes_of(layout, pins_of(layout)[0])
    assert len(notes) == 2
    assert all("Cut clockwise, seen from outside" in note for note in notes)


def test_missing_sizes_are_asked_for(layout_of):
    layout = layout_of("alder")
    with pytest.raises(JobError) as caught:
        pin_layout(making_of(layout))
    assert [fault.field for fault in caught.value.faults] == ["cutter.body", "template.pin_body"]
