"""What the pages of a PDF file say and paint, read by a reader that had no part in writing them."""

from __future__ import annotations

import ctypes
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from hatchwright.drawings.writers.readback.compare import refuse
from hatchwright.said import said

_WHAT = "PDF"
_POINTS_PER_IN = 72.0
_SAME_IN = 1e-5

_BROKEN_HYPHEN = "\ufffe"
"""How the reader marks a hyphen that it takes for the break of a word, at the end of a line."""

Matrix: TypeAlias = tuple[float, float, float, float, float, float]
_NO_CHANGE: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def page_words(data: bytes) -> list[str]:
    """The words of each page of a PDF file, in the order in which they are painted.

    Raises:
        ExportError: it is not a PDF file, or a page of it cannot be read.
    """
    import pypdfium2

    try:
        with pypdfium2.PdfDocument(data) as document:
            told = [page.get_textpage().get_text_range() for page in document]
    except pypdfium2.PdfiumError as error:
        refuse(_WHAT, said("readback.unreadable", why=str(error)))
    return [words.replace(_BROKEN_HYPHEN, "-") for words in told]


def page_sizes_in(data: bytes) -> list[tuple[float, float]]:
    """Width and height of each page of a PDF file as it lies [in]."""
    import pypdfium2

    with pypdfium2.PdfDocument(data) as document:
        sizes = (page.get_size() for page in document)
        return [(width / _POINTS_PER_IN, height / _POINTS_PER_IN) for width, height in sizes]


@dataclass(slots=True)
class Run:
    """One path that is painted.

    Args:
        points: ends of its pieces in page inches, y up, as complex numbers; those of a closed one once each.
        middles: the point half-way along each of its curves [in].
        closed: whether it runs back to its start.
        filled: whether it is filled and not stroked.
        window: corners of what it is shown through [in], none when that cuts off nothing of it.
    """

    points: list[complex] = field(default_factory=list)
    middles: list[complex] = field(default_factory=list)
    closed: bool = False
    filled: bool = False
    window: list[complex] = field(default_factory=list)


def painted_pages(data: bytes) -> list[list[Run]]:
    """The paths that each page of a PDF file paints, in their order, true to 1e-6 in.

    Raises:
        ExportError: it is not a PDF file, or something on a page is neither a path nor a text.
    """
    import pypdfium2
    import pypdfium2.raw as pdfium

    try:
        with pypdfium2.PdfDocument(data) as document:
            pages = []
            for page in document:
                count = pdfium.FPDFPage_CountObjects(page.raw)
                objects = (pdfium.FPDFPage_GetObject(page.raw, k) for k in range(count))
                pages.append(list(_followed(objects, _NO_CHANGE)))
            return pages
    except pypdfium2.PdfiumError as error:
        refuse(_WHAT, said("readback.unreadable", why=str(error)))


def _followed(objects: Iterable[Any], outer: Matrix) -> Iterator[Run]:
    """What objects paint that lie in a page, or in a form set into it."""
    import pypdfium2.raw as pdfium

    for one in objects:
        kind = pdfium.FPDFPageObj_GetType(one)
        if kind == pdfium.FPDF_PAGEOBJ_PATH:
            yield from _path(one, outer)
        elif kind == pdfium.FPDF_PAGEOBJ_FORM:
            count = pdfium.FPDFFormObj_CountObjects(one)
            inner = (pdfium.FPDFFormObj_GetObject(one, k) for k in range(count))
            yield from _followed(inner, _combined(_matrix(one), outer))
        elif kind != pdfium.FPDF_PAGEOBJ_TEXT:
            refuse(_WHAT, said("readback.painted", kind=kind))


def _path(one: Any, outer: Matrix) -> Iterator[Run]:
    import pypdfium2.raw as pdfium

    fill, stroke = ctypes.c_int(), pdfium.FPDF_BOOL()
    pdfium.FPDFPath_GetDrawMode(one, fill, stroke)
    if not (fill.value or stroke.value):
        return
    segments = (pdfium.FPDFPath_GetPathSegment(one, k) for k in range(pdfium.FPDFPath_CountSegments(one)))
    run = _run(segments, _combined(_matrix(one), outer))
    run.filled = not stroke.value
    clip = pdfium.FPDFPageObj_GetClipPath(one)
    for path in range(pdfium.FPDFClipPath_CountPaths(clip)):
        count = pdfium.FPDFClipPath_CountPathSegments(clip, path)
        run.window += _run(
            (pdfium.FPDFClipPath_GetPathSegment(clip, path, k) for k in range(count)), outer
        ).points
    yield run


def _run(segments: Iterable[Any], matrix: Matrix) -> Run:
    """The segments of a path as a run; a curve comes as three of them, its two reins and its end."""
    import pypdfium2.raw as pdfium

    run = Run()
    reins: list[complex] = []
    x, y = ctypes.c_float(), ctypes.c_float()
    a, b, c, d, e, f = matrix
    for piece in segments:
        pdfium.FPDFPathSegment_GetPoint(piece, x, y)
        right, up = x.value, y.value
        place = complex(a * right + c * up + e, b * right + d * up + f) / _POINTS_PER_IN
        run.closed |= bool(pdfium.FPDFPathSegment_GetClose(piece))
        if pdfium.FPDFPathSegment_GetType(piece) == pdfium.FPDF_SEGMENT_BEZIERTO and len(reins) < 2:
            reins.append(place)
            continue
        if reins:
            first, second = reins
            run.middles.append((run.points[-1] + 3.0 * first + 3.0 * second + place) / 8.0)
            reins = []
        run.points.append(place)
    if run.closed and len(run.points) > 1 and abs(run.points[-1] - run.points[0]) < _SAME_IN:
        run.points.pop()
    return run


def _matrix(one: Any) -> Matrix:
    import pypdfium2.raw as pdfium

    matrix = pdfium.FS_MATRIX()
    pdfium.FPDFPageObj_GetMatrix(one, matrix)
    return matrix.a, matrix.b, matrix.c, matrix.d, matrix.e, matrix.f


def _combined(inner: Matrix, outer: Matrix) -> Matrix:
    """The matrix that does `inner` first and then `outer`."""
    a, b, c, d, e, f = inner
    p, q, r, s, t, u = outer
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)
