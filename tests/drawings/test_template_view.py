"""The guide template: its edges, its key, its words.

Sizes are those of the scenarios ALDER (window 5.277 x 4.277, R .8885, offset .1535) and DOGWOOD (plug, corner .4375
instead of .3125), worked there by hand. Whether two parts can be laid on each other is tried with shapely, a
general-purpose polygon library, on every turn.
"""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon
from shapely.affinity import rotate, scale, translate

from hatchwright.drawings.ink import Box, Circle, Layer, Line, Outline, Style, Text
from hatchwright.drawings.template_view import template_sheet
from hatchwright.job.file import read_job
from hatchwright.job.other_side import other_side
from hatchwright.layout.lay_out import lay_out
from hatchwright.page.fill_in import with_unit
from hatchwright.shapes.corners import corners
from hatchwright.units import inches
from hatchwright.workflow.examine import examine
from tests.conftest import EXAMPLES


def sheet_of(job):
    examination = examine(job)
    return template_sheet(examination.making, examination.findings, date="2026-03-01")


def inks(sheet, kind):
    return [part for part in sheet.parts() if isinstance(part, kind)]


def words(sheet):
    return [text.words for text in inks(sheet, Text)]


def cut(sheet):
    return [part for part in sheet.parts() if part.layer.is_cut]


def edges(sheet):
    """Cut edges: the window first, then the plate; or the plug."""
    return [part.loop for part in cut(sheet) if isinstance(part, Outline)]


@pytest.fixture(scope="module")
def left(alder):
    return sheet_of(alder)


@pytest.fixture(scope="module")
def right(alder):
    return sheet_of(other_side(alder))


@pytest.fixture(scope="module")
def plug(dogwood):
    return sheet_of(dogwood)


def test_the_window_has_the_size_and_corners_of_the_scenario(left):
    window, plate = edges(left)
    x_min, y_min, x_max, y_max = window.bounds
    assert (x_max - x_min, y_max - y_min) == pytest.approx((5.277, 4.277), abs=1e-9)
    assert [c.radius_in for c in corners(window)] == pytest.approx([0.8885] * 4, abs=1e-9)
    assert (0.5 * (x_min + x_max), 0.5 * (y_min + y_max)) == pytest.approx((5.5, -4.5), abs=1e-9)
    assert plate.bounds == pytest.approx((x_min - 1.5, y_min - 1.5, x_max + 1.5, y_max + 1.5), abs=1e-9)


def test_only_the_templates_own_edges_lie_on_cut_layers(left, plug):
    edge, pilot = (Layer.TEMPLATE, Outline), (Layer.DRILL_PILOT, Circle)
    assert [(part.layer, type(part)) for part in cut(left)] == [edge] * 2 + [pilot] * 64
    assert [(part.layer, type(part)) for part in cut(plug)] == [
        (Layer.TEMPLATE, Outline),
        (Layer.DRILL_FINAL, Circle),
    ]
    reference = [c for c in inks(left, Circle) if c.css == "waste-hole"]
    assert [c.diameter_in for c in reference] == [0.5625]
    assert {c.style for c in reference} == {Style.PHANTOM}
    assert {c.layer for c in reference} == {Layer.DIMENSION}


def test_the_plug_has_the_size_of_the_scenario_and_says_that_its_corner_is_wrong(plug):
    outline, key = cut(plug)
    x_min, y_min, x_max, y_max = outline.loop.bounds
    assert sorted((x_max - x_min, y_max - y_min)) == pytest.approx([3.0 - 0.875, 8.0 - 0.875], abs=1e-9)
    assert key.diameter_in == 0.25
    (stop,) = [note for note in plug.notes if note.startswith("STOP T102")]
    assert ".4375" in stop
    assert ".3125" in stop


def outline_of(loop):
    return Polygon(loop.points(1e-4))


def part_of(sheet):
    """The template as one solid: plate less window, or plug less key hole."""
    loops = [outline_of(part.loop) for part in cut(sheet) if isinstance(part, Outline)]
    solid, *windows = sorted(loops, key=lambda loop: -loop.area)
    for window in windows:
        solid = solid.difference(window)
    for circle in (part for part in cut(sheet) if isinstance(part, Circle)):
        angles = [2.0 * math.pi * k / 180 for k in range(180)]
        x, y = circle.center
        r = 0.5 * circle.diameter_in
        solid = solid.difference(Polygon([(x + r * math.cos(a), y + r * math.sin(a)) for a in angles]))
    return solid


