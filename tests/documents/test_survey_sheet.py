"""The survey sheet on paper: one page with a box for everything that is read; read back with PDFium.

Source of what a survey takes: a list of common practice, no source; the sheet names nothing that it doesn't ask for.
"""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import combinations

import pypdfium2
import pytest
from msgspec.structs import replace

from hatchwright.documents.survey_known import known_site
from hatchwright.documents.survey_sheet import survey_sheet
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Line, Text
from hatchwright.drawings.lettering import CAPITAL_RATIO
from hatchwright.drawings.site_sketch import SiteSketch
from hatchwright.drawings.writers import Paper
from hatchwright.job.file import read_job
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
LEAST_LETTERS_PT = 6.5
"""Of the line to sign on, as on every sheet; what is read and filled in is larger."""

ASKED = (
    *("N-number", "Serial", "LEFT", "RIGHT", "upper", "lower", "OUTSIDE", "INSIDE", "Tape's u"),
    *("FIRST: IS THIS THE RIGHT BAY?", "Row to row in the data", "Row to row measured"),
    *("fuel and vapor out", "structure supported", "soft pencil, never a scribe"),
    *("Row BC", "Row CD", "Flange at DA", "Flange at BC", "Flange at AB", "Flange at CD"),
    *("Thickness", "Straightedge", "Rise", "Depth", "Moves?", "Photo", "Borescope hole", "inside the part"),
    *("NAME", "CERTIFICATE", "DATE", "INITIALS", "NOT APPROVED DATA"),
)


@pytest.fixture(scope="module", params=[Paper.LETTER, Paper.A4])
def empty(request):
    part = survey_sheet(limit_in=1 / 32, date="")
    with pypdfium2.PdfDocument(pdf_from(part, title="S", paper=request.param, stamp=STAMP)) as pdf:
        yield pdf


def words_of(pdf):
    return " ".join(pdf[0].get_textpage().get_text_range().split())


def test_an_empty_sheet_is_one_page_and_asks_for_everything(empty):
    assert len(empty) == 1
    words = words_of(empty)
    for asked in ASKED:
        assert asked in words
    for corner_to_corner in ("AB", "BC", "CD", "DA", "AC", "BD"):
        assert corner_to_corner in words.split()


def test_the_right_bay_is_asked_before_any_tape(empty):
    words = words_of(empty)
    assert words.index("RIGHT BAY") < words.index("Tape at two stations") < words.index("Center by two")


def test_routes_are_held_to_the_limit_that_was_given(empty):
    assert "more than .031 in apart" in words_of(empty)


def test_letters_can_be_read(empty):
    """No capital lower than that of the line to sign on, measured as it lies on the page."""
    text = empty[0].get_textpage()
    words = text.get_text_range()
    heights = []
    for place, letter in enumerate(words):
        if letter in "ABCDEFHIKLMNPRSTXY":
            _, bottom, _, top = text.get_charbox(place)
            heights.append(top - bottom)
    assert len(heights) > 100
    assert min(heights) >= 0.98 * CAPITAL_RATIO * LEAST_LETTERS_PT


def test_the_sketch_has_a_box_for_each_side_and_diagonal_and_for_both_directions():
    """Counted as closed lines of four corners: six readings, two directions, all apart."""
    boxes = [
        Box(*one.box())
        for one in SiteSketch().sheet().entities
        if isinstance(one, Line) and len(one.points) == 5
    ]
    assert len(boxes) == 8
    assert not any(one.touches(other) for one, other in combinations(boxes, 2))
    known = SiteSketch({"AB": "11.00"}, ("OUTBD", "AFT"), ((1.0, 0.0), (0.0, -1.0)))
    words = [one.words for one in known.sheet().entities if isinstance(one, Text)]
    assert {"11.00", "X OUTBD", "Y AFT"} <= set(words)


@pytest.mark.parametrize(("seen", "a_is_right_of_b"), [("outside", True), ("inside", False)])
def test_the_sketch_lies_as_its_ticked_view_shows_it(seen, a_is_right_of_b):
    """BIRCH, right lower wing, X outboard: seen from below with FWD up, outboard is left; from inside it is right."""
    text = (EXAMPLES / "birch.toml").read_text(
        encoding="utf-8"
    ) + f'[site]\nu = ".03"\nseen_from = "{seen}"\n'
    known = known_site(read_job(text, folder=EXAMPLES, name="birch.toml"))
    assert seen in known.ticked
    at = {one.words: one.at for one in known.sketch.sheet().entities if isinstance(one, Text)}
    assert (at["A"][0] > at["B"][0]) is a_is_right_of_b


@pytest.mark.parametrize(
    "name", ["alder", "birch", "cypress", "dogwood", "elder", "finch", "heron", "juniper"]
)
@pytest.mark.parametrize("paper", [Paper.LETTER, Paper.A4])
def test_a_sheet_with_what_is_known_is_one_page_too(name, paper):
    job = read_job((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"), folder=EXAMPLES, name=name)
    part = survey_sheet(limit_in=1 / 32, date="", job=job, known=known_site(job))
    with pypdfium2.PdfDocument(pdf_from(part, title="S", paper=paper, stamp=STAMP)) as pdf:
        assert len(pdf) == 1
        words = words_of(pdf)
    for row in (*job.bay.rows, *job.bay.flanges):
        assert row.name in words


def test_a_long_name_makes_its_line_higher_and_never_runs_into_the_next():
    """Sixty rows of long names: more pages, each with its number, and every name whole above the one after it."""
    rows = [["Row at Y", f"stringer {k} of the lower wing skin, aft", "1.00", "", "", ""] for k in range(60)]
    job = read_job((EXAMPLES / "alder.toml").read_text(encoding="utf-8"), folder=EXAMPLES, name="alder")
    part = survey_sheet(limit_in=1 / 32, date="", job=job, known=replace(known_site(job), rows=rows))
    with pypdfium2.PdfDocument(pdf_from(part, title="S", paper=Paper.LETTER, stamp=STAMP)) as pdf:
        pages = [page.get_textpage() for page in pdf]
        assert len(pages) > 1
        assert all(f"Page {k} of {len(pages)}" in one.get_text_range() for k, one in enumerate(pages, 1))
        text = pages[0].get_text_range()
        tops = []
        for k in range(10):
            place = text.index(f"stringer {k} of")
            last = text.index("aft", place) + 2
            tops += [pages[0].get_charbox(place)[3], pages[0].get_charbox(last)[1]]
    assert tops == sorted(tops, reverse=True)
