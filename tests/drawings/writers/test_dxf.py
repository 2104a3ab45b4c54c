"""DXF: loaded afresh with ezdxf; expectations are plain numbers of the job, and the DXF definition of the bulge."""

from __future__ import annotations

import io
import math
import os
import subprocess
import sys
from pathlib import Path

import ezdxf
import pytest
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.tools.text import plain_text

from hatchwright.drawings.ink import Circle, Layer, Line, Outline
from hatchwright.drawings.lettering import literal
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.dxf import dxf_of
from writers.sheets import HOLES, HOSTILE, bay, lettered, plate

CUT = {"OPENING", "ROUGH_CUT", "DOUBLER", "COVER", "TEMPLATE", "DRILL_PILOT", "DRILL_FINAL"}


def loaded(sheet):
    return ezdxf.read(io.StringIO(dxf_of(sheet).decode()))


def on_layer(doc, layer):
    return [entity for entity in doc.modelspace() if entity.dxf.layer == layer]


@pytest.mark.parametrize(("unit", "code"), [("in", 1), ("mm", 4)])
def test_the_audit_is_clean_and_the_header_names_the_unit(unit, code):
    doc = loaded(bay(unit))
    audit = doc.audit()
    assert not audit.errors
    assert not audit.fixes
    assert doc.dxfversion == "AC1024"
    assert doc.header["$INSUNITS"] == code


@pytest.mark.parametrize(("unit", "per_in"), [("in", 1.0), ("mm", 25.4)])
def test_the_opening_is_one_closed_edge_with_true_arcs(unit, per_in):
    (opening,) = on_layer(loaded(bay(unit)), "OPENING")
    assert opening.dxftype() == "LWPOLYLINE"
    assert opening.closed
    points = [(x / per_in, y / per_in, bulge) for x, y, bulge in opening.get_points("xyb")]
    # the bulge of a quarter turn is the tangent of a quarter of 90 degrees
    assert sorted({round(bulge, 12) for *_, bulge in points}) == [
        0.0,
        round(math.tan(math.radians(22.5)), 12),
    ]
    corners = {(round(x, 9), round(y, 9)) for x, y, _ in points}
    assert corners == {
        (3.75, 2.5), (7.25, 2.5), (8.0, 3.25), (8.0, 5.75), (7.25, 6.5), (3.75, 6.5), (3.0, 5.75), (3.0, 3.25),
    }  # fmt: skip


def test_pilot_holes_are_circles_at_their_places():
    circles = on_layer(loaded(bay()), "DRILL_PILOT")
    assert {(round(c.dxf.center.x, 9), round(c.dxf.center.y, 9)) for c in circles} == set(HOLES.values())
    assert {round(2 * c.dxf.radius, 9) for c in circles} == {0.098}


@pytest.mark.parametrize(("unit", "side"), [("in", 1.0), ("mm", 25.0)])
def test_the_check_square_is_true_and_alone_on_its_layer(unit, side):
    (square,) = on_layer(loaded(bay(unit)), "CHECK")
    points = square.get_points("xy")
    assert square.closed
    assert len(points) == 4
    assert max(x for x, _ in points) - min(x for x, _ in points) == pytest.approx(side, abs=1e-9)
    assert max(y for _, y in points) - min(y for _, y in points) == pytest.approx(side, abs=1e-9)


def test_only_closed_edges_and_circles_lie_on_cut_layers():
    doc = loaded(bay())
    for entity in doc.modelspace():
        if entity.dxf.layer in CUT:
            assert entity.dxftype() in ("LWPOLYLINE", "CIRCLE")
            assert entity.dxftype() == "CIRCLE" or entity.closed
    assert {e.dxf.layer for e in doc.modelspace() if e.dxftype() == "TEXT"} == {"TEXT"}


def test_nothing_is_cut_twice_and_nothing_has_no_length():
    once = plate()
    hole = Circle((0.5, 0.7), 0.25, Layer.DRILL_PILOT)
    edge = next(part for part in once.parts() if isinstance(part, Outline))
    again = Outline(edge.loop.reversed(), Layer.TEMPLATE)
    dot = Line(((1.0, 1.0), (1.0, 1.0)), Layer.ENGRAVE)
    twice = Sheet(once.title, once.title_block, (*once.entities, hole, again, dot))
    assert len(on_layer(loaded(twice), "TEMPLATE")) == 1
    assert len(on_layer(loaded(twice), "DRILL_PILOT")) == 2
    assert not on_layer(loaded(twice), "ENGRAVE")


def test_dashed_lines_are_named_as_the_trade_names_them():
    doc = loaded(bay())
    (doubler,) = on_layer(doc, "DOUBLER")
    assert doubler.dxf.linetype == "HIDDEN"
    assert {e.dxf.linetype for e in on_layer(doc, "OPENING")} == {"CONTINUOUS"}
    assert doc.linetypes.get("HIDDEN").simplified_line_pattern() == pytest.approx((0.12, 0.04))


def test_the_same_sheet_gives_the_same_bytes():
    assert dxf_of(bay()) == dxf_of(bay())


SCRIPT = """
import sys
from hatchwright.drawings.writers.dxf import dxf_of
from writers.sheets import bay
sys.stdout.buffer.write(dxf_of(bay()))
"""


@pytest.mark.parametrize("seed", ["0", "7"])
def test_another_process_gives_the_same_bytes_and_says_nothing(seed, tmp_path):
    """The seeds are two by which a set within the library stands in another order; what it knows of fonts it keeps in
    the user's cache folder, which cannot be written here."""
    (tmp_path / "file").touch()
    paths = os.pathsep.join([str(Path(__file__).parents[1]), *sys.path])
    env = {
        **os.environ,
        "PYTHONHASHSEED": seed,
        "PYTHONPATH": paths,
        "XDG_CACHE_HOME": str(tmp_path / "file"),
    }
    made = subprocess.run([sys.executable, "-c", SCRIPT], env=env, capture_output=True, check=True)
    assert (made.stdout, made.stderr) == (dxf_of(bay()), b"")


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_text_stays_text(words):
    doc = loaded(lettered(words))
    assert not doc.audit().errors
    shown = [plain_text(decode_dxf_unicode(e.dxf.text)) for e in doc.modelspace() if e.dxftype() == "TEXT"]
    assert shown.count(literal(words)) >= (1 if words.strip() else 0)
