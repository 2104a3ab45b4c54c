"""One depth gives the same room in every rule: depth less reach, both from the outer face of the skin.

The depth at each place is worked out here by brute force from what was entered: the straight line between the ends of a
slope, the swing taken off, at least the skin between.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.making.cutter.cutter_fit import cutter_findings, cutter_stop
from hatchwright.making.cutter.starter_findings import starter_findings
from hatchwright.making.cutter.starter_stops import pilot_stop
from hatchwright.making.making import cutting_of
from hatchwright.recipe.stops import bar_stop, screw_stop, stops_for
from rules.cases import FLUSH, changed, job_of, rules, typed

CUTTER = {
    "kind": "router", "cut_width": "1", "guide": "1.25", "filing_allowance": "0", "template": "female",
    "behind": ".3", "starter_reach": ".9", "starter": "1",
}  # fmt: skip
NUT, BAR, LENGTH, SKIN, DOUBLER, D = 0.25, 0.75, 0.5, 0.032, 0.040, 0.125
JOB = changed(
    FLUSH, {"cutter": CUTTER, "cover.screws.nut_height": ".25", "bay.bar": ".75", "opening.radius": ".25"}
)
"""Skin .032, doubler .040 inside, screws 1/2 long, nuts .25, bar .75, and a cutter that does not make its corners."""

REACH = {
    "R702": SKIN + DOUBLER + 0.125,
    "R705": SKIN + DOUBLER + NUT,
    "R706": SKIN + DOUBLER + 1.5 * D + BAR,
    "R803": LENGTH,
    "T303": 0.3,
    "T602": SKIN + 0.125,
    "T603": 0.9,
}
"""How far each rule's tool or part reaches, worked by hand."""

depths = st.floats(0.0, 3.0)
swings = st.none() | st.floats(0.0, 0.5)


@st.composite
def whole_bay(draw):
    """Something that lies all over the bay, at one depth or sloping along Y, and may move."""
    there = {"name": "thing", "x_from": "-9", "x_to": "9", "y_from": "-9", "y_to": "9"}
    if draw(st.booleans()):
        first, last = draw(depths), draw(depths)
        ends = {
            "start": ["0", "-20"],
            "start_depth": typed(first),
            "end": ["0", "-19"],
            "end_depth": typed(last),
        }
        there, depth = {**there, **ends}, last  # all of the bay lies beyond its end
    else:
        depth = draw(depths)
        there["depth"] = typed(depth)
    swing = draw(swings)
    if swing is not None:
        there |= {"moves": True, "swing": typed(swing), "clearance": typed(draw(st.floats(0.01, 1.0)))}
    return there, max(depth - (swing or 0.0), SKIN)


def room_and_reach(finding):
    values = {value.symbol: value.value for step in finding.working for value in (*step.values, step.result)}
    return values["depth"], values["reach"], values["depth - reach"]


@given(whole_bay())
def test_the_same_depth_gives_the_same_room_in_every_rule(thing):
    there, depth = thing
    layout = lay_out(job_of(JOB, bay__keep_outs=[there]))
    measured, cutting = survey(layout), cutting_of(layout)
    found = [one for code in ("R702", "R705", "R706", "R803") for one in rules()[code].check(measured)]
    found += [*cutter_findings(layout), *starter_findings(cutting)]
    judged = [one for one in found if one.code in REACH and one.working and one.cause != "survey"]
    codes = set()
    for one in judged:
        told, reach, room = room_and_reach(one)
        assert told == pytest.approx(depth, abs=1e-6)
        assert room == pytest.approx(told - reach, abs=1e-6)
        if not (one.code == "T603" and reach != REACH["T603"]):  # its pilot drill stops first
            assert reach == pytest.approx(REACH[one.code], abs=1e-6)
        codes.add(one.code)
    on_skin = depth <= SKIN + 1e-9
    assert codes == set(REACH) - ({"R702", "T303"} if on_skin else set())


@given(whole_bay())
def test_every_stop_has_the_room_that_its_rule_tells(thing):
    there, depth = thing
    layout = lay_out(job_of(JOB, bay__keep_outs=[there]))
    stops = {
        "R702": stops_for(layout, layout.holes_of("rivet"), ("skin", "doubler")),
        "R706": bar_stop(layout, layout.holes_of("rivet")),
        "R803": screw_stop(layout),
        "T303": cutter_stop(layout),
        "T602": pilot_stop(layout),
    }
    kept = float(there.get("clearance", "0"))
    for code, stop in stops.items():
        if stop.before is None:  # T303 leaves to R701 what lies on the skin
            assert code == "T303"
            continue
        assert stop.left_in == pytest.approx(depth - REACH[code], abs=1e-6)
        assert stop.most_in - stop.setting_in == pytest.approx(stop.left_in - max(kept, 0.125), abs=1e-6)
        margin = stop.left_in - max(kept, 0.125)
        if abs(margin) > 1e-6:
            assert stop.status is (Status.PASS if margin > 0.0 else Status.STOP)


@given(
    start=st.tuples(*[st.floats(-3.0, 3.0)] * 2, depths),
    end=st.tuples(*[st.floats(-3.0, 3.0)] * 2, depths),
    swing=st.floats(0.0, 0.5),
)
def test_a_slope_is_as_deep_at_a_hole_as_the_least_of_its_places_there(start, end, swing):
    """Many places of the box around the rivet at X 2.3, each by the share of its way from start to end."""
    if math.dist(start[:2], end[:2]) < 1e-3:
        return
    ends = {
        "start": [typed(start[0]), typed(start[1])], "start_depth": typed(start[2]),
        "end": [typed(end[0]), typed(end[1])], "end_depth": typed(end[2]),
    }  # fmt: skip
    there = {"name": "thing", "x_from": "-9", "x_to": "9", "swing": typed(swing), "clearance": ".2", **ends}
    layout = lay_out(job_of(JOB, bay__keep_outs=[there]))
    rivets = [hole for hole in layout.holes_of("rivet") if hole.number == 1]
    stop = stops_for(layout, rivets, ("skin", "doubler"))
    reach = 0.2  # its own clearance is more than the diameter
    x, y = np.meshgrid(np.linspace(2.3 - reach, 2.3 + reach, 41), np.linspace(-reach, reach, 41))
    way = np.array(end[:2]) - np.array(start[:2])
    share = ((x - start[0]) * way[0] + (y - start[1]) * way[1]) / float(way @ way)
    least = float((start[2] + np.clip(share, 0.0, 1.0) * (end[2] - start[2])).min())
    assert stop.before.depth_in == pytest.approx(max(least - swing, SKIN), abs=1e-5)
