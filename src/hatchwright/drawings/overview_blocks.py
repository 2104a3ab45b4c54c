"""Blocks of the overview's frame: revisions; above the title block number, finish, projection, tolerances."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from hatchwright.drawings.block import Block, paragraph
from hatchwright.drawings.ink import Ink, Layer, Line, Style, Text
from hatchwright.drawings.lettering import fitted, text_width_in, wrapped
from hatchwright.drawings.projection_symbol import projection_symbol
from hatchwright.errors import TableError
from hatchwright.job.job import Job
from hatchwright.layout.layout import Layout
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.tables.rivets import hole_range
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_LABEL_IN, _PAD_IN, _LEAST_IN = 0.075, 0.05, 0.07
_SYMBOL_IN = 0.1
_WIDTH_IN = 3.3
_COLUMNS = (0.36, 1.66, 0.6)
_IN_SECTION = said("overview.in_section")

GENERAL = {
    "in": (inch(0.03), inch(0.01)),
    "mm": (inch(0.5 / 25.4), inch(0.25 / 25.4)),
}
"""Plus and minus of lengths of two and three places, or of edges and hole centers [in]. Common practice, no source."""


def revision_block(job: Job, *, letter_in: float) -> Block:
    """The lines of the job's revisions, oldest first, with a blank to sign each; of a job without any its own."""
    entered = [(one.rev, one.what, one.date) for one in job.drawing.revisions]
    rows = [tuple(tell(said(f"revision.{head}")) for head in ("rev", "what", "date", "by"))]
    rows += [(*one, "") for one in entered or [(job.revision, "", "")]]
    edges = [0.0]
    for width in (*_COLUMNS, _WIDTH_IN - sum(_COLUMNS)):
        edges.append(edges[-1] + width)
    row_in = 1.75 * letter_in
    ink: list[Ink] = []
    top = 0.0
    for number, row in enumerate(rows):
        cells = [
            _cell_lines(words, right - left, letter_in, is_head=not number)
            for words, (left, right) in zip(row, pairwise(edges), strict=True)
        ]
        foot = top - row_in * max(len(lines) for lines in cells)
        for lines, left in zip(cells, edges, strict=False):
            for line, words in enumerate(lines):
                at = left + _PAD_IN, top - line * row_in - 0.5 * (row_in + letter_in)
                height = _LABEL_IN if not number else letter_in
                ink.append(Text(at, words, height))
        ink.append(_rule((0.0, top), (_WIDTH_IN, top), thick=number in (0, 1)))
        top = foot
    ink.append(_rule((0.0, top), (_WIDTH_IN, top), thick=True))
    ink += [_rule((x, 0.0), (x, top), thick=x in (0.0, _WIDTH_IN)) for x in edges]
    return Block(tuple(ink), _WIDTH_IN, -top)


def _cell_lines(words: str, width_in: float, letter_in: float, *, is_head: bool) -> tuple[str, ...]:
    height = _LABEL_IN if is_head else letter_in
    return wrapped(words, height_in=height, width_in=width_in - 2.0 * _PAD_IN)


def drawing_block(
    layout: Layout, width_in: float, *, letter_in: float, material: Value = _IN_SECTION
) -> Block:
    """A row of number, material, finish and projection over one of tolerances.

    Args:
        material: of a sheet that shows no section through all parts.
    """
    job, unit = layout.job, layout.job.unit
    drawing = job.drawing
    projection = drawing.projection_in(unit)
    symbol = projection_symbol(projection, letter_in=_SYMBOL_IN)
    angle = tell(said(f"projection.{projection.replace(' ', '_')}"))
    shown = 2.0 * _PAD_IN + symbol.width_in + 0.1 + text_width_in(angle, height_in=letter_in)
    number = drawing.number or tell(said("overview.no_number"))
    cells = (
        ("number", number, 0.3 * width_in),
        ("material", tell(material, unit), 0.22 * width_in),
        ("finish", tell(_finish(job), unit), 0.48 * width_in - shown),
    )
    high = 0.36
    ink: list[Ink] = []
    left = 0.0
    for name, words, wide in cells:
        ink += _named(tell(said(f"overview.block.{name}")), words, left, wide, letter_in)
        left += wide
        ink.append(_rule((left, 0.0), (left, -high)))
    ink += symbol.at(left + _PAD_IN, -0.5 * (high - symbol.height_in))
    ink.append(Text((left + 2.0 * _PAD_IN + symbol.width_in, -0.5 * (high + letter_in)), angle, letter_in))
    told = paragraph(
        [tell(Listed(tuple(_tolerances(layout)), ";"), unit)],
        width_in=width_in - 2.0 * _PAD_IN,
        height_in=letter_in,
    )
    ink += told.at(_PAD_IN, -high - _PAD_IN)
    foot = -high - told.height_in - _PAD_IN
    ink += [_rule((0.0, 0.0), (width_in, 0.0), thick=True), _rule((0.0, -high), (width_in, -high))]
    ink += [_rule((x, 0.0), (x, foot), thick=True) for x in (0.0, width_in)]
    return Block(tuple(ink), width_in, -foot)


def _named(label: str, words: str, left: float, wide: float, letter_in: float) -> list[Ink]:
    room = wide - 2.0 * _PAD_IN
    lines = wrapped(words, height_in=letter_in, width_in=room)
    height = letter_in
    if len(lines) > 1:
        height = _LEAST_IN
        lines = wrapped(words, height_in=height, width_in=room)
    if len(lines) > 2:
        last, _ = fitted(" ".join(lines[1:]), height_in=height, width_in=room, least_height_in=height)
        lines = (lines[0], last)
    ink: list[Ink] = [Text((left + _PAD_IN, -_PAD_IN - _LABEL_IN), label, _LABEL_IN)]
    for row, line in enumerate(lines):
        ink.append(Text((left + _PAD_IN, -0.17 - height - row * 1.3 * height), line, height))
    return ink


def _finish(job: Job) -> Value:
    """What the job says of its finish, in the drawing's own words or by its treatment and primer."""
    finish = job.finish
    if job.drawing.finish:
        return job.drawing.finish
    told: list[Value] = [finish.treatment] if finish.treatment else []
    if finish.primer and finish.coats:
        told.append(said("overview.finish.coats", primer=finish.primer, n=finish.coats))
    elif finish.primer:
        told.append(finish.primer)
    return Listed(tuple(told), ";") if told else said("overview.not_known")


def _tolerances(layout: Layout) -> Iterator[Said]:
    """The general tolerance, the job's own or by common practice; limits of holes, edges, and angles."""
    unit: Unit = layout.job.unit
    own = layout.job.drawing.tolerance
    if own is not None:
        yield said("tolerance.own", by=inch(own.inch))
    else:
        coarse, fine = GENERAL[unit]
        yield said(f"tolerance.practice.{unit}", coarse=coarse, fine=fine)
    for size_in in sorted({hole.nominal_in for hole in layout.holes_of("rivet") if hole.nominal_in}):
        try:
            found = hole_range(size_in, layout.shop)
        except TableError:
            continue
        limits = {"least": inch(found.least_in), "most": inch(found.greatest_in)}
        yield said("tolerance.rivet_hole", size=inch(size_in), **limits)
    yield said("tolerance.edge_distance")


def _rule(start: tuple[float, float], end: tuple[float, float], *, thick: bool = False) -> Line:
    return Line((start, end), Layer.TEXT, Style.FINISHED if thick else Style.DIMENSION)
