"""Part sheets: a piece is rebuilt from the words and figures of its sheet alone, and is the piece of the layout.

The sheet is read as its SVG has it: words with their places, dimension figures in their lines across the page and up,
radii at the end of a leader, tables by their headings. Nothing is taken from the drawn edges and holes.
"""

from __future__ import annotations

import io
import math
import re
from functools import cache
from itertools import combinations, pairwise
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest

from hatchwright.drawings.ink import Layer, Text
from hatchwright.drawings.part_sheet import part_sheets
from hatchwright.drawings.part_sheet_pieces import pieces_of
from hatchwright.drawings.part_sheet_rows import even_rows
from hatchwright.drawings.writers import Format, Paper, write
from hatchwright.job.file import load_job, read_job
from hatchwright.job.other_side import other_side
from hatchwright.making.guide import job_recipe
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine
from tests.conftest import EXAMPLES

NAMES = sorted(path.stem for path in EXAMPLES.glob("*.toml"))
SVG = "{http://www.w3.org/2000/svg}"
NUMBER = r"-?\d*\.\d+"
NINE_POINT_IN = 9.0 / 72.0 * 0.729


def sheets_of(job, paper=Paper.LETTER, stop=""):
    done = examine(job, with_strength=False)
    return part_sheets(
        done.layout,
        job_recipe(done.layout, done.making),
        paper_in=paper.size_in,
        date="2026-03-01",
        stop=stop,
    ), done.layout


def edited(name, *changes):
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return read_job(text)


ALDER_OUTER = """[doubler.outer]
shape = "rounded rectangle"
width = "7.00"
height = "6.00"
radius = "1.00"
"""


def with_outer(shape):
    return edited("alder", (ALDER_OUTER, f"[doubler.outer]\n{shape}\n"), ("[as_made]", "[as_made]"))


JOBS = {
    **{name: lambda name=name: load_job(EXAMPLES / f"{name}.toml") for name in NAMES},
    "round": lambda: with_outer('shape = "circle"\ndiameter = "9.6"'),
    "polygon": lambda: with_outer(
        'shape = "polygon"\ncorners = [["2.0", "1.5"], ["9.0", "1.5"], ["9.4", "4.5"], ["9.0", "7.5"], ["2.0", "7.5"]]'
        '\nradii = ["1", ".75", "2", ".75", "1"]'
    ),
    "D": lambda: with_outer('shape = "D"\nwidth = "7.4"\nheight = "6.0"\nradius = ".8"'),
    "square": lambda: with_outer('shape = "rounded rectangle"\nwidth = "7.0"\nheight = "6.0"\nradius = "0"'),
    "split": lambda: edited(
        "finch", ("[patch.plug]", '[patch.split]\nalong = "x"\nat = "5.50"\ngap = ".5"\n\n[patch.plug]')
    ),
    "metric": lambda: edited("dogwood", ('units = "in"', 'units = "in"')).model_copy(update={"units": "mm"}),
    "metric rows": lambda: load_job(EXAMPLES / "juniper.toml").model_copy(update={"units": "mm"}),
}


