"""The hole map of the carry card.

Expected places are those typed in the job file, taken to the page by hand: on a lower skin seen from outside with FWD
up, outboard of the left side lies to the right and aft lies down. What a copy does to it is tried on pictures: each is
blurred and turned to black and white twice, at a threshold that is off first to the one side and then to the other.
"""

from __future__ import annotations

import io
import re
from itertools import combinations

import numpy as np
import pytest
import typst
from PIL import Image, ImageDraw, ImageFilter, ImageFont

from hatchwright.drawings.hole_map_numbers import first_holes, numbered_holes
from hatchwright.drawings.hole_map_view import hole_map
from hatchwright.drawings.ink import Circle, Layer, Line, Outline, Style, Text, box_of
from hatchwright.drawings.lettering import FONTS
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.job.file import load_job
from hatchwright.job.other_side import other_side
from hatchwright.making.guide import job_recipe
from hatchwright.units import inches
from hatchwright.workflow.examine import examine
from tests.conftest import EXAMPLES

NAMES = sorted(path.stem for path in EXAMPLES.glob("*.toml"))
NINE_POINT_IN = 9.0 / 72.0 * 0.729
"""Capitals of the shipped face are .729 of its size."""


def map_of(job):
    done = examine(job, with_strength=False)
    return hole_map(done.layout, done.findings, job_recipe(done.layout, done.making)), done


@pytest.fixture(scope="module", params=NAMES)
def of_example(request):
    return map_of(load_job(EXAMPLES / f"{request.param}.toml"))


@pytest.fixture(scope="module")
def of_alder(alder):
    return map_of(alder)


def inks(sheet, kind):
    return [part for part in sheet.parts() if isinstance(part, kind)]


def words(sheet):
    return [text.words for text in inks(sheet, Text)]


def numbers(sheet):
    return {int(text.words.split("-")[0]): text for text in inks(sheet, Text) if text.css == "hole-number"}


def places(sheet):
    return {c.hole: c.center for c in inks(sheet, Circle) if c.hole and not c.css.startswith("ring")}


def test_it_fits_below_the_head_of_the_card_with_letters_of_nine_points(of_example):
    sheet = of_example[0].sheet
    box = box_of(sheet.parts())
    assert box.width_in <= 7.3
    assert box.height_in <= 8.3
    assert min(text.height_in for text in inks(sheet, Text)) >= NINE_POINT_IN
    widths = {part.style.width_in * 25.4 for part in inks(sheet, (Line, Circle, Outline))}
    assert {round(width, 6) for width in widths} == {0.3, 0.6}


@pytest.mark.parametrize(("name", "scale"), [("alder", "1/2"), ("elder", "FULL"), ("dogwood", "1/2")])
def test_it_has_the_largest_scale_that_fits(name, scale):
    # alder's doubler is 7.00 and dogwood's cover 9.50 wide: full size leaves no room for a datum; elder's is 4.00.
    assert map_of(load_job(EXAMPLES / f"{name}.toml"))[0].scale.words == scale


def test_a_metric_job_has_a_metric_scale(alder_drawn):
    shown = map_of(alder_drawn.model_copy(update={"units": "mm"}))[0]
    assert shown.scale.words == "1:2"
    assert any(words.startswith("SCALE 1:2") for words in words(shown.sheet))


def test_every_hole_lies_where_its_coordinates_put_it_at_the_scale(of_example):
    shown, done = of_example
    found, ratio = places(shown.sheet), {"FULL": 1.0, "1/2": 0.5}[shown.scale.words]
    (ax, ay), (bx, by) = done.layout.frame.x_on_page, done.layout.frame.y_on_page
    for hole in done.layout.holes:
        x, y = ax * hole.x_in + bx * hole.y_in, ay * hole.x_in + by * hole.y_in
        assert found.pop(hole.number) == pytest.approx((ratio * x, ratio * y), abs=1e-9)
    assert found == {}


def test_the_screws_of_a_base_are_lettered_at_the_corners_of_their_pattern(of_example):
    shown, done = of_example
    found = {c.center for c in inks(shown.sheet, Circle) if c.css == "base-screw"}
    if "blade antenna" not in done.job.title.lower():
        assert found == set()
        return
    assert found == {
        (x, y) for x in (-0.375, 0.375) for y in (-1.075, 1.075)
    }  # 4.30 x 1.50 about 0, 0 at half size
    assert words(shown.sheet).count("B") == 4
    assert "B: base screw. Mark it through the base." in words(shown.sheet)


