"""The template of the job ALDER out of every file that a shop takes, by readers that share no code with the writers.

Expected are plain numbers: window 5.277 x 4.277 with R .8885 in a plate 8.277 x 7.277 that lacks a corner 1 x .5, and
64 pilot holes of .098, those of the outer rows at a pitch of .62, seen from outside with FWD up and OUTBD to the right.
SVG by svgpathtools, DXF by its group codes, PDF by PDFium, NGC by its words. What a machine builds up (3MF) is read by
`tests/drawings/writers/test_three_mf.py`.
"""

from __future__ import annotations

import cmath
import math
import re
from datetime import UTC, datetime
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import shapely
import svgpathtools

from hatchwright.drawings.writers import Paper
from hatchwright.workflow.examine import examine
from hatchwright.workflow.template_files import template_files
from hatchwright.workflow.toolpath import machine_files
from making.machines import machine

STAMP = datetime(2026, 3, 1, tzinfo=UTC)
WINDOW_SQ_IN = 5.277 * 4.277 - (4.0 - math.pi) * 0.8885**2
PLATE_SQ_IN = 8.277 * 7.277 - 0.25
OUTER = np.array(
    [(7.67 - 0.62 * k, 7.22) for k in range(8)]
    + [(3.33 + 0.62 * k, 1.78) for k in range(8)]
    + [(2.28, 6.67 - 0.62 * k) for k in range(8)]
    + [(8.72, 2.33 + 0.62 * k) for k in range(8)]
) * [1.0, -1.0]


@pytest.fixture(scope="module")
def examination(alder_drawn):
    return examine(alder_drawn)


@pytest.fixture(scope="module")
def files(alder_drawn, made_once):
    return made_once(
        template_files,
        alder_drawn,
        stamp=STAMP,
        stem="alder",
        paper=Paper.ELEVEN_BY_SEVENTEEN,
        printable=True,
    )


def arc(start, end, bulge):
    """Points of an arc of a polyline, its end left out: the bulge is the tangent of a quarter of the angle."""
    if bulge == 0.0:
        return [start]
    sweep = 4.0 * math.atan(bulge)
    middle = 0.5 * (start + end) + 0.5j * (end - start) / math.tan(sweep / 2.0)
    return [middle + (start - middle) * cmath.exp(1j * sweep * k / 200) for k in range(200)]


def read_svg(data):
    root = ElementTree.fromstring(data)
    name = "{http://www.w3.org/2000/svg}"
    view = [float(word) for word in root.get("viewBox").split()]
    assert root.get("width").removesuffix("in") == f"{view[2]:g}" or float(
        root.get("width").removesuffix("in")
    ) == pytest.approx(view[2])
    edges = []
    for path in root.iter(f"{name}path"):
        if path.get("class") in ("guide-edge", "plate-edge"):
            pieces = svgpathtools.parse_path(path.get("d"))
            edges.append([piece.point(t) for piece in pieces for t in np.arange(0.0, 1.0, 0.005)])
    holes = [
        (float(one.get("cx")), -float(one.get("cy")), 2.0 * float(one.get("r")))
        for one in root.iter(f"{name}circle")
        if one.get("class") == "pilot-hole"
    ]
    return [np.conj(edge) for edge in edges], holes


def read_dxf(data):
    """By group codes: pairs of lines, a code and its value (DXF reference, from memory)."""
    lines = data.decode("utf-8").splitlines()
    pairs = [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=True)]
    at = pairs.index((9, "$INSUNITS"))
    assert pairs[at + 1] == (70, "1")
    at = pairs.index((2, "ENTITIES"))
    entities, edges, holes = [], [], []
    for code, value in pairs[at + 1 :]:
        if code == 0:
            if value == "ENDSEC":
                break
            entities.append((value, []))
        else:
            entities[-1][1].append((code, value))
    for kind, said in entities:
        layer = dict(said)[8]
        if kind == "LWPOLYLINE" and layer == "TEMPLATE":
            corners = []
            for code, value in said:
                if code == 10:
                    corners.append([float(value), 0.0, 0.0])
                elif code in (20, 42):
                    corners[-1][1 if code == 20 else 2] = float(value)
            places = [complex(x, y) for x, y, _ in corners]
            ends = places[1:] + places[:1]
            runs = (arc(a, b, c[2]) for a, b, c in zip(places, ends, corners, strict=True))
            edges.append(np.array([point for run in runs for point in run]))
        elif kind == "CIRCLE" and layer == "DRILL_PILOT":
            values = dict(said)
            holes.append((float(values[10]), float(values[20]), 2.0 * float(values[40])))
    return edges, holes