class Read:
    """What a person reads off the sheet: words, lines and arrowheads with their places, y up [in on paper]."""

    def __init__(self, svg: bytes) -> None:
        root = ElementTree.fromstring(svg)
        per_in = 25.4 if root.get("width").endswith("mm") else 1.0
        self.words = [
            (float(e.get("x")) / per_in, -float(e.get("y")) / per_in, e.text or "", e.get("class", ""))
            for e in root.iter(f"{SVG}text")
        ]
        self.heights = {float(e.get("font-size")) / per_in * 0.729 for e in root.iter(f"{SVG}text")}
        self.lines, self.leaders, self.measures = [], [], []
        for e in root.iter(f"{SVG}path"):
            ends = [
                (float(a) / per_in, -float(b) / per_in)
                for a, b in re.findall(r"[ML] (-?[\d.]+) (-?[\d.]+)", e.get("d"))
            ]
            if "A" not in e.get("d") and "Z" not in e.get("d") and len(ends) == 2:
                by_class = {"name": self.leaders, "dimension": self.measures}
                by_class.get(e.get("class"), self.lines).append((ends[0], ends[1]))
        self.text = " ".join(words for _, _, words, _ in self.words)

    def tables(self, first, columns):
        """The rows of every table whose first heading is this, the words between its rules."""
        upright = [(a[0], *sorted((a[1], b[1]))) for a, b in self.lines if abs(a[0] - b[0]) < 1e-6]
        for x, y, words, _ in self.words:
            if words == first:
                edges = sorted({(round(u, 4), low) for u, low, high in upright if low < y < high})
                left = max(k for k, (u, _) in enumerate(edges) if u < x)
                rules, foot = [u for u, _ in edges[left : left + columns + 1]], edges[left][1]
                inside = [w for w in self.words if rules[0] < w[0] < rules[-1] and foot < w[1] < y - 0.01]
                above = [w for w in self.words if 0.0 < w[1] - y < 0.55 and abs(w[0] - rules[0]) < 1e-3]
                title = " ".join(w[2] for w in sorted(above, key=lambda w: -w[1]))
                for level in sorted({round(w[1], 4) for w in inside}, reverse=True):
                    row = [w for w in inside if abs(w[1] - level) < 1e-3]
                    yield title, [next((w[2] for w in row if a < w[0] <= b), "") for a, b in pairwise(rules)]

    def figures(self):
        """The dimension figures across the page and up the page, each with the span of its line."""
        found = {0: [], 1: []}
        for x, y, words, css in self.words:
            if css == "dimension":
                # By ASME the figure stands in a break of its line, by ISO a twentieth of an inch beside it.
                middle = x, y + 0.5 * FIGURE_IN
                breaks = {1: 0.5 * FIGURE_IN + 0.06, 0: 0.5 * wide(words) + 0.06}
                tried = [(axis, middle, off) for axis, off in breaks.items()]
                tried += [(0, (x, y - 0.05), None), (1, (x + 0.05, y), None)]
                axis, run = next((axis, run) for axis, at, off in tried if (run := self.run(axis, at, off)))
                found[axis].append((value(words), *run))
        return found

    def run(self, axis, at, off):
        """Ends of the dimension line along an axis through a place, so far off it where it is broken there."""
        level = [one for one in self.measures if all(abs(end[1 - axis] - at[1 - axis]) < 2e-3 for end in one)]
        runs = [sorted(end[axis] for end in one) for one in level]
        if off is None:
            runs = [one for one in runs if one[0] - 0.5 < at[axis] < one[1] + 0.5]
        else:
            near = 0.03 if axis == 1 else 0.09
            runs = [one for one in runs if min(abs(abs(end - at[axis]) - off) for end in one) < near]
        return (min(runs)[0], max(one[1] for one in runs)) if runs else None

    def radii(self):
        """Radii and diameters at the ends of leaders, each with where its leader points."""
        for x, y, words, css in self.words:
            if css == "name":
                ends = (x, y + 0.5 * FIGURE_IN), (x + wide(words), y + 0.5 * FIGURE_IN)
                leader = min(self.leaders, key=lambda one: min(math.dist(one[0], end) for end in ends))
                yield words, leader[1]


FIGURE_IN = 0.0925


