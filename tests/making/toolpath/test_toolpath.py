"""Toolpaths: what is cut, in which order, how deep; what the machine lacks is named.

The metal that is cut away is compared with the template by shapely, a general-purpose polygon library, from nothing
but the numbers that stand in the file.
"""

from __future__ import annotations

import cmath
import math
import re

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hatchwright.errors import GeometryError, JobError
from hatchwright.job.machine import EndMill
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.making import making_of
from hatchwright.making.template.blank import Blank
from hatchwright.making.template.part import TemplatePart
from hatchwright.making.toolpath.ngc import ngc_of
from hatchwright.making.toolpath.retrace import retrace
from hatchwright.making.toolpath.retrace_check import Wanted, refuse_wrong_trace
from hatchwright.making.toolpath.toolpath import tool_runs, toolpath
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Profile
from hatchwright.units import inches
from making.machines import machine
from shapes.drawn import as_polygon, profiles
from tests.told import remedy_of
from told import what_of

TWO_PI = 2.0 * math.pi


def text_of(run, shop):
    return ngc_of(run, unit=shop.units, safe_in=shop.safe_height.inch, remarks=["A JOB"])


def planned(job, shop, *, blank_in=(14.0, 14.0)):
    """The toolpath of a job on a machine, and its files."""
    blank = tuple(inches(side) for side in blank_in)
    job = job.model_copy(update={"template": job.template.model_copy(update={"blank": blank})})
    layout = lay_out(job)
    path = toolpath(making_of(layout), shop)
    return path, [text_of(run, shop) for run in path.runs]


def words_of(line):
    return {letter: float(value) for letter, value in re.findall(r"([XYZIJFRQ])(-?[\d.]+)", line)}


def cut_lines(text, *, below):
    """Where the tool's center runs deeper than a height, one line for each run; arcs as chords."""
    at, runs, points = 0j, [], []
    for line in text.splitlines():
        to = words_of(line)
        if not re.match(r"G[0123] X", line):
            continue
        end = complex(to["X"], to["Y"])
        if to["Z"] < below and line[:3] in ("G2 ", "G3 "):
            hub = at + complex(to["I"], to["J"])
            turn = cmath.phase((end - hub) / (at - hub)) % TWO_PI - (TWO_PI if line[1] == "2" else 0.0)
            points += [hub + (at - hub) * cmath.exp(1j * turn * k / 200) for k in range(200)]
        at = end
        if to["Z"] < below:
            points.append(at)
        elif points:
            runs.append(shapely.LineString([(z.real, z.imag) for z in points]))
            points = []
    return runs


@pytest.mark.parametrize(
    ("example", "mill"), [("alder", "1/8 in"), ("birch", "1/4 in"), ("dogwood", "1/4 in")]
)
def test_what_is_left_is_the_template(job_of, example, mill):
    """What the tool sweeps above the tabs touches the template's edge everywhere and bites it nowhere."""
    path, texts = planned(job_of(example), machine(mill=mill))
    radius = path.runs[-1].tool.diameter.inch / 2
    solid = as_polygon(path.blank.part.material, 1e-5)
    swept = shapely.union_all(
        [line.buffer(radius, quad_segs=100) for line in cut_lines(texts[-1], below=-0.02)]
    )
    assert swept.intersection(solid).area < 1e-3
    assert swept.buffer(2e-4).intersection(solid.boundary).length == pytest.approx(solid.length, rel=1e-6)


def test_holes_come_first_then_the_window_and_the_outline_last(job_of):
    path, texts = planned(job_of("alder"), machine())
    assert [run.tool.kind for run in path.runs] == ["drill", "end mill"]
    assert len(path.runs[0].holes) == 64
    assert "G83" in texts[0]
    assert "G1 " not in texts[0]
    window, outline = cut_lines(texts[1], below=-0.02)
    assert shapely.Polygon(outline).contains(window)


def test_the_window_is_the_scenarios_less_the_tool(job_of):
    """ALDER: window 5.277 x 4.277; the center of a 1/8 end mill runs 1/16 inside it."""
    _, texts = planned(job_of("alder"), machine())
    x_min, y_min, x_max, y_max = cut_lines(texts[1], below=-0.02)[0].bounds
    assert (x_max - x_min, y_max - y_min) == pytest.approx((5.277 - 0.125, 4.277 - 0.125), abs=2e-5)
    assert ((x_min + x_max) / 2, (y_min + y_max) / 2) == pytest.approx((7.0, 7.0), abs=1e-5)


@pytest.mark.parametrize(("unit", "code", "per_in"), [("in", "G20", 1.0), ("mm", "G21", 25.4)])
def test_words_of_a_file(job_of, unit, code, per_in):
    _, texts = planned(job_of("alder"), machine(units=unit))
    for text in texts:
        lines = text.splitlines()
        start = next(line for line in lines if line.startswith("G17"))
        assert start == f"G17 {code} G40 G49 G54 G80 G90 G91.1 G94"
        assert lines[0] == lines[-1] == "%"
        assert sum(line.startswith("T") for line in lines) == 1
        assert not re.search(r"G4[123]|G91|G92", text.replace("G40 G49", "").replace("G91.1", ""))
        values = re.findall(r"[XYZIJFRQ](-?\d+\.(\d+))", text)
        assert {len(decimals) for _, decimals in values} == {5}
        assert min(words_of(line).get("Z", 0.0) for line in lines) < -0.125 * per_in
    assert f"G0 Z{0.75 * per_in:.5f}" in texts[0]


