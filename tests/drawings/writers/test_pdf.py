"""PDF: rendered by PDFium at 600 dpi and measured in pixels; the expected lengths are plain numbers."""

from __future__ import annotations

import io
from datetime import datetime

import numpy as np
import pypdf
import pypdfium2
import pytest

from hatchwright.drawings.writers import Paper
from hatchwright.drawings.writers.pdf import pdf_of
from writers.sheets import HOSTILE, bay, lettered, plate

DPI = 600
PIXEL_IN = 1.0 / DPI
EDGES_IN = 1.5 * PIXEL_IN
"""What two outer edges are read to: each falls within a dot [in]."""


@pytest.fixture(scope="module")
def plate_pixels():
    """The only page of the plate, True where there is ink."""
    return ink_of(pdf_of(plate()), page=0)


def ink_of(data, *, page):
    document = pypdfium2.PdfDocument(data)
    bitmap = document[page].render(scale=DPI / 72, grayscale=True)
    return bitmap.to_numpy().reshape(bitmap.height, bitmap.width) < 128


def runs_of(line):
    """First and last pixel of each run of ink along a line of pixels."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], line.astype(np.int8), [0]])))
    return list(zip(edges[::2], edges[1::2] - 1, strict=True))


def longest_run(line):
    return max((last - first + 1 for first, last in runs_of(line)), default=0)


def bar_lengths(pixels):
    """Length of every level check bar, from the outer edge of one end mark to that of the other [in]."""
    found = []
    full = np.flatnonzero(pixels.sum(axis=1) > 3.8 * DPI)
    rows = [row for row in full if longest_run(pixels[row]) > 3.8 * DPI]
    groups = np.split(rows, np.flatnonzero(np.diff(rows) > 1) + 1)
    for group in groups:
        line = pixels[
            int(np.mean(group)) + round(0.055 * DPI)
        ]  # below the bar, where only the end marks reach
        first, last = max(runs_of(pixels[int(np.mean(group))]), key=lambda run: run[1] - run[0])
        marks = [(a, b) for a, b in runs_of(line) if first - 2 <= a and b <= last + 2]
        if len(marks) == 2:
            found.append((marks[1][1] + 1 - marks[0][0]) / DPI)
    return found


@pytest.mark.parametrize("turned", [False, True], ids=["across", "up"])
def test_both_check_bars_measure_true_in_print(plate_pixels, turned):
    pixels = np.rot90(plate_pixels, -1) if turned else plate_pixels
    lengths = bar_lengths(pixels)
    assert any(length == pytest.approx(6.0, abs=EDGES_IN) for length in lengths)
    assert any(length == pytest.approx(100.0 / 25.4, abs=EDGES_IN) for length in lengths)


def test_an_edge_and_two_holes_measure_true_in_print(plate_pixels):
    """A 3.000 square plate with R .500, and holes 2.000 apart, 0.700 above its lower edge."""
    thick = 0.6 / 25.4 * DPI
    height, width = plate_pixels.shape
    middle = plate_pixels[: round(0.6 * height)].copy()
    middle[:, : round(0.78 * DPI)] = False  # the upright bars
    rows, columns = (
        np.flatnonzero(middle.sum(axis=1) > 1.9 * DPI),
        np.flatnonzero(middle.sum(axis=0) > 1.9 * DPI),
    )
    top, bottom = rows[rows < rows.mean()].mean(), rows[rows > rows.mean()].mean()
    left, right = columns[columns < columns.mean()].mean(), columns[columns > columns.mean()].mean()
    assert (bottom - top) / DPI == pytest.approx(3.0, abs=PIXEL_IN)
    assert (right - left) / DPI == pytest.approx(3.0, abs=PIXEL_IN)
    corner = (left + 0.5 * DPI * (1 - np.sqrt(0.5)), top + 0.5 * DPI * (1 - np.sqrt(0.5)))
    inward = [middle[round(corner[1] + k), round(corner[0] + k)] for k in range(-40, 41)]
    ((first, last),) = runs_of(np.array(inward))
    assert 0.5 * (first + last) - 40 == pytest.approx(0.0, abs=1.0)
    assert (last - first + 1) * np.sqrt(2.0) == pytest.approx(thick, abs=3.0)
    across = middle[round(bottom - 0.7 * DPI)]
    marks = [0.5 * (a + b) for a, b in runs_of(across)]
    assert len(marks) == 6  # left edge, two sides of each hole, right edge
    holes = 0.5 * (marks[1] + marks[2]), 0.5 * (marks[3] + marks[4])
    assert (holes[1] - holes[0]) / DPI == pytest.approx(2.0, abs=PIXEL_IN)
    assert (holes[0] - marks[0]) / DPI == pytest.approx(0.5, abs=PIXEL_IN)
    assert (marks[2] - marks[1]) / DPI == pytest.approx(0.25, abs=PIXEL_IN)
    assert width == round(8.5 * DPI)


@pytest.mark.parametrize(
    ("paper", "size_mm"),
    [(Paper.LETTER, (215.9, 279.4)), (Paper.A4, (210.0, 297.0)), (Paper.ELEVEN_BY_SEVENTEEN, (279.4, 431.8))],
)
def test_pages_have_the_size_of_the_paper(paper, size_mm):
    for page in pypdf.PdfReader(io.BytesIO(pdf_of(bay(), paper))).pages:
        size = sorted(float(side) / 72 * 25.4 for side in (page.mediabox.width, page.mediabox.height))
        assert size == pytest.approx(size_mm, abs=0.01)


def test_a_printer_is_asked_not_to_scale():
    root = pypdf.PdfReader(io.BytesIO(pdf_of(plate()))).trailer["/Root"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_every_page_can_be_read_and_says_what_it_must():
    document = pypdfium2.PdfDocument(pdf_of(bay()))
    count = len(document)
    assert count > 1
    for number, page in enumerate(document, start=1):
        words = page.get_textpage().get_text_bounded()
        for needed in ("LEFT", "ALDER", "REG X-0000", "SEEN FROM OUTSIDE", "CERTIFICATE", "INITIALS"):
            assert needed in words
        assert "CALCULATION AID: NOT APPROVED DATA" in words
        assert f"{number} of {count}" in words
        assert "NO FIT TO PAGE" in words
        assert "DO NOT USE IF WRONG" in words
        assert "damp" in words


def test_every_font_is_embedded():
    reader = pypdf.PdfReader(io.BytesIO(pdf_of(plate())))
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            (inner,) = font.get_object()["/DescendantFonts"]
            assert "DejaVuSans" in inner.get_object()["/BaseFont"]
            assert "/FontFile2" in inner.get_object()["/FontDescriptor"].get_object()


def test_the_same_arguments_give_the_same_bytes():
    made_at = datetime(2026, 11, 25, 14, 5)
    assert pdf_of(plate(), made_at=made_at) == pdf_of(plate(), made_at=made_at)
    kept = pypdf.PdfReader(io.BytesIO(pdf_of(plate(), made_at=made_at))).metadata.creation_date_raw
    assert kept == "D:20261125140500"


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_text_stays_text(words):
    document = pypdfium2.PdfDocument(pdf_of(lettered(words)))
    shown = "".join(page.get_textpage().get_text_bounded() for page in document)
    plain = [c for c in words if "!" <= c <= "~"]
    assert "".join(plain) in "".join(c for c in shown if "!" <= c <= "~")
