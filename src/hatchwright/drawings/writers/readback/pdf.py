"""Reading PDF back: page sizes, check bars, and every edge, hole and line in page inches."""

from __future__ import annotations

import io
import unicodedata
from collections.abc import Iterable
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Circle, Ink, Line, Outline, Solid, Text, moved
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.coded_pages import pages_of
from hatchwright.drawings.writers.paper import AnyPaper, Page
from hatchwright.drawings.writers.readback.compare import refuse
from hatchwright.drawings.writers.readback.pdf_pages import Run, page_words, painted_pages
from hatchwright.drawings.writers.tile_pages import Laid, laid_over
from hatchwright.drawings.writers.tiling import OVERLAP_IN
from hatchwright.said import Place, inch, said
from hatchwright.shapes.pieces import pieces_of

PAPER_TOLERANCE_IN = 1e-4
"""Largest difference between ink on a page and the drawing [in]."""

_WHAT = "PDF"
_BARS_IN = (6.0, 100.0 / 25.4)
_BAR_TOLERANCE_IN = 1e-3
_END_MARK_IN = 0.1


def verify_pdf(data: bytes, sheet: Sheet | ScaledSheet, paper: AnyPaper) -> None:
    """Read a PDF file and compare its pages with the sheet as laid out for that paper.

    Raises:
        ExportError: its pages, check bars, edges, holes, lines or words are not those of the sheet, or a printer is
            left free to scale it.
    """
    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    wanted = pages_of(sheet, paper)
    try:
        reader = PdfReader(io.BytesIO(data))
        if "/PrintScaling /None" not in _words(reader.root_object.get("/ViewerPreferences")):
            refuse(_WHAT, said("readback.print_scaling"))
        if len(reader.pages) != len(wanted):
            refuse(_WHAT, said("readback.pages", n=len(reader.pages), wanted=len(wanted)))
        told, painted = page_words(data), painted_pages(data)
        for number, (page, laid_out) in enumerate(zip(reader.pages, wanted, strict=True), start=1):
            size = [float(side) / 72.0 for side in page.mediabox]
            width_in, height_in = laid_out.width_in, laid_out.height_in
            is_size = np.allclose(size, (0.0, 0.0, width_in, height_in), rtol=0.0, atol=1e-3)
            if page.get("/UserUnit", 1) != 1 or page.rotation or not is_size:
                sides = {"width": inch(width_in), "height": inch(height_in)}
                refuse(_WHAT, said("readback.page_size", page=number, **sides))
            _refuse_painted([_as_printed(run, laid_out) for run in painted[number - 1]], laid_out, number)
            _refuse_words(told[number - 1], laid_out, number)
    except (PyPdfError, KeyError, IndexError, TypeError, ValueError, AttributeError) as error:
        refuse(_WHAT, said("readback.unreadable", why=str(error)))
    if isinstance(sheet, Sheet):
        _refuse_unshown(sheet, paper, wanted)


def _as_printed(run: Run, page: Page) -> Run:
    """What is painted, in the inches that come out of the printer that the page is made for."""
    points, middles, window = (
        [complex(*page.from_file((z.real, z.imag))) for z in places]
        for places in (run.points, run.middles, run.window)
    )
    return Run(points, middles, run.closed, run.filled, window)


def _words(preferences: object) -> str:
    members = preferences.items() if isinstance(preferences, dict) else ()
    return " ".join(f"{name} {value}" for name, value in members)


def _refuse_painted(runs: list[Run], page: Page, number: int) -> None:
    """Refuse a page whose painted runs are not its ink one by one, or that shows them through another window."""
    drawing, parts = (
        [part for part in ink if not isinstance(part, Text)] for ink in (page.drawing, page.parts)
    )
    if len(runs) != len(drawing) + len(parts):
        refuse(_WHAT, said("readback.page_lines", page=number, n=len(runs), drawn=len(drawing) + len(parts)))
    for run, part in zip(runs, (*drawing, *parts), strict=True):
        if not _is_painted(run, part):
            refuse(_WHAT, said("readback.page_line", page=number, layer=part.layer.value))
    if page.window is None:
        return
    if any(run.window for run in runs[len(drawing) :]) or not all(
        _is_shown_through(page.window, run) for run in runs[: len(drawing)]
    ):
        refuse(_WHAT, said("readback.page_window", page=number))
    for upright in (False, True):
        for length_in in _BARS_IN:
            if not any(_is_bar(run, runs, length_in, upright=upright) for run in runs):
                bar = "readback.bar_up" if upright else "readback.bar_across"
                refuse(_WHAT, said(bar, page=number, length=inch(length_in)))


def _is_shown_through(window: Box, run: Run) -> bool:
    """Whether a run is cut off by the window of its page, or lies in it, where the reader sees nothing to cut off."""
    if run.window:
        corners = [complex(x, y) for x in (window.left, window.right) for y in (window.bottom, window.top)]
        return len(run.window) == len(corners) and _all_near(corners, np.array(run.window))
    within = window.grown(PAPER_TOLERANCE_IN)
    return all(within.touches(Box(z.real, z.imag, z.real, z.imag)) for z in (*run.points, *run.middles))


def _is_bar(run: Run, runs: Iterable[Run], length_in: float, *, upright: bool) -> bool:
    """Whether a run is a line so long between two end marks."""
    if len(run.points) != 2 or run.middles:
        return False
    start, end = run.points
    along = end - start
    length, across = (along.imag, along.real) if upright else (along.real, along.imag)
    if abs(abs(length) - length_in) > _BAR_TOLERANCE_IN or abs(across) > _BAR_TOLERANCE_IN:
        return False
    return all(any(_is_end_mark(one, *ends) for one in runs) for ends in ((start, end), (end, start)))


