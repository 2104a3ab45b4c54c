"""`hatchwright scan`, run as a person runs it: a rendered scan measured, a printed frame read back, what is refused."""

from __future__ import annotations

import json
from pathlib import Path

import cv2
import msgspec
import numpy as np
import pypdfium2
import pytest

from hatchwright.inspection.scan.scan import measure_scan
from tests.scans.asking import Sheet, square_levels
from tests.scans.card import BARS, DOT, HALVES, Page, card
from tests.scans.pictures import picture
from tests.scans.scanner import bar_lengths
from tests.scans.truths import off_beyond_stated

PRINT_DPI = 400


@pytest.fixture(scope="module")
def square_file(tmp_path_factory):
    """A scan of the square, and the options that go with it."""
    path = tmp_path_factory.mktemp("scan") / "cutout.png"
    path.write_bytes(picture(square_levels(), 300))
    sheet = Sheet()
    bars = bar_lengths(sheet.card, sheet.setup)
    return path, ("--bar-x", f"{bars[0]:.4f}", "--bar-y", f"{bars[1]:.4f}", "--scanner", "contact")


def test_a_scan_is_told_for_people_and_for_programs(shell, square_file):
    path, options = square_file
    status, out, err = shell("scan", path, *options)
    assert (status, err) == (0, "")
    true = Sheet().part.outline
    assert f"{true.width:.2f}".lstrip("0")[:3] in out
    assert "caliper" in out  # for one length, a caliper is no worse: the program has to say so
    status, out, _ = shell("scan", path, *options, "--json")
    assert status == 0
    assert json.loads(out)["outline"]["shape"]["width"]["value_in"] == pytest.approx(true.width, abs=0.004)


def test_a_table_named_as_a_picture_is_refused(shell, square_file, tmp_path):
    path = tmp_path / "readings.png"
    path.write_text("hole,x,y\n1,.500,1.250\n", encoding="utf-8")
    status, out, err = shell("scan", path, *square_file[1])
    assert (status, out) == (2, "")
    assert "readings.png" in err
    assert "Traceback" not in err


@pytest.mark.parametrize(
    "options",
    [
        ("--bar-x", "4.75", "--scanner", "contact"),
        ("--bar-x", "4.75", "--bar-y", "4.75"),
        ("--bar-x", "4,75", "--bar-y", "four", "--scanner", "contact"),
        ("--bar-x", "47.5", "--bar-y", "4.75", "--scanner", "contact"),
        ("--bar-x", "nan", "--bar-y", "4.75", "--scanner", "contact"),
        ("--bar-x", "4.75", "--bar-y", "-4.75", "--scanner", "contact"),
        ("--bar-x", "4.75", "--bar-y", "4.75", "--scanner", "phone"),
    ],
    ids=["one bar", "no scanner", "no number", "ten times", "nan", "negative", "phone"],
)
def test_what_is_missing_or_makes_no_sense_is_refused(shell, square_file, options):
    status, out, err = shell("scan", square_file[0], *options)
    assert (status, out) == (2, "")
    assert err
    assert "Traceback" not in err


def test_a_file_that_is_not_there_is_refused(shell, square_file, tmp_path):
    for path in (tmp_path / "none.png", tmp_path):
        status, out, err = shell("scan", path, *square_file[1])
        assert (status, out) == (2, "")
        assert "Traceback" not in err


def test_the_printed_frame_itself_is_measured_by(shell, tmp_path):
    """The page that the program prints, with its words and bars, is laid on the glass instead of the published dots."""
    shell("scan", "--frame", "4x4", "--card", "7", "--out", tmp_path)
    (file,) = tmp_path.glob("*.pdf")
    drawn = page_of(file)
    (left, top), (right, bottom) = (marks_of(drawn)[number] for number in (0, 2))
    sheet = Sheet()
    page = Page(1.0 - drawn / np.float32(255.0), PRINT_DPI, ((left + right) / 2.0, (top + bottom) / 2.0))
    sheet.card = msgspec.structs.replace(sheet.card, page=page)
    scan = measure_scan(picture(sheet.levels(), 300), sheet.asked())
    assert (scan.window, scan.card) == ("4x4", 7)
    assert off_beyond_stated(scan.outline.shape, sheet.part.outline) == []


@pytest.mark.parametrize("window", HALVES)
def test_the_printed_frame_is_the_published_one(shell, tmp_path, window):
    """The PDF is drawn by PDFium, an outside reader, and its dots, marks and bars are found by OpenCV."""
    status, _, err = shell("scan", "--frame", window, "--out", tmp_path / "frames")
    assert (status, err) == (0, "")
    files = sorted((tmp_path / "frames").glob("*.pdf"))
    assert files
    for file in files:
        page = page_of(file)
        middles = marks_of(page)
        drawn = card(window)
        first = min(middles)
        four = [middles[first + i] for i in range(4)]
        on_page = np.mean(four, axis=0) + np.array([1, -1]) * drawn.dots * PRINT_DPI
        assert np.ptp(four, axis=0) == pytest.approx(2 * (np.array(drawn.half) + 0.25) * PRINT_DPI, abs=0.7)
        for x, y in on_page:
            dark, at = darkness(page, x, y)
            assert dark == pytest.approx(np.pi / 4 * DOT**2, rel=0.02)
            assert np.hypot(*(at - (x, y))) < 1.0
        assert longest_run(page, axis=1) == pytest.approx(BARS[window], abs=0.004)
        assert longest_run(page, axis=0) == pytest.approx(BARS[window], abs=0.004)


def page_of(file: Path) -> np.ndarray:
    """The gray levels of a page, as PDFium draws it."""
    with pypdfium2.PdfDocument(file) as pdf:
        return pdf[0].render(scale=PRINT_DPI / 72, grayscale=True).to_numpy().squeeze().copy()


def marks_of(page: np.ndarray) -> dict[int, np.ndarray]:
    """The middle of each identity mark on a page [px]."""
    finder = cv2.aruco.ArucoDetector(cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50))
    corners, ids, _ = finder.detectMarkers(page)
    return dict(zip(ids.ravel().tolist(), (c[0].mean(0) for c in corners), strict=True))


def darkness(page: np.ndarray, x: float, y: float) -> tuple[float, np.ndarray]:
    """How much black lies within .08 in of a place of the page [sq in], and where its middle is [px]."""
    far = int(0.07 * PRINT_DPI)
    left, top = round(x) - far, round(y) - far
    dark = 1.0 - page[top : top + 2 * far + 1, left : left + 2 * far + 1] / 255.0
    rows, columns = np.indices(dark.shape)
    middle = np.array([left + np.average(columns, weights=dark), top + np.average(rows, weights=dark)])
    return float(dark.sum()) / PRINT_DPI**2, middle


def longest_run(page: np.ndarray, axis: int) -> float:
    """The longest unbroken black along the lines of a page, or across them [in]."""
    lines = page < 128 if axis == 1 else (page < 128).T
    longest = 0
    for line in lines[lines.sum(1) > PRINT_DPI]:
        ends = np.flatnonzero(np.diff(np.concatenate([[0], line.astype(np.int8), [0]])))
        longest = max(longest, int((ends[1::2] - ends[::2]).max()))
    return longest / PRINT_DPI
