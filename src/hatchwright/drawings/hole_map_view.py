"""The hole map of the carry card: the holes from both datums, on one side of paper at a standard scale.

It is drawn at the size at which it is printed; its lines and letters are never scaled.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from msgspec import Struct

from hatchwright.drawings.block import legend_block, paragraph
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.damage import damage
from hatchwright.drawings.hole_map_bay import bay_ink, beyond, named_lines
from hatchwright.drawings.hole_map_edges import map_edges
from hatchwright.drawings.hole_map_holes import base_screws, hole_places, map_holes, map_numbers
from hatchwright.drawings.hole_map_names import Key, edge_names, line_names
from hatchwright.drawings.hole_map_numbers import FirstHoles, first_holes, numbered_holes
from hatchwright.drawings.hole_map_window import (
    LETTER_IN,
    Extent,
    MapWindow,
    boxes_of,
    broken_distances,
    datum_lines,
    map_window,
    origin_ink,
)
from hatchwright.drawings.hole_marks import call_outs
from hatchwright.drawings.ink import Ink, Line, Point, Solid, Style, Text, box_of, moved
from hatchwright.drawings.page_frame import PageFrame, side_word
from hatchwright.drawings.scale import Scale, scales
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.short_holes import ShortHoles, short_holes
from hatchwright.drawings.stray_marks import stray_marks
from hatchwright.errors import ExportError
from hatchwright.finding import Finding
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.layout import Layout
from hatchwright.recipe.recipe import Recipe
from hatchwright.said import Listed, Said, said
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

ROOM_IN = (7.2, 8.3)
"""Width and height that the map may take below the head of the card, on Letter and on A4 [in]."""

_EXTENTS: tuple[Extent, ...] = ("bay", "origin", "parts")
_MOST_LEFT_OUT = 20
_ROSE_IN = 1.5
_GAP_IN = 0.12
_LEGEND = {
    Style.FINISHED: said("hole_map.finished"),
    Style.DIMENSION: said("hole_map.dimension"),
    Style.HIDDEN: said("hole_map.hidden"),
    Style.CENTER: said("hole_map.center"),
    Style.PHANTOM: said("hole_map.phantom"),
    Style.KEEP_OUT: said("layout.keep_out"),
}


class HoleMap(Struct, frozen=True):
    """A hole map at the size at which it is printed.

    Args:
        sheet: its ink; one inch of the page is one inch on paper.
        alt: what it shows, for who cannot see it.
    """

    sheet: Sheet
    scale: Scale
    alt: str


def hole_map(layout: Layout, findings: Iterable[Finding], recipe: Recipe | None = None) -> HoleMap:
    """Draw the map at the largest standard scale at which it fits `ROOM_IN`, with as much of the bay as fits too.

    Args:
        recipe: of the job, whose steps name holes and say which come first; None where nothing is said of order.
    """
    judged = tuple(findings)
    short, first = short_holes(judged, layout.job.unit), first_holes(layout, recipe)
    some, marks = numbered_holes(layout, judged, recipe), first.marks()
    for scale in scales(layout.job.drawing.standard_in(layout.job.unit)):
        page = PageFrame(layout.frame, scale=scale)
        shown = [hole.number for hole in layout.holes if scale.is_full or hole.number in some | marks.keys()]
        words = {number: f"{number}-{marks[number]}" if number in marks else str(number) for number in shown}
        notes = tuple(_notes(layout, scale, short, first, is_whole=len(shown) == len(layout.holes)))
        for extent in _EXTENTS:
            window = map_window(layout, page, extent)
            if window is None or not _may_fit(window):
                continue
            ink = _ink(layout, window, short, words, notes)
            box = box_of(ink)
            if box.width_in <= ROOM_IN[0] and box.height_in <= ROOM_IN[1]:
                sheet = page.sheet(layout.job, said("layout.hole_map"), ink)
                alt = tell(in_words_of(layout.job.kind, _alt(layout, short, page)), layout.job.unit)
                return HoleMap(sheet, scale, alt)
    raise ExportError.saying("error.no_room_on_page", where=tell(said("layout.hole_map")))


def _may_fit(window: MapWindow) -> bool:
    """Whether the window alone fits; what stands round it is seen when it is drawn."""
    box = window.box
    return box.width_in <= ROOM_IN[0] and box.height_in <= ROOM_IN[1]


def _ink(
    layout: Layout,
    window: MapWindow,
    short: Sequence[ShortHoles],
    words: dict[int, str],
    notes: Sequence[Said],
) -> tuple[Ink, ...]:
    """The map with its notes below it.

    Args:
        words: what stands beside some holes, by number.
        notes: what is said below it, before what the map itself has no room for.
    """
    page = window.page
    edges, names = map_edges(layout, page)
    ringed = {number for one in short for number in one.holes}
    at = hole_places(layout, page)
    called, hidden = call_outs(short, at, window.ring)
    loops = [edge.loop for edge in edges]
    datum = (*origin_ink(window, loops, at.values()), *broken_distances(window, layout))
    base = (*base_screws(layout, page), *stray_marks(layout, page, letter_in=LETTER_IN))
    taken = [*hidden, *boxes_of((*datum, *base))]
    bay, datums, hurt = (
        tuple(bay_ink(layout, window)),
        tuple(datum_lines(window)),
        tuple(damage(layout, page)),
    )
    lines = [
        ends
        for line in (*bay, *datums, *hurt)
        if line.style is not Style.KEEP_OUT
        for ends in _straights(line)
    ]
    numbers = map_numbers(at, words, ringed=ringed, keep_off=taken, edges=loops, lines=lines)
    taken += (part.box() for part in numbers.ink)
    rows, keys = line_names(tuple(named_lines(layout, window)), window.box, window.ring.grown(0.05), taken)
    taken += (Box(*place, *place).grown(0.07) for place in at.values())
    named = tuple(edge_names(names, window.box, taken, loops))
    drawn: tuple[Ink, ...] = (
        *bay,
        *datums,
        *edges,
        *hurt,
        *map_holes(layout, page, ringed),
        *base,
        *called,
        *numbers.ink,
        *rows,
        *named,
        *datum,
    )
    if numbers.left_out:
        left_out = tuple(words[number] for number in numbers.left_out)
        told = (
            said("hole_map.no_room", numbers=Listed(left_out, ","))
            if len(left_out) <= _MOST_LEFT_OUT
            else said("hole_map.no_room_many", n=len(left_out))
        )
        notes = (*notes, told)
    return (*drawn, *_below(layout, window, drawn, notes, keys))


def _straights(part: Ink) -> Iterator[tuple[Point, Point]]:
    """The straight lines of ink that is one."""
    return pairwise(part.points) if isinstance(part, Line) else iter(())


def _below(
    layout: Layout, window: MapWindow, drawn: Sequence[Ink], notes: Sequence[Said], keys: Sequence[Key]
) -> Iterator[Ink]:
    """Direction arrows and notes, side by side below the map."""
    box, kind, unit = box_of(drawn), layout.job.kind, layout.job.unit
    top = box.bottom - _GAP_IN
    rose = tuple(window.page.arrows((0.0, 0.0), length_in=0.5, height_in=LETTER_IN))
    of_rose = box_of(rose)
    left = box.left + 0.5 * (_ROSE_IN - of_rose.width_in)
    yield from moved(rose, right_in=left - of_rose.left, up_in=top - of_rose.top)
    told = [tell(in_words_of(kind, note), unit) for note in notes]
    told += [tell(said("hole_map.key", letter=key.letter, words=key.words), unit) for key in keys]
    if off := beyond(layout, window):
        told.append(tell(said("hole_map.beyond", names=Listed(off, ";")), unit))
    across = ROOM_IN[0] - _ROSE_IN
    text = paragraph(told, width_in=across, height_in=LETTER_IN)
    yield from text.at(box.left + _ROSE_IN, top)
    used = {part.style for part in drawn if not isinstance(part, Solid | Text)}
    meanings = [
        (style, tell(in_words_of(kind, meaning))) for style, meaning in _LEGEND.items() if style in used
    ]
    legend = legend_block(meanings, width_in=ROOM_IN[0], height_in=LETTER_IN)
    yield from legend.at(box.left, top - max(text.height_in, of_rose.height_in) - _GAP_IN)


def _notes(
    layout: Layout, scale: Scale, short: Sequence[ShortHoles], first: FirstHoles, *, is_whole: bool
) -> Iterator[Said]:
    """What the map says of itself: where it is measured from, which holes it numbers, and which come first."""
    yield said("hole_map.scale", scale=scale.words)
    if is_whole:
        yield said("hole_map.all_numbered")
    if first.drilled:
        yield said("hole_map.drill_first", n=len(first.drilled))
    if first.riveted:
        yield said("hole_map.rivet_first", n=len(first.riveted))
    if short:
        yield said("hole_map.ringed")
    if base_screw_holes(layout):
        yield said("hole_map.base")
    if layout.strays:
        yield said("hole_map.strays")
    if layout.job.patch is not None:
        yield said("hole_map.damage")


def _alt(layout: Layout, short: Sequence[ShortHoles], page: PageFrame) -> Said:
    """What it shows, for who cannot see it."""
    (first, first_deg), (second, second_deg) = page.angles_deg()
    (x, x_deg), (y, y_deg) = page.axes_deg()
    ways = Listed(
        tuple(
            said("hole_map.alt_way", word=word, way=said(f"hole_map.way.{round(angle) % 360}"))
            for word, angle in ((first, first_deg), (second, second_deg), (x, x_deg), (y, y_deg))
        ),
        ",",
    )
    held = sorted({str(number) for one in short for number in one.holes}, key=int)
    return said(
        "hole_map.alt_short" if held else "hole_map.alt",
        side=side_word(layout.job),
        view=said(f"view.{layout.job.aircraft.surface}"),
        ways=ways,
        rivets=len(layout.holes_of("rivet")),
        screws=len(layout.holes_of("screw")),
        short=Listed(tuple(held), ","),
    )
