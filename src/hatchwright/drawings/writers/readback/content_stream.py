"""What a PDF page paints, as runs of points in page inches: its content stream followed with all its matrices."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TypeAlias

from hatchwright.drawings.writers.readback.compare import refuse

if TYPE_CHECKING:
    from pypdf import PageObject

_WHAT = "PDF"
_POINTS_PER_IN = 72.0
_STROKES = frozenset((b"S", b"s"))
_FILLS = frozenset((b"f", b"F", b"f*"))
_BOTH = frozenset((b"B", b"B*", b"b", b"b*"))
_CLIPS = frozenset((b"W", b"W*"))

Matrix: TypeAlias = tuple[float, float, float, float, float, float]
_NO_CHANGE: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


@dataclass(slots=True)
class Run:
    """One path that is painted or that clips.

    Args:
        points: ends of its pieces in page inches, y up, as complex numbers.
        middles: the point half-way along each of its curves [in].
        closed: whether it runs back to its start.
        filled: whether it is filled and not stroked.
    """

    points: list[complex] = field(default_factory=list)
    middles: list[complex] = field(default_factory=list)
    closed: bool = False
    filled: bool = False


@dataclass(slots=True)
class Painted:
    """What a page paints.

    Args:
        runs: painted paths in their order.
        clips: paths that clip, in their order.
    """

    runs: list[Run] = field(default_factory=list)
    clips: list[Run] = field(default_factory=list)


def painted_on(page: PageObject) -> Painted:
    """Follow the content stream of a page.

    Args:
        page: the page.
    Returns:
        Painted: its paths.
    Raises:
        ExportError: an operator that draws something which is neither a path nor a text.
    """
    painted = Painted()
    _follow(page.get_contents(), page.get("/Resources"), page.pdf, _NO_CHANGE, painted)
    return painted


def _follow(stream: Any, resources: Any, pdf: Any, matrix: Matrix, painted: Painted) -> None:
    from pypdf.generic import ContentStream

    saved: list[Matrix] = []
    run, clips = Run(), False
    for operands, operator in ContentStream(stream, pdf).operations:
        numbers = [float(operand) for operand in operands] if operator in _TAKES_NUMBERS else []
        match operator:
            case b"q":
                saved.append(matrix)
            case b"Q":
                matrix = saved.pop()
            case b"cm":
                matrix = _combined(numbers, matrix)
            case b"m" | b"l":
                run.points.append(_place(numbers, matrix))
            case b"c":
                start, (first, second, end) = (
                    run.points[-1],
                    (_place(numbers[k : k + 2], matrix) for k in (0, 2, 4)),
                )
                run.middles.append((start + 3.0 * first + 3.0 * second + end) / 8.0)
                run.points.append(end)
            case b"re":
                x, y, width, height = numbers
                corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
                run.points += [_place(corner, matrix) for corner in corners]
                run.closed = True
            case b"h":
                run.closed = True
            case b"v" | b"y" | b"sh" | b"BI" | b"EI":
                refuse(_WHAT, f"a page paints in an unknown way ({operator.decode()})")
            case b"Do":
                form = resources["/XObject"][operands[0]].get_object()
                inner = _combined([float(v) for v in form.get("/Matrix", _NO_CHANGE)], matrix)
                _follow(form, form.get("/Resources", resources), pdf, inner, painted)
            case _ if operator in _CLIPS:
                clips = True
            case b"n":
                painted.clips += [run] if clips else []
                run, clips = Run(), False
            case _ if operator in _STROKES | _FILLS | _BOTH:
                run.filled = operator in _FILLS
                run.closed |= operator in (b"s", b"b", b"b*")
                painted.runs.append(run)
                run = Run()


_TAKES_NUMBERS = frozenset((b"cm", b"m", b"l", b"c", b"re"))


def _place(numbers: Any, matrix: Matrix) -> complex:
    (x, y), (a, b, c, d, e, f) = numbers, matrix
    return complex(a * x + c * y + e, b * x + d * y + f) / _POINTS_PER_IN


def _combined(numbers: list[float], outer: Matrix) -> Matrix:
    """The matrix that does `numbers` first and then `outer`."""
    a, b, c, d, e, f = numbers
    p, q, r, s, t, u = outer
    return (
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    )