def test_alders_drilled_holes_lie_where_they_were_measured(of_alder):
    found = places(of_alder[0].sheet)
    assert found[4] == pytest.approx((0.5 * 8.260, -0.5 * 3.884))
    assert found[71] == pytest.approx((0.5 * 3.33, -0.5 * 1.78))
    styles = {c.hole: c.style for c in inks(of_alder[0].sheet, Circle) if c.hole and "ring" not in c.css}
    assert (styles[4], styles[71]) == (Style.FINISHED, Style.DIMENSION)


def test_every_fifth_the_ends_of_rows_and_what_is_named_is_numbered(of_alder):
    shown, done = of_alder
    wanted = numbered_holes(done.layout, done.findings, job_recipe(done.layout, done.making))
    assert {5, 15, 25, 35, 45, 55, 65, 75, 105, 110, 115} <= wanted
    assert {1, 9, 11, 18, 21, 27, 101, 116} <= wanted
    assert {4, 6, 15} <= wanted  # short
    assert 33 not in wanted
    assert set(numbers(shown.sheet)) >= wanted
    assert "Every hole is numbered." not in " ".join(words(shown.sheet))


def test_a_number_that_has_no_room_is_told_below(of_example):
    shown, done = of_example
    wanted = numbered_holes(done.layout, done.findings, job_recipe(done.layout, done.making))
    told = " ".join(words(shown.sheet))
    left_out = re.search(r"No room for: ([^.]+)\.", told)
    named = {int(one.split("-")[0]) for one in left_out[1].split(", ")} if left_out else set()
    assert wanted <= set(numbers(shown.sheet)) | named
    assert not set(numbers(shown.sheet)) & named
    if shown.scale.is_full:
        assert "Every hole is numbered." in told
        assert set(numbers(shown.sheet)) | named == {hole.number for hole in done.layout.holes}


def test_what_the_recipe_does_first_is_marked_in_its_order(alder_drawn):
    shown, done = map_of(alder_drawn)
    first = first_holes(done.layout, job_recipe(done.layout, done.making))
    at = {hole.number: hole for hole in done.layout.holes}
    assert first.drilled
    # From the middle of each side, opposite sides in turn: the sides along Y first, as X leads in the job's frame.
    one, two, three, four = (at[number] for number in first.riveted)
    assert (one.x_in > 8.0, two.x_in < 3.0, three.y_in > 6.5, four.y_in < 2.5) == (True,) * 4
    assert all(abs(hole.y_in - 4.5) < 0.32 for hole in (one, two))
    assert all(abs(hole.x_in - 5.5) < 0.32 for hole in (three, four))
    told = {text.words for text in inks(shown.sheet, Text) if text.css == "hole-number"}
    for place, number in enumerate(first.riveted, start=1):
        assert any(re.fullmatch(rf"{number}(-D\d)?-R{place}", one) for one in told)
    for place, number in enumerate(first.drilled, start=1):
        assert any(re.fullmatch(rf"{number}-D{place}(-R\d)?", one) for one in told)
    assert "R" not in "".join(numbers(hole_map(done.layout, ()).sheet)[one.number].words)


def test_a_hole_that_is_drilled_is_not_to_be_drilled_first(alder, alder_drawn):
    made, drawn = (
        set(first_holes(done.layout, job_recipe(done.layout, done.making)).drilled)
        for _, done in map(map_of, (alder, alder_drawn))
    )
    drilled = {*range(1, 10), *range(11, 19)}  # all of the outboard side, as typed in the example
    assert drawn & drilled
    assert made
    assert not made & drilled


def inked(text):
    """The box round what is inked: figures have nothing below their foot line."""
    box = text.box()
    return box._replace(bottom=text.at[1]) if text.css == "hole-number" else box


def test_no_words_meet_words_and_no_number_lies_on_a_hole(of_example):
    sheet = of_example[0].sheet
    boxes = [(text, inked(text)) for text in inks(sheet, Text)]
    met = [(a.words, b.words) for (a, of_a), (b, of_b) in combinations(boxes, 2) if of_a.touches(of_b)]
    assert met == []
    for text in numbers(sheet).values():
        box = text.box()
        for hole, (x, y) in places(sheet).items():
            inside = box.left < x < box.right and box.bottom < y < box.top
            assert not inside, (text.words, hole)