class OfPiece(Read):
    """What is read off a sheet of one piece or more about the piece of a title."""

    def __init__(self, sheet, title):
        self.sheet, self.lines, self.title = sheet, sheet.lines, title
        names = {words: (x, y) for x, y, words, css in sheet.words if css == "view"}
        mine = names.get(title)

        def is_mine(x, y):
            """Whether a place is right of and below the name of this piece's view, none nearer."""
            near = {
                name: x - left + top - y
                for name, (left, top) in names.items()
                if x > left - 1e-6 and y < top + 1e-6
            }
            return mine is None or min(near, key=near.get, default=None) == title

        self.words = [w for w in sheet.words if w[3] not in ("dimension", "name") or is_mine(*w[:2])]
        self.leaders, self.measures = (
            [one for one in lines if is_mine(min(one[0][0], one[1][0]), max(one[0][1], one[1][1]))]
            for lines in (sheet.leaders, sheet.measures)
        )
        if not names:
            self.text, self.letters = sheet.text, set("ABCDEFG")
            return
        heads = [
            (x, y)
            for x, y, words, css in sheet.words
            if css != "view" and f"{title} ".startswith(f"{words} ") and words
        ]
        (x, y) = max(
            heads, key=lambda at: sum(w[0] == at[0] and 0.0 < at[1] - w[1] < 0.3 for w in sheet.words)
        )
        told, last = [], y
        for left, low, words, _ in sorted(sheet.words, key=lambda w: -w[1]):
            if abs(left - x) < 1e-6 and 1e-6 < last - low < 0.3:
                told.append(words)
                last = low
        self.text = " ".join(told)
        self.letters = set(re.findall(r"\b([A-Z]): \d+ HOLES?,", self.text))

    def tables(self, first, columns):
        """The rows of this piece's tables alone."""
        for title, row in super().tables(first, columns):
            # The last words above a table are its title; a caption may end shortly above them.
            letter = re.search(r"(?:^| )([A-Z](: ROWS)?)( \(\d+ of \d+\))?$", title)
            if letter[1][0] in self.letters if letter else f"{self.title}:" in title:
                yield letter[1] if letter else title, row

    def holes(self, unit):
        """The place of each hole, by the letter of its group and its number, from rows, lines and other pieces."""
        found = {}
        for title, (number, x, y) in self.tables("NO.", 3):
            assert (title[0], int(number.strip("*"))) not in found
            found[title[0], int(number.strip("*"))] = float(x), float(y)
        for title, row in self.rows():
            for number, place in row:
                assert (title[0], number) not in found
                found[title[0], number] = place
        sign = {"+": 1.0, "-": -1.0}
        same = r"([A-Z]) LOCATIONS: X OF ([A-Z]) ([+-]) (\d*\.\d+), Y OF \2 ([+-]) (\d*\.\d+)\."
        for mine, other, *by in re.findall(same, self.text):
            dx, dy = sign[by[0]] * float(by[1]), sign[by[2]] * float(by[3])
            theirs = OfPiece.lettered(self.sheet, {other}).holes(unit)
            assert theirs
            found |= {(mine, number): (x + dx, y + dy) for (_, number), (x, y) in theirs.items()}
        return found

    @classmethod
    def lettered(cls, sheet, letters):
        """Nothing but the tables of some letters."""
        one = cls.__new__(cls)
        one.sheet, one.lines, one.words, one.title, one.text, one.letters = (
            sheet, sheet.lines, sheet.words, "no title", "", letters,
        )  # fmt: skip
        return one

    def rows(self):
        """The holes of each equally spaced row, by first, last and count, with the spacing told for reference."""
        for title, (numbers, x, y, spaced) in self.tables("NOS.", 4):
            assert title[1:].startswith(": ROWS")
            first, last = map(int, numbers.split("-"))
            count, step = re.fullmatch(rf"(\d+)X \(({NUMBER})\)", spaced).groups()
            assert int(count) == last - first + 1 >= 4
            ends = [[float(one) for one in cell.split(" TO ")] for cell in (x, y)]
            assert sorted(map(len, ends)) == [1, 2]  # along X or along Y
            (start, end), half = max(ends, key=len), 0.5 * 10.0 ** -len(step.partition(".")[2])
            assert abs(end - start) / (last - first) == pytest.approx(
                float(step), abs=half + 2.0 * half / (last - first) + 1e-9
            )
            shares = [number / (last - first) for number in range(last - first + 1)]
            places = [[one[0] + share * (one[-1] - one[0]) for one in ends] for share in shares]
            yield title, list(enumerate(map(tuple, places), start=first))


def wide(words):
    return FIGURE_IN / 0.729 * 0.64 * len(words)


def value(words):
    return float(words.strip("()").removeprefix("Ø"))


def circle(center, radius):
    turns = np.linspace(0.0, 2.0 * math.pi, 400, endpoint=False)
    return np.array(center) + radius * np.column_stack([np.cos(turns), np.sin(turns)])


