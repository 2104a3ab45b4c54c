"""A template that is bent onto a curved skin: its flat files are bent in space, and a straight guide tried on them.

Bending keeps the middle of the sheet (thin elastic plate, cross-sections plane): nothing else is taken over from the
code under test. The skin is 8.00 wide under a straightedge with a rise of .400, R = 64/3.2 + .2 = 20.2, along X; the
template is .125 thick, its window 5.277 x 4.277 on the skin.
"""

from __future__ import annotations

import io
import math
from datetime import UTC, datetime

import ezdxf
import numpy as np
import pytest

from hatchwright.documents.card_steps import card_steps
from hatchwright.documents.step import Work
from hatchwright.job.file import edited, read_job
from hatchwright.job.text_file import load_text
from hatchwright.judged import Status
from hatchwright.making.guide import job_recipe
from hatchwright.making.template.flat_size import flat_cut
from hatchwright.making.template.part import part_on_skin, template_part
from hatchwright.workflow.examine import examine
from hatchwright.workflow.template_files import template_files, template_values
from tests.cards import told_step
from tests.conftest import EXAMPLES
from tests.made_once import by_name
from tests.told import named
from told import advice_of, subject_of

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
RADIUS, THICK = 20.2, 0.125
CENTER = 5.5
CURVED = '[skin.curvature]\nalong = "{along}"\nchord = "8.00"\nrise = ".400"\nother_rise = "0"\n\n[opening]'
ALDER = edited(load_text(EXAMPLES / "alder.toml"), {"aircraft.both_sides": "false"})


def job(*, along: str = "x", flexed: str = "flexed = true\n", **changes: str):
    text = ALDER.replace("[opening]", CURVED.format(along=along), 1)
    text = text.replace("[template]\n", f"[template]\n{flexed}", 1)
    return read_job(edited(text, {name.replace("__", "."): value for name, value in changes.items()}))


@pytest.fixture(scope="module")
def bent():
    return examine(job())


@pytest.fixture(scope="module")
def rigid():
    return examine(job(flexed="flexed = false\n"))


@pytest.fixture(scope="module")
def files(bent):
    return by_name(template_files(bent, stamp=STAMP, stem="a"))


def edges(files):
    """Corners of the edges as they stand in the DXF file, arcs as points, by an outside reader."""
    name = next(name for name in files if name.endswith("TEMPLATE_LEFT_IN.dxf"))
    doc = ezdxf.read(io.StringIO(files[name].decode("utf-8")))
    made = [
        np.array([(p.x, p.y) for p in ezdxf.path.make_path(e).flattening(1e-6)])
        for e in doc.modelspace()
        if e.dxf.layer == "TEMPLATE"
    ]
    holes = [(e.dxf.center.x, e.dxf.center.y) for e in doc.modelspace().query("CIRCLE[layer=='DRILL_PILOT']")]
    return made, np.array(holes)


def test_the_engraved_center_lines_end_at_the_flat_window(files):
    doc = ezdxf.read(io.StringIO(files["a_TEMPLATE_LEFT_IN.dxf"].decode("utf-8")))
    ends = {
        (round(e.dxf.end.x, 6), round(e.dxf.end.y, 6))
        for e in doc.modelspace().query("LINE[layer=='ENGRAVE']")
    }
    half = 0.5 * 5.277 * 20.2625 / 20.2
    assert {(round(CENTER + way * half, 6), -4.5) for way in (1.0, -1.0)} <= ends


def angle(flat_x):
    """Where a flat place comes to lie round the cylinder: the middle of the sheet keeps its length."""
    return (np.asarray(flat_x) - CENTER) / (RADIUS + THICK / 2.0)


def test_bent_onto_the_cylinder_the_files_give_the_opening_that_was_wanted(files, rigid):
    (window, _), holes = edges(files)
    (true, _), places = edges(by_name(template_files(rigid, stamp=STAMP)))
    assert np.ptp(true, axis=0) == pytest.approx([5.277, 4.277], abs=1e-9)
    assert np.ptp(window, axis=0) == pytest.approx([5.277 * 20.2625 / 20.2, 4.277], abs=1e-9)
    on_face = np.column_stack([CENTER + RADIUS * angle(window[:, 0]), window[:, 1]])
    assert np.ptp(on_face, axis=0) == pytest.approx([5.277, 4.277], abs=1e-9)
    arcs = np.abs(on_face - [CENTER, -4.5]) - (np.array([5.277, 4.277]) / 2.0 - 0.8885)
    off = np.abs(np.hypot(*np.clip(arcs, 0.0, None).T)[(arcs > 0.0).all(axis=1)] - 0.8885)
    assert off.size > 100
    assert off.max() < 1e-5
    assert len(holes) == len(places) > 50
    assert CENTER + RADIUS * angle(holes[:, 0]) == pytest.approx(places[:, 0], abs=1e-9)
    assert holes[:, 1] == pytest.approx(places[:, 1], abs=1e-12)


