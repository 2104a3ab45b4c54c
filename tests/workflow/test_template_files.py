"""Template files: geometry as the scenario has it, and refusals before anything is handed out.

Sizes are those of the scenario ALDER: window 5.277 x 4.277, corner .8885, about X 5.500, Y 4.500.
"""

from __future__ import annotations

import io
import math
from datetime import UTC, datetime

import ezdxf
import numpy as np
import pytest

from hatchwright.drawings.writers import Paper
from hatchwright.errors import ExportError
from hatchwright.job.file import read_job
from hatchwright.units import inches
from hatchwright.workflow.examine import examine
from hatchwright.workflow.template_files import template_files
from tests.made_once import by_name

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)


@pytest.fixture(scope="module")
def files(alder, made_once):
    return made_once(template_files, alder, stamp=STAMP, stem="alder", paper=Paper.LETTER)


def template_edges(data):
    doc = ezdxf.read(io.StringIO(data.decode("utf-8")))
    edges = [e for e in doc.modelspace() if e.dxf.layer == "TEMPLATE"]
    assert all(e.dxftype() == "LWPOLYLINE" and e.closed for e in edges)
    return [np.array(list(e.get_points("xyb"))) for e in edges]


def test_both_sides_get_their_own_set(files):
    assert set(files) == {
        f"alder_{name}"
        for side in ("LEFT", "RIGHT")
        for name in (
            *(f"TEMPLATE_{side}_{end}" for end in ("IN.svg", "IN.dxf", "LETTER.pdf")),
            f"PREDICTED_CUT_{side}_IN.svg",
            f"TEMPLATE_SHEET_{side}_LETTER.pdf",
        )
    }


def test_the_window_in_the_dxf_is_that_of_the_scenario(files):
    window, _ = template_edges(files["alder_TEMPLATE_LEFT_IN.dxf"])
    low, high = window[:, :2].min(axis=0), window[:, :2].max(axis=0)
    assert high - low == pytest.approx([5.277, 4.277], abs=1e-9)
    assert 0.5 * (low + high) == pytest.approx([5.5, -4.5], abs=1e-9)
    arcs = [k for k in range(len(window)) if window[k, 2]]
    assert len(arcs) == 4
    for k in arcs:
        chord = math.dist(window[k, :2], window[(k + 1) % len(window), :2])
        assert chord / (2.0 * math.sin(2.0 * math.atan(abs(window[k, 2])))) == pytest.approx(0.8885, abs=1e-9)


def test_the_right_template_is_the_exact_mirror_and_not_the_same(files):
    left, right = (template_edges(files[f"alder_TEMPLATE_{side}_IN.dxf"]) for side in ("LEFT", "RIGHT"))
    for one, other in zip(left, right, strict=True):
        assert {(-x, y) for x, y, _ in other} == {(x, y) for x, y, _ in one}
    plates = [{tuple(np.round(edge[:, :2] - edge[:, :2].min(axis=0), 9).tolist()[k]) for k in range(len(edge))}
              for edge in (left[1], right[1])]  # fmt: skip
    assert plates[0] != plates[1]


def test_the_scale_of_svg_and_dxf_is_one_to_one(files):
    svg = files["alder_TEMPLATE_LEFT_IN.svg"].decode("utf-8")
    head = svg[: svg.index("<title>")]
    width = float(head.split('width="')[1].split("in")[0])
    view = [float(word) for word in head.split('viewBox="')[1].split('"')[0].split()]
    assert width == pytest.approx(view[2])
    assert "Full size 1:1" in svg


def test_a_re_entrant_corner_that_would_be_over_cut_is_refused(alder):
    ell = {
        "shape": "polygon",
        "corners": [["3", "2.5"], ["8", "2.5"], ["8", "4.5"], ["5.5", "4.5"], ["5.5", "6.5"], ["3", "6.5"]],
        "radii": [".75", ".75", ".75", "0", ".75", ".75"],
    }
    job = job_with(alder, opening=ell)
    with pytest.raises(ExportError, match="T101"):
        template_files(examine(job), stamp=STAMP)


def test_a_cut_as_wide_as_the_opening_is_refused(alder):
    cutter = alder.cutter.model_copy(update={"cut_width": inches(4.5), "guide": inches(5.0)})
    with pytest.raises(ExportError, match="T100"):
        template_files(examine(alder.model_copy(update={"cutter": cutter})), stamp=STAMP)


@pytest.mark.parametrize(
    ("job", "guide_in"), [("alder", 12.7), ("alder", 5.0), ("dogwood", 15.875), ("dogwood", 3.0)]
)
def test_a_guide_larger_than_the_opening_is_refused(request, job, guide_in):
    """.500 in and .625 in as 12.7 and 15.875 without their mm; a collar wider than 4.97; one that leaves no
    plug of a window 3 wide."""
    entered = request.getfixturevalue(job)
    cutter = entered.cutter.model_copy(update={"guide": inches(guide_in)})
    with pytest.raises(ExportError, match=r"T100, Cutter, guide and end mill"):
        template_files(examine(entered.model_copy(update={"cutter": cutter})), stamp=STAMP)


@pytest.mark.parametrize("missing", ["cutter", "template"])
def test_a_job_without_cutter_or_template_is_told_what_to_enter(alder, missing):
    with pytest.raises(ExportError, match=f"Add a {missing}"):
        template_files(examine(alder.model_copy(update={missing: None})), stamp=STAMP)


def test_a_wrong_corner_is_offered_with_its_warning(dogwood, made_once):
    files = made_once(template_files, dogwood, stamp=STAMP, stem="dogwood")
    svg = files["dogwood_TEMPLATE_CENTER_IN.svg"].decode("utf-8")
    assert "STOP T102" in svg
    assert ".4375" in svg


def test_the_same_time_makes_the_same_bytes(dogwood, made_once):
    first = made_once(template_files, dogwood, stamp=STAMP, stem="dogwood")
    assert by_name(template_files(examine(dogwood), stamp=STAMP, stem="dogwood")) == first


def job_with(job, *, opening):
    """The same job with another opening, as it would be typed."""
    corners = ", ".join(f'["{x}", "{y}"]' for x, y in opening["corners"])
    radii = ", ".join(f'"{radius}"' for radius in opening["radii"])
    text = f"""
schema = 2
title = "{job.title}"
[aircraft]
side = "left"
surface = "lower"
[frame]
origin = "two rows"
x = "OUTBD"
y = "AFT"
[skin]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".032"
stressed = true
[opening]
shape = "{opening["shape"]}"
corners = [{corners}]
radii = [{radii}]
[cutter]
kind = "round-punch nibbler"
cut_width = ".193"
guide = ".500"
filing_allowance = ".015"
template = "female"
[template]
thickness = ".125"
end_mill = "1/8"
border = "1.5"
"""
    return read_job(text)


def test_a_skin_curved_both_ways_gets_no_template(alder_text):
    flat = '[skin.curvature]\nalong = "x"\nchord = "8.00"\nrise = ".400"\n'
    for more, refused in (("", False), ('other_rise = "1/4"\n', True)):
        text = alder_text.replace("\n[opening]", f"\n{flat}{more}\n[opening]", 1)
        examination = examine(read_job(text))
        if not refused:
            assert template_files(examination, stamp=STAMP)
            continue
        with pytest.raises(ExportError, match=r"T701.*Double curvature.*without a flat template"):
            template_files(examination, stamp=STAMP)
