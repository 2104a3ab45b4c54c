"""What a part sheet says beside its drawing: material, blank, face, grain and drilling of each piece, and the notes."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence

from hatchwright.drawings.block import Block, paragraph, stacked
from hatchwright.drawings.figures import bare
from hatchwright.drawings.part_sheet_holes import LETTER_IN, STYLE, HoleGroup, hole_tables
from hatchwright.drawings.part_sheet_outline import Points, figures_of
from hatchwright.drawings.part_sheet_pieces import Piece
from hatchwright.drawings.part_sheet_view import points_of
from hatchwright.drawings.parts_table import sheet_said
from hatchwright.drawings.table import Table
from hatchwright.job.frame import OPPOSITE
from hatchwright.layout.layout import Layout
from hatchwright.layout.sizes import size_of
from hatchwright.said import Amount, Said, inch, said
from hatchwright.shapes.profile import Loop
from hatchwright.units import Unit, figure
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

NAME_IN = 0.13
"""Height of a capital in the name of a piece [in]."""


def said_of_piece(piece: Piece, groups: Sequence[HoleGroup], layout: Layout) -> tuple[Said, ...]:
    """What one piece is cut from and how it lies, then how its holes are made."""
    return *_of_piece(piece, layout), *_of_holes(groups)


def said_of_all(pieces: Sequence[Piece], layout: Layout) -> tuple[Said, ...]:
    """What is said alike of each of several pieces, but for the material, which stands with each."""
    if len(pieces) == 1:
        return ()
    first, *others = (tuple(_of_piece(piece, layout))[1:] for piece in pieces)
    return tuple(one for one in first if all(one in other for other in others))


def caption(
    piece: Piece,
    groups: Sequence[HoleGroup],
    layout: Layout,
    *,
    width_in: float,
    but_for: Container[Said],
    also: Sequence[Said],
) -> Block:
    """The same under its title, in a column of a width.

    Args:
        but_for: what is said elsewhere on the sheet.
        also: what is said besides.
    """
    kind, unit = layout.job.kind, layout.job.unit
    told = [
        tell(in_words_of(kind, one), unit)
        for one in (*said_of_piece(piece, groups, layout), *also)
        if one not in but_for
    ]
    title = tell(in_words_of(kind, piece.title), unit)
    heading = paragraph([title], width_in=width_in, height_in=NAME_IN, bold=True)
    return stacked((heading, paragraph(told, width_in=width_in, height_in=LETTER_IN)), gap_in=0.04)


def material_said(piece: Piece, unit: Unit) -> Said:
    """What a piece is cut from."""
    return said("part_sheet.material", sheet=bare(sheet_said(piece.part), unit), unit=unit)


def _of_piece(piece: Piece, layout: Layout) -> Iterator[Said]:
    frame = layout.frame
    yield material_said(piece, layout.job.unit)
    if piece.is_round:
        yield said("part_sheet.round")
    else:
        size = size_of(piece.outer.bounds)
        x, y = (said(f"part_sheet.side.{OPPOSITE[word].lower()}") for word in (frame.x, frame.y))
        yield said("part_sheet.blank", size=size)
        yield said("part_sheet.from", x=x, y=y)
    if piece.is_made:
        yield said("part_sheet.as_made")
    first, second = (word for word, _ in frame.directions())
    yield said("part_sheet.face", first=first, second=second)
    yield said("part_sheet.grain")
    cover = layout.job.cover
    is_fitted = piece.part.name == "plug" or (piece.part.name == "cover" and cover and cover.fit == "flush")
    if is_fitted:
        yield said("part_sheet.fit")
    curvature = layout.job.skin.curvature
    if curvature is not None and piece.flat is None:
        yield said("part_sheet.curved", along=curvature.along.upper())
    if piece.flat is not None:
        along, (outer, inner) = piece.flat.stretch.along.upper(), map(inch, piece.flat.roll_in)
        yield said("flat.not_on_skin", along=along, ratio=Amount(piece.flat.stretch.ratio, "times"))
        yield said("part_sheet.roll", along=along, outer=outer, inner=inner)


def _of_holes(groups: Sequence[HoleGroup]) -> Iterator[Said]:
    for group in groups:
        yield said(
            "part_sheet.group", letter=group.letter, n=len(group.holes), work=group.work, how=group.how
        )
    if any(hole.is_made for group in groups for hole, _ in group.holes):
        yield said("part_sheet.star")


def tables(piece: Piece, groups: Sequence[HoleGroup], layout: Layout) -> Iterator[Table]:
    """The points of the edges that dimensions do not tell, then the holes."""
    unit = layout.job.unit
    names = (name for name, _ in points_of(piece))
    heads = [f"part_sheet.{head}" for head in ("point", "x", "y", "then", "center_x", "center_y")]
    for loop in (piece.outer, *piece.windows):
        if rows := tuple(_point_rows(loop, piece, names, unit)):
            id = "part_sheet.edge" if loop is piece.outer else "part_sheet.window"
            title = said(id, piece=in_words_of(layout.job.kind, piece.title))
            yield Table.told(title, heads, rows, unit, STYLE)
    for group in groups:
        yield from hole_tables(group, piece, unit)


def _point_rows(loop: Loop, piece: Piece, names: Iterator[str], unit: Unit) -> Iterator[tuple[str, ...]]:
    """A row for each point of one edge: how it goes on to the next, of the last to the first again."""
    figures = figures_of(loop)
    for turn in figures.turns if isinstance(figures, Points) else ():
        at = tuple(figure(one, unit) for one in piece.from_datum(turn.at))
        if turn.radius_in is None or turn.center is None:
            yield (next(names), *at, tell(said("part_sheet.straight")), "", "")
            continue
        arc = "part_sheet.hollow" if turn.is_inward else "part_sheet.arc"
        center = tuple(figure(one, unit) for one in piece.from_datum(turn.center))
        yield (next(names), *at, tell(said(arc, radius=inch(turn.radius_in)), unit), *center)


def notes(
    layout: Layout, of_all: Iterable[Said], *, is_thinned: bool, has_rows: bool, width_in: float
) -> Block:
    """What is said of all pieces alike and the notes of the trade, numbered."""
    kind, unit = layout.job.kind, layout.job.unit
    of_trade = _notes(layout, is_thinned=is_thinned, has_rows=has_rows)
    told = [tell(in_words_of(kind, one), unit) for one in (*of_all, *of_trade)]
    numbered = [f"{number}. {note}" for number, note in enumerate(told, start=1)]
    return paragraph(numbered, width_in=width_in, height_in=LETTER_IN)


def _notes(layout: Layout, *, is_thinned: bool, has_rows: bool) -> Iterator[Said]:
    least, most = (inch(layout.limit(key).value) for key in ("edge_break_min", "edge_break_max"))
    yield said(f"part_sheet.unit.{layout.job.unit}")
    yield said("part_sheet.datum")
    yield said("part_sheet.edges", least=least, most=most)
    yield said("part_sheet.mark")
    if has_rows:
        yield said("part_sheet.equally_spaced")
    if is_thinned:
        yield said("part_sheet.thinned")