@pytest.mark.parametrize(("ending", "read"), [("IN.svg", read_svg), ("IN.dxf", read_dxf)])
def test_drawn_files_hold_the_template(files, ending, read):
    edges, holes = read(files[f"alder_TEMPLATE_LEFT_{ending}"])
    window, plate = sorted(
        (shapely.Polygon([(z.real, z.imag) for z in edge]) for edge in edges), key=lambda p: p.area
    )
    for polygon, size, area in ((window, (5.277, 4.277), WINDOW_SQ_IN), (plate, (8.277, 7.277), PLATE_SQ_IN)):
        x_min, y_min, x_max, y_max = polygon.bounds
        assert (x_max - x_min, y_max - y_min) == pytest.approx(size, abs=1e-6)
        assert (0.5 * (x_min + x_max), 0.5 * (y_min + y_max)) == pytest.approx((5.5, -4.5), abs=1e-6)
        assert polygon.area == pytest.approx(area, abs=1e-4)  # chords of the reader's own points
    corner = np.array(window.exterior.coords)
    corner = corner[(corner[:, 0] > 5.5 + 2.6385 - 0.8) & (corner[:, 1] > -4.5 + 2.1385 - 0.8)]
    off = np.hypot(*(corner - [5.5 + 2.6385 - 0.8885, -4.5 + 2.1385 - 0.8885]).T)
    assert len(corner) > 50
    assert off == pytest.approx(np.full(len(off), 0.8885), abs=1e-6)
    assert not plate.contains(
        shapely.Point(5.5 + 4.1385 - 0.2, -4.5 + 3.6385 - 0.2)
    )  # FWD and OUTBD is cut off
    assert_holes([(x, y) for x, y, _ in holes])
    assert [size for *_, size in holes] == pytest.approx([0.098] * 64, abs=1e-7)


def test_the_page_holds_the_template(files):
    """Path objects as PDFium finds them; it gives their boxes with half a line's width round them."""
    document = pypdfium2.PdfDocument(files["alder_TEMPLATE_LEFT_11X17.pdf"])
    boxes = []
    for page in document:
        for one in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=9):
            left, bottom, right, top = (value / 72.0 for value in one.get_bounds())
            boxes.append((right - left, top - bottom))
    for size in ((5.277, 4.277), (8.277, 7.277)):
        assert any(
            0.0 <= width - size[0] < 0.05 and abs((width - size[0]) - (height - size[1])) < 2e-3
            for width, height in boxes
        ), size


def assert_holes(places):
    """64 of them, and those of the outer rows where they are to be."""
    found = np.array(places)
    assert len(found) == 64
    off = np.abs(found[:, None, :] - OUTER[None, :, :]).max(axis=2)
    assert off.min(axis=0).max() < 2e-4


def test_machine_files_make_the_template(examination):
    """The end mill of 1/8 runs .0625 inside the window and outside the plate; holes are where they are drawn."""
    made = machine_files(examination, machine(), stamp=STAMP, stem="alder")
    text = {
        file.run.tool.kind: file.made.content.decode("ascii") for file in made if file.made.side == "left"
    }
    blank = next(file.blank for file in made)
    shift = np.array(blank.size_in) / 2.0 - [5.5, -4.5]
    assert not blank.is_turned
    drilled = re.findall(r"G98 G8\d X(\S+) Y(\S+)", text["drill"])
    assert_holes(np.array(drilled, dtype=float) - shift)
    place, deep, runs = None, 0.0, [[]]
    for line in text["end mill"].splitlines():
        words = dict(re.findall(r"([A-Z])(-?\d+\.\d+)", line))
        if "Z" in words:
            deep = float(words["Z"])
        if "X" not in words:
            continue
        end = complex(float(words["X"]), float(words["Y"]))
        if line.startswith("G0"):
            runs.append([])
        elif place is not None and deep < 0.0:
            if "I" in words:
                hub = place + complex(float(words["I"]), float(words["J"]))
                turn = cmath.phase((end - hub) / (place - hub))
                steps = np.linspace(0.0, turn, 100)
                runs[-1] += list(hub + (place - hub) * np.exp(1j * steps))
            else:
                runs[-1] += [place, end]
        place = end
    boxes = sorted((np.ptp(np.real(run)), np.ptp(np.imag(run))) for run in runs if run)
    assert boxes[0] == pytest.approx((5.277 - 0.125, 4.277 - 0.125), abs=2e-4)
    assert boxes[-1] == pytest.approx((8.277 + 0.125, 7.277 + 0.125), abs=2e-4)
