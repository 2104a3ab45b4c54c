"""The overview drawing: the whole job to scale on one page, dimensioned, with what an engineer asks of a drawing.

The hole table stands beside the view where there is room for it at half size or more, else on the next page.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache
from itertools import product

from hatchwright.drawings.block import Block, legend_block, paragraph, trimmed
from hatchwright.drawings.ink import Ink, Solid, Style, Text
from hatchwright.drawings.one_page import Arrangement, Framed, on_pages, scales_with_room
from hatchwright.drawings.overview_blocks import drawing_block, number_block, revision_block
from hatchwright.drawings.overview_corner import corner_block, corner_detail
from hatchwright.drawings.overview_fasteners import fasteners_block
from hatchwright.drawings.overview_numbers import numbers_fifths
from hatchwright.drawings.overview_section import section_block
from hatchwright.drawings.overview_table import overview_tables
from hatchwright.drawings.overview_view import Lettering, OverviewView
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.scale import Scale, scales
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.short_holes import short_holes
from hatchwright.drawings.table import Table
from hatchwright.finding import Finding
from hatchwright.job.drawing import Standard
from hatchwright.layout.layout import Layout
from hatchwright.said import Said, inch, said
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

_NINE_POINT_IN = 9.0 / 72.0 * 0.729
_WIDTHS_IN = (3.7, 2.4)
_LEAST_RATIO = 0.5
_MANY_ROWS = 150
"""Rows of hole tables that fill pages of their own: nothing is gained by trying ways to save one. Own choice [-]."""
_WIDE_PAPER_IN = 10.0

_LEGEND = {
    Style.FINISHED: said("overview.legend.finished"),
    Style.DIMENSION: said("overview.legend.dimension"),
    Style.HIDDEN: said("overview.legend.hidden"),
    Style.CENTER: said("overview.legend.center"),
    Style.PHANTOM: said("overview.legend.phantom"),
    Style.KEEP_OUT: said("layout.keep_out"),
}


def overview_sheet(
    layout: Layout, findings: Iterable[Finding], *, paper_in: tuple[float, float], date: str, stop: str = ""
) -> ScaledSheet:
    """Draw the overview for a paper.

    Args:
        findings: judged on the layout.
        paper_in: width and height of the paper, upright [in].
        stop: what must be settled before anything is cut, "" when nothing must.
    Raises:
        ExportError: no scale is small enough for this paper.
    """
    job, judged = layout.job, tuple(findings)
    standard = job.drawing.standard_in(job.unit)
    lettering = lettering_of(standard, paper_in)
    view = OverviewView(layout, judged, standard, lettering)
    title_block = PageFrame(layout.frame).title_block(job, date=date)
    framed = Framed(
        title=tell(in_words_of(job.kind, said("overview.title"))),
        title_block=title_block,
        unit=job.unit,
        stop=stop,
        foot=(lambda width_in: drawing_block(layout, width_in, letter_in=lettering.table_in),),
        head=revision_block(job, letter_in=lettering.table_in),
        corner=number_block(job, letter_in=lettering.table_in),
    )
    drawn = cache(view.ink)
    return on_pages(framed, paper_in, _tries(view, paper_in, drawn), drawn)


def lettering_of(standard: Standard, paper_in: tuple[float, float]) -> Lettering:
    """Heights of capitals: .12 in by ASME; by ISO 3.5 mm, 2.5 mm on A4 and Letter. Tables have 9 point or more."""
    if standard == "asme":
        return Lettering(text_in=0.12, number_in=0.12, table_in=_NINE_POINT_IN)
    text_in = (3.5 if paper_in[0] > _WIDE_PAPER_IN else 2.5) / 25.4
    return Lettering(text_in=text_in, number_in=text_in, table_in=text_in)


def _tries(
    view: OverviewView, paper_in: tuple[float, float], drawn: Callable[[Scale], tuple[Ink, ...]]
) -> Iterator[tuple[Scale, tuple[Arrangement, ...]]]:
    """Half size or more as long as the view itself fits a page: first with all beside it, then with what there is no
    room for on the page that follows; then smaller scales in the same way."""
    tables = overview_tables(view.layout, letter_in=view.lettering.table_in)
    choice = scales_with_room(scales(view.standard), view.size_in, paper_in)
    if sum(len(table.rows) for table in tables) > _MANY_ROWS:
        for scale in choice:
            blocks = _blocks(view, drawn(scale), scale, _WIDTHS_IN[0], table_follows=True)
            yield scale, (Arrangement((), (*blocks, *tables)),)
        return
    large = [one for one in choice if one.ratio >= _LEAST_RATIO]
    small = [one for one in choice if one.ratio < _LEAST_RATIO]
    for some in (large, small):
        for scale in some:
            yield scale, tuple(_all_beside(view, drawn(scale), scale, tables))
        for scale in some:
            yield scale, tuple(_parted(view, drawn(scale), scale, tables))


def _all_beside(
    view: OverviewView, drawn: Iterable[Ink], scale: Scale, tables: tuple[Table, ...]
) -> Iterator[Arrangement]:
    for width_in in _WIDTHS_IN:
        blocks = _blocks(view, drawn, scale, width_in, table_follows=False)
        yield Arrangement((*blocks, *tables))
        yield Arrangement((*tables, *blocks))


def _parted(
    view: OverviewView, drawn: Iterable[Ink], scale: Scale, tables: tuple[Table, ...]
) -> Iterator[Arrangement]:
    """Every choice of what stays beside the view, those first that keep the section and the detail there."""
    for width_in in _WIDTHS_IN:
        blocks = _blocks(view, drawn, scale, width_in, table_follows=bool(tables))
        for stays in product((True, False), repeat=len(blocks)):
            beside = (block for block, is_beside in zip(blocks, stays, strict=True) if is_beside)
            following = (block for block, is_beside in zip(blocks, stays, strict=True) if not is_beside)
            yield Arrangement(tuple(beside), (*following, *tables))


def _blocks(
    view: OverviewView, drawn: Iterable[Ink], scale: Scale, width_in: float, *, table_follows: bool
) -> tuple[Block, ...]:
    """Section, detail, legend, notes and fasteners, in the order in which they are wanted beside the view."""
    layout, letter_in = view.layout, view.lettering.table_in
    fasteners = fasteners_block(layout, letter_in=letter_in, width_in=width_in)
    return (
        section_block(layout, letter_in=letter_in),
        *_detail(view, scale),
        _legend(view, drawn, width_in),
        _notes_block(view, scale, width_in, table_follows=table_follows),
        *((fasteners,) if fasteners else ()),
    )


def _detail(view: OverviewView, scale: Scale) -> tuple[Block, ...]:
    """The detail of the corner, where it is larger than the view."""
    detail = corner_detail(view.layout, view.standard)
    if detail is None or detail.scale.ratio <= scale.ratio:
        return ()
    return (corner_block(view.layout, detail, letter_in=view.lettering.table_in),)


def _legend(view: OverviewView, drawn: Iterable[Ink], width_in: float) -> Block:
    used = {part.style for part in drawn if not isinstance(part, Solid | Text)}
    meanings = [
        (style, tell(in_words_of(view.layout.job.kind, meaning)))
        for style, meaning in _LEGEND.items()
        if style in used
    ]
    return trimmed(legend_block(meanings, width_in=width_in, height_in=view.lettering.table_in))


def _notes_block(view: OverviewView, scale: Scale, width_in: float, *, table_follows: bool) -> Block:
    """The notes of the trade that hold for the job, and how the sheet is to be read."""
    letter_in = view.lettering.table_in
    told = [
        tell(in_words_of(view.layout.job.kind, note), view.layout.job.unit)
        for note in _notes(view, scale, table_follows=table_follows)
    ]
    numbered = [f"{number}. {note}" for number, note in enumerate(told, start=1)]
    return trimmed(paragraph(numbered, width_in=width_in, height_in=letter_in))


def _notes(view: OverviewView, scale: Scale, *, table_follows: bool) -> Iterator[Said]:
    layout = view.layout
    job, is_joined = layout.job, any(len(hole.stack) > 1 for hole in layout.holes)
    least, most = (inch(layout.limit(key).value) for key in ("edge_break_min", "edge_break_max"))
    yield said(f"overview.note.units.{job.unit}")
    if is_joined:
        yield said("overview.note.match_drill")
    yield said("overview.note.edges", least=least, most=most)
    if is_joined:
        yield said("overview.note.prime")
    yield said("overview.note.scribe")
    if job.doubler and job.doubler.face == "inside":
        yield said("overview.note.doubler_behind")
    if layout.part("cover"):
        yield said("overview.note.cover_off")
    if layout.holes:
        yield said("overview.note.fifths" if numbers_fifths(scale) else "overview.note.ends")
        yield said("overview.note.table_follows" if table_follows else "overview.note.table")
        yield said("overview.note.next_size")
    if any(hole.is_made for hole in layout.holes) and job.as_made:
        yield said("overview.note.drilled", u=inch(job.as_made.greatest_u_in))
    if layout.strays:
        yield said("layout.strays")
    if short_holes(view.findings, job.unit):
        yield said("overview.note.ringed")
