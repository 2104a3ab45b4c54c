"""The overview drawing: the whole job to scale on one page, dimensioned, with what an engineer asks of a drawing.

The hole table stands beside the view where there is room for it at half size or more, else on the next page.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.drawings.block import Block, legend_block, paragraph
from hatchwright.drawings.ink import Solid, Style, Text
from hatchwright.drawings.one_page import Arrangement, Framed, on_pages
from hatchwright.drawings.overview_blocks import drawing_block, revision_block
from hatchwright.drawings.overview_corner import corner_block, corner_detail
from hatchwright.drawings.overview_fasteners import fasteners_block
from hatchwright.drawings.overview_section import section_block
from hatchwright.drawings.overview_table import overview_tables
from hatchwright.drawings.overview_view import Lettering, OverviewView
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.scale import Scale, scales
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.short_holes import short_holes
from hatchwright.finding import Finding
from hatchwright.job.drawing import Standard
from hatchwright.layout.layout import Layout
from hatchwright.said import Said, inch, said
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

_NINE_POINT_IN = 9.0 / 72.0 * 0.729
_NOTES_IN = 3.6
_LEAST_RATIO = 0.5
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
    text_in = lettering.text_in
    framed = Framed(
        title=tell(in_words_of(job.kind, said("overview.title"))),
        title_block=title_block,
        unit=job.unit,
        stop=stop,
        foot=(lambda width_in: drawing_block(layout, width_in, letter_in=lettering.table_in),),
        head=revision_block(job, letter_in=lettering.table_in),
    )
    return on_pages(framed, paper_in, _tries(view, text_in), view.ink)


def lettering_of(standard: Standard, paper_in: tuple[float, float]) -> Lettering:
    """Heights of capitals: .12 in by ASME; by ISO 3.5 mm, 2.5 mm on A4 and Letter. Tables have 9 point or more."""
    if standard == "asme":
        return Lettering(text_in=0.12, number_in=0.12, table_in=_NINE_POINT_IN)
    text_in = (3.5 if paper_in[0] > _WIDE_PAPER_IN else 2.5) / 25.4
    return Lettering(text_in=text_in, number_in=text_in, table_in=text_in)


def _tries(view: OverviewView, text_in: float) -> Iterator[tuple[Scale, Arrangement]]:
    """Half size or more with the table beside the view, then with the table on the next page, then smaller."""
    tables = overview_tables(view.layout, letter_in=view.lettering.table_in)
    large = [one for one in scales(view.standard) if one.ratio >= _LEAST_RATIO]
    small = [one for one in scales(view.standard) if one.ratio < _LEAST_RATIO]
    for choice in (large, small):
        for scale in choice:
            beside = tuple(_beside(view, scale, table_follows=False))
            yield scale, Arrangement((*beside, *tables))
        for scale in choice:
            if tables:
                yield scale, Arrangement(tuple(_beside(view, scale, table_follows=True)), tables)


def _beside(view: OverviewView, scale: Scale, *, table_follows: bool) -> Iterator[Block]:
    layout, letter_in = view.layout, view.lettering.table_in
    yield section_block(layout, letter_in=letter_in)
    detail = corner_detail(layout, view.standard)
    if detail and detail.scale.ratio > scale.ratio:
        yield corner_block(layout, detail, letter_in=letter_in)
    fasteners = fasteners_block(layout, letter_in=letter_in, width_in=_NOTES_IN)
    if fasteners:
        yield fasteners
    yield notes(view, table_follows=table_follows)
    used = {part.style for part in view.ink(scale) if not isinstance(part, Solid | Text)}
    meanings = [
        (style, tell(in_words_of(layout.job.kind, meaning)))
        for style, meaning in _LEGEND.items()
        if style in used
    ]
    yield legend_block(meanings, width_in=_NOTES_IN, height_in=letter_in)


def notes(view: OverviewView, *, table_follows: bool) -> Block:
    """The notes of the trade that hold for the job, and how the sheet is to be read."""
    letter_in = view.lettering.table_in
    told = [
        tell(in_words_of(view.layout.job.kind, note), view.layout.job.unit)
        for note in _notes(view, table_follows=table_follows)
    ]
    numbered = [f"{number}. {note}" for number, note in enumerate(told, start=1)]
    return paragraph(numbered, width_in=_NOTES_IN, height_in=letter_in)


def _notes(view: OverviewView, *, table_follows: bool) -> Iterator[Said]:
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
        yield said("overview.note.numbers")
        yield said("overview.note.table_follows" if table_follows else "overview.note.table")
        yield said("overview.note.next_size")
    if any(hole.is_made for hole in layout.holes) and job.as_made:
        yield said("overview.note.drilled", u=inch(job.as_made.uncertainty.inch))
    if short_holes(view.findings, job.unit):
        yield said("overview.note.ringed")