def _is_end_mark(run: Run, here: complex, there: complex) -> bool:
    """Whether a run is filled up to an edge square to a bar at this end of it, and no farther."""
    if not run.filled or min(abs(z - here) for z in run.points) > _END_MARK_IN:
        return False
    inward = [((z - here) * (there - here).conjugate()).real / abs(there - here) for z in run.points]
    return min(inward) >= -_BAR_TOLERANCE_IN and sum(abs(u) <= _BAR_TOLERANCE_IN for u in inward) == 2


def _is_painted(run: Run, part: Ink) -> bool:
    """Whether a run has every point of the ink, and lies on the ink everywhere."""
    on_run = np.array([*run.points, *run.middles])
    match part:
        case Circle(center=(x, y), diameter_in=diameter_in):
            hub, radius = complex(x, y), 0.5 * diameter_in
            off = np.abs(np.abs(on_run - hub) - radius)
            compass = [hub + radius * turn for turn in (1.0, 1j, -1.0, -1j)]
            return run.closed and bool(off.max() <= PAPER_TOLERANCE_IN) and _all_near(compass, on_run)
        case Outline(loop=loop):
            pieces = loop.working_form()
            off, _ = pieces.distance(on_run)
            ends = [*pieces.start, *pieces.middle[pieces.is_arc]]
            return run.closed and bool(off.max() <= PAPER_TOLERANCE_IN) and _all_near(ends, on_run)
        case Line(points=points) | Solid(points=points):
            return _is_same_run(run, [complex(*point) for point in points], filled=isinstance(part, Solid))
        case _:
            return False


def _is_same_run(run: Run, drawn: list[complex], *, filled: bool) -> bool:
    """Whether a run of straight pieces is the one drawn, point by point."""
    runs_back = drawn[0] == drawn[-1]
    points = drawn[:-1] if runs_back else drawn
    if run.middles or (run.filled, run.closed, len(run.points)) != (filled, runs_back or filled, len(points)):
        return False
    return bool(np.abs(np.array(run.points) - np.array(points)).max() <= PAPER_TOLERANCE_IN)


def _all_near(wanted: list[complex], points: npt.NDArray[np.complex128]) -> bool:
    return all(np.abs(points - point).min() <= PAPER_TOLERANCE_IN for point in wanted)


def _refuse_words(read: str, page: Page, number: int) -> None:
    """Refuse a page that lacks words; only plain letters are compared, as the fonts may lack others."""
    shown = _plain(read)
    for part in (*page.drawing, *page.parts):
        if isinstance(part, Text) and not all(_plain(run) in shown for run in _unmarked(part.words)):
            refuse(_WHAT, said("readback.page_lacks", page=number, words=part.words))


def _unmarked(words: str) -> list[str]:
    """Runs of letters that bear no mark on top: where the font lacks a mark, its letter may go with it."""
    runs = [""]
    for letter, following in pairwise(f"{words} "):
        if _is_mark(following):
            runs.append("")
        elif not _is_mark(letter):
            runs[-1] += letter
    return runs


def _is_mark(letter: str) -> bool:
    return unicodedata.category(letter).startswith("M")


def _plain(words: str) -> str:
    return "".join(letter for letter in words if "!" <= letter <= "~")


def _refuse_unshown(sheet: Sheet, paper: AnyPaper, pages: tuple[Page, ...]) -> None:
    """Refuse pages that leave out a corner of an edge or a hole, or show it away from its place."""
    laid = laid_over(sheet, paper)
    tiles = [laid.tiling.tile(*place) for place in laid.tiling.kept]
    shown = [set(page.drawing) for page in pages if page.window is not None]
    for part in sheet.parts():
        if not isinstance(part, Outline | Circle):
            continue
        on_tiles = _on_tiles(part, tiles)
        is_shown = [_placed(part, laid, number) in shown[number] for number in sorted(on_tiles)]
        is_mark = isinstance(part, Circle) and part.diameter_in <= OVERLAP_IN
        if not (any(is_shown) if is_mark else all(is_shown)):
            refuse(_WHAT, said("readback.layer_cut", layer=part.layer.value))


def _placed(part: Outline | Circle, laid: Laid, number: int) -> Ink:
    """An edge or a hole where a tile shows it."""
    right_in, up_in = laid.to_page(laid.tiling.kept[number])
    (placed,) = moved((part,), right_in=right_in, up_in=up_in)
    return placed


def _on_tiles(part: Outline | Circle, tiles: list[Box]) -> set[int]:
    """The tiles that show an edge or a hole: what is small those in which it lies whole."""
    box = part.box()
    is_small = max(box.width_in, box.height_in) <= OVERLAP_IN
    on_tiles: set[int] = set()
    for x, y in _corners(part):
        here = {number for number, tile in enumerate(tiles) if tile.touches(Box(x, y, x, y))}
        if is_small:
            whole = (box.corners[0], box.corners[2])
            here = {number for number in here if all(tiles[number].touches(Box(*at, *at)) for at in whole)}
        if not here:
            refuse(_WHAT, said("readback.layer_unshown", layer=part.layer.value, place=Place(x, y)))
        on_tiles |= here
    return on_tiles


def _corners(part: Outline | Circle) -> list[tuple[float, float]]:
    if isinstance(part, Circle):
        return [part.center]
    pieces = pieces_of(part.loop.rows)
    return [(z.real, z.imag) for z in (*pieces.start, *pieces.middle)]
