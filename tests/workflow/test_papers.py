"""The papers of a job: names, geometry, sides, scale; DXF files are read with ezdxf, PDF files with pypdfium2.

Expected places are those of the layout, taken to the page by hand: on a lower skin seen from outside with FWD up, X
(outboard) runs to the right on the left side and to the left on the right side, Y (aft) runs down on both.
"""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime

import ezdxf
import numpy as np
import pypdfium2
import pytest

from hatchwright.drawings.bay_view import bay_sheet
from hatchwright.drawings.made_file import MadeKind
from hatchwright.drawings.page_frame import side_word
from hatchwright.drawings.writers import Format, Paper, write
from hatchwright.job.file import edited, load_job, read_job
from hatchwright.workflow.examine import examine
from hatchwright.workflow.paper_set import stem_of
from hatchwright.workflow.papers import papers
from hatchwright.workflow.pins import pin_files
from hatchwright.workflow.template_files import template_files
from tests.conftest import EXAMPLES
from tests.made_once import by_name

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
RESULT_WORDS = re.compile(r"\b(approved|airworthy|certified|compliant|complies)\b", re.IGNORECASE)
SIDES = {"LEFT": 1.0, "RIGHT": -1.0}


@pytest.fixture(scope="module")
def drawn(alder_drawn):
    return examine(alder_drawn)


@pytest.fixture(scope="module")
def files(alder_drawn, made_once):
    return made_once(papers, alder_drawn, stamp=STAMP, stem="alder")


def read(data):
    return ezdxf.read(io.StringIO(data.decode("utf-8")))


def on_layer(doc, layer, kind):
    return [e for e in doc.modelspace() if e.dxf.layer == layer and e.dxftype() == kind]


def test_names_carry_job_drawing_side_unit_and_paper(files):
    assert set(files) == {
        f"alder_{name}"
        for side in ("LEFT", "RIGHT")
        for name in (
            f"LAYOUT_{side}_IN.svg",
            f"LAYOUT_{side}_IN.dxf",
            f"LAYOUT_{side}_LETTER.pdf",
            f"OVERVIEW_{side}_LETTER.pdf",
            f"OVERVIEW_{side}_LETTER.svg",
            *(f"PARTS_{side}_{end}" for end in ("LETTER.pdf", "LETTER.svg")),
            *(f"PARTS_{piece}_{side}_IN.dxf" for piece in ("DOUBLER", "COVER")),
            f"CARRY_CARD_{side}_LETTER.pdf",
            f"TRIAL_SHEET_{side}_LETTER.pdf",
            f"LISTS_{side}_LETTER.pdf",
            f"LISTS_{side}.csv",
            f"LOG_{side}_LETTER.pdf",
            f"ANNEX_{side}_LETTER.pdf",
            f"OVERVIEW_{side}_LETTER.pdf",
            f"OVERVIEW_{side}_LETTER.svg",
        )
    }


@pytest.mark.parametrize("side", SIDES)
def test_holes_in_the_dxf_stand_where_the_layout_has_them(files, drawn, side):
    doc = read(files[f"alder_LAYOUT_{side}_IN.dxf"])
    assert doc.header["$INSUNITS"] == 1
    found = sorted(tuple(e.dxf.center)[:2] for e in on_layer(doc, "DRILL_PILOT", "CIRCLE"))
    wanted = sorted((SIDES[side] * hole.x_in, -hole.y_in) for hole in drawn.layout.holes)
    assert np.abs(np.array(found) - np.array(wanted)).max() < 1e-9


@pytest.mark.parametrize("side", SIDES)
def test_edges_in_the_dxf_are_closed_with_true_arcs_where_the_layout_has_them(files, drawn, side):
    doc = read(files[f"alder_LAYOUT_{side}_IN.dxf"])
    for layer, loops in (
        ("OPENING", [drawn.layout.opening]),
        ("DOUBLER", [edge.loop for edge in drawn.layout.part("doubler").edges]),
        ("COVER", [drawn.layout.part("cover").edges[0].loop]),
    ):
        edges = on_layer(doc, layer, "LWPOLYLINE")
        assert len(edges) == len(loops)
        for entity, loop in zip(edges, loops, strict=True):
            assert entity.closed
            rows = np.array(list(entity.get_points("xyb")))
            wanted = {(round(SIDES[side] * x, 9), round(-y, 9)) for x, y, _ in loop.rows}
            assert {(round(x, 9), round(y, 9)) for x, y, _ in rows} == wanted
            assert np.count_nonzero(rows[:, 2]) == 4
            assert np.abs(rows[rows[:, 2] != 0.0, 2]) == pytest.approx(np.tan(np.pi / 8), abs=1e-9)