def test_origin_axes_datums_hazards_and_edges_are_named(of_alder):
    told = words(of_alder[0].sheet)
    assert {"X OUTBD", "Y AFT", "FWD", "OUTBD"} <= set(told)
    assert {"rib 3, X .000", "spar, aft row, Y .000", "rib 4, X 11.000", "stringer, Y 9.000"} <= set(told)
    assert {"rib 3 flange", "rib 4 flange", "spar cap flange", "stringer flange"} <= set(told)
    assert {"opening, cover", "doubler outer", "doubler inner"} <= set(told)
    assert "[A] aileron push-pull tube." in " ".join(told)
    assert "A" in told
    tube = [
        line
        for line in inks(of_alder[0].sheet, Line)
        if line.css == "keep-out" and line.style is Style.CENTER
    ]
    assert {round(x, 9) for line in tube for x, _ in line.points} == {0.5 * 8.2}


def filled(polygon):
    """Points along the sides of a polygon, closer than a hundredth of an inch."""
    sides = zip(polygon, np.roll(polygon, -1, axis=0), strict=True)
    return np.vstack([np.linspace(a, b, 2 + int(np.hypot(*(b - a)) / 0.01)) for a, b in sides])


def test_a_leader_of_an_edge_ends_on_it(of_example):
    sheet = of_example[0].sheet
    outlines = np.vstack(
        [filled(edge.loop.points(0.002)) for edge in inks(sheet, Outline) if edge.layer is not Layer.KEEP_OUT]
    )
    leaders = [line for line in inks(sheet, Line) if line.css == "name" and line.layer is Layer.DIMENSION]
    assert leaders
    for line in leaders:
        assert np.hypot(*(outlines - line.points[-1]).T).min() < 0.04


def test_a_datum_far_off_stands_on_a_broken_line_with_its_distance_in_figures():
    # elder's doubler is 4.00 x 3.50 about X 5.00, Y 6.20: its edges nearest to the datums lie at 3.000 and 4.450.
    sheet = map_of(load_job(EXAMPLES / "elder.toml"))[0].sheet
    broken = [text.words for text in inks(sheet, Text) if text.css == "broken"]
    assert broken == ["3.000", "4.450"]
    lines = [line for line in inks(sheet, Line) if line.css == "broken"]
    assert [len(line.points) for line in lines] == [6, 6]  # two straights with a zigzag between
    origin = next(c.center for c in inks(sheet, Circle) if c.css == "origin")
    assert origin != (0.0, 0.0)
    assert {line.points[0][0] for line in lines if line.points[0][1] == line.points[-1][1]} == {origin[0]}


def test_an_origin_of_forty_inches_off_does_not_shrink_the_map(alder_drawn):
    far = alder_drawn.opening.model_copy(update={"center": (inches(45.5), inches(-44.5))})
    job = alder_drawn.model_copy(update={"opening": far, "rows": (), "cover": None})
    shown, _ = map_of(job)
    assert shown.scale.words == "1/2"
    assert [text.words for text in inks(shown.sheet, Text) if text.css == "broken"] == ["42.000", "41.500"]


def test_short_holes_are_ringed_and_called_out(of_alder):
    sheet = of_alder[0].sheet
    assert sorted(c.hole for c in inks(sheet, Circle) if c.css.startswith("ring")) == [4, 6, 15]
    assert {"4: SHORT .002", "6: SHORT .007", "15: SHORT .007"} <= set(words(sheet))


def test_the_other_side_is_its_mirror_but_for_the_words(alder_drawn):
    left, right = (map_of(job)[0].sheet for job in (alder_drawn, other_side(alder_drawn)))
    assert {n: (-x, y) for n, (x, y) in places(left).items()} == {
        n: (pytest.approx(x), pytest.approx(y)) for n, (x, y) in places(right).items()
    }


def test_it_says_what_it_shows_to_who_cannot_see_it(of_alder):
    alt = of_alder[0].alt
    assert "FWD up, OUTBD to the right, X OUTBD to the right, Y AFT down" in alt
    assert alt.endswith("Short or not shown to pass: 4, 6, 15.")


