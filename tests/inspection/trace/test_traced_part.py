"""A traced ring out of DXF files that ezdxf writes: what is joined, what is open, what is outline, opening and hole.

What is true are closed forms: areas of circles, ellipses and rounded rectangles.
"""

from __future__ import annotations

import ezdxf
import numpy as np
import pytest

from hatchwright.errors import EntryError
from hatchwright.inspection.trace.trace_file import read_trace
from hatchwright.inspection.trace.traced_part import part_of

WITHIN = 0.004


def area(polygon):
    z = polygon @ np.array((1, 1j))
    return abs(np.sum((z.conj() * np.roll(z, -1)).imag)) / 2


def drawn(tmp_path, draw, units=1):
    document = ezdxf.new("R2010", units=units)
    draw(document.modelspace())
    document.saveas(tmp_path / "ring.dxf")
    return tmp_path / "ring.dxf"


def shuffled(model, layer="0"):
    """A rectangle of 4 by 3 with corners of .5 as loose lines and arcs, in any order and direction."""
    how = {"layer": layer}
    model.add_line((1.5, 1.5), (-1.5, 1.5), dxfattribs={"layer": layer})
    model.add_arc((1.5, 1), 0.5, 0, 90, dxfattribs=how)
    model.add_line((-1.5, -1.5), (1.5, -1.5), dxfattribs=how)
    model.add_line((2, 1), (2, -1.0004), dxfattribs=how)
    model.add_arc((-1.5, 1), 0.5, 90, 180, dxfattribs=how)
    model.add_arc((-1.5, -1), 0.5, 180, 270, dxfattribs=how)
    model.add_line((-2, 1), (-2, -1), dxfattribs=how)
    model.add_arc((1.5, -1), 0.5, 270, 360, dxfattribs=how)


def test_loose_pieces_are_joined_whatever_their_order(tmp_path):
    (loop,) = read_trace(drawn(tmp_path, shuffled), within_in=WITHIN)
    assert area(loop) == pytest.approx(12 - (4 - np.pi) * 0.25, abs=3e-3)


def test_a_ring_of_every_kind_of_curve_is_told_apart(tmp_path):
    def draw(model):
        model.add_ellipse((0, 0), major_axis=(4, 0), ratio=0.75, dxfattribs={"extrusion": (0, 0, -1)})
        turn = np.linspace(0, 2 * np.pi, 41)
        model.add_cad_spline_control_frame(np.column_stack([2 * np.cos(turn), np.sin(turn)]))
        for x in (-3, 3):
            model.add_circle((x, 0), 0.065)
            model.add_circle((x, 0), 0.12)  # its countersink
        model.add_lwpolyline([(-0.05, 2, 1), (0.05, 2, 1)], format="xyb", close=True)
        model.add_polyline2d([(-0.3, -2.2), (0.3, -2.2), (0, -2)], close=True)
        model.add_text("OLD RING")

    part = part_of(read_trace(drawn(tmp_path, draw), within_in=WITHIN), within_in=WITHIN, name="ring.dxf")
    assert area(part.outline) == pytest.approx(np.pi * 4 * 3, rel=1e-3)
    assert area(part.opening) == pytest.approx(np.pi * 2 * 1, rel=5e-3)
    places = [(round(x, 6) + 0.0, round(y, 6) + 0.0) for x, y in (hole.at for hole in part.holes)]
    assert sorted(places) == [(-3, 0), (0, 2), (3, 0)]
    assert [round(hole.diameter_in, 4) for hole in part.holes] == [0.1, 0.13, 0.13]
    (left,) = part.left
    assert left == pytest.approx((0, -2.1, 0.6))


def test_what_is_drawn_twice_counts_once(tmp_path):
    def draw(model):
        shuffled(model)
        shuffled(model, layer="again")

    part = part_of(read_trace(drawn(tmp_path, draw), within_in=WITHIN), within_in=WITHIN, name="ring.dxf")
    assert part.opening is None
    assert part.left == ()


