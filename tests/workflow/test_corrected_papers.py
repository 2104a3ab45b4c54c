"""Papers of true size for a printer that is off: layout, trial template, template and flat doubler, read by PDFium.

The printer of these tests makes 5.95 in of 6 along the short side of its paper and 6.03 along the long side, so what is
in the file must be 6/5.95 and 6/6.03 as large along those sides, whichever way a page lies. Expected lengths are those
of bars of 6.000 in and 100 mm, places of rivets in the layout, and sizes worked by hand.
"""

from __future__ import annotations

import ctypes
from datetime import UTC, datetime

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from hatchwright.errors import EntryError, ExportError
from hatchwright.job.file import load_job
from hatchwright.workflow.examine import examine
from hatchwright.workflow.papers import papers
from hatchwright.workflow.pins import pin_files
from hatchwright.workflow.printing import paper_of
from hatchwright.workflow.template_files import template_files
from hatchwright.workflow.trial import trial_files
from tests.conftest import EXAMPLES
from tests.made_once import by_name

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
SHORT, LONG = 6.0 / 5.95, 6.0 / 6.03
WORDS = (
    "CORRECTED FOR ONE PRINTER AND ITS PAPER ONLY",
    "SHORT SIDE x 1.00840, LONG SIDE x 0.99502",
    "ALL 6.000 in BARS MUST NOW MEASURE 6.000",
)
NEAR_IN = 2e-4
"""PDFium keeps places as single floats of points, and the file has them with few decimals [in]."""


def off(name):
    return paper_of(name, bar_short="5.95", bar_long="6.03")


def paths(page):
    """The points of every path of a page [in of the file], shape (n, 2) each."""
    for one in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
        matrix, points = one.get_matrix(), []
        for number in range(pdfium.FPDFPath_CountSegments(one.raw)):
            x, y = ctypes.c_float(), ctypes.c_float()
            pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFPath_GetPathSegment(one.raw, number), x, y)
            points.append(matrix.on_point(x.value, y.value))
        yield np.array(points) / 72.0


def printed(data, *, factors=(SHORT, LONG)):
    """Pages of true size as the printer puts them on paper: their paths [in], their words, and whether they lie."""
    document = pypdfium2.PdfDocument(data)
    for page in document:
        words = " ".join(page.get_textpage().get_text_range().split())
        if "FULL SIZE" not in words:
            continue
        lies = page.get_width() > page.get_height()
        ratios = np.array(factors[::-1] if lies else factors)
        yield [path / ratios for path in paths(page)], words, lies


def spans(drawn):
    return np.array([np.ptp(path, axis=0) for path in drawn])


def has(found, width, height):
    return bool((np.abs(found - (width, height)) < NEAR_IN).all(axis=1).any())


def holes(drawn, diameter_in):
    """Middles of the circles of one size, each once."""
    found = [
        0.5 * (path.min(axis=0) + path.max(axis=0))
        for path in drawn
        if len(path) > 12 and np.abs(np.ptp(path, axis=0) - diameter_in).max() < NEAR_IN
    ]
    return np.array(found)


def lie_on(found, wanted):
    """Whether places, moved as a whole, are places that are wanted."""
    for start in wanted:
        moved = found - found[0] + start
        if np.abs(moved[:, None] - wanted[None]).max(axis=2).min(axis=1).max() < NEAR_IN:
            return True
    return False


@pytest.fixture(scope="module")
def left(alder_drawn):
    """The job ALDER, on its left side only."""
    aircraft = alder_drawn.aircraft.model_copy(update={"both_sides": False})
    return examine(alder_drawn.model_copy(update={"aircraft": aircraft}))


@pytest.fixture(scope="module")
def cypress():
    return examine(load_job(EXAMPLES / "cypress.toml"))


@pytest.fixture(scope="module")
def made(left, cypress):
    """Corrected papers of every kind, on paper on which some lie and some stand."""
    return by_name(
        (
            *trial_files(left, kind="square", stamp=STAMP, paper=off("11x17"), stem="alder"),
            *template_files(left, stamp=STAMP, paper=off("letter"), stem="alder"),
            *papers(cypress, stamp=STAMP, paper=off("11x17"), stem="cypress"),
        )
    )


LAYOUT = "cypress_LAYOUT_CENTER_11X17_CORRECTED.pdf"
TRIAL = "alder_TRIAL_SQUARE_LEFT_11X17_CORRECTED.pdf"
TEMPLATE = "alder_TEMPLATE_LEFT_LETTER_CORRECTED.pdf"