def test_the_right_hand_file_is_the_mirror_of_the_left_hand_one(files):
    left, right = (read(files[f"alder_LAYOUT_{side}_IN.dxf"]) for side in SIDES)
    for layer in ("DRILL_PILOT", "DRILL_FINAL", "OPENING", "ROUGH_CUT", "DOUBLER", "COVER"):
        places = [
            sorted(
                (sign * x, y)
                for e in doc.modelspace()
                if e.dxf.layer == layer
                for x, y in (
                    [tuple(e.dxf.center)[:2]] if e.dxftype() == "CIRCLE" else list(e.get_points("xy"))
                )
            )
            for doc, sign in ((left, 1.0), (right, -1.0))
        ]
        assert places[0] == places[1]
        assert places[0] or layer == "DRILL_FINAL"
    for doc, word, other in ((left, "LEFT", "RIGHT"), (right, "RIGHT", "LEFT")):
        said = [e.dxf.text for e in doc.modelspace() if e.dxftype() == "TEXT"]
        assert word in said
        assert other not in said


def test_what_was_made_on_one_side_is_not_claimed_for_the_other(alder):
    left, right = (
        read(write(bay_sheet(one.layout, one.findings, date=""), Format.DXF)) for one in examine(alder).sides
    )
    drilled = {tuple(e.dxf.center)[:2] for e in on_layer(left, "DRILL_FINAL", "CIRCLE")}
    assert (8.260, -3.884) in drilled
    assert len(drilled) == 17
    assert on_layer(right, "DRILL_FINAL", "CIRCLE") == []
    assert len(on_layer(right, "DRILL_PILOT", "CIRCLE")) == len(examine(alder).layout.holes)


def test_a_millimeter_job_makes_millimeter_files_of_the_same_size(alder_drawn):
    job = alder_drawn.model_copy(
        update={"units": "mm", "aircraft": alder_drawn.aircraft.model_copy(update={"both_sides": False})}
    )
    files = by_name(papers(examine(job), stamp=STAMP, paper=Paper.A4, stem="alder"))
    assert set(files) == {
        "alder_LAYOUT_LEFT_MM.svg",
        "alder_LAYOUT_LEFT_MM.dxf",
        "alder_LAYOUT_LEFT_A4.pdf",
        "alder_OVERVIEW_LEFT_A4.pdf",
        "alder_OVERVIEW_LEFT_A4.svg",
        *(f"alder_PARTS_LEFT_{end}" for end in ("A4.pdf", "A4.svg")),
        *(f"alder_PARTS_{piece}_LEFT_MM.dxf" for piece in ("DOUBLER", "COVER")),
        "alder_CARRY_CARD_LEFT_A4.pdf",
        "alder_TRIAL_SHEET_LEFT_A4.pdf",
        "alder_LISTS_LEFT_A4.pdf",
        "alder_LISTS_LEFT.csv",
        "alder_LOG_LEFT_A4.pdf",
        "alder_ANNEX_LEFT_A4.pdf",
    }
    doc = read(files["alder_LAYOUT_LEFT_MM.dxf"])
    assert doc.header["$INSUNITS"] == 4
    (opening,) = on_layer(doc, "OPENING", "LWPOLYLINE")
    x = [point[0] for point in opening.get_points("xy")]
    assert max(x) - min(x) == pytest.approx(127.0, abs=1e-9)


def test_no_paper_prints_a_result_word(files):
    for name, data in files.items():
        if name.endswith(".pdf"):
            with pypdfium2.PdfDocument(data) as pdf:
                said = " ".join(page.get_textpage().get_text_range() for page in pdf)
        else:
            said = data.decode("utf-8")
        left = re.sub(r"not approved data", "", said, flags=re.IGNORECASE)
        assert RESULT_WORDS.findall(left) == [], name


def test_the_same_time_makes_the_same_bytes(dogwood, made_once):
    first = made_once(papers, dogwood, stamp=STAMP, stem="dogwood")
    assert by_name(papers(examine(dogwood), stamp=STAMP, stem="dogwood")) == first


def test_a_job_on_the_center_line_has_one_set(dogwood):
    aircraft = dogwood.aircraft.model_copy(update={"both_sides": True})
    files = by_name(papers(examine(dogwood.model_copy(update={"aircraft": aircraft})), stamp=STAMP, stem="d"))
    assert {name.split("_CENTER")[0] for name in files} == {
        f"d_{kind}"
        for kind in (
            *("LAYOUT", "OVERVIEW", "PARTS_COVER", "CARRY_CARD"),
            *("TRIAL_SHEET", "LISTS", "LOG", "ANNEX"),
        )
    }


@pytest.mark.parametrize(
    ("title", "stem", "expected"),
    [
        ("../../etc/passwd <b>日本", "", "etc_passwd_b"),
        ("日本", "", "job"),
        ("Inspection opening", "alder", "alder"),
        ("x", "my job (2).new", "my_job_2_new"),
        ("y" * 200, "", "y" * 60),
    ],
)
def test_names_are_plain_whatever_the_title(dogwood, title, stem, expected):
    assert stem_of(examine(dogwood.model_copy(update={"title": title})), stem) == expected