@pytest.mark.parametrize("name", ["<b>&%d", "ع" * 40, "rib \u202e 3", "W" * 80, "\N{SNAKE}"])
def test_hostile_names_stay_literal_and_in_the_room(alder_drawn, name):
    rows = tuple(row.model_copy(update={"name": name}) for row in alder_drawn.bay.rows)
    bay = alder_drawn.bay.model_copy(update={"rows": rows})
    shown, _ = map_of(alder_drawn.model_copy(update={"bay": bay}))
    box = box_of(shown.sheet.parts())
    assert (box.width_in, box.height_in) <= (7.3, 8.3)
    assert name[:6].replace("\u202e", "\ufffd") in " ".join(words(shown.sheet))


def test_the_same_job_gives_the_same_bytes(alder):
    assert len({picture_svg_of(map_of(alder)[0].sheet) for _ in range(2)}) == 1


DPI = 200


def copied_twice(picture: Image.Image) -> Image.Image:
    for threshold in (110, 150):
        blurred = picture.convert("L").filter(ImageFilter.GaussianBlur(0.004 * DPI))
        picture = blurred.point(lambda gray, least=threshold: 255 if gray > least else 0)
    return picture


def printed(sheet) -> tuple[Image.Image, float, float]:
    """The map as it is printed, with the left and the top of what it shows [in]."""
    svg = picture_svg_of(sheet)
    source = (
        b'#set page(width: auto, height: auto, margin: 0in)\n#image(bytes("'
        + svg.replace(b"\\", b"\\\\").replace(b'"', b'\\"')
        + b'"))'
    )
    png = typst.compile(source, font_paths=[str(FONTS)], ignore_system_fonts=True, format="png", ppi=DPI)
    left, top = map(float, re.search(rb'viewBox="(\S+) (\S+)', svg).groups())
    return Image.open(io.BytesIO(png)).convert("L"), left, -top


def drawn_digit(digit: str, height_in: float) -> np.ndarray:
    font = ImageFont.truetype(str(next(FONTS.glob("DejaVuSans.ttf"))), height_in / 0.729 * DPI)
    image = Image.new("L", (60, 60), 255)
    ImageDraw.Draw(image).text((20, 15), digit, font=font, fill=0)
    return np.array(image) < 128


def trimmed(black: np.ndarray) -> np.ndarray:
    rows, columns = np.flatnonzero(black.any(axis=1)), np.flatnonzero(black.any(axis=0))
    cut = black[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    return (
        np.array(Image.fromarray(cut.astype(np.uint8) * 255).resize((18, 26), Image.Resampling.BOX)) / 255.0
    )


@pytest.mark.parametrize("name", ["alder", "finch"])
def test_its_numbers_can_be_read_on_the_copy_of_a_copy(name):
    sheet = map_of(load_job(EXAMPLES / f"{name}.toml"))[0].sheet
    picture, left, top = printed(sheet)
    copy = np.array(copied_twice(picture)) < 128
    models = {digit: trimmed(drawn_digit(digit, 0.1)) for digit in "0123456789"}
    read = wrong = 0
    for text in numbers(sheet).values():
        if not text.words.isdigit():
            continue
        box = text.box()
        x = box.left
        for digit in text.words:
            advance = 0.636 * text.height_in / 0.729
            columns = slice(round((x - left) * DPI), round((x + advance - left) * DPI) + 1)
            rows = slice(
                round((top - text.at[1] - 1.02 * text.height_in) * DPI),
                round((top - text.at[1] + 0.02 * text.height_in) * DPI) + 1,
            )
            seen = trimmed(copy[rows, columns])
            best = min(models, key=lambda one: np.abs(models[one] - seen).sum())
            read, wrong = read + 1, wrong + (best != digit)
            x += advance
    assert read > 35
    assert wrong <= 0.05 * read  # a leader that ends at a figure is read with it


def test_its_lines_and_holes_stay_on_the_copy_of_a_copy(of_alder):
    sheet = of_alder[0].sheet
    picture, left, top = printed(sheet)
    copy = np.array(copied_twice(picture)) < 128

    def is_black(x, y, near=2):
        row, column = round((top - y) * DPI), round((x - left) * DPI)
        return bool(copy[row - near : row + near + 1, column - near : column + near + 1].any())

    for edge in inks(sheet, Outline):
        points = edge.loop.points(0.002)
        seen = [is_black(x, y) for x, y in points]
        assert np.mean(seen) > (0.6 if edge.style.dashes_in else 0.98)
    for x, y in places(sheet).values():
        assert is_black(x, y) or is_black(x + 0.03, y)
    # An open circle stays open: a drilled hole is not a blot.
    x, y = places(sheet)[11]
    assert not is_black(x, y, near=0)