def least_mismatch(one, other):
    """Area by which two parts differ at best, centroid on centroid and turned by steps of 3 degrees [sq in]."""
    one = translate(one, -one.centroid.x, -one.centroid.y)
    other = translate(other, -other.centroid.x, -other.centroid.y)
    return min(one.symmetric_difference(rotate(other, 3.0 * k, origin=(0, 0))).area for k in range(120))


def test_pilot_holes_lie_on_the_rivets_and_are_listed_by_part(left, alder):
    """ALDER: 64 rivets through skin and doubler, #40 pilots (.098); the spoilt hole 15 lies where it was made."""
    pilots = {
        (round(c.center[0], 6), round(c.center[1], 6)) for c in inks(left, Circle) if c.css == "pilot-hole"
    }
    assert {c.diameter_in for c in inks(left, Circle) if c.css == "pilot-hole"} == {0.098}
    assert (8.757, -4.809) in pilots
    assert (7.36, -6.78) in pilots
    (note,) = [note for note in left.notes if note.startswith("PILOT HOLES")]
    assert note.startswith("PILOT HOLES .0980 THROUGH SKIN + DOUBLER: NO. 1 to 9, 11 to 18, 21 to ")


def test_the_right_template_is_the_exact_mirror_of_the_left(alder_drawn):
    left, right = sheet_of(alder_drawn), sheet_of(other_side(alder_drawn))
    for one, other in zip(edges(left), edges(right), strict=True):
        back = other.transformed(((-1, 0), (0, 1)))
        assert {tuple(p) for p in back.rows[:, :2]} == {tuple(p) for p in one.rows[:, :2]}
    drilled = [
        sorted((sign * c.center[0], c.center[1], c.diameter_in) for c in inks(sheet, Circle))
        for sheet, sign in ((left, 1.0), (right, -1.0))
    ]
    assert drilled[0] == drilled[1]


def square(kind):
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    text = text[: text.index("# What was really made")]
    head, rest = text.split("[doubler]")
    head = head.replace('width = "5.00"', 'width = "4.00"')
    rest = rest[rest.index("[cutter]") :]
    return read_job(head + rest.replace('template = "female"', f'template = "{kind}"'))


@pytest.mark.parametrize("job_of", ["alder", "square window", "square plug", "dogwood"])
def test_a_template_cannot_be_laid_on_its_mirror_image(job_of, alder_drawn, dogwood):
    if job_of == "dogwood":
        one = part_of(sheet_of(dogwood))
        other = scale(one, -1.0, 1.0, origin=(0, 0))
    else:
        job = alder_drawn if job_of == "alder" else square("female" if "window" in job_of else "male")
        one, other = part_of(sheet_of(job)), part_of(sheet_of(other_side(job)))
    assert least_mismatch(one, scale(other, -1.0, 1.0, origin=(0, 0))) < 1e-3
    key_hole = math.pi / 4 * 0.125**2
    assert least_mismatch(one, other) > 1.5 * key_hole


def test_the_words_on_the_plate_name_side_face_directions_and_offset(left, right):
    for sheet, side in ((left, "LEFT"), (right, "RIGHT")):
        said = words(sheet)
        assert {side, "THIS SIDE OUT", "FWD", "OUTBD", "CHECK LENGTH 6.000 in", "X 5.500", "Y 4.500"} <= set(
            said
        )
        assert not {"LEFT", "RIGHT"} - {side} & set(said)
        lines = " ".join(said)
        assert "OFFSET .1535" in lines
        assert "REVISION A" in lines
        assert "acrylic .125" in lines
        big = next(text for text in inks(sheet, Text) if text.words == side)
        assert big.height_in >= 0.24  # is read across a bench: common practice, no source


def test_the_check_length_is_what_it_says(left):
    (line,) = [
        part
        for part in inks(left, Line)
        if part.layer is Layer.ENGRAVE and abs(part.points[0][0] - part.points[1][0]) == pytest.approx(6.0)
    ]
    assert line.points[0][1] == line.points[1][1]