@pytest.mark.parametrize(("name", "count"), [("birch", 14), ("cypress", 14), ("elder", 15), ("heron", 17)])
def test_every_example_job_has_papers(made_once, name, count):
    job = load_job(EXAMPLES / f"{name}.toml")
    files = made_once(papers, job, stamp=STAMP, paper=Paper.A4, stem=name)
    assert len(files) == count * (2 if job.aircraft.both_sides else 1)


def test_the_flat_doubler_is_cut_where_it_meets_the_skin_once_rolled(made_once):
    """Radius 8^2/(8 x .583) + .583/2 = 14.0136; middle of the doubler over outer face of the skin along Y:
    (14.0136 - .025 - .016) / 14.0136 = .997074. On this page FWD is up, Y runs to the left; the datum corner is the
    aft right one of the 7.00 x 5.00 doubler about X 0, Y 0. It is drilled through the skin, so no machine drills it."""
    examination = examine(load_job(EXAMPLES / "cypress.toml"))
    files = made_once(papers, examination.job, stamp=STAMP, paper=Paper.A4, stem="cypress")
    doc = read(files["cypress_PARTS_DOUBLER_CENTER_IN.dxf"])
    radius = 8.0**2 / (8.0 * 0.583) + 0.583 / 2.0
    ratio = (radius - 0.025 - 0.016) / radius
    assert ratio == pytest.approx(0.997074, abs=1e-6)
    circles = [e for e in doc.modelspace() if e.dxftype() == "CIRCLE"]
    assert {e.dxf.layer for e in circles} == {"DIMENSION"}
    found = sorted((round(-e.dxf.center.x, 9), round(e.dxf.center.y, 9)) for e in circles)
    wanted = sorted(
        (round(ratio * (hole.y_in + 2.5), 9), round(hole.x_in + 3.5, 9))
        for hole in examination.layout.holes
        if "doubler" in hole.stack
    )
    assert np.array(found) == pytest.approx(np.array(wanted), abs=1e-8)
    outer = max(on_layer(doc, "DOUBLER", "LWPOLYLINE"), key=len)
    across = [x for x, _ in outer.get_points("xy")]
    assert max(across) - min(across) == pytest.approx(5.0 * ratio, abs=1e-9)


def test_a_skin_curved_both_ways_has_no_flat_doubler():
    text = (EXAMPLES / "cypress.toml").read_text(encoding="utf-8")
    job = read_job(edited(text, {"skin.curvature.other_rise": "1/4"}))
    assert not [file for file in papers(examine(job), stamp=STAMP, stem="c") if file.kind is MadeKind.PARTS]


STOPPED = {"alder": "2 STOP", "birch": "4 STOP", "elder": "3 STOP"}
PRINTED_ON = {"alder": Paper.LETTER, "birch": Paper.A4, "elder": Paper.A4}


@pytest.mark.parametrize("name", STOPPED)
def test_what_stops_stands_on_every_page_that_goes_to_the_aircraft(made_once, name):
    job = load_job(EXAMPLES / f"{name}.toml")
    examination, how = examine(job), {"stamp": STAMP, "paper": PRINTED_ON[name], "stem": name}
    made = made_once(papers, job, **how)
    if examination.making:
        made |= made_once(template_files, job, **how)
    if examination.making and examination.job.template.pin_body:
        made |= made_once(pin_files, job, **how)
    (first,) = examination.sides[:1]
    box = f"DO NOT CUT, DRILL OR RIVET: {STOPPED[name]}"
    checked = {file: data for file, data in made.items() if f"_{side_word(first.job)}_" in file}
    for file, data in checked.items():
        if file.endswith(".dxf"):
            lettered = on_layer(read(data), "TEXT", "TEXT")
            assert any(box.split(":")[0] in one.dxf.text for one in lettered), file
        elif file.endswith(".svg"):
            assert box.split(":")[0] in data.decode("utf-8"), file
        else:
            pages = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(data)]
            pages = pages[:1] if any(kind in file for kind in ("ANNEX", "CARRY_CARD", "AS_BUILT")) else pages
            assert all(box in " ".join(page.split()) for page in pages), file
    assert len(checked) >= 4


def test_a_side_with_nothing_to_stop_for_has_no_box(files):
    """The job as entered has none; of its mirror nobody has looked at the bay yet (R915): its sheets have it."""
    drawn = {name: data for name, data in files.items() if name.endswith(("dxf", "svg"))}
    boxed = {name for name, data in drawn.items() if b"DRILL OR RIVET" in data}
    assert boxed == {name for name in drawn if "_RIGHT_" in name}
    assert 0 < len(boxed) < len(drawn)