def rectangle(x, y, radius):
    """A rectangle between its sides, corners rounded."""
    corners = [(x[k > 1], y[k in (1, 2)]) for k in range(4)]
    if not radius:
        return np.array(corners)
    quarter = circle((0.0, 0.0), radius).reshape(4, 100, 2)  # from X to Y, then on round
    at = {(1, 1): 0, (0, 1): 1, (0, 0): 2, (1, 0): 3}
    parts = []
    for right, up in ((0, 0), (1, 0), (1, 1), (0, 1)):
        hub = x[right] + (radius if not right else -radius), y[up] + (radius if not up else -radius)
        parts.append(np.array(hub) + quarter[at[right, up]])
    return np.vstack(parts)


def through(rows):
    """An outline through the points of a table: straight on, or on an arc about its center."""
    points = []
    for row, after in pairwise([*rows, rows[0]]):
        start, end = ((float(one[1]), float(one[2])) for one in (row, after))
        points.append(start)
        if row[3] != "STRAIGHT":
            hub, radius = (float(row[4]), float(row[5])), float(row[3].split()[0].removeprefix("R"))
            first, last = (math.atan2(at[1] - hub[1], at[0] - hub[0]) for at in (start, end))
            sweep = (last - first) % (2.0 * math.pi) - (2.0 * math.pi if "HOLLOW" in row[3] else 0.0)
            turns = first + sweep * np.linspace(0.0, 1.0, 60)[1:-1]
            points += [(hub[0] + radius * math.cos(t), hub[1] + radius * math.sin(t)) for t in turns]
    return np.array(points)


def rebuilt(read, *, x_is_level):
    """The edges of a piece, the outer one first, from the figures of its sheet alone, from its datum."""
    listed = {"EDGE": [], "WINDOW": []}
    for title, row in read.tables("PT", 6):
        listed[re.search("EDGE|WINDOW", title)[0]].append(row)
    figures, told = read.figures(), list(read.radii())
    across, up = (figures[0], figures[1]) if x_is_level else (figures[1], figures[0])
    if "CENTER LINES" in read.text:
        (outer,) = (words for words, _ in told if words.startswith("Ø"))
        windows = [words for words, _ in told if not words.startswith("Ø")]
        edges = [circle((0.0, 0.0), value(outer) / 2.0)]
        for words in windows:
            x, y = ([-across[0][0], across[1][0]], [-up[0][0], up[1][0]])
            edges.append(rectangle(x, y, radius_of(words)))
        return edges
    (wide_in, *_), (high_in, *_) = max(across), max(up)
    spans = [max(figures[axis])[1:] for axis in (0, 1)]
    middle, half = zip(*(((a + b) / 2.0, (b - a) / 2.0) for a, b in spans), strict=True)
    out = sorted(told, key=lambda one: -max(abs(one[1][k] - middle[k]) / half[k] for k in (0, 1)))
    if listed["EDGE"]:
        edges = [through(listed["EDGE"])]
    else:
        edges, out = [rectangle((0.0, wide_in), (0.0, high_in), radius_of(out[0][0]))], out[1:]
    edges += [through(listed["WINDOW"])] if listed["WINDOW"] else []
    for words, _ in out:
        x, y = (
            sorted(one[0] for one in each if one[0] < most)
            for each, most in ((across, wide_in), (up, high_in))
        )
        if words.startswith("Ø"):
            edges.append(circle((x[0], y[0]), value(words) / 2.0))
        else:
            edges.append(rectangle(x, y, radius_of(words)))
    return edges


def radius_of(words):
    return 0.0 if words == "SQUARE CORNERS" else float(words.rpartition("R")[2])


def apart(first, second):
    """How far apart two outlines are at most, each a run of points."""
    a, b = (dense(one) for one in (first, second))
    return max(farthest(a, b), farthest(b, a))


def dense(points):
    return np.vstack(
        [np.linspace(p, q, 2 + int(math.dist(p, q) / 0.05)) for p, q in pairwise([*points, points[0]])]
    )