@pytest.mark.parametrize("fixture", ["left", "right"])
def test_no_word_lies_on_a_cut_edge_or_beside_the_plate(fixture, request):
    sheet = request.getfixturevalue(fixture)
    window, plate = (outline_of(loop) for loop in edges(sheet))
    pilots = [
        Box(*c.center, *c.center).grown(0.5 * c.diameter_in) for c in inks(sheet, Circle) if c.layer.is_cut
    ]
    assert len(pilots) == 64
    for text in inks(sheet, Text):
        box = Box(*text.box())
        shape = Polygon(
            [(box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top)]
        )
        assert plate.contains(shape), text.words
        assert window.contains(shape) or not window.intersects(shape), text.words
        assert not any(pilot.touches(box) for pilot in pilots), text.words


def test_the_words_on_a_plug_keep_clear_of_its_key_hole(plug):
    outline, key = cut(plug)
    shape = outline_of(outline.loop)
    hole = Box(*key.center, *key.center).grown(0.5 * key.diameter_in)
    on_plug = [t for t in inks(plug, Text) if t.words[:1] != "D" and t.words != "S"]
    assert {"CENTER", "THIS SIDE OUT", "FWD", "LEFT"} <= {t.words for t in on_plug}
    for text in on_plug:
        box = text.box()
        assert shape.contains(
            Polygon([(box.left, box.bottom), (box.right, box.bottom), (box.right, box.top)])
        )
        assert not box.touches(hole), text.words


@pytest.mark.parametrize("border", [0.1, 0.3, 0.5, 3.0])
def test_any_border_makes_a_sheet_that_names_its_side(alder, border):
    job = alder.model_copy(update={"template": alder.template.model_copy(update={"border": inches(border)})})
    sheet = sheet_of(job)
    assert any("LEFT" in said and "THIS SIDE OUT" in said for said in (" ".join(words(sheet)),))
    window, plate = edges(sheet)
    assert plate.bounds[0] == pytest.approx(window.bounds[0] - border)


def test_the_starter_is_listed_from_both_datums(left):
    """The cutter makes the corners, so that no corner holes are listed."""
    (table,) = left.tables
    assert table.rows == (("S", "5.500", "4.500", ".5625"),)
    assert "CORNER" not in table.title


def test_corner_holes_are_listed_where_the_cutter_cannot_make_them(alder):
    """A router of 1.6 in in corners of .75 less .015: the holes are 1.47 across, 1.75 and 1.25 off the center."""
    sizes = {
        "cut_width": inches(1.6),
        "guide": inches(1.7),
        "kind": "router",
        "advance": None,
        "starter": None,
    }
    sheet = sheet_of(alder.model_copy(update={"cutter": alder.cutter.model_copy(update=sizes)}))
    rows = {row[0]: row[1:] for row in sheet.tables[0].rows}
    assert set(rows) == {"S", "D1", "D2", "D3", "D4"}
    corner = {rows[mark] for mark in ("D1", "D2", "D3", "D4")}
    assert corner == {(x, y, "1.4700") for x in ("3.750", "7.250") for y in ("3.250", "5.750")}
    assert "CORNER HOLES D" in sheet.tables[0].title


def test_the_holes_that_the_plan_calls_by_number_bear_their_number(left, alder):
    """Each number is engraved nearer to its own hole than to any other, and the notes name the same ones."""
    plan = " ".join(note for note in left.notes if note.startswith("HELD IN STAGE"))
    named = set(re.findall(r"\d+", plan.replace("STAGE 1", "").replace("STAGE 2", "")))
    assert named == {"11", "31", "51", "71", "18", "58"}
    places = {str(hole.number): (hole.x_in, -hole.y_in) for hole in lay_out(alder).holes_of("rivet")}
    for number in named:
        (text,) = [text for text in inks(left, Text) if text.words == number]
        box = text.box()
        middle = (0.5 * (box.left + box.right), 0.5 * (box.bottom + box.top))
        nearest = min(places, key=lambda name: math.dist(places[name], middle))
        assert nearest == number
        assert math.dist(places[number], middle) < 0.4


