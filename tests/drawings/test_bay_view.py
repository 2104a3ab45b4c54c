"""The layout drawing of the example jobs.

Expected places are those typed in the job file, taken to the page by hand: on a lower skin seen from outside with FWD
up, outboard of the left side lies to the right and aft lies down; the right side is its mirror.
"""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from hatchwright.drawings.bay_view import bay_sheet
from hatchwright.drawings.hole_map_view import hole_map
from hatchwright.drawings.ink import Box, Circle, Layer, Line, Outline, Solid, Style, Text
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.writers.svg import screen_svg_of
from hatchwright.job.bay import LandmarkRow
from hatchwright.job.file import load_job, read_job
from hatchwright.job.other_side import other_side
from hatchwright.units import inches
from hatchwright.workflow.examine import examine
from hatchwright.workflow.new_job import Start, starting_text
from tests.conftest import EXAMPLES


def sheet_of(job):
    examination = examine(job)
    return bay_sheet(examination.layout, examination.findings, date="2026-03-01")


@pytest.fixture(scope="module")
def made(alder):
    return sheet_of(alder)


@pytest.fixture(scope="module")
def left(alder_drawn):
    return sheet_of(alder_drawn)


@pytest.fixture(scope="module")
def right(alder_drawn):
    return sheet_of(other_side(alder_drawn))


def inks(sheet, kind):
    return [part for part in sheet.parts() if isinstance(part, kind)]


def words(sheet):
    return [text.words for text in inks(sheet, Text)]


def holes(sheet):
    return {c.hole: c for c in inks(sheet, Circle) if c.hole and not c.css.startswith("ring")}


def test_every_hole_of_the_job_is_drawn_once_and_numbered_once(made, alder):
    layout = examine(alder).layout
    numbers = [hole.number for hole in layout.holes]
    drawn = [c.hole for c in inks(made, Circle) if c.hole and not c.css.startswith("ring")]
    assert sorted(drawn) == numbers
    assert sorted(int(t.words) for t in inks(made, Text) if t.css == "hole-number") == numbers
    assert {t.note_id for t in inks(made, Text) if t.css == "hole-number"} == {f"hole-{n}" for n in numbers}


def test_drilled_holes_stand_where_they_were_measured(made):
    found = holes(made)
    for number, x, y in ((4, 8.260, 3.884), (9, 8.255, 6.986), (15, 8.757, 4.809)):
        assert found[number].center == (x, -y)
    assert holes(made)[71].center == (pytest.approx(3.33), pytest.approx(-1.78))


def test_drilled_holes_can_be_told_from_drawn_ones_without_colour(made):
    found = holes(made)
    assert (found[4].style, found[4].layer, found[4].diameter_in) == (
        Style.FINISHED,
        Layer.DRILL_FINAL,
        0.1285,
    )
    assert (found[71].style, found[71].layer, found[71].diameter_in) == (
        Style.DIMENSION,
        Layer.DRILL_PILOT,
        0.098,
    )
    crossed = {line.points for line in inks(made, Line) if line.layer is Layer.DIMENSION}
    x, y = found[71].center
    assert any(a == (pytest.approx(x - 0.08), y) for a, *_ in crossed)
    assert not any(a == (pytest.approx(8.260 - 0.08), -3.884) for a, *_ in crossed)


def test_short_holes_are_ringed_and_called_out_by_number_and_thousandths(made, left):
    rings = sorted(c.hole for c in inks(made, Circle) if c.css.startswith("ring"))
    assert rings == [4, 6, 15]
    assert {"4: SHORT .002", "WITHIN u .005", "6: SHORT .007", "15: SHORT .007"} <= set(words(made))
    called = {t.note_id for t in inks(made, Text) if t.css == "short"}
    assert called == {"hole-4", "hole-6", "hole-15"}
    assert not [c for c in inks(left, Circle) if c.css.startswith("ring")]