def test_levels_passes_and_tabs(job_of):
    """Blank .125, .010 below it: .135 in passes of at most .050 are three of .045; two of them lie below the tab's
    top at .085 below the blank's top, so each of four tabs is passed over twice a lap round each of two edges."""
    _, texts = planned(job_of("alder"), machine())
    heights = [words_of(line)["Z"] for line in texts[1].splitlines() if re.match("G[123] ", line)]
    assert {-0.045, -0.09, -0.135} < set(heights)
    assert min(heights) == -0.135
    lifts = re.findall(r"^G1 \S+ \S+ Z-0.08500 F8.00000$", texts[1], re.MULTILINE)
    assert len(lifts) == 2 * 2 * 4


def test_a_shallow_hole_needs_no_pecks(job_of):
    _, texts = planned(job_of("alder"), machine(peck=".5 in"))
    assert "G83" not in texts[0]
    assert texts[0].count("G81") == 64
    point_in = 0.049 / math.tan(math.radians(59))
    assert words_of(next(line for line in texts[0].splitlines() if "G81" in line))["Z"] == pytest.approx(
        -0.135 - point_in, abs=1e-5
    )


def test_the_key_hole_of_a_plug_is_drilled_by_the_end_mill_that_is_as_wide(job_of):
    path, texts = planned(job_of("dogwood"), machine(mill="1/4 in"))
    (run,) = path.runs
    assert [hole.name for hole in run.holes] == ["key hole"]
    assert texts[0].index("G83") < texts[0].index("G1 ")


def test_a_template_is_turned_a_quarter_when_only_that_fits(job_of):
    lying, _ = planned(job_of("alder"), machine(), blank_in=(9, 8))
    upright, _ = planned(job_of("alder"), machine(), blank_in=(8, 9))
    assert (lying.blank.is_turned, upright.blank.is_turned) == (False, True)
    assert lying.blank.part.material.area_sq_in == pytest.approx(upright.blank.part.material.area_sq_in)
    turned = [(8.0 - hole.center[1], hole.center[0]) for hole in lying.blank.part.holes]
    assert turned == [pytest.approx(hole.center) for hole in upright.blank.part.holes]


# what is refused ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"mill": "1/4 in"}, "template.end_mill", "no end mill of that diameter"),
        ({"tab_height": ".125 in"}, "tabs.height", "as high as the blank"),
        ({"pass_depth": ".0001 in"}, "tools (number 2).pass_depth", "more than 500"),
        ({"peck": ".0001 in"}, "tools (number 1).peck", "more than 500"),
    ],
)
def test_what_the_machine_lacks_is_named(job_of, changes, field, words):
    with pytest.raises(JobError) as caught:
        planned(job_of("alder"), machine(**changes))
    (fault,) = caught.value.faults
    assert fault.field == field
    assert words in what_of(fault)
    assert remedy_of(fault)


def test_a_hole_without_a_drill_is_named(job_of):
    with pytest.raises(JobError, match=r"no drill for rivet 1 .*template pin"):
        planned(
            job_of("alder", template__pin="1/8 in", template__end_mill="1/16 in"), machine(mill="1/16 in")
        )


def test_a_tool_that_does_not_reach_is_named(job_of):
    with pytest.raises(JobError, match=r"must go 1\.0\d\d in deep and won't reach"):
        planned(job_of("alder", template__thickness="1"), machine())


def test_a_job_without_a_blank_or_with_too_small_a_one_is_refused(job_of):
    shop, layout = machine(), lay_out(job_of("plain"))
    with pytest.raises(JobError, match=r"template\.blank: the blank size is not entered"):
        toolpath(making_of(layout), shop)
    with pytest.raises(JobError, match=r"7\.277 x 8\.277 in, does not fit"):
        planned(job_of("plain"), shop, blank_in=(8.0, 7.5))


def test_tabs_that_take_most_of_an_edge_are_refused(job_of):
    with pytest.raises(GeometryError, match="Use fewer, narrower or lower tabs"):
        planned(job_of("alder"), machine(tabs=20, tab_width=".5 in"))


# random profiles ------------------------------------------------------------------------------------------------------


@pytest.mark.property
@settings(deadline=None, max_examples=60)
@given(
    drawn=profiles(),
    is_window=st.booleans(),
    mill_in=st.sampled_from([0.0625, 0.125, 0.25]),
    thickness_in=st.sampled_from([0.063, 0.125, 0.25]),
    unit=st.sampled_from(["in", "mm"]),
    ramp=st.sampled_from([1, 5, 20, 45]),
    tabs=st.integers(1, 5),
)
def test_random_profiles_trace_back(drawn, is_window, mill_in, thickness_in, unit, ramp, tabs):
    """Whatever a template's end mill can make, the file is written and the tracer finds nothing wrong with it."""
    radius = mill_in / 2 + 0.001
    made = grow(erode(drawn, radius), radius) if is_window else erode(grow(drawn, radius), radius)
    assume(not made.is_empty)
    if is_window:
        x_min, y_min, x_max, y_max = made.bounds
        plate = rounded_rectangle(
            width_in=x_max - x_min + 2,
            height_in=y_max - y_min + 2,
            radius_in=0.0,
            center=((x_min + x_max) / 2, (y_min + y_max) / 2),
        )
        made = Profile((plate, *(loop.reversed() for loop in made.loops)))
    shop = machine(
        units=unit, ramp=ramp, tabs=tabs, mill=f"{mill_in} in", tab_width=".1 in", tab_height=".02 in"
    )
    blank = Blank((20.0, 20.0), thickness_in, TemplatePart(made, (), None, ()), False)
    mill = shop.tool(EndMill, mill_in)
    try:
        (run,) = tool_runs(blank, shop, mill)
    except GeometryError as error:
        assume("tabs" not in str(error) and "get around" not in str(error))
        raise
    assert len(run.edges) == len(made.loops)
    refuse_wrong_trace(retrace(text_of(run, shop)), Wanted(shop, mill, thickness_in, (), run.edges))