@pytest.mark.parametrize(("name", "lies"), [(LAYOUT, False), (TRIAL, False), (TEMPLATE, True)])
def test_the_bars_of_every_page_come_out_true(made, name, lies):
    pages = list(printed(made[name]))
    assert pages
    for drawn, words, page_lies in pages:
        assert page_lies == lies
        lines = spans(path for path in drawn if len(path) == 2)
        for length in (6.0, 100.0 / 25.4):
            assert has(lines, length, 0.0)
            assert has(lines, 0.0, length)
        across, up = ("LONG", "SHORT") if lies else ("SHORT", "LONG")
        bars = [f"CHECK BAR 6.000 in ± 1/64 in OVER OUTER EDGES, {side} SIDE" for side in (across, up)]
        assert all(bar in words for bar in bars)


@pytest.mark.parametrize("name", [LAYOUT, TRIAL, TEMPLATE])
def test_every_page_says_that_it_is_corrected_and_by_how_much(made, name):
    for _, words, _ in printed(made[name]):
        assert all(line in words for line in WORDS)
    first = pypdfium2.PdfDocument(made[name])[0].get_textpage().get_text_range()
    assert all(line in first for line in WORDS)


def test_rivets_of_the_layout_come_out_where_they_belong(made, cypress):
    """On this page FWD is up: X runs up and Y to the left."""
    wanted = np.array([(-hole.y_in, hole.x_in) for hole in cypress.layout.holes])
    seen = 0
    for drawn, _, _ in printed(made[LAYOUT]):
        found = holes(drawn, 0.098)
        assert not len(found) or lie_on(found, wanted)
        seen += len(found)
    assert seen >= len(wanted)


def test_a_printer_that_is_off_the_other_way_round_spoils_the_same_pages(made):
    """That the tests above can fail: with the two factors exchanged no hole is round and no bar is true."""
    for drawn, _, _ in printed(made[LAYOUT], factors=(LONG, SHORT)):
        assert not len(holes(drawn, 0.098))
        assert not has(spans(path for path in drawn if len(path) == 2), 6.0, 0.0)


def test_the_trial_template_comes_out_in_its_size(made):
    """By hand: 3.000 less .030 to file, and twice the offset (.500 - .193)/2 = .1535 beyond that."""
    size = 3.0 - 2 * 0.015 + 2 * 0.1535
    ((drawn, _, _),) = printed(made[TRIAL])
    assert has(spans(path for path in drawn if len(path) > 12), size, size)


def test_what_is_not_to_scale_takes_plain_paper(made, left):
    plain = {name for name in made if name.endswith(".pdf") and "CORRECTED" not in name}
    assert plain == {
        "alder_TEMPLATE_SHEET_LEFT_LETTER.pdf",
        "cypress_CARRY_CARD_CENTER_11X17.pdf",
        "cypress_TRIAL_SHEET_CENTER_11X17.pdf",
        "cypress_LISTS_CENTER_11X17.pdf",
        "cypress_LOG_CENTER_11X17.pdf",
        "cypress_ANNEX_CENTER_11X17.pdf",
        "cypress_PARTS_DOUBLER_CENTER_11X17.pdf",
        "cypress_OVERVIEW_CENTER_11X17.pdf",
    }
    pins = by_name(pin_files(left, stamp=STAMP, paper=off("a4").plain, stem="alder"))
    assert "alder_PIN_SHEET_LEFT_A4.pdf" in pins
    for name in plain:
        for page in pypdfium2.PdfDocument(made[name]):
            assert "CORRECTED" not in page.get_textpage().get_text_range()


def test_true_bars_change_nothing(left):
    plain, asked = (
        trial_files(left, kind="disc", stamp=STAMP, paper=paper, stem="alder")
        for paper in (paper_of("a4"), paper_of("a4", bar_short="6", bar_long="152.4 mm"))
    )
    assert plain == asked


@pytest.mark.parametrize(
    ("bars", "error", "words"),
    [
        (("5.95", ""), EntryError, "bar along the long side: only one bar is entered"),
        (("", "5.95"), EntryError, "bar along the short side: only one bar is entered"),
        (("wide", "6"), EntryError, "bar along the short side: this is not a length"),
        (("6", "5.69"), ExportError, "bar along the long side: the bar of 6.000 in measured 5.690 in"),
        (("151.1", "6"), EntryError, "short side: a bare 151.1 means inches"),
        (("6", " 151.1 "), EntryError, "The bar is 6.000 in, which is 152.4 mm: write 151.1 mm"),
        (("140 mm", "6"), ExportError, "The bar is 6.000 in, which is 152.4 mm"),
        (("140", "6"), ExportError, "bar along the short side: the bar of 6.000 in measured 140.000 in"),
    ],
)
def test_bars_that_will_not_do_are_refused(bars, error, words):
    with pytest.raises(error) as caught:
        paper_of("a4", bar_short=bars[0], bar_long=bars[1])
    assert words in str(caught.value)


def test_an_unknown_paper_is_refused_by_name():
    with pytest.raises(ExportError, match=r"foolscap.*Use one of: letter, a4, 11x17"):
        paper_of("foolscap")
