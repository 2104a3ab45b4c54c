"""The overview drawing, read back from its page: from the paths and pixels of the PDF, not from what drew it.

Expected places are those of the job files as typed; nothing is taken from the code that draws.
"""

from __future__ import annotations

import math
import re
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from hatchwright.drawings.ink import Circle, Outline, Style, Text
from hatchwright.drawings.overview_sheet import overview_sheet
from hatchwright.drawings.writers import Format, Paper, write
from hatchwright.drawings.writers.readback.pdf_pages import painted_pages
from hatchwright.job.file import read_job
from hatchwright.workflow.examine import examine
from hatchwright.workflow.new_job import Start, starting_text

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("alder", "birch", "cypress", "dogwood", "elder", "finch", "heron", "juniper")
DPI = 300
HALF_THIN_IN = 0.15 / 25.4
NINE_POINT_IN = 9.0 / 72.0 * 0.729

SEEN = {  # edges of the opening along X and Y as the job files have them [in]
    "alder": ((3.0, 8.0), (2.5, 6.5)),
    "birch": ((1.0, 5.0), (1.3, 6.3)),
    "dogwood": ((8.0,), (3.0,)),
    "elder": ((3.75, 6.25), (5.2, 7.2)),
    "finch": ((5.0, 8.0), (4.5, 6.5)),
    "heron": ((4.5, 9.5), (2.3, 6.3)),
    "juniper": ((3.4, 9.0), (2.25, 6.75)),
}
METRIC = starting_text(Start("lapped-cover", units="mm"))


