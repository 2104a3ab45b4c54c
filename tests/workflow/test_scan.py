"""What a scan hands on: a table that `measure` takes, outlines that a job takes, lines for a job and for a trial."""

from __future__ import annotations

import tomllib

import ezdxf
import numpy as np
import pytest
from ezdxf.math import bulge_to_arc
from pydantic import TypeAdapter

from hatchwright.inspection.outline.fitting import Fitted
from hatchwright.inspection.scan.budget import ScanBudget, print_in
from hatchwright.inspection.scan.holes import told_holes, zero_of
from hatchwright.inspection.scan.pose import leveled
from hatchwright.inspection.scan.values import Scan, Shape, Traced, value_of
from hatchwright.job.dxf_loop import read_loop
from hatchwright.job.outline import Outline
from hatchwright.layout.lay_out import lay_out
from hatchwright.workflow.measure import HowRead, measured
from hatchwright.workflow.scan import ScanReport
from hatchwright.workflow.scan_files import entries_of, scan_files, trial_lines
from hatchwright.workflow.trace import HowTraced, traced_job
from tests.conftest import EXAMPLES

HALF_D = ((-1.0, -1.0, 0.0), (0.5, -1.0, 1.0), (0.5, 1.0, 0.0), (-1.0, 1.0, 0.0))


def value(value_in, u_in=0.001):
    return value_of(value_in, scale=u_in)


def shape(kind="rounded", width=4.0, height=3.0, radius=0.5, turn_deg=0.0):
    middle, turn = (value(0.1), value(-0.2)), value(turn_deg)
    return Shape(kind, middle, turn, value(width), value(height), value(radius), 0.0002)


def traced(found, profile=()):
    return Traced(np.zeros((4, 2)), found, None, profile, 0.0004, 0.001)


def report(cut, holes=(), unit="in"):
    scan = Scan("5x5", 7, (300.0, 300.0), 0.0, 0.0002, 0.002, cut, None, tuple(holes), ())
    return ScanReport(scan, unit, "ring", value(0.15))


BUDGET = ScanBudget((0.0004, 0.0003), 0.0002, print_in(typed=False), "contact", 0.032, 0, 0.0)


def told(centers, cut):
    """Holes at these places x + iy on the glass, from an edge that metal lies about."""
    circles = [Fitted("circle", (z.real, z.imag, 0.0, 0.129, 0.129, 0.0645), 1e-4) for z in centers]
    return told_holes(circles, BUDGET, zero_of(cut, BUDGET, within=True))


def test_a_hole_is_known_by_its_own_way_from_the_edge():
    """One hole 2.0 along and 1.5 up has none to be known among: along X, by hand in .001 in, scale 2.0 x .4, print
    2.0 x .3, fits .45 and .28, print of the middle .2, and 1.5 x .001 degree."""
    (hole,) = told([2.1 + 1.3j], traced(shape()))
    x, y = hole.from_edge
    assert (x.value_in, y.value_in) == pytest.approx((2.0, 1.5))
    assert x.u_in == pytest.approx(
        0.001 * np.sqrt(0.8**2 + 0.6**2 + 0.45**2 + 0.28**2 + 0.2**2 + 0.0262**2), rel=1e-5
    )
    table = scan_files(report(traced(shape()), [hole]))[0].content.decode()
    assert table.splitlines()[1].split(",")[3] == ".0023"
    assert x.u_in > 2.0 * hole.x.u_in


@pytest.mark.parametrize("turn", [0.0, 90.0])
def test_what_is_uncertain_along_the_glass_turns_with_the_edge(turn):
    """The scale along x is .0004, along y .0003: of a part a quarter round they change places."""
    way = np.exp(1j * np.radians(turn))
    (hole,) = told([(0.1 - 0.2j) + (2.0 + 1.0j) * way], traced(shape(turn_deg=turn)))
    scales = [dict(one.parts)["scale"] for one in hole.from_edge]
    assert scales == pytest.approx([0.0008, 0.0003] if turn == 0.0 else [0.0006, 0.0004])


