"""Blocks of the overview's frame: revisions; above the title block number, finish, projection, tolerances."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from hatchwright.drawings.block import Block, paragraph
from hatchwright.drawings.ink import Ink, Layer, Line, Style, Text
from hatchwright.drawings.lettering import fitted, wrapped
from hatchwright.drawings.projection_symbol import projection_symbol
from hatchwright.drawings.title_block import CORNER_IN
from hatchwright.errors import TableError
from hatchwright.job.job import Job
from hatchwright.layout.layout import Layout
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.tables.rivets import hole_range
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_LABEL_IN, _PAD_IN, _LEAST_IN = 0.075, 0.05, 0.07
_SYMBOL_IN = 0.1
_WIDTH_IN = 2.7
_COLUMNS = (0.34, 1.1, 0.56)

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


def number_block(job: Job, *, letter_in: float) -> Block:
    """The corner of the title block: the number of the drawing over its projection, by symbol and in words."""
    width_in, high = CORNER_IN
    projection = job.drawing.projection_in(job.unit)
    label = Text((0.0, -_LABEL_IN), tell(said("overview.block.number")), _LABEL_IN)
    number = job.drawing.number or tell(said("overview.no_number"))
    shown, height = fitted(number, height_in=0.16, width_in=width_in, least_height_in=_LEAST_IN, bold=True)
    symbol = projection_symbol(projection, letter_in=_SYMBOL_IN)
    words = tell(said(f"projection.{projection.replace(' ', '_')}"))
    at = symbol.width_in + 0.1, -high + 0.5 * (symbol.height_in - letter_in)
    ink = (
        label,
        Text((0.0, -_LABEL_IN - 0.06 - height), shown, height, bold=True),
        *symbol.at(0.0, symbol.height_in - high),
        Text(at, words, letter_in),
    )
    return Block(ink, width_in, high)


def drawing_block(layout: Layout, width_in: float, *, letter_in: float) -> Block:
    """Material, finish and tolerances, in a frame over the title block."""
    unit = layout.job.unit
    told = paragraph(
        [
            tell(said("overview.material_finish", finish=_finish(layout.job)), unit),
            tell(Listed(tuple(_tolerances(layout)), ";"), unit),
        ],
        width_in=width_in - 2.0 * _PAD_IN,
        height_in=letter_in,
    )
    foot = -told.height_in - _PAD_IN
    ink: list[Ink] = [*told.at(_PAD_IN, -_PAD_IN), _rule((0.0, 0.0), (width_in, 0.0), thick=True)]
    ink += [_rule((x, 0.0), (x, foot), thick=True) for x in (0.0, width_in)]
    return Block(tuple(ink), width_in, -foot)


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