@pytest.mark.parametrize(
    ("units", "unit", "inches"), [(0, "mm", 1 / 25.4), (0, "in", 1), (4, None, 1 / 25.4), (1, "in", 1)]
)
def test_a_drawing_without_a_unit_takes_that_which_is_said(tmp_path, units, unit, inches):
    path = drawn(tmp_path, lambda model: model.add_circle((0, 0), 40), units=units)
    (loop,) = read_trace(path, within_in=WITHIN, unit=unit)
    assert np.hypot(*loop.T) == pytest.approx(40 * inches)


def open_ring(model):
    shuffled(model)
    model.add_line((5, 5), (6, 5))


def side_by_side(model):
    model.add_circle((0, 0), 1)
    model.add_circle((3, 0), 1.2)


def crossing(model):
    model.add_circle((0, 0), 1)
    model.add_circle((0.5, 0), 0.9)


@pytest.mark.parametrize(
    ("draw", "units", "how", "refusal"),
    [
        (open_ring, 1, {}, "trace.open"),
        (side_by_side, 1, {}, "trace.apart"),
        (crossing, 1, {}, "trace.apart"),
        (shuffled, 0, {}, "job.dxf_unit"),
        (shuffled, 5, {"unit": "mm"}, "job.dxf_unit"),
        (shuffled, 4, {"unit": "in"}, "job.dxf_other_unit"),
        (shuffled, 1, {"layer": "none"}, "trace.no_layer"),
        (lambda model: model.add_text("RING"), 1, {}, "trace.empty"),
        (lambda model: model.add_3dface([(0, 0), (1, 0), (1, 1)]), 1, {}, "trace.dxf_kinds"),
        (lambda model: model.add_spline([(0, 0, 0), (1, 0, 1), (0, 1, 0)]), 1, {}, "job.dxf_not_flat"),
        (lambda model: model.add_circle((3000, 0), 1), 1, {}, "job.dxf_far"),
        (lambda model: model.add_open_spline([(0, 0), (1e12, 0), (0, 1), (1, 1)]), 1, {}, "job.dxf_far"),
        (lambda model: [model.add_circle((0, k), 400) for k in range(60)], 1, {}, "trace.many"),
    ],
    ids=[
        "open",
        "two",
        "crossing",
        "no unit",
        "cm",
        "other unit",
        "layer",
        "words",
        "face",
        "not flat",
        "far",
        "farther",
        "many",
    ],
)
def test_a_drawing_that_shows_no_part_is_refused_by_its_name(tmp_path, draw, units, how, refusal):
    path = drawn(tmp_path, draw, units)
    with pytest.raises(EntryError) as refused:
        part_of(read_trace(path, within_in=WITHIN, **how), within_in=WITHIN, name=path.name)
    assert refused.value.what.id == refusal
    assert "ring.dxf" in str(refused.value) or "piece of the DXF file" in str(refused.value)


def test_an_open_loop_is_told_by_its_place(tmp_path):
    with pytest.raises(EntryError) as refused:
        read_trace(drawn(tmp_path, open_ring), within_in=WITHIN)
    told = dict(refused.value.what.values)
    assert (told["place"].y_in, told["apart"].value, told["n"]) == (5.0, 1.0, 2)


PICTURE = b"\x89PNG\r\n\x1a\n" + bytes(40)


@pytest.mark.parametrize(
    ("name", "content", "refusal"),
    [
        ("ring.svg", PICTURE, "trace.no_drawing"),
        ("ring.dxf", b"PK\x03\x04" + bytes(30), "trace.no_drawing"),
        ("ring.dxf", b"hole,x,y\n1,.5,.5\n", "job.dxf_unread"),
        ("ring.svg", b"<svg \xff\xfe>", "trace.svg_unread"),
        ("ring.svg", b"", "job.dxf_unread"),
        ("ring.svg", b"<" + bytes(8_000_000), "trace.large"),
    ],
)
def test_a_file_is_told_by_what_it_holds(tmp_path, name, content, refusal):
    (tmp_path / name).write_bytes(content)
    with pytest.raises(EntryError) as refused:
        read_trace(tmp_path / name, within_in=WITHIN)
    assert refused.value.what.id == refusal


def test_a_file_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(EntryError) as refused:
        read_trace(tmp_path / "none.dxf", within_in=WITHIN)
    assert refused.value.what.id == "trace.unread"
