"""PDF at true size: ink on pages, set by typst with the shipped fonts, marked not to be scaled in print."""

from __future__ import annotations

import io
import json
import math
from datetime import datetime
from pathlib import Path
from typing import Any

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Circle, Ink, Line, Outline, Point, Solid, Text
from hatchwright.drawings.lettering import CAPITAL_RATIO, FONTS
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.coded_pages import pages_of
from hatchwright.drawings.writers.paper import AnyPaper, Page, Paper
from hatchwright.drawings.writers.unscaled import unscaled
from hatchwright.shapes.profile import Arc

_TEMPLATE = Path(__file__).with_name("pages.typ")
_WIDEST_CURVE_RAD = math.radians(30.0)
"""An arc is divided until no curve turns more; a curve of 30 degrees is off by 4e-7 of the radius."""


def pdf_of(
    sheet: Sheet | ScaledSheet, paper: AnyPaper = Paper.LETTER, *, made_at: datetime | None = None
) -> bytes:
    """Write a sheet as true-size pages, or a drawing to scale as its own; the same bytes for the same sheet, paper and
    time.

    Args:
        made_at: date and time kept in the file; none is kept when not given.
    Raises:
        ExportError: the drawing takes more pages than a person will join.
    """
    import typst

    pages = [_page(page) for page in pages_of(sheet, paper)]
    made = typst.compile(
        str(_TEMPLATE),
        root=str(_TEMPLATE.parent),
        font_paths=[str(FONTS)],
        ignore_system_fonts=True,
        format="pdf",
        sys_inputs={"pages": json.dumps(pages), "names": json.dumps({"title": sheet.title})},
        timestamp=0,
        pdf_tags=False,
    )
    return _never_scaled(made, made_at)


def _never_scaled(data: bytes, made_at: datetime | None) -> bytes:
    """The same file, with the wish that a printer leaves its size alone."""
    from pypdf import PdfWriter

    writer = PdfWriter(clone_from=io.BytesIO(data))
    writer.pdf_header = data[:8].decode("ascii")
    return unscaled(writer, made_at=made_at)


def _page(page: Page) -> dict[str, Any]:
    return {
        "width": page.width_in,
        "height": page.height_in,
        "window": page.window and _window(page, page.window),
        "drawing": [_mark(part, page) for part in page.drawing],
        "parts": [_mark(part, page) for part in page.parts],
    }


def _window(page: Page, window: Box) -> list[float]:
    left, top = _in_file(page, (window.left, window.top))
    right, bottom = _in_file(page, (window.right, window.bottom))
    return [left, top, right - left, bottom - top]


def _in_file(page: Page, place: Point) -> Point:
    """A place of the page in the file, y down."""
    x, y = page.in_file(place)
    return x, page.height_in - y


def _mark(part: Ink, page: Page) -> dict[str, Any]:
    if isinstance(part, Text):
        x, y = _in_file(page, part.at)
        return {
            "kind": "text",
            "x": x,
            "y": y,
            "words": part.words,
            "size": part.height_in / CAPITAL_RATIO,
            "bold": part.bold,
            "anchor": part.anchor.value,
            "angle": part.angle_deg,
        }
    path, closed = _path(part)
    return {
        "kind": "line",
        "path": [_word(word, page) for word in path],
        "closed": closed,
        "filled": isinstance(part, Solid),
        "width": part.style.width_in,
        "dashes": part.style.dashes_in,
    }


def _word(word: tuple[Any, ...], page: Page) -> list[Any]:
    places = (_in_file(page, (word[k], word[k + 1])) for k in range(1, len(word), 2))
    return [word[0], *(value for place in places for value in place)]


def _path(part: Outline | Line | Circle | Solid) -> tuple[list[tuple[Any, ...]], bool]:
    """Path words with coordinates in page inches, y up, and whether the path closes."""
    match part:
        case Line(points=points):
            closed = len(points) > 2 and points[0] == points[-1]
            kept = points[:-1] if closed else points
            return [("m", *kept[0]), *(("l", *point) for point in kept[1:])], closed
        case Solid(points=points):
            return [("m", *points[0]), *(("l", *point) for point in points[1:])], True
        case Circle(center=(x, y), diameter_in=diameter_in):
            east = (x + 0.5 * diameter_in, y)
            return [("m", *east), *_curves(east, part.center, 2.0 * math.pi)], True
        case Outline(loop=loop):
            pieces = list(loop.pieces())
            words: list[tuple[Any, ...]] = [("m", *pieces[0].start)]
            for piece in pieces:
                if isinstance(piece, Arc):
                    words += _curves(piece.start, piece.center, piece.sweep_rad)
                else:
                    words.append(("l", *piece.end))
            return words, True


def _curves(start: Point, center: Point, sweep_rad: float) -> list[tuple[Any, ...]]:
    """An arc as cubic curves, exact at their ends and half-way."""
    count = math.ceil(abs(sweep_rad) / _WIDEST_CURVE_RAD - 1e-9)
    step = sweep_rad / count
    reach = 4.0 / 3.0 * math.tan(0.25 * step)
    hub, arm = complex(*center), complex(*start) - complex(*center)
    turn = complex(math.cos(step), math.sin(step))
    words: list[tuple[Any, ...]] = []
    for _ in range(count):
        after = arm * turn
        first, second, end = hub + arm * (1 + 1j * reach), hub + after * (1 - 1j * reach), hub + after
        words.append(("c", first.real, first.imag, second.real, second.imag, end.real, end.imag))
        arm = after
    return words
