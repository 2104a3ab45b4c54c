"""What was read from a file against what the sheet says: edges, holes, lines and words, layer by layer."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping, Sized
from dataclasses import dataclass, field
from typing import NoReturn

import numpy as np
import numpy.typing as npt

from hatchwright.drawings.ink import Circle, Ink, Line, Outline, Point, Solid, Style, Text
from hatchwright.errors import ExportError, GeometryError
from hatchwright.said import Said, said
from hatchwright.shapes.profile import Loop

TOLERANCE_IN = 2e-6
"""Largest difference between a file and its sheet [in]."""

Place = tuple[str, str]
"""Layer and line style, as words."""

FILLED = "filled"
"""Stands for the line style of a filled triangle."""


@dataclass(slots=True)
class Contents:
    """What a file holds, in sheet inches and in the order of the file.

    Args:
        loops: closed edges by layer and style.
        circles: x, y and diameter by layer and style [in].
        lines: points of open lines and of filled triangles by layer and style [in].
        words: the texts with their feet (x, y) [in].
    """

    loops: dict[Place, list[Loop]] = field(default_factory=lambda: defaultdict(list))
    circles: dict[Place, list[tuple[float, float, float]]] = field(default_factory=lambda: defaultdict(list))
    lines: dict[Place, list[tuple[Point, ...]]] = field(default_factory=lambda: defaultdict(list))
    words: list[tuple[str, Point]] = field(default_factory=list)

    @classmethod
    def of(cls, parts: Iterable[Ink], *, named: Callable[[Style], str] = str) -> Contents:
        """What a file of this ink must hold, sorted as a reader sorts it; `named` is how the format names a style."""
        contents = cls()
        for part in parts:
            place = (part.layer.value, named(part.style))
            match part:
                case Outline(loop=loop):
                    contents.loops[place].append(loop)
                case Circle(center=(x, y), diameter_in=diameter_in):
                    contents.circles[place].append((x, y, diameter_in))
                case Line(points=points):
                    contents.lines[place].append(points)
                case Solid(points=points):
                    contents.lines[(place[0], FILLED)].append(points)
                case Text(words=words, at=at):
                    contents.words.append((words, at))
        return contents


def compare(found: Contents, wanted: Contents, *, what: str) -> None:
    """Refuse a file whose contents are not those of the sheet; `what` names the kind of file, here and below.

    Raises:
        ExportError: something is missing, too much, moved, or reads differently.
    """
    _refuse_missing(found.loops, wanted.loops, what, "edges")
    _refuse_missing(found.circles, wanted.circles, what, "circles")
    _refuse_missing(found.lines, wanted.lines, what, "lines")
    for place, loops in wanted.loops.items():
        for read, drawn in zip(found.loops[place], loops, strict=True):
            if not same_loop(read, drawn):
                refuse(what, said("readback.edge_differs", layer=place[0]))
    for place, circles in wanted.circles.items():
        _refuse_moved(found.circles[place], circles, what, said("readback.a_circle", layer=place[0]))
    for place, lines in wanted.lines.items():
        for read_points, points in zip(found.lines[place], lines, strict=True):
            _refuse_moved(read_points, points, what, said("readback.a_line", layer=place[0]))
    texts = zip(found.words, wanted.words, strict=False)
    wrong = next((words for (read, _), (words, _) in texts if read != words), None)
    if wrong:
        refuse(what, said("readback.lettering_at", words=wrong))
    if wrong is not None or len(found.words) != len(wanted.words):
        refuse(what, said("readback.lettering"))
    _refuse_moved(
        [at for _, at in found.words], [at for _, at in wanted.words], what, said("readback.a_text")
    )


def refuse(what: str, why: Said) -> NoReturn:
    """Say that a written file did not read back, with the first difference found.

    Raises:
        ExportError: always.
    """
    raise ExportError.saying("readback.differs", file=what, why=why)


def loop_of(rows: npt.ArrayLike, what: str) -> Loop:
    """A loop from rows that were read: x, y [in] and bulge, shape (n, 3).

    Raises:
        ExportError: the rows do not make a loop.
    """
    try:
        return Loop(np.asarray(rows, dtype=np.float64))
    except GeometryError as error:
        refuse(what, said("readback.no_edge", why=error.what))


def same_loop(one: Loop, other: Loop) -> bool:
    """Whether two loops are the same edge, wherever they start and however their arcs are divided.

    Every end and middle of a piece of each lies on the other, and area and length agree.
    """
    noise = TOLERANCE_IN * (1.0 + one.length_in)
    return (
        abs(one.length_in - other.length_in) <= noise
        and abs(one.area_sq_in - other.area_sq_in) <= noise
        and _lies_on(one, other)
        and _lies_on(other, one)
    )


def _lies_on(loop: Loop, edge: Loop) -> bool:
    """Whether the ends and middles of the pieces of a loop lie on an edge."""
    pieces = loop.working_form()
    distance_in, _ = edge.working_form().distance(np.concatenate([pieces.start, pieces.middle]))
    return bool(distance_in.max() <= TOLERANCE_IN)


def _refuse_missing(
    found: Mapping[Place, Sized], wanted: Mapping[Place, Sized], what: str, noun: str
) -> None:
    read = Counter({place: len(members) for place, members in found.items() if members})
    drawn = Counter({place: len(members) for place, members in wanted.items() if members})
    for place in sorted(read.keys() | drawn.keys()):
        if read[place] != drawn[place]:
            layer, style = place
            counts = {"read": read[place], "drawn": drawn[place]}
            refuse(what, said(f"readback.count.{noun}", layer=layer, style=style, **counts))


def _refuse_moved(
    found: Iterable[tuple[float, ...]], wanted: Iterable[tuple[float, ...]], what: str, one: Said
) -> None:
    read, drawn = np.array(list(found), dtype=np.float64), np.array(list(wanted), dtype=np.float64)
    if read.shape != drawn.shape:
        refuse(what, said("readback.points", one=one))
    if not (np.abs(read - drawn) <= TOLERANCE_IN).all():
        refuse(what, said("readback.moved", one=one))