def test_edges_are_those_of_the_job_on_their_own_layers(made, left):
    filed = [o for o in inks(made, Outline) if o.layer is Layer.OPENING]
    assert [o.loop.bounds for o in filed] == [pytest.approx((2.996, -6.508, 8.012, -2.497), abs=1e-9)]
    by_layer = {layer: [o for o in inks(left, Outline) if o.layer is layer] for layer in Layer}
    expected = {
        Layer.OPENING: [(3.0, -6.5, 8.0, -2.5)],
        Layer.ROUGH_CUT: [(3.015, -6.485, 7.985, -2.515)],
        Layer.DOUBLER: [(2.0, -7.5, 9.0, -1.5), (3.65, -5.85, 7.35, -3.15)],
        Layer.COVER: [(3.03, -6.47, 7.97, -2.53)],
    }
    for layer, bounds in expected.items():
        assert [o.loop.bounds for o in by_layer[layer]] == [pytest.approx(b, abs=1e-9) for b in bounds]
    assert {o.style for o in by_layer[Layer.DOUBLER]} == {Style.HIDDEN}
    assert {o.style for o in by_layer[Layer.ROUGH_CUT]} == {Style.PHANTOM}


def test_the_right_side_is_the_exact_mirror_of_the_left(left, right):
    for layer in (Layer.OPENING, Layer.ROUGH_CUT, Layer.DOUBLER, Layer.COVER):
        one = [o.loop for o in inks(left, Outline) if o.layer is layer]
        other = [o.loop.transformed(((-1, 0), (0, 1))) for o in inks(right, Outline) if o.layer is layer]
        assert len(one) == len(other) > 0
        for a, b in zip(one, other, strict=True):
            assert {tuple(p) for p in a.rows[:, :2]} == {tuple(p) for p in b.rows[:, :2]}
    mirrored = {number: (-c.center[0], c.center[1]) for number, c in holes(right).items()}
    assert mirrored == {number: c.center for number, c in holes(left).items()}
    assert (left.title_block.side, right.title_block.side) == ("LEFT", "RIGHT")
    assert left.tables == right.tables


def test_origin_axes_directions_and_landmarks_are_named(left, right):
    for sheet, outboard in ((left, 1.0), (right, -1.0)):
        said = words(sheet)
        assert {"X OUTBD", "Y AFT", "FWD", "OUTBD"} <= set(said)
        assert {"rib 3, X .000", "rib 4, X 11.000", "spar, aft row, Y .000", "stringer, Y 9.000"} <= set(said)
        assert "aileron push-pull tube, X 8.200, 2.100 below outer face, moves" in said
        rows = [line for line in inks(sheet, Line) if line.css == "row" and line.style is Style.CENTER]
        upright = {line.points[0][0] for line in rows if line.points[0][0] == line.points[1][0]}
        assert upright == {0.0, 11.0 * outboard}
        at = next(t.at[0] for t in inks(sheet, Text) if t.words == "X OUTBD")
        assert at * outboard > 0.0
    assert any("rib 3 rivet row x spar aft rivet row" in note for note in left.notes)


def test_flanges_and_keep_outs_are_hatched_and_named(left, dogwood):
    hatched = [line for line in inks(left, Line) if line.layer is Layer.KEEP_OUT and line.css == "flange"]
    assert len(hatched) > 40
    for line in hatched:
        for x, y in line.points:
            assert x <= 0.34 + 1e-9 or x >= 10.60 - 1e-9 or -y <= 0.55 + 1e-9 or -y >= 8.45 - 1e-9
    assert {"rib 3 flange", "rib 4 flange", "spar cap flange", "stringer flange"} <= set(words(left))
    drain = sheet_of(dogwood)
    assert "fuel drain line, X 3.200 to 4.000, .600 below outer face" in words(drain)
    lines = [line for line in inks(drain, Line) if line.css == "keep-out"]
    assert lines
    assert all(3.2 - 1e-9 <= y <= 4.0 + 1e-9 for line in lines for _, y in line.points)


def test_edges_are_dimensioned_from_the_datum_never_in_a_chain(left):
    said = words(left)
    for figure in ("2.000", "3.000", "8.000", "9.000", "1.500", "2.500", "6.500", "7.500"):
        assert said.count(figure) == 1


def test_far_structure_is_named_and_not_drawn(alder_drawn):
    far = LandmarkRow(name="rib 9", x=inches(300.0))
    bay = alder_drawn.bay.model_copy(update={"rows": (*alder_drawn.bay.rows, far)})
    sheet = sheet_of(alder_drawn.model_copy(update={"bay": bay}))
    assert any("rib 9, X 300.000" in note for note in sheet.notes)
    assert not any("rib 9" in said for said in words(sheet))
    box_width = max(x for line in inks(sheet, Line) for x, _ in line.points)
    assert box_width < 30.0