@pytest.mark.parametrize(("kind", "sign"), [("female", 1.0), ("male", -1.0)])
def test_a_straight_guide_on_the_bent_edge_gives_the_rough_cut(kind, sign):
    """In space: the edge is a plane through the cylinder's axis, the guide a straight round bar along the radius at its
    own middle. It is pushed on until its distance from the nearest line of the edge is half its diameter."""
    examined = examine(job(cutter__template=kind))
    (window, *_), _ = edges(by_name(template_files(examined, stamp=STAMP)))
    guide, cut = 0.250, 0.0965
    for end in (window[:, 0].max(), window[:, 0].min()):
        outwards = math.copysign(1.0, end - CENTER)
        heights = np.linspace(RADIUS, RADIUS + THICK, 201)
        edge = float(angle(end))

        def distance(at, edge=edge, heights=heights):
            """From the bar's axis to the line of the edge, the nearest over its height."""
            axis = np.array([math.sin(at), math.cos(at)])
            points = heights[:, None] * np.array([math.sin(edge), math.cos(edge)])
            return float(np.abs(points[:, 0] * axis[1] - points[:, 1] * axis[0]).min())

        near, far = edge, edge - sign * outwards * 0.1
        for _ in range(80):
            half = 0.5 * (near + far)
            near, far = (half, far) if distance(half) < guide else (near, half)
        cut_at = near + outwards * math.asin(cut / RADIUS)
        wanted = CENTER + outwards * 4.970 / 2.0  # the rough cut, .015 inside 5.000
        assert CENTER + RADIUS * cut_at == pytest.approx(wanted, abs=2e-5)


def test_the_other_axis_is_stretched_when_it_is_the_curved_one():
    (window, _), _ = edges(by_name(template_files(examine(job(along="y")), stamp=STAMP)))
    assert np.ptp(window, axis=0) == pytest.approx([5.277, 4.277 * 20.2625 / 20.2], abs=1e-9)


def test_sharp_corners_can_be_milled_in_the_flat_sheet():
    """An end mill of 1/4 is larger than the guide of .200 and makes the corners: none sharper than .125 when flat."""
    examined = examine(job(cutter__guide=".200", opening__radius=".02", template__end_mill="1/4"))
    flat = template_part(examined.making)
    radii = np.concatenate([loop.working_form().radius for loop in flat.guide_edges])
    assert radii[radii > 0.0].min() == pytest.approx(0.125, rel=1e-3)
    assert radii[radii > 0.0].min() >= 0.125


def test_flat_and_bent_sizes_are_told(bent, files):
    svg = files["a_TEMPLATE_LEFT_IN.svg"].decode("utf-8")
    for words in ("DRAWN FLAT", "BEND ALONG X", "20.200", "5.293", "5.277", "BENT X", "1.00309"):
        assert words in svg
    side = template_values(bent, [])["templates"][0]
    assert side["width_in"] == pytest.approx(5.277)
    assert side["flat_in"] == pytest.approx([5.277 * 20.2625 / 20.2, 4.277])


def test_on_flat_scrap_it_cuts_as_much_more_as_it_is_stretched(bent):
    """4.970 on the skin, and what 5.277 is stretched by, 5.277 x .0625/20.2, on top."""
    assert flat_cut(bent.making) == pytest.approx((4.970 + 5.277 * 0.0625 / 20.2, 3.970), abs=1e-9)


def test_findings_agree_with_what_is_drawn(bent, rigid):
    found = {finding.code: finding for finding in bent.findings}
    assert "T702" not in found
    assert found["T703"].status is Status.PASS
    assert "1.00309" in subject_of(found["T703"])
    assert "5.293 x 4.277 in flat" in subject_of(found["T105"])
    codes = {finding.code for finding in rigid.findings}
    assert "T702" in codes
    assert not {"T703", "T707"} & codes
    asked = {finding.code: finding for finding in examine(job(flexed="")).findings}
    assert asked["T703"].status is Status.CAUTION
    assert asked["T703"].enter == ("template.flexed",)
    assert "they suit neither" in advice_of(asked["T703"])


def test_the_fan_is_held_against_the_metal_left_to_file(bent):
    """About g T/R = .25 x .125/20.2 = .00155, less the second order of it; .015 is left to file, and none at 0."""
    found = {finding.code: finding for finding in bent.findings}["T707"]
    assert found.value == pytest.approx(0.25 * 0.125 / 20.2, rel=0.02)
    assert found.status is Status.PASS
    none = {f.code: f for f in examine(job(cutter__filing_allowance="0")).findings}["T707"]
    assert none.status is Status.CAUTION


def test_pins_are_planned_where_they_stand_on_the_skin(bent, rigid):
    for examined in (bent, rigid):
        x_min, _, x_max, _ = part_on_skin(examined.making).guide_edges[0].bounds
        assert x_max - x_min == pytest.approx(5.277, abs=1e-9)


def steps_of(examination):
    layout, making = examination.layout, examination.making
    found = card_steps(Work(layout, making, job_recipe(layout, making)))
    return [named(told_step(step, "in")) for step in found]


def test_the_work_card_says_what_is_flat_and_what_is_bent(bent, rigid):
    told = steps_of(bent)
    steps = {step.title: " ".join((*step.lines, *step.blanks)) for step in told}
    assert "window along X, flat (5.293 in)" in steps["Make the template"]
    assert "Lay template and scrap flat and cut" in steps["Trial on scrap"]
    assert "The cut must measure 4.986 x 3.970" in steps["Trial on scrap"]
    assert "Bent onto the skin it gives 4.970 x 3.970" in steps["Trial on scrap"]
    assert "Set the guide down to the skin" in steps["Position the template and locate it"]
    flat = steps_of(rigid)
    plain = " ".join(" ".join(step.lines) for step in flat)
    assert "ent onto the skin" not in plain
    assert "BEND ALONG" not in plain
