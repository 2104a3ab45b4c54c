"""The package for an engineer: outside checks of the file, what stands in it, and figures worked out here.

Validator: page-validation; reader of structure: pypdf; reader of words: pypdfium2.
"""

from __future__ import annotations

import io
import math
import re
from datetime import UTC, datetime

import pypdfium2
import pytest
from pypdf import PdfReader

from hatchwright.drawings.writers import Paper
from hatchwright.job.file import edited, load_job, read_job
from hatchwright.progress import unheard
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine
from hatchwright.workflow.package import package_of
from hatchwright.workflow.paper_set import sets_of
from hatchwright.workflow.papers import papers
from tests.conftest import EXAMPLES
from tests.documents.kept_files import faults_of, lengths_are_right

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)


def packages(job, paper=Paper.LETTER):
    sets = sets_of(examine(job), stamp=STAMP, paper=paper, stem="job")
    return [(one, package_of(one, unheard)) for one in sets]


def words_of(data):
    with pypdfium2.PdfDocument(data) as pdf:
        pages = [page.get_textpage().get_text_range().replace("\ufffe", "-") for page in pdf]
    return " ".join(" ".join(pages).split())


def outline_of(data):
    def titles(entries, depth=1):
        for one in entries:
            if isinstance(one, list):
                yield from titles(one, depth + 1)
            else:
                yield depth, one.title

    return list(titles(PdfReader(io.BytesIO(data)).outline))


def tags_of(data):
    """Every structure element of a file: its kind, and its words for who cannot see it."""

    def walk(one):
        one = one.get_object()
        if isinstance(one, list):
            for kid in one:
                yield from walk(kid)
        elif isinstance(one, dict) and "/S" in one:
            yield one["/S"], one.get("/Alt", "")
            if "/K" in one:
                yield from walk(one["/K"])

    root = PdfReader(io.BytesIO(data)).trailer["/Root"]["/StructTreeRoot"]
    return list(walk(root["/K"]))


@pytest.fixture(scope="module")
def alder_sides(alder):
    return packages(alder)


@pytest.fixture(scope="module")
def heron_sides():
    return packages(load_job(EXAMPLES / "heron.toml"), Paper.A4)


@pytest.fixture(scope="module")
def both(alder_sides, heron_sides):
    return [*alder_sides, *heron_sides]


def test_a_validator_from_outside_finds_nothing(both):
    for _, data in both:
        assert faults_of(data) == []


def test_the_validator_would_find_something(alder_sides):
    """So that its silence means something: without its metadata the file is refused, and so is a shortened stream."""
    data = alder_sides[0][1]
    assert faults_of(data.replace(b"/Metadata", b"/Metadat_")) != []
    assert lengths_are_right(data)
    assert not lengths_are_right(re.sub(rb"/Length (\d)(\d+)", rb"/Length 9\2", data, count=1))


def test_bookmarks_lead_to_every_chapter_and_no_level_is_skipped(both):
    for _, data in both:
        outline = outline_of(data)
        assert [title for depth, title in outline if depth == 1] == [
            "INPUTS", "DRAWINGS", "RULES AND RESULTS", "STRENGTH REPORT", "DEVIATIONS", "AS-BUILT POINTS",
            "REFERENCES",
        ]  # fmt: skip
        assert {depth for depth, _ in outline} == {1, 2}


def test_every_picture_has_words_and_every_table_a_header_row(both):
    for _, data in both:
        tags = tags_of(data)
        figures = [alt for kind, alt in tags if kind == "/Figure"]
        assert figures
        assert all(len(alt) > 20 for alt in figures)
        kinds = [kind for kind, _ in tags]
        assert kinds.count("/Table") == kinds.count("/THead") > 5
        assert kinds.count("/H1") == 7


def test_the_stop_box_stands_on_inputs_and_strength(both):
    for one, data in both:
        if one.examination.verdict.holds_back:
            assert words_of(data).count("DO NOT CUT, DRILL OR RIVET") >= 2


def test_each_answer_stands_with_its_paragraph(alder_sides):
    one, data = alder_sides[0]
    said = "".join(words_of(data).split())
    for finding in one.examination.findings:
        title = tell(finding.subject, "in")
        assert "".join(title.split()) in said, title
        place = re.sub(r"docs/theory/(\w+)\.md", lambda page: f"theory page {page[1].replace('_', ' ')}",
                       finding.source.place)  # fmt: skip
        assert "".join(place.split()) in said, place


def test_every_entry_stands_as_it_was_typed(alder_sides):
    _, data = alder_sides[0]
    said = words_of(data)
    for typed in ("Registration EXAMPLE-1", "Width 5.00", "Thickness .040", "Filing allowance .015", "Length 1/2",
                  "First hole 8.28, 2.02", "Origin rib 3 rivet row x spar aft rivet row"):  # fmt: skip
        assert typed in said, typed


def test_old_and_new_stand_side_by_side(alder_sides):
    """Hole 15 of ALDER: drawn 8.720, 4.810, drilled 8.757, 4.809; off by the root of .037^2 + .001^2, rounded up."""
    left, right = (words_of(data) for _, data in alder_sides)
    off = math.ceil(math.hypot(0.037, 0.001) * 1000.0) / 1000.0
    assert f"15 8.720 4.810 8.757 4.809 {off:.3f}".replace(" 0.", " .") in left
    assert "X min 3.000 2.996" in left
    assert "17 holes of 80 were measured" in left
    assert "0 holes of 80 were measured" in right


def test_letters_that_the_fonts_lack_stand_by_their_number_and_it_is_said_so():
    text = (EXAMPLES / "cypress.toml").read_text(encoding="utf-8")
    typed = "\U0001f9f0 日 \u05d0\u05d1 #panic() <b>"
    job = read_job(edited(text, {"title": typed}))
    for _, data in packages(job):
        assert faults_of(data) == []
        said = words_of(data)
        assert "U+1F9F0 U+65E5" in said
        assert "U+ and a number: a letter that is not in these fonts." in said
        assert "#panic() <b>" in said


def test_the_same_input_makes_the_same_bytes(dogwood):
    (_, first), (_, again) = packages(dogwood) + packages(dogwood)
    assert first == again


def test_it_is_made_only_when_it_is_asked_for(dogwood):
    names = [file.name for file in papers(examine(dogwood), stamp=STAMP, stem="d", only=("package",))]
    assert names == ["d_PACKAGE_CENTER_LETTER.pdf"]