def farthest(points, others):
    """The greatest distance of points from a closed run of straight sides."""
    start, side = others, np.roll(others, -1, axis=0) - others
    squared = np.maximum((side**2).sum(axis=1), 1e-18)
    most = 0.0
    for part in np.array_split(points, 1 + len(points) // 200):
        share = np.clip(((part[:, None] - start) * side).sum(axis=2) / squared, 0.0, 1.0)
        gap = np.hypot(*np.moveaxis(part[:, None] - start - share[..., None] * side, 2, 0))
        most = max(most, float(gap.min(axis=1).max()))
    return most


ALL = [*NAMES, "round", "polygon", "D", "square", "split", "metric", "metric rows"]


def of_each_piece(job):
    """Each piece as the layout has it, with what can be read off its sheet."""
    made, layout = sheets_of(job)
    pieces = pieces_of(layout)
    sheets = {drawn.part: Read(write(drawn.sheet, Format.SVG)) for drawn in made.drawn}
    assert pieces
    for piece in pieces:
        title = tell(in_words_of(layout.job.kind, piece.title), layout.job.unit)
        (sheet,) = (read for part, read in sheets.items() if not part or piece.file in part)
        yield piece, OfPiece(sheet, title), layout


@cache
def of_example(name):
    return tuple(of_each_piece(JOBS[name]()))


def datum_of(piece, read):
    """The least X and Y of the layout's edge; of a round part its middle."""
    x_min, y_min, x_max, y_max = piece.outer.bounds
    return ((x_min + x_max) / 2, (y_min + y_max) / 2) if "CENTER LINES" in read.text else (x_min, y_min)


@pytest.mark.parametrize("name", ALL)
def test_holes_are_rebuilt_from_the_figures_of_the_sheet_alone(name):
    for piece, read, layout in of_example(name):
        per_in = 25.4 if layout.job.unit == "mm" else 1.0
        datum = datum_of(piece, read)
        lettered = read.holes(layout.job.unit)
        found = {number: place for (_, number), place in lettered.items()}
        assert len(found) == len(lettered)
        wanted = {
            hole.number: [per_in * (at - zero) for at, zero in zip(place, datum, strict=True)]
            for hole, place in piece.holes
        }
        assert found.keys() == wanted.keys()
        for number, place in found.items():  # to the last printed place
            assert place == pytest.approx(wanted[number], abs=(0.0005 if per_in == 1.0 else 0.005) + 1e-7)


@pytest.mark.parametrize("name", ALL)
def test_edges_are_rebuilt_from_the_figures_of_the_sheet_alone(name):
    for piece, read, layout in of_example(name):
        per_in = 25.4 if layout.job.unit == "mm" else 1.0
        edges = rebuilt(read, x_is_level=layout.frame.x_on_page[0] != 0.0)
        wanted = [
            (loop.points(1e-4) - np.array(datum_of(piece, read))) * per_in
            for loop in (piece.outer, *piece.windows)
        ]
        assert len(edges) == len(wanted)
        for found, true in zip(edges, wanted, strict=True):
            # Half of the last printed place in each of the two directions and in the radius.
            last_in = 0.0005 if per_in == 1.0 else 0.005 / 25.4
            assert apart(found / per_in, true / per_in) < 2.2 * last_in


def test_a_row_is_told_in_one_line_only_where_that_gives_every_hole():
    _, layout = sheets_of(load_job(EXAMPLES / "alder.toml"))
    piece = pieces_of(layout)[0]
    row = [(hole, piece.from_datum(at)) for hole, at in piece.holes if 21 <= hole.number <= 27]
    (told,), others = even_rows(row, "in")
    # Six spaces of .620 from 5.360 down to 1.640.
    assert (told.cells("in"), others) == (("21-27", "5.360 TO 1.640", "5.280", "7X (.620)"), ())
    for off in ((0.0011, 0.0), (0.0, 0.0011)):  # the middle one: three holes on either side are no row
        hole, (x, y) = row[3]
        assert even_rows([*row[:3], (hole, (x + off[0], y + off[1])), *row[4:]], "in")[0] == ()
    assert even_rows(row[:3], "in") == ((), tuple(row[:3]))
    assert len(even_rows(row[:4], "in")[0]) == 1
    drilled = [(hole, piece.from_datum(at)) for hole, at in piece.holes if hole.is_made]
    assert drilled
    assert even_rows([(hole, (number * 0.5, 1.0)) for number, (hole, _) in enumerate(drilled)], "in")[0] == ()
    assert even_rows([*row[:3], *row[4:]], "in")[0] == ()  # a number is missing


@pytest.mark.parametrize("paper", [Paper.LETTER, Paper.A4])
@pytest.mark.parametrize("side", [load_job, lambda path: other_side(load_job(path))])
def test_doubler_and_cover_share_one_page_at_a_quarter_of_full_size_or_more(side, paper):
    stop = "DO NOT CUT, DRILL OR RIVET: 2 STOP, 1 NOT SHOWN. R101. SEE THE CARRY CARD."
    made, _ = sheets_of(side(EXAMPLES / "alder.toml"), paper, stop)
    (drawn,) = made.drawn
    assert len(drawn.sheet.pages) == 1
    assert drawn.sheet.scale.ratio >= 0.25
    views = [words for _, _, words, css in Read(write(drawn.sheet, Format.SVG)).words if css == "view"]
    assert views == ["DOUBLER", "COVER"]


@pytest.mark.parametrize("name", ["alder", "birch", "heron"])
def test_the_other_side_has_the_same_figures_and_lies_as_its_mirror(name):
    job = load_job(EXAMPLES / f"{name}.toml")
    for mine, theirs in zip(*map(of_each_piece, (job, other_side(job))), strict=True):
        (piece, read, _), (_, mirrored, _) = mine, theirs
        made = {
            hole.number for hole, _ in piece.holes if hole.is_made
        }  # what was drilled was so on one side only
        here, there = (
            {number: at for (_, number), at in one.holes("in").items()} for one in (read, mirrored)
        )
        assert here.keys() == there.keys()
        for number in here.keys() - made:
            assert here[number] == pytest.approx(there[number], abs=1e-9)
    one, other = (sheets_of(each)[0] for each in (job, other_side(job)))
    for mine, theirs in zip(one.drawn, other.drawn, strict=True):
        a, b = (Read(write(each.sheet, Format.SVG)) for each in (mine, theirs))
        assert sorted(re.findall(rf"\dX R{NUMBER}", a.text)) == sorted(re.findall(rf"\dX R{NUMBER}", b.text))
        assert {a.text.count(side) > 0 for side in [job.aircraft.side.upper()]} == {True}
        assert ("LEFT" in b.text) != ("LEFT" in a.text)
        for read in (a, b):
            assert re.search(r"FACE SHOWN IS OUT. MARK IT: OUT, FWD, (OUTBD|UP)", read.text)
    for mine, theirs in zip(one.cut, other.cut, strict=True):
        x, y = (edge_points(each.sheet) for each in (mine, theirs))
        assert sorted((round(-u, 6), round(v, 6)) for u, v in x) == sorted(
            (round(u, 6), round(v, 6)) for u, v in y
        )


def edge_points(sheet):
    edges = [part for part in sheet.parts() if part.layer in (Layer.DOUBLER, Layer.COVER, Layer.PLUG)]
    return [tuple(row[:2]) for edge in edges for row in edge.loop.rows.tolist()]


def test_a_machine_cuts_edges_at_full_size_from_the_datum_and_drills_only_what_is_drilled_at_the_bench():
    # alder's doubler is drilled through the skin; with a reason it leads instead, and is drilled first.
    lead = (
        'face = "inside"',
        'face = "inside"\nholes_from = "doubler"\nholes_reason = "Kit part, drilled already."',
    )
    for changes, drilled in (((), 0), ((lead,), 64)):
        made, _ = sheets_of(edited("alder", *changes))
        doubler = next(one for one in made.cut if one.part == "DOUBLER")
        doc = ezdxf.read(io.StringIO(write(doubler.sheet, Format.DXF).decode()))
        circles = [e for e in doc.modelspace() if e.dxftype() == "CIRCLE" and e.dxf.layer == "DRILL_PILOT"]
        assert len(circles) == drilled
        assert {round(2.0 * e.dxf.radius, 4) for e in circles} <= {0.098}
        edges = [e for e in doc.modelspace() if e.dxftype() == "LWPOLYLINE" and e.dxf.layer == "DOUBLER"]
        boxes = [
            (min(x), min(y), max(x), max(y))
            for x, y in (zip(*(v[:2] for v in e.get_points("xy")), strict=True) for e in edges)
        ]
        # Lower left wing, FWD up: X runs to the right and Y down, so the datum corner lies at the upper left.
        assert [pytest.approx(box, abs=1e-9) for box in boxes] == [
            (0.0, -6.0, 7.0, 0.0),
            (1.65, -4.35, 5.35, -1.65),
        ]
        assert doc.header["$INSUNITS"] == 1
        lettered = " ".join(e.dxf.text for e in doc.modelspace() if e.dxftype() == "TEXT")
        assert "MATERIAL: 2024-T3 CLAD .040 in." in lettered
        assert "BLANK (7.000 x 6.000)" in lettered


def test_what_is_not_known_reads_so_and_has_a_blank():
    made, _ = sheets_of(load_job(EXAMPLES / "alder.toml"))
    for drawn in made.drawn:
        read = Read(write(drawn.sheet, Format.SVG))
        assert "GRAIN: NOT KNOWN. RUNS ALONG ____________." in read.text
        assert "FINISH NOT KNOWN" in read.text.replace("NONE GIVEN ", "") or "NOT KNOWN" in read.text


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", [Paper.LETTER, Paper.A4])
def test_letters_have_nine_points_and_words_meet_no_words(name, paper):
    made, _ = sheets_of(
        load_job(EXAMPLES / f"{name}.toml"), paper, stop="DO NOT CUT, DRILL OR RIVET: 1 STOP."
    )
    for drawn in made.drawn:
        width, height = drawn.sheet.lies_in
        for page in drawn.sheet.pages:
            texts = [part for part in page if isinstance(part, Text)]
            boxes = [text.box()._replace(bottom=text.at[1]) for text in texts]
            assert all(
                box.left > 0.0 and box.right < width and box.bottom > 0.0 and box.top < height
                for box in boxes
            )
            above = max(text.at[1] for text in texts if text.words in ("DRAWING NUMBER",))
            own = [(text, box) for text, box in zip(texts, boxes, strict=True) if text.at[1] > above]
            assert min(text.height_in for text, _ in own) >= NINE_POINT_IN - 1e-6
            met = [(a.words, b.words) for (a, c), (b, d) in combinations(own, 2) if c.touches(d)]
            assert met == []


@pytest.mark.parametrize("words", ["<b>&%d", "ع" * 12, "T\u202e3", "#set page(1cm)", "\N{SNAKE}"])
def test_hostile_words_stay_literal(words):
    job = load_job(EXAMPLES / "dogwood.toml")
    cover = job.cover.model_copy(update={"alloy": words})
    made, _ = sheets_of(job.model_copy(update={"cover": cover, "title": words * 9}))
    for drawn in made.drawn:
        assert words.replace("\u202e", "\ufffd") in Read(write(drawn.sheet, Format.SVG)).text
    assert all(write(one.sheet, Format.DXF) for one in made.cut)


def test_a_job_without_parts_has_no_part_sheet():
    job = load_job(EXAMPLES / "dogwood.toml").model_copy(update={"cover": None})
    made, _ = sheets_of(job)
    assert (made.drawn, made.cut) == ((), ())


ROW = """
[[rows]]
name = "edge"
lay = "offset"
rivet = "MS20470AD4"
edge = "doubler outer"
distance = ".3"
pitch = ".4"
first_number = 201
"""


def test_holes_that_one_page_does_not_hold_follow_on_the_next():
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    text = text.replace(ALDER_OUTER, '[doubler.outer]\nshape = "circle"\ndiameter = "54"\n')
    made, layout = sheets_of(read_job(text + ROW))
    doubler = made.drawn[0].sheet
    assert len(doubler.pages) > 1
    holes = [hole for hole in layout.holes if "doubler" in hole.stack]
    assert len(holes) > 400
    found = OfPiece.lettered(Read(write(doubler, Format.SVG)), set("ABCDEFG")).holes("in")
    assert sorted(number for _, number in found) == sorted(hole.number for hole in holes)


def test_the_same_job_gives_the_same_bytes():
    job = load_job(EXAMPLES / "elder.toml")
    made = [write(one.sheet, Format.PDF) for _ in range(2) for one in sheets_of(job)[0].drawn]
    assert len(set(made)) == len(made) // 2