def digits(text):
    """The box of a number; figures have no descenders."""
    half = 0.5 * text.width_in
    return Box(text.at[0] - half, text.at[1], text.at[0] + half, text.at[1] + text.height_in)


def reaches_into(circle, box):
    x, y = circle.center
    off = math.hypot(max(box.left - x, x - box.right, 0.0), max(box.bottom - y, y - box.top, 0.0))
    return off < 0.5 * circle.diameter_in


@pytest.mark.parametrize("name", ["alder", "birch", "cypress", "dogwood", "elder", "heron"])
def test_no_number_hides_a_hole_or_another_number(name):
    sheet = sheet_of(load_job(EXAMPLES / f"{name}.toml"))
    numbers = [digits(text) for text in inks(sheet, Text) if text.css == "hole-number"]
    called = [text.box() for text in inks(sheet, Text) if text.css == "short"]
    assert not any(a.touches(b) for a, b in combinations(numbers, 2))
    assert not any(number.touches(box) for number in numbers for box in called)
    circles = [circle for circle in inks(sheet, Circle) if circle.hole]
    assert not [(c.hole, box) for c in circles for box in numbers if reaches_into(c, box)]


def test_a_page_finds_each_hole_again(made):
    svg = screen_svg_of(made)
    for number in (4, 71, 116):
        assert f'data-hole="{number}"' in svg
        assert f'data-note="hole-{number}"' in svg


def test_arrowheads_and_lettering_lie_on_no_cut_layer(made):
    assert not [part for part in inks(made, (Solid, Text)) if part.layer.is_cut]


def test_sizes_in_the_opening_hide_no_hole_no_number_and_no_edge(alder):
    starter = read_job(starting_text(Start()))
    for job in (alder, starter):
        examination = examine(job)
        sheet = bay_sheet(examination.layout, examination.findings, date="")
        sizes = [part.box() for part in sheet.parts() if isinstance(part, Text) and part.css == "size"]
        holes = [part.box() for part in sheet.parts() if isinstance(part, Circle)]
        numbers = [
            part.box() for part in sheet.parts() if isinstance(part, Text) and part.css == "hole-number"
        ]
        assert not [box for box in sizes for other in (*holes, *numbers) if box.touches(other)]
        for outline in (part for part in sheet.parts() if isinstance(part, Outline)):
            for x, y in outline.loop.points(1e-3):
                assert not any(box.touches(Box(x, y, x, y)) for box in sizes)


def test_every_stray_hole_is_drawn_at_its_place_and_size_crossed_while_it_is_open(alder_text):
    """One open through both sheets, one filled: on the layout drawing and the hole map, on no layer that is cut."""
    strays = 'strays = [["8.50", "4.20", ".128", "", "", "both"], ["4.5", "7.05", ".133", "", "MS20470AD4"]]'
    text = alder_text.replace('uncertainty = ".005"\n', f'uncertainty = ".005"\n{strays}\n', 1)
    one = examine(read_job(text))
    page = PageFrame(one.layout.frame)
    sheet = bay_sheet(one.layout, one.findings, date="2026-03-01")
    drawn = [part for part in inks(sheet, Circle) if part.css == "stray"]
    assert [(c.center, c.diameter_in) for c in drawn] == [
        (page.point(8.5, 4.2), 0.128),
        (page.point(4.5, 7.05), 0.133),
    ]
    crossed = [part for part in inks(sheet, Line) if part.css == "stray" and len(part.points) == 2]
    middles = [tuple(sum(v) / 2 for v in zip(*part.points, strict=True)) for part in crossed]
    assert sum(math.dist(at, drawn[0].center) < 1e-9 for at in middles) == 2
    assert all(math.dist(at, drawn[1].center) > 0.05 for at in middles)
    map_sheet = hole_map(one.layout, one.findings).sheet
    for each in (sheet, map_sheet):
        assert {"ST1", "ST2"} <= set(words(each))
        assert {part.layer for part in each.parts() if getattr(part, "css", "") == "stray"} <= {
            Layer.DIMENSION,
            Layer.TEXT,
        }
