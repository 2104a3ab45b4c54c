"""The layout drawing: the bay with everything that is to be cut and drilled in it, seen from outside."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from hatchwright.drawings.bay_structure import (
    drawn_bounds,
    origin_is_near,
    parts_bounds,
    structure,
    structure_beyond,
)
from hatchwright.drawings.damage import damage
from hatchwright.drawings.dimensions_of_parts import from_datum
from hatchwright.drawings.hole_marks import MOST_CALL_OUTS, NUMBER_IN, call_outs, hole_circles, hole_numbers
from hatchwright.drawings.hole_table import counts_table, hole_tables
from hatchwright.drawings.ink import Circle, Ink, Layer, Outline, Style, Text, outlines
from hatchwright.drawings.lettering import SMALL_IN
from hatchwright.drawings.marks import arrow, cross
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.parts_table import parts_table
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.short_holes import ShortHoles, remarks, short_holes
from hatchwright.drawings.size_lines import CENTER_CROSS_IN, size_lines
from hatchwright.drawings.stray_marks import stray_marks
from hatchwright.finding import Finding
from hatchwright.layout.layout import Layout
from hatchwright.said import Listed, Said, inch, said
from hatchwright.shapes.profile import Loop

_ARROW_IN = 0.7


LEGEND = {
    Style.FINISHED: said("layout.finished"),
    Style.DIMENSION: said("layout.dimension"),
    Style.HIDDEN: said("layout.hidden"),
    Style.CENTER: said("layout.center"),
    Style.PHANTOM: said("layout.phantom"),
    Style.KEEP_OUT: said("layout.keep_out"),
}


def bay_sheet(layout: Layout, findings: Iterable[Finding], *, date: str) -> Sheet:
    """Draw the bay with tables, notes and marked short holes; the same sheet is printed and written for a machine."""
    judged, unit, page = tuple(findings), layout.job.unit, PageFrame(layout.frame)
    short = short_holes(judged, unit)
    return page.sheet(
        layout.job,
        said("layout.title"),
        _entities(layout, page, short),
        date=date,
        notes=_notes(layout, short),
        tables=(parts_table(layout), *hole_tables(layout, remarks(judged, unit)), *counts_table(judged)),
        legend=LEGEND,
    )


def bay_picture(layout: Layout, findings: Iterable[Finding]) -> Sheet:
    """The same ink in the same places, without the tables and notes of the layout drawing."""
    page, short = PageFrame(layout.frame), short_holes(findings, layout.job.unit)
    return page.sheet(layout.job, said("layout.title"), _entities(layout, page, short))


def _entities(layout: Layout, page: PageFrame, short: Sequence[ShortHoles]) -> Iterator[Ink]:
    yield from bay_ink(layout, short)
    shown = page.box(drawn_bounds(layout))
    yield from page.arrows((shown.left - 1.35, shown.bottom - 1.2), length_in=_ARROW_IN, height_in=SMALL_IN)
    yield from from_datum(layout, page)


def bay_ink(layout: Layout, short: Sequence[ShortHoles]) -> Iterator[Ink]:
    """Everything in the bay: structure, edges, holes, sizes and the origin."""
    page, bounds = PageFrame(layout.frame), drawn_bounds(layout)
    edges = tuple(layout_edges(layout, page))
    yield from structure(layout, page, bounds)
    yield from edges
    yield from damage(layout, page)
    loops = [edge.loop for edge in edges]
    sizes, strays = size_lines(layout, page, loops), tuple(stray_marks(layout, page, letter_in=NUMBER_IN))
    yield from strays
    marks = [part for part in strays if isinstance(part, Text)]
    yield from _holes(layout, page, short, loops, keep_off=[*sizes, *marks])
    yield from cross(page.point(*layout.center_in), CENTER_CROSS_IN, part="opening")
    yield from sizes
    yield from _origin(layout, page)


def layout_edges(layout: Layout, page: PageFrame) -> Iterator[Outline]:
    """Opening, rough cut, doubler, cover and plug."""
    doubler = layout.job.doubler
    behind = Style.HIDDEN if doubler and doubler.face == "inside" else Style.FINISHED
    drawn = {
        "skin": (Layer.OPENING, Style.FINISHED, "opening"),
        "doubler": (Layer.DOUBLER, behind, "doubler"),
        "cover": (Layer.COVER, Style.DIMENSION, "cover"),
        "plug": (Layer.PLUG, Style.DIMENSION, "patch.plug"),
    }
    for part in layout.parts:
        layer, style, path = drawn[part.name]
        for edge in part.edges:
            yield Outline(page.loop(edge.loop), layer, style, edge.name.replace(" ", "-"), path)
    if layout.rough_cut is not None:
        yield from outlines(
            page.profile(layout.rough_cut), Layer.ROUGH_CUT, Style.PHANTOM, "rough-cut", "cutter"
        )


def _holes(
    layout: Layout,
    page: PageFrame,
    short: Sequence[ShortHoles],
    edges: Sequence[Loop],
    *,
    keep_off: Iterable[Text] = (),
) -> Iterator[Ink]:
    """Circles, call-outs of the short ones, and numbers that keep clear of both and of other lettering."""
    ringed = {number for one in short for number in one.holes}
    at = {hole.number: page.point(hole.x_in, hole.y_in) for hole in layout.holes}
    called, hidden = call_outs(short, at, page.box(parts_bounds(layout)))
    hidden += (text.box() for text in keep_off)
    yield from hole_circles(layout, page, ringed)
    yield from called
    yield from hole_numbers(layout, page, short=ringed, keep_off=hidden, edges=edges).ink


def _origin(layout: Layout, page: PageFrame) -> Iterator[Ink]:
    """The origin with both axes named, where it is near."""
    if not origin_is_near(layout):
        return
    yield Circle((0.0, 0.0), 0.16, Layer.DIMENSION, Style.FINISHED, css="origin", part="frame")
    yield from cross((0.0, 0.0), 0.36, css="origin", part="frame")
    for words, angle in page.axes_deg():
        yield from arrow((0.0, 0.0), angle, words, 0.8, 0.1)


def _notes(layout: Layout, short: Sequence[ShortHoles]) -> Iterator[Said]:
    job, frame = layout.job, layout.frame
    yield said("layout.origin", origin=frame.origin, x=frame.x, y=frame.y)
    yield said("layout.mark")
    if job.cutter is not None and job.cutter.filing_allowance.inch:
        yield said("layout.rough_cut", left=inch(job.cutter.filing_allowance.inch))
    if job.as_made is not None:
        id = "layout.as_filed_and_drilled" if job.as_made.opening else "layout.as_drilled"
        drilled = sum(hole.is_made for hole in layout.holes)
        yield said(id, drilled=drilled, u=inch(job.as_made.greatest_u_in))
    if job.patch is not None:
        yield said("layout.damage")
    if layout.strays:
        yield said("layout.strays")
    if short:
        yield said("layout.ringed_worst" if len(short) > MOST_CALL_OUTS else "layout.ringed")
    if not origin_is_near(layout):
        yield said("layout.origin_beyond")
    if beyond := structure_beyond(layout, drawn_bounds(layout)):
        yield said("layout.beyond", names=Listed(beyond, ";"))
