"""Reading the outline of an opening from a DXF file that another program wrote.

The files are written here with a general-purpose DXF library; areas come from closed forms. What a piece with an
extrusion means is taken from the same library's own paths in the drawing's coordinates, which follow the DXF reference,
object coordinate systems (OCS).
"""

from __future__ import annotations

import math
import random

import ezdxf
import pytest
from ezdxf.path import make_path
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, hausdorff_distance, line_merge, union_all

from hatchwright.errors import EntryError, JobError
from hatchwright.job.dxf_loop import read_loop
from hatchwright.job.file import load_job
from tests.told import remedy_of

INCH, MILLIMETER = 1, 4


def drawing(path, draw, *, unit=INCH):
    doc = ezdxf.new("R2010")
    doc.header["$INSUNITS"] = unit
    draw(doc.modelspace())
    doc.saveas(path)
    return path


def rounded(space, *, width=5.0, height=4.0, radius=0.75, shuffle=0, layer="0", gap=0.0):
    """A rounded rectangle as loose lines and arcs, from its lower left at the origin."""
    r, w, h = radius, width, height
    pieces = [
        lambda: space.add_line((r + gap, 0), (w - r, 0), dxfattribs={"layer": layer}),
        lambda: space.add_arc((w - r, r), r, 270, 360, dxfattribs={"layer": layer}),
        lambda: space.add_line((w, r), (w, h - r), dxfattribs={"layer": layer}),
        lambda: space.add_arc((w - r, h - r), r, 0, 90, dxfattribs={"layer": layer}),
        lambda: space.add_line((r, h), (w - r, h), dxfattribs={"layer": layer}),
        lambda: space.add_arc((r, h - r), r, 90, 180, dxfattribs={"layer": layer}),
        lambda: space.add_line((0, h - r), (0, r), dxfattribs={"layer": layer}),
        lambda: space.add_arc((r, r), r, 180, 270, dxfattribs={"layer": layer}),
    ]
    random.Random(shuffle).shuffle(pieces)
    for piece in pieces:
        piece()


AREA = 5.0 * 4.0 - (4.0 - math.pi) * 0.75**2


@pytest.mark.parametrize("shuffle", range(8))
def test_loose_lines_and_arcs_in_any_order(tmp_path, shuffle):
    loop = read_loop(drawing(tmp_path / "a.dxf", lambda s: rounded(s, shuffle=shuffle)))
    assert loop.area_sq_in == pytest.approx(AREA, abs=1e-9)
    assert loop.bounds == pytest.approx((0, 0, 5, 4), abs=1e-9)


def test_millimeters_are_told_by_the_header(tmp_path):
    loop = read_loop(
        drawing(
            tmp_path / "a.dxf", lambda s: rounded(s, width=127.0, height=101.6, radius=19.05), unit=MILLIMETER
        )
    )
    assert loop.area_sq_in == pytest.approx(AREA, abs=1e-9)


def test_a_closed_polyline_and_a_circle(tmp_path):
    bulge = math.tan(math.pi / 8)
    points = [(0.75, 0, 0), (4.25, 0, bulge), (5, 0.75, 0), (5, 3.25, bulge)]
    points += [(4.25, 4, 0), (0.75, 4, bulge), (0, 3.25, 0), (0, 0.75, bulge)]
    path = drawing(tmp_path / "p.dxf", lambda s: s.add_lwpolyline(points, format="xyb", close=True))
    assert read_loop(path).area_sq_in == pytest.approx(AREA, abs=1e-9)
    path = drawing(tmp_path / "c.dxf", lambda s: s.add_circle((1, 2), 1.5))
    assert read_loop(path).area_sq_in == pytest.approx(math.pi * 2.25, abs=1e-9)


def test_an_arc_over_half_a_turn_is_split(tmp_path):
    def keyhole(space):
        space.add_arc((0, 0), 1.0, 30, -30)
        space.add_line((math.cos(math.radians(30)), 0.5), (math.cos(math.radians(30)), -0.5))

    loop = read_loop(drawing(tmp_path / "k.dxf", keyhole))
    segment = math.radians(300) / 2 + math.sin(math.radians(60)) / 2
    assert loop.area_sq_in == pytest.approx(segment, abs=1e-9)
    assert all(abs(bulge) <= 1.0 for bulge in loop.rows[:, 2])


def test_a_layer_picks_the_opening(tmp_path):
    def two(space):
        rounded(space, layer="OPENING")
        space.add_circle((20, 20), 1, dxfattribs={"layer": "HOLES"})

    path = drawing(tmp_path / "t.dxf", two)
    assert read_loop(path, layer="OPENING").area_sq_in == pytest.approx(AREA, abs=1e-9)
    with pytest.raises(EntryError, match="2 loops"):
        read_loop(path)


@pytest.mark.parametrize(
    ("draw", "unit", "what"),
    [
        (lambda s: rounded(s, gap=0.01), INCH, "don't close"),
        (lambda s: rounded(s), 0, "inches or millimeters"),
        (lambda s: s.add_spline([(0, 0), (1, 1), (2, 0)]), INCH, "SPLINE"),
        (lambda s: s.add_ellipse((0, 0), (2, 0), 0.5), INCH, "ELLIPSE"),
        (lambda s: None, INCH, "0 loops"),
        (lambda s: s.add_lwpolyline([(0, 0), (1, 0), (1, 1)]), INCH, "not closed"),
    ],
)
def test_what_is_not_one_closed_loop_is_refused(tmp_path, draw, unit, what):
    path = drawing(tmp_path / "x.dxf", draw, unit=unit)
    with pytest.raises(EntryError, match=what) as caught:
        read_loop(path)
    assert remedy_of(caught.value)