def lettered_boxes(sheet):
    """Every word with its box as a polygon, those beside the template and the marks S and D apart."""
    for text in inks(sheet, Text):
        if text.words == "S" or text.words in {f"D{k}" for k in range(1, 9)}:
            continue
        box = text.box()
        yield (
            text.words,
            Polygon(
                [(box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top)]
            ),
        )


def crossed_words(sheet):
    """Words that meet a hole, a cut edge, an engraved line or another word."""
    holes = [
        Point(circle.center).buffer(0.5 * circle.diameter_in)
        for circle in cut(sheet)
        if isinstance(circle, Circle)
    ]
    edge_lines = [LineString([*loop.points(1e-3), loop.points(1e-3)[0]]) for loop in edges(sheet)]
    engraved = [LineString(line.points) for line in inks(sheet, Line) if line.layer is Layer.ENGRAVE]
    boxes = list(lettered_boxes(sheet))
    for place, (said, box) in enumerate(boxes):
        others = [other for _, other in boxes[place + 1 :]]
        if any(box.intersects(thing) for thing in (*holes, *edge_lines, *engraved, *others)):
            yield said


def on_the_template(sheet):
    """Whether each word lies on the metal; those beside it do not."""
    solid = part_of(sheet)
    return {said: solid.contains(box) for said, box in lettered_boxes(sheet)}


ROWS = """
[[rows]]
name = "row {number}"
lay = "offset"
rivet = "MS20470AD4"
edge = "opening"
distance = "{distance:.3f}"
pitch = "{pitch:.3f}"
"""


def window_with_rows(rows, border, *, unit="in", kind="female"):
    """The window of ALDER with other rows of rivets round it and another border."""
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    text = text[: text.index("# What was really made")]
    head = text[: text.index("[[rows]]")]
    rest = text[text.index("[cutter]") :].replace('border = "1.5"', f'border = "{border:.3f}"')
    drawn = "".join(
        ROWS.format(number=number, distance=distance, pitch=pitch)
        for number, (distance, pitch) in enumerate(rows)
    )
    made = head + drawn + rest.replace('template = "female"', f'template = "{kind}"')
    return read_job(with_unit(made, unit))


@pytest.mark.property
@settings(
    max_examples=12, deadline=None, phases=(Phase.explicit, Phase.generate)
)  # each takes long to shrink
@given(
    rows=st.lists(st.tuples(st.floats(0.2, 1.5), st.floats(0.4, 1.2)), min_size=1, max_size=3),
    border=st.floats(0.1, 2.5),
    unit=st.sampled_from(["in", "mm"]),
)
def test_no_word_meets_a_hole_an_edge_or_another_word(rows, border, unit):
    sheet = sheet_of(window_with_rows(rows, border, unit=unit))
    assert list(crossed_words(sheet)) == []


def test_three_rows_and_a_border_of_an_inch_and_a_half_leave_room_for_every_word():
    sheet = sheet_of(window_with_rows([(0.32, 0.55), (0.72, 0.6), (1.1, 0.4)], 1.5))
    assert list(crossed_words(sheet)) == []
    assert len([part for part in cut(sheet) if isinstance(part, Circle)]) > 100
    assert all(on_the_template(sheet).values())
    assert not [note for note in sheet.notes if note.startswith("CAUTION: NO ROOM")]
    assert {"LEFT", "THIS SIDE OUT", "FWD", "OUTBD", "CHECK LENGTH 6.000 in"} <= set(words(sheet))


def test_words_without_room_stand_beside_the_template_with_a_caution():
    sheet = sheet_of(window_with_rows([(0.32, 0.55)], 0.3))
    _, plate = edges(sheet)
    beside = [text for text in inks(sheet, Text) if text.box().left > plate.bounds[2]]
    assert " ".join(text.words for text in beside).startswith("NO ROOM ON THE TEMPLATE FOR:")
    (note,) = [note for note in sheet.notes if note.startswith("CAUTION: NO ROOM")]
    assert "WIDEN THE BORDER" in note
    said = " ".join(text.words for text in beside)
    for words_off in note.split("FOR: ")[1].split(". WIDEN")[0].split("; "):
        assert words_off.split()[0] in said
    assert list(crossed_words(sheet)) == []