def text_of(name):
    return METRIC if name == "metric" else (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


@cache
def side_of(text):
    return examine(read_job(text)).sides[0]


@cache
def sheet_of(text, paper=Paper.LETTER, stop="STOP: DO NOT CUT."):
    side = side_of(text)
    return overview_sheet(side.layout, side.findings, paper_in=paper.size_in, date="2026-03-01", stop=stop)


@cache
def pdf_of(text, paper=Paper.LETTER):
    return write(sheet_of(text, paper), Format.PDF, paper=paper)


@cache
def words_of(data, page=0):
    """Every character run of a page with its box [in], as the reader finds them."""
    with pypdfium2.PdfDocument(data) as document:
        told = document[page].get_textpage()
        found = []
        for k in range(told.count_rects()):
            left, bottom, right, top = told.get_rect(k)
            words = told.get_text_bounded(left, bottom, right, top).strip()
            found.append((words, tuple(v / 72.0 for v in (left, bottom, right, top))))
    return found


@cache
def heads_of(data):
    """Arrowheads of the first page: tip and direction of each filled triangle, three times as long as wide [in]."""
    found = []
    for run in painted_pages(data)[0]:
        if not run.filled or len(run.points) != 3:
            continue
        sides = [abs(a - b) for a, b in zip(run.points, run.points[1:] + run.points[:1], strict=True)]
        short = int(np.argmin(sides))
        tip = run.points[(short + 2) % 3]
        base = 0.5 * (run.points[short] + run.points[(short + 1) % 3])
        if abs(abs(tip - base) / sides[short] - 3.0) < 0.01:
            found.append((tip, (tip - base) / abs(tip - base)))
    return found


def lines_of(data):
    """Ends of every straight open line of two points of the first page [in]."""
    return [run.points for run in painted_pages(data)[0] if len(run.points) == 2 and not run.filled]


def dimensions_of(data):
    """The linear dimensions of the first page: axis, figure, and the two tips that it stands between [in]."""
    heads = [(tip, way) for tip, way in heads_of(data) if min(abs(way.real), abs(way.imag)) < 1e-6]
    ends = lines_of(data)
    found = []
    for words, (left, bottom, right, top) in words_of(data):
        if not re.fullmatch(r"\d*\.\d+", words):
            continue
        x, y = 0.5 * (left + right), 0.5 * (bottom + top)
        for axis in "xy":
            level, at = (y, x) if axis == "x" else (x, y)

            def along(z, axis=axis):
                return (z.real, z.imag) if axis == "x" else (z.imag, z.real)

            reach = 0.14 + 0.5 * (right - left if axis == "x" else top - bottom)
            own = [
                line
                for line in ends
                if all(abs(along(z)[1] - level) < 0.1 for z in line)
                and (
                    min(abs(along(z)[0] - at) for z in line) < reach
                    or min(along(z)[0] for z in line) < at < max(along(z)[0] for z in line)
                )
            ]  # its dimension line runs up to the figure, or under it
            if not own:
                continue
            line_at = along(own[0][0])[1]
            tips = [
                along(tip)[0]
                for tip, way in heads
                if abs(along(tip)[1] - line_at) < 1e-4 and abs(along(way)[1]) < 1e-6
            ]
            if len(tips) == 2:
                found.append((axis, float(words), sorted(tips), line_at))
    return found


ALL = [(name, paper) for name in (*NAMES, "metric") for paper in (Paper.LETTER, Paper.A4)]


@pytest.mark.parametrize(("name", "paper"), ALL)
def test_every_dimension_measures_what_it_says_on_the_page_at_300_dpi(name, paper):
    data, sheet = pdf_of(text_of(name), paper), sheet_of(text_of(name), paper)
    per = 25.4 if name == "metric" else 1.0
    with pypdfium2.PdfDocument(data) as document:
        bitmap = document[0].render(scale=DPI / 72, grayscale=True)
        ink = bitmap.to_numpy().reshape(bitmap.height, bitmap.width) < 128
    found = dimensions_of(data)
    figures = [words for words, _ in words_of(data) if re.fullmatch(r"\d*\.\d+", words)]
    linear = [f"{figure:g}" for _, figure, _, _ in found]
    assert len(found) >= (0 if name == "cypress" else 2)
    for axis, figure, (low, high), level in found:
        # the tips, and beside them the extension lines as pixels show them
        assert high - low == pytest.approx(figure / per * sheet.scale.ratio, abs=HALF_THIN_IN)
        places = []
        for tip in (low, high):
            beyond = level - 0.06
            if axis == "x":
                strip = ink[round(ink.shape[0] - beyond * DPI)]
            else:
                strip = ink[::-1, round(beyond * DPI)]
            around = round(tip * DPI)
            lit = np.flatnonzero(strip[around - 6 : around + 7]) + around - 6
            assert lit.size, (name, figure, axis)
            places.append(0.5 * (lit.min() + lit.max() + 1) / DPI)
        assert places[1] - places[0] == pytest.approx(high - low, abs=2.0 * HALF_THIN_IN)
    if name in SEEN:
        assert sorted(linear) == sorted({f"{value:g}" for ends in SEEN[name] for value in ends})
    assert len(figures) == len(set(figures)), "nothing is dimensioned twice"


@pytest.mark.parametrize("name", [name for name in NAMES if name != "cypress"])
def test_dimensions_end_on_seen_edges_only_and_never_make_a_chain(name):
    data, sheet, layout = pdf_of(text_of(name)), sheet_of(text_of(name)), side_of(text_of(name)).layout
    seen = next(part for part in sheet.inked[0] if isinstance(part, Outline) and part.css == "opening-edge")
    assert seen.style is Style.FINISHED
    left, bottom, right, top = seen.loop.bounds
    origin = next(
        (part for part in sheet.inked[0] if isinstance(part, Circle) and part.css == "origin"), None
    )
    edges = {"x": [left, right], "y": [bottom, top]}
    datums = {"x": origin.center[0], "y": origin.center[1]}
    for axis, _, tips, _ in dimensions_of(data):
        on_edge = [min(abs(tip - edge) for edge in edges[axis]) < 1e-3 for tip in tips]
        on_datum = [abs(tip - datums[axis]) < 1e-3 for tip in tips]
        assert all(a or b for a, b in zip(on_edge, on_datum, strict=True))
        assert any(on_datum) or all(on_edge)  # from the datum, or across what lies evenly about it
    hidden = [part for part in sheet.inked[0] if isinstance(part, Outline) and part.style is Style.HIDDEN]
    assert bool(hidden) == bool(layout.job.doubler and layout.job.doubler.face == "inside")


def test_the_longest_dimension_lies_outermost():
    for name in ("alder", "birch", "heron", "juniper"):
        for axis in "xy":
            found = [one for one in dimensions_of(pdf_of(text_of(name))) if one[0] == axis]
            levels = sorted(found, key=lambda one: one[3])
            assert [one[1] for one in levels] == sorted((one[1] for one in found), reverse=True)


def test_a_round_opening_is_told_by_its_diameter_alone():
    words = [words for words, _ in words_of(pdf_of(text_of("cypress")))]
    assert "Ø.625" in words
    assert not any(".3125" in one or (one.startswith("R") and one[1:2].isdigit()) for one in words)
    assert not dimensions_of(pdf_of(text_of("cypress")))


def boxes_of(page):
    """Boxes round the letters themselves, without the room for descenders [in]."""
    for part in page:
        if isinstance(part, Text) and part.words.strip():
            left, bottom, right, top = part.box()
            yield part, (left + 0.01, bottom + 0.02, right - 0.01, top - 0.01)


def meet(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


@pytest.mark.parametrize(("name", "paper"), ALL)
def test_no_lettering_meets_other_lettering_and_no_number_an_edge(name, paper):
    sheet = sheet_of(text_of(name), paper)
    width, height = sheet.lies_in
    for page in sheet.inked:
        boxes = list(boxes_of(page))
        met = [(a.words, b.words) for (a, one), (b, other) in combinations(boxes, 2) if meet(one, other)]
        assert not met
        assert all(
            box[0] > 0.25 and box[2] < width - 0.25 and box[1] > 0.15 and box[3] < height - 0.25
            for _, box in boxes
        )
    if sheet.scale.ratio < 0.5:
        return
    edges = [part.loop.points(0.005) for part in sheet.inked[0] if isinstance(part, Outline)]
    points = np.concatenate([fine(edge) for edge in edges])
    for part, (left, bottom, right, top) in boxes_of(sheet.inked[0]):
        if part.css in ("hole-number", "dimension"):
            inside = (
                (points[:, 0] > left)
                & (points[:, 0] < right)
                & (points[:, 1] > bottom)
                & (points[:, 1] < top)
            )
            assert not inside.any(), part.words


def fine(edge):
    """Points of a closed edge no farther than .02 in apart."""
    closed = np.vstack([edge, edge[:1]])
    runs = []
    for start, end in pairwise(closed):
        count = max(2, math.ceil(math.dist(start, end) / 0.02))
        runs.append(np.linspace(start, end, count))
    return np.vstack(runs)


@pytest.mark.parametrize(("entered", "beside"), [("third angle", "small"), ("first angle", "large")])
def test_the_circles_stand_beside_the_end_that_the_named_angle_asks(entered, beside):
    text = text_of("alder") + f'\n[drawing]\nprojection = "{entered}"\n'
    data = pdf_of(text)
    words = next(one for one in words_of(data) if one[0] == entered.upper())
    near = words[1][0]
    runs = [run for run in painted_pages(data)[0] if all(near - 1.0 < z.real < near for z in run.points)]
    runs = [run for run in runs if all(abs(z.imag - words[1][1]) < 0.3 for z in run.points)]
    circles = sorted((run for run in runs if run.middles), key=spread_of)
    (cone,) = (run for run in runs if len(run.points) == 4 and run.closed and not run.middles)
    assert len(circles) == 2
    middles = [np.mean([z.real for z in run.points]) for run in circles]
    assert middles[0] == pytest.approx(middles[1], abs=1e-3)
    ends = {}
    for x in {round(z.real, 3) for z in cone.points}:
        ups = [z.imag for z in cone.points if abs(z.real - x) < 1e-2]
        ends[abs(x - middles[0])] = max(ups) - min(ups)
    nearest, farthest = ends[min(ends)], ends[max(ends)]
    assert (nearest < farthest) == (beside == "small")
    assert sorted(ends.values()) == pytest.approx([spread_of(run) for run in circles], abs=1e-3)


def spread_of(run):
    return max(z.imag for z in run.points) - min(z.imag for z in run.points)


def rows_of(sheet, page):
    """Rows of lettering of a page, by their level, from left to right."""
    levels = {}
    for part in sheet.inked[page]:
        if isinstance(part, Text):
            levels.setdefault(round(part.at[1], 3), []).append(part)
    return [[one.words for one in sorted(row, key=lambda one: one.box().left)] for row in levels.values()]


def test_drilled_and_nominal_places_have_columns_of_their_own():
    sheet = sheet_of(text_of("alder"))
    told = [row for page in range(len(sheet.pages)) for row in rows_of(sheet, page)]

    def has(*cells):
        return any(list(cells) == row[k : k + len(cells)] for row in told for k in range(len(row)))

    # of the job file: hole 1 was laid at 8.28, 2.02 and measured at 8.283, 2.020; hole 21 was not drilled
    assert has("1", "8.280", "2.020", "8.283", "2.020")
    assert has("15", "8.720", "4.810", "8.757", "4.809")
    assert has("21", "7.360", "6.780", ".277")
    assert not has("1", "8.283", "2.020")


@pytest.mark.parametrize("name", NAMES)
def test_every_hole_stands_in_the_table_with_its_edge_distance_worked_out_here(name):
    layout, sheet = side_of(text_of(name)).layout, sheet_of(text_of(name))
    told = [row for page in range(len(sheet.pages)) for row in rows_of(sheet, page)]
    for hole in layout.holes:
        nearest = min(
            float(np.hypot(*(fine(edge.loop.points(1e-4)) - hole.place).T).min())
            for part in layout.parts
            if part.name in hole.stack
            for edge in part.edges
        )
        starts = [row[row.index(str(hole.number)) :] for row in told if str(hole.number) in row]
        figures = {cell for row in starts for cell in row[1:7]}
        near = [float(cell) for cell in figures if re.fullmatch(r"-?\d*\.\d+", cell)]
        assert any(abs(abs(value) - nearest) < 2e-3 for value in near), (hole.number, nearest)


def test_lines_and_letters_are_those_of_the_standard():
    for name, paper, least, text in (
        ("alder", Paper.LETTER, NINE_POINT_IN, 0.12),
        ("metric", Paper.A4, 2.5 / 25.4, 2.5 / 25.4),
        ("metric", Paper.ELEVEN_BY_SEVENTEEN, 3.5 / 25.4, 3.5 / 25.4),
    ):
        sheet = sheet_of(text_of(name), paper)
        view = [
            one for one in sheet.inked[0] if isinstance(one, Text) and one.css in ("dimension", "hole-number")
        ]
        assert view
        assert {round(one.height_in, 4) for one in view} == {round(text, 4)}
        every = [one for page in sheet.inked for one in page if isinstance(one, Text)]
        table = [one for one in every if re.fullmatch(r"\d*\.\d{2,3}", one.words)]
        assert min(one.height_in for one in table) >= least - 1e-9
    with pypdfium2.PdfDocument(pdf_of(text_of("alder"))) as document:
        page = document[0]
        widths = set()
        for one in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=3):
            width = pypdfium2.raw.c_float() if hasattr(pypdfium2.raw, "c_float") else None
            if width is None:
                import ctypes

                width = ctypes.c_float()
            if pdfium.FPDFPageObj_GetStrokeWidth(one.raw, width):
                widths.add(round(width.value / 72.0 * 25.4, 2))
    assert widths - {0.0, 0.35} <= {0.3, 0.6}


def test_the_sheet_still_reads_after_two_thresholds():
    data = pdf_of(text_of("juniper"))
    with pypdfium2.PdfDocument(data) as document:
        gray = document[0].render(scale=DPI / 72, grayscale=True).to_numpy().squeeze().astype(float)
    once = gray < 128
    low = once[: once.shape[0] // 2 * 2, : once.shape[1] // 2 * 2]
    halved = low.reshape(low.shape[0] // 2, 2, -1, 2).mean(axis=(1, 3)) > 0.45  # a copy at 150 dpi
    # every extension and dimension line is still there
    for axis, _, (low_at, high_at), level in dimensions_of(data):
        for tip in (low_at, high_at):
            x, y = (tip, level - 0.05) if axis == "x" else (level - 0.05, tip)
            row, column = round(halved.shape[0] - y * DPI / 2), round(x * DPI / 2)
            assert halved[row - 2 : row + 3, column - 2 : column + 3].any()


def test_the_sheets_of_the_section_stay_parted_in_a_copy():
    data = pdf_of(text_of("alder"))
    for runs in painted_pages(data):
        solids = [run for run in runs if run.filled and len(run.points) == 3]
        boxes = {
            (round(min(z.imag for z in run.points), 3), round(max(z.imag for z in run.points), 3))
            for run in solids
            if len({round(z.imag, 3) for z in run.points}) == 2
            and max(z.real for z in run.points) - min(z.real for z in run.points) > 0.3
        }
        if len(boxes) >= 2:
            levels = sorted(boxes)
            assert all((low - high) * 25.4 >= 0.7 for (_, high), (low, _) in pairwise(levels))
            return
    pytest.fail("no section was found")


def test_the_section_names_the_sheets_from_outside():
    words = [words for page in (0, 1) for words, _ in words_of(pdf_of(text_of("heron")), page)]
    named = [one for one in words if re.match(r"[123] (Cover|Skin|Doubler):", one)]
    assert [one.split()[1] for one in named] == ["Cover:", "Skin:", "Doubler:"]
    assert any("NOT TO SCALE" in one for one in words)


def test_frame_bears_number_revisions_finish_and_tolerance_of_the_job():
    text = text_of("alder") + (
        '\n[drawing]\nnumber = "D-101-7"\ntolerance = ".015"\nfinish = "conversion coat, green primer"\n'
        '[[drawing.revisions]]\nrev = "A"\nwhat = "first issue"\ndate = "1 Mar 26"\n'
        '[[drawing.revisions]]\nrev = "B"\nwhat = "doubler .050"\n'
    )
    told = "\n".join(words for words, _ in words_of(pdf_of(text)))
    for words in (
        "D-101-7",
        "conversion coat, green primer",
        "first issue",
        "doubler .050",
        "±.015",
        "APPROVED",
    ):
        assert words in told
    assert "COMMON PRACTICE, NO SOURCE" not in told
    assert "COMMON PRACTICE, NO SOURCE" in "\n".join(words for words, _ in words_of(pdf_of(text_of("alder"))))


def test_rivets_have_their_cross_and_their_plain_part_number():
    sheet = sheet_of(text_of("elder"))
    words = [part.words for page in sheet.inked for part in page if isinstance(part, Text)]
    # BB: MS20426AD; -3: three 32nds; N: head on the side seen; C: countersunk (table of codes, restated)
    for one in ("BB", "3N", "C", "42X MS20426AD3"):
        assert one in words
    assert any("SEEN ONLY RESTATED" in one for one in words)


def test_a_metric_job_is_told_in_millimeters_by_iso():
    sheet = sheet_of(METRIC, Paper.A4)
    words = [part.words for part in sheet.inked[0] if isinstance(part, Text)]
    assert sheet.scale.words.startswith("1:")
    assert "FIRST ANGLE" in words
    turned = [part for part in sheet.inked[0] if isinstance(part, Text) and part.css == "dimension"]
    assert {part.angle_deg for part in turned} == {0.0, 90.0}


@pytest.mark.parametrize(
    "kind", ["plain-hole", "antenna", "camera", "flush-patch", "clip-nuts", "flush-cover"]
)
def test_every_kind_of_new_job_has_its_overview(kind):
    for units in ("in", "mm"):
        text = starting_text(Start(kind, units=units))
        for paper in Paper:
            assert pdf_of(text, paper)[:5] == b"%PDF-"


def test_a_job_of_an_opening_alone_has_its_overview():
    text = re.sub(
        r"(?ms)^\[\[?(rows|doubler|cover|cutter|template|as_made|scatter|loads)\b.*?(?=^\[|\Z)",
        "",
        text_of("alder"),
    )
    job = read_job(text)
    assert not job.rows and job.cover is None and job.doubler is None
    assert pdf_of(text)[:5] == b"%PDF-"


def test_hostile_words_stay_literal():
    hostile = "<script>#[]{}%%d &amp; \U0001f600 " + "long" * 40
    text = (
        text_of("alder")
        .replace('name = "rib 3"', f'name = "{hostile[:70]}"')
        .replace('title = "Inspection', f'title = "{hostile[:60]}Inspection')
    )
    svg = write(sheet_of(text), Format.SVG).decode()
    assert "&lt;script&gt;" in svg
    assert "<script" not in svg
    assert pdf_of(text)[:5] == b"%PDF-"


def test_the_same_job_makes_the_same_bytes():
    for kind in (Format.PDF, Format.SVG):
        first = write(sheet_of.__wrapped__(text_of("birch")), kind)
        assert first == write(sheet_of.__wrapped__(text_of("birch")), kind)
