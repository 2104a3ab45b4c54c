"""Codes of sheets: what they hold, and that a reader with no part in making them (zxing-cpp) reads them from paper.

A page is rendered at 300 dpi and thresholded twice, as a copy of a copy is, blurred before each.
"""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime

import ezdxf
import numpy as np
import pypdfium2
import pytest
import zxingcpp
from PIL import Image, ImageFilter

from hatchwright.documents.typst_pdf import _TEMPLATES
from hatchwright.drawings.made_file import MadeKind
from hatchwright.drawings.sheet_code import code_of, code_svg, modules, paper_mark, read_code
from hatchwright.job.file import load_job
from hatchwright.workflow.examine import examine
from hatchwright.workflow.papers import papers
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
ABOUT = {"title": "Inspection opening", "side": "LEFT", "paper": "annex", "sheet": 3, "revision": "B"}


def copied_twice(page):
    picture = page.render(scale=300 / 72).to_pil().convert("L")
    for threshold in (128, 150):
        picture = picture.filter(ImageFilter.GaussianBlur(1.0)).point(
            lambda gray, t=threshold: 255 * (gray > t)
        )
    return picture


def read_from(data):
    """The codes that stand on each page."""
    with pypdfium2.PdfDocument(data) as pdf:
        return [[one.text for one in zxingcpp.read_barcodes(copied_twice(page))] for page in pdf]


def words_of(data):
    with pypdfium2.PdfDocument(data) as pdf:
        return [page.get_textpage().get_text_range().replace("\ufffe", "-") for page in pdf]


@pytest.fixture(scope="module")
def made():
    return papers(examine(load_job(EXAMPLES / "birch.toml")), stamp=STAMP, stem="birch")


def test_every_mark_is_read_back_whatever_the_case_and_the_gaps():
    code = code_of(**ABOUT)
    assert code.side == "LEFT"
    assert code.sheet == 3
    assert code.paper == paper_mark("annex")
    for typed in (
        code.letters,
        code.grouped,
        code.grouped.lower(),
        f" {code.letters[:8]} {code.letters[8:]}\r\n",
    ):
        assert read_code(typed) == code


@pytest.mark.parametrize(
    "typed", ["", "HTTP://SOMEWHERE/Q/1", "3EZE-GF1Y-AM02", "\u202e" * 16, "3EZEGF9YAM02SBN9"]
)
def test_what_is_no_code_is_none(typed):
    assert read_code(typed) is None


@pytest.mark.parametrize("other", [{"title": "Other"}, {"side": "RIGHT"}, {"paper": "card"}, {"sheet": 4},
                                   {"revision": "C"}])  # fmt: skip
def test_each_of_its_five_marks_tells(other):
    assert code_of(**ABOUT).letters != code_of(**{**ABOUT, **other}).letters


def test_no_two_papers_share_a_mark():
    names = {path.stem for path in _TEMPLATES.glob("*.typ")} | {kind.lower() for kind in MadeKind}
    assert len({paper_mark(name) for name in names}) == len(names)


def test_a_code_is_the_smallest_there_is_and_a_reader_reads_it():
    code = code_of(**ABOUT)
    cells = np.array(modules(code.letters))
    assert cells.shape == (21, 21)
    picture = np.pad(np.where(cells, 0, 255).astype(np.uint8), 4, constant_values=255)
    (read,) = zxingcpp.read_barcodes(np.kron(picture, np.ones((8, 8), np.uint8)))
    assert (read.text, read.ec_level) == (code.letters, "Q")
    assert b"21" in code_svg(code.letters)


def test_a_paper_of_words_bears_two_codes_and_the_letters_beside_them(made):
    (lists,) = (one for one in made if one.kind is MadeKind.LISTS and one.written == "pdf")
    read, said = read_from(lists.content), words_of(lists.content)
    for number, (codes, words) in enumerate(zip(read, said, strict=True), start=1):
        assert len(codes) == 2
        assert len(set(codes)) == 1
        code = read_code(codes[0])
        assert code.grouped in words
        assert code.side == "RIGHT"
        assert code.sheet == (number if number < 10 else 0)


def test_a_paper_without_room_at_its_foot_bears_one_at_its_head(made):
    (paper,) = (one for one in made if one.kind is MadeKind.ANNEX)
    read = read_from(paper.content)
    assert [[read_code(one).sheet for one in codes] for codes in read] == [[1], [2], [3]]
    for codes, words in zip(read, words_of(paper.content), strict=True):
        assert read_code(codes[0]).grouped in words


def test_the_code_of_a_carry_card_names_the_first_step_on_the_sheet(made):
    (paper,) = (one for one in made if one.kind is MadeKind.CARRY_CARD)
    read, said = read_from(paper.content), words_of(paper.content)
    steps = [read_code(code).sheet for (code,) in read]
    assert len(read) == 4
    assert steps == sorted(steps)
    assert steps[-1] > 1
    for (code,), words in zip(read, said, strict=True):
        assert read_code(code).grouped in words
        step = read_code(code).sheet
        assert step == 0 or re.search(rf"^{step}(-|\s|$)", words, re.MULTILINE)


def test_a_drawing_bears_one_where_there_is_room_and_files_for_a_cutter_none(made):
    files = {one.written: one.content for one in made if one.kind is MadeKind.LAYOUT}
    read, said = read_from(files["pdf"]), words_of(files["pdf"])
    assert sum(map(len, read)) > 0
    for number, (codes, words) in enumerate(zip(read, said, strict=True), start=1):
        for one in codes:
            code = read_code(one)
            assert (code.paper, code.sheet) == (paper_mark("layout"), number)
            first, last = code.grouped[:9], code.grouped[10:]
            assert first in words
            assert last in words
    letters = next(one for codes in read for one in codes)
    assert letters[:9].encode() not in files["svg"]
    drawing = ezdxf.read(io.StringIO(files["dxf"].decode("utf-8")))
    assert not [
        one for one in drawing.modelspace() if one.dxftype() == "TEXT" and letters[:4] in one.dxf.text
    ]


def test_a_code_lies_on_no_ink_and_keeps_its_quiet_zone(made):
    """Around each code that is found, four squares of white on all sides, before the letters begin."""
    (layout,) = (one for one in made if one.kind is MadeKind.LAYOUT and one.written == "pdf")
    with pypdfium2.PdfDocument(layout.content) as pdf:
        for page in pdf:
            picture = page.render(scale=300 / 72).to_pil().convert("L")
            for one in zxingcpp.read_barcodes(picture):
                place = one.position
                module = (place.top_right.x - place.top_left.x) / 21
                quiet = int(3.5 * module)
                x, y = place.top_left.x, place.top_left.y
                around = np.array(picture)[y - quiet : y - 2, x - quiet : place.top_right.x + quiet]
                assert around.min() > 200
                beside = np.array(picture)[y - quiet : place.bottom_left.y, x - quiet : x - 2]
                assert beside.min() > 200


def test_a_blank_picture_holds_no_code():
    assert zxingcpp.read_barcodes(Image.new("L", (600, 600), 255)) == []