BELOW = {"extrusion": (0, 0, -1)}
"""Drawn from below: X and the way round are mirrored."""

PATH_ERROR = 1e-3
"""The library's paths draw arcs as cubic curves, each off by less than a thousandth of its radius."""


def through_the_library(path):
    """The outline in the drawing's coordinates, as the library's own paths give it."""
    pieces = [make_path(piece).flattening(1e-3) for piece in ezdxf.readfile(path).modelspace()]
    lines = [LineString([(round(p.x, 6), round(p.y, 6)) for p in points]) for points in pieces]
    return line_merge(union_all(lines)) if len(lines) > 1 else lines[0]


def lies_where_the_library_has_it(path, *, size):
    found = read_loop(path)
    ring = LineString([*found.points(1e-4), found.points(1e-4)[0]])
    assert hausdorff_distance(ring, through_the_library(path)) < PATH_ERROR * size
    assert found.area_sq_in > 0.0
    return found


def test_a_slot_with_ends_drawn_from_below_bulges_outward(tmp_path):
    def slot(space):
        space.add_line((3, 2), (6, 2))
        space.add_line((6, 4), (3, 4))
        space.add_arc((-6, 3), 1, 90, 270, dxfattribs=BELOW)
        space.add_arc((-3, 3), 1, -90, 90, dxfattribs=BELOW)

    loop = lies_where_the_library_has_it(drawing(tmp_path / "s.dxf", slot), size=5.0)
    assert loop.area_sq_in == pytest.approx(6.0 + math.pi, abs=1e-9)
    assert loop.bounds == pytest.approx((2, 2, 7, 4), abs=1e-9)


def test_a_circle_drawn_from_below_lies_on_the_other_side_of_x(tmp_path):
    path = drawing(tmp_path / "c.dxf", lambda s: s.add_circle((-4, 4), 1.5, dxfattribs=BELOW))
    assert lies_where_the_library_has_it(path, size=3.0).bounds == pytest.approx((2.5, 2.5, 5.5, 5.5))


@pytest.mark.property
@settings(max_examples=25, deadline=None)
@given(
    reach=st.lists(st.floats(1.0, 3.0), min_size=3, max_size=8),
    bulges=st.lists(st.integers(-20, 20).map(lambda n: n / 100.0), min_size=8, max_size=8),
    turn=st.floats(0.0, 360.0),
    below=st.booleans(),
    loose=st.booleans(),
)
def test_loops_drawn_from_above_and_below_lie_where_the_library_has_them(
    tmp_path_factory, reach, bulges, turn, below, loose
):
    count = len(reach)
    points = []
    for k, (far, bulge) in enumerate(zip(reach, bulges, strict=False)):
        angle = math.radians(turn + 360.0 * k / count)
        points.append((4.0 + far * math.cos(angle), 1.0 + far * math.sin(angle), bulge))

    def draw(space):
        one = space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=BELOW if below else {})
        if loose:
            one.explode()

    path = drawing(tmp_path_factory.mktemp("dxf") / "p.dxf", draw)
    lies_where_the_library_has_it(path, size=6.0)


@pytest.mark.parametrize("extrusion", [(0, 1, 1), (0, 0.001, 1), (1, 0, 0)])
def test_what_is_drawn_in_a_tilted_plane_is_refused(tmp_path, extrusion):
    tilted = {"extrusion": extrusion}
    points = [(0, 0, 0), (1, 0, 0), (1, 1, 0)]
    for draw in (
        lambda s: s.add_circle((4, 4), 1.5, dxfattribs=tilted),
        lambda s: s.add_arc((4, 4), 1.5, 0, 90, dxfattribs=tilted),
        lambda s: s.add_lwpolyline(points, format="xyb", close=True, dxfattribs=tilted),
    ):
        with pytest.raises(EntryError, match="is not flat") as caught:
            read_loop(drawing(tmp_path / "t.dxf", draw))
        assert "flat in X and Y" in remedy_of(caught.value)


def test_a_line_that_rises_is_refused_and_a_level_one_above_the_plane_is_not(tmp_path):
    def corners(z):
        def draw(space):
            places = [(0, 0, 1), (2, 0, 1), (2, 2, z)]
            for start, end in zip(places, [*places[1:], places[0]], strict=True):
                space.add_line(start, end)

        return draw

    assert read_loop(drawing(tmp_path / "l.dxf", corners(1))).area_sq_in == pytest.approx(2.0)
    with pytest.raises(EntryError, match=r"LINE\) is not flat"):
        read_loop(drawing(tmp_path / "l.dxf", corners(1.001)))


def test_no_file_and_no_dxf(tmp_path):
    with pytest.raises(EntryError, match="no file"):
        read_loop(tmp_path / "none.dxf")
    (tmp_path / "text.dxf").write_text("hello", encoding="utf-8")
    with pytest.raises(EntryError, match="not a DXF"):
        read_loop(tmp_path / "text.dxf")


def test_a_job_takes_its_opening_from_a_dxf(tmp_path, alder_text):
    drawing(tmp_path / "opening.dxf", lambda s: rounded(s))
    start, end = alder_text.index("[opening]"), alder_text.index("[doubler]")
    section = '[opening]\nshape = "dxf"\nfile = "opening.dxf"\nplace = ["3.00", "2.50"]\n\n'
    (tmp_path / "job.toml").write_text(alder_text[:start] + section + alder_text[end:], encoding="utf-8")
    job = load_job(tmp_path / "job.toml")
    assert job.opening.loop((0.0, 0.0)).bounds == pytest.approx((3.0, 2.5, 8.0, 6.5))
    (tmp_path / "opening.dxf").unlink()
    with pytest.raises(JobError, match="no file"):
        load_job(tmp_path / "job.toml")