def test_holes_are_read_by_measure_as_they_lie_on_the_glass(alder, alder_text):
    """The scan's zero is the middle of its opening, wherever and however askew the part lay."""
    layout = lay_out(alder)
    drawn = np.array([hole.drawn_in or hole.place for hole in layout.holes]) @ (1, 1j)
    on_glass = (drawn - complex(*layout.center_in)) * np.exp(1j * np.radians(1.7)) + (0.1 - 0.2j)
    ring = traced(shape(turn_deg=1.7))
    (table, *_) = scan_files(report(ring, told(on_glass[::-1], ring)))
    zero = tuple(f"{one:.4f}" for one in layout.center_in)
    how = HowRead(u=".003", zero=zero)
    found = measured(alder_text, table.content.decode(), how, folder=EXAMPLES, name="alder.toml")
    assert len(found.fit.holes) == len(drawn)
    assert not found.doubts
    assert max(abs(one) for hole in found.fit.holes for one in hole.off_in) < 2e-4


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_traced_edge_is_an_outline_for_a_job(tmp_path, unit):
    done = report(traced(None, HALF_D), unit=unit)
    file, _ = scan_files(done)
    (tmp_path / file.name).write_bytes(file.content)
    entered = tomllib.loads("\n".join(entries_of(done, "outline")))
    outline = TypeAdapter(Outline).validate_python(entered, context={"folder": tmp_path, "unit": unit})
    # A rectangle 1.5 by 2 with a half circle of radius 1: area by hand.
    assert outline.loop((0.0, 0.0)).area_sq_in == pytest.approx(3.0 + np.pi / 2.0, abs=1e-4)
    assert read_loop(tmp_path / file.name, layer="OPENING").bounds == pytest.approx(
        (-1.25, -1, 1.25, 1), abs=1e-4
    )
    drawing = ezdxf.readfile(tmp_path / file.name)
    (line,) = drawing.modelspace().query('LWPOLYLINE[layer=="OPENING"]')
    rounds = [row for row in line.get_points("xyb") if abs(row[2]) > 0.9]
    start, end = (rounds[0][:2], (0.25, 1.0)) if unit == "in" else (rounds[0][:2], (6.35, 25.4))
    _, _, _, radius = bulge_to_arc(start, end, rounds[0][2])
    assert radius == pytest.approx(1.0 if unit == "in" else 25.4, abs=1e-3)


def test_a_traced_edge_that_lay_askew_is_handed_on_level():
    turn = np.exp(1j * np.radians(2.3))
    z = np.array([complex(x, y) for x, y, _ in HALF_D]) * turn + (0.3 - 0.2j)
    askew = tuple((one.real, one.imag, bulge) for one, (_, _, bulge) in zip(z, HALF_D, strict=True))
    assert leveled(traced(None, askew)).bounds == pytest.approx((-1.25, -1, 1.25, 1), abs=1e-9)


@pytest.mark.parametrize(
    ("kind", "sizes", "area"),
    [
        ("rounded", (4.0, 3.0, 0.5), 12.0 - (4.0 - np.pi) * 0.25),
        ("circle", (3.0, 3.0, 1.5), np.pi * 2.25),
        ("obround", (2.0, 3.0, 1.0), 2.0 + np.pi),
    ],
)
def test_a_known_shape_is_an_entry_of_a_job(kind, sizes, area):
    entered = tomllib.loads("\n".join(entries_of(report(traced(shape(kind, *sizes))), "outline")))
    outline = TypeAdapter(Outline).validate_python(entered)
    assert outline.loop((0.0, 0.0)).area_sq_in == pytest.approx(area, abs=1e-6)


def test_a_cut_is_lines_of_a_trial():
    lines = tomllib.loads("\n".join(trial_lines(report(traced(shape())))))
    assert float(lines["scan"]["width"]) == pytest.approx(4.0)
    assert trial_lines(report(traced(None, HALF_D))) == ()


def test_a_scanned_ring_is_traced_into_a_job(tmp_path, alder_text):
    """Outline, opening and holes lie on the glass askew and beside each other, as the job gets them level."""
    (tmp_path / "alder.toml").write_text(alder_text, encoding="utf-8")
    turn = np.exp(1j * np.radians(3.0))
    drawn = np.array([-3 + 2j, 3 + 2j, 3 - 2j])
    apart = 0.25 * turn + (0.1 - 0.2j)  # the opening lies a quarter off the middle of the ring
    ring = Shape("rounded", (value(0.1), value(-0.2)), value(3.0), value(7.0), value(5.0), value(1.0), 0.0002)
    hole = Shape(
        "circle", (value(apart.real), value(apart.imag)), value(0.0), *[value(2.0)] * 2, value(1.0), 0.0002
    )
    holes = told(drawn * turn + (0.1 - 0.2j), traced(hole))
    scan = Scan("6x7", 7, (300.0, 300.0), 0.0, 0.0002, 0.002, traced(ring), traced(hole), holes, ())
    *_, part = scan_files(ScanReport(scan, "in", "ring", None))
    (tmp_path / part.name).write_bytes(part.content)
    how = HowTraced(("ring", "holes"), layer="OPENING", row="old ring", rivet="MS20470AD4")
    found = traced_job(tmp_path / "alder.toml", tmp_path / part.name, how)
    outer, inner = found.entries
    assert (outer.values["width"], outer.values["center"]) == ("7.0000", ["5.2500", "4.5000"])
    assert inner.values["center"] == ["5.5000", "4.5000"]
    assert float(inner.values["diameter"]) == pytest.approx(2.0, abs=2e-4)
    assert np.array(found.points, float) @ (1, 1j) == pytest.approx(drawn + 5.25 + 4.5j, abs=2e-4)
