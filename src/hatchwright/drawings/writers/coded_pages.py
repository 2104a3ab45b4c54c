"""The code of its sheet on each page of a drawing, in the room without ink nearest to the upper right corner."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

import numpy as np
import numpy.typing as npt
from msgspec.structs import replace

from hatchwright.drawings.boxes import Floats
from hatchwright.drawings.ink import Anchor, Circle, Ink, Line, Outline, Solid, Text
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.sheet_code import MODULE_IN, QUIET_MODULES, SheetCode, code_of, modules
from hatchwright.drawings.writers.pages import pages_of as pages_without
from hatchwright.drawings.writers.paper import MARGIN_IN, AnyPaper, Page

_CELL_IN = 0.05
_LETTER_IN = 0.09
_LINE_IN = 0.14
_OVERLAP_IN = 0.002
"""By how much a row of squares runs into the next, so that no white line parts them on a screen."""


@lru_cache(maxsize=1)  # who writes a file asks for its pages, and who reads it back does once more
def pages_of(sheet: Sheet | ScaledSheet, paper: AnyPaper) -> tuple[Page, ...]:
    """Lay a sheet over pages, each with its code where it has room for one.

    Raises:
        ExportError: more pages than a person will join.
    """
    pages = pages_without(sheet, paper)
    if not sheet.paper_name:
        return pages
    block = sheet.title_block
    about = {"title": block.job, "side": block.side, "revision": block.revision, "paper": sheet.paper_name}
    return tuple(_coded(page, code_of(sheet=number, **about)) for number, page in enumerate(pages, start=1))


def _coded(page: Page, code: SheetCode) -> Page:
    """The page with a code and its letters below; as it was where there is no room."""
    squares = modules(code.letters)
    quiet_in = QUIET_MODULES * MODULE_IN
    width_in = len(squares) * MODULE_IN + 2.0 * quiet_in
    height_in = width_in + 2.0 * _LINE_IN
    corner = _room(page, width_in, height_in)
    if corner is None:
        return page
    left, top = corner[0] + quiet_in, corner[1] - quiet_in
    ink: list[Ink] = list(_squares(squares, left, top))
    grouped = code.grouped.split("-")
    for line, words in enumerate(("-".join(grouped[:2]), "-".join(grouped[2:]))):
        foot = corner[1] - width_in - _LETTER_IN - line * _LINE_IN
        ink.append(Text((corner[0] + 0.5 * width_in, foot), words, _LETTER_IN, anchor=Anchor.MIDDLE))
    return replace(page, parts=(*page.parts, *ink))


def _squares(squares: tuple[tuple[bool, ...], ...], left: float, top: float) -> Iterator[Solid]:
    """Black squares, those beside each other as one."""
    for row, cells in enumerate(squares):
        upper, lower = top - row * MODULE_IN, top - (row + 1) * MODULE_IN - _OVERLAP_IN
        start = None
        for column, is_black in enumerate((*cells, False)):
            if is_black and start is None:
                start = column
            elif not is_black and start is not None:
                near, far = left + start * MODULE_IN, left + column * MODULE_IN
                yield Solid(((near, lower), (far, lower), (far, upper), (near, upper)))
                start = None


def _room(page: Page, width_in: float, height_in: float) -> tuple[float, float] | None:
    """The upper left corner of a room without ink [in], the one nearest to the upper right corner of the page."""
    taken = _taken(page)
    rows, columns = (math.ceil(side / _CELL_IN) + 1 for side in (height_in, width_in))
    total = np.zeros((taken.shape[0] + 1, taken.shape[1] + 1), np.int64)
    total[1:, 1:] = taken.cumsum(0).cumsum(1)
    if taken.shape[0] < rows or taken.shape[1] < columns:
        return None
    within = (
        total[rows:, columns:] - total[:-rows, columns:] - total[rows:, :-columns] + total[:-rows, :-columns]
    )
    free = np.argwhere(within == 0)
    if not len(free):
        return None
    far = (taken.shape[0] - free[:, 0]) + (taken.shape[1] - free[:, 1])
    row, column = free[far.argmin()].tolist()
    return column * _CELL_IN, (row + rows) * _CELL_IN


def _taken(page: Page) -> npt.NDArray[np.bool_]:
    """Cells of the page from below that ink lies in or an edge goes round, or that a printer leaves white: a code
    inside a part would be cut out with it."""
    edge = math.ceil(MARGIN_IN / _CELL_IN)
    taken = np.ones([int(side / _CELL_IN) for side in (page.height_in, page.width_in)], np.bool_)
    taken[edge:-edge, edge:-edge] = False
    for part in (*page.parts, *page.drawing):
        if isinstance(part, Text | Solid | Outline):
            left, bottom, right, top = (max(0, math.floor(side / _CELL_IN)) for side in part.box())
            taken[bottom : top + 1, left : right + 1] = True
        else:
            cells = np.floor(_dots(part) / _CELL_IN).astype(np.intp)
            inside = (cells >= 0).all(axis=1) & (cells < taken.shape[::-1]).all(axis=1)
            taken[cells[inside, 1], cells[inside, 0]] = True
    return taken


def _dots(part: Line | Circle) -> Floats:
    """Points along a line, so close that no cell between them is passed by unseen, shape (n, 2) [in]."""
    match part:
        case Line(points=points):
            ends = np.array(points)
        case Circle(center=center, diameter_in=across):
            turn = np.linspace(0.0, 2.0 * math.pi, 32)
            ends = np.array(center) + 0.5 * across * np.column_stack([np.cos(turn), np.sin(turn)])
    longest = float(np.hypot(*np.diff(ends, axis=0).T).max(initial=0.0))
    shares = np.linspace(0.0, 1.0, max(2, math.ceil(longest / (0.5 * _CELL_IN)) + 1))
    steps = ends[:-1, None, :] + shares[None, :, None] * np.diff(ends, axis=0)[:, None, :]
    return steps.reshape(-1, 2)
