"""The layout at true size: what is laid on the skin and marked through, and nothing that is only measured from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from msgspec.structs import replace

from hatchwright.drawings.bay_structure import Band, bands, existing_fasteners, parts_bounds
from hatchwright.drawings.bay_view import LEGEND, layout_edges
from hatchwright.drawings.boxes import Box, sides_of
from hatchwright.drawings.damage import damage
from hatchwright.drawings.hole_marks import HoleNumbers, hole_circles, hole_numbers
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Outline, Point, Style, Text
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.short_holes import short_holes
from hatchwright.drawings.size_lines import size_lines, size_words
from hatchwright.drawings.traces import traced
from hatchwright.finding import Finding
from hatchwright.layout.layout import Layout
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_KEPT_OFF = frozenset(("center-line", "damage"))
_AROUND_IN = 0.08
_NAME_IN, _LETTER_IN = 0.09, 0.12
_CLEAR_IN = 0.04
_STEP_IN = 0.1
_BESIDE_IN = 0.06
_LEAST_ACROSS_RATIO = 1.9


def true_size_sheet(layout: Layout, findings: Iterable[Finding], *, date: str) -> Sheet:
    """Draw the new parts with their numbered holes, the center lines that the sheet is laid down by, and what of the
    bay reaches in among them; origin and datums are given in words."""
    page, short = PageFrame(layout.frame), short_holes(findings, layout.job.unit)
    ringed = {number for one in short for number in one.holes}
    x_from, y_from, x_to, y_to = parts_bounds(layout)
    bounds = x_from - _AROUND_IN, y_from - _AROUND_IN, x_to + _AROUND_IN, y_to + _AROUND_IN
    found = tuple(bands(layout, page, bounds))
    edges = tuple(layout_edges(layout, page))
    loops = [edge.loop for edge in edges]
    sizes = size_lines(layout, page, loops)
    drawn = (
        *edges,
        *damage(layout, page),
        *existing_fasteners(layout, page, bounds),
        *hole_circles(layout, page, ringed),
        *sizes,
        *_center_lines(layout, page, page.box(bounds)),
    )
    names, letters = _names(found, drawn, layout.job.unit)
    lettered = (*drawn, *names)
    numbers = hole_numbers(
        layout,
        page,
        short=ringed,
        keep_off=[part.box() for part in lettered if isinstance(part, Text)],
        edges=loops,
        lines=[
            *_kept_off(drawn),
            *(side for band in found if not band.is_row for side in pairwise(band.box.corners)),
        ],
    )
    ink = (*(part for band in found for part in band.ink()), *lettered, *numbers.ink)
    notes = _notes(layout, numbers, is_ringed=bool(ringed), is_sized=bool(sizes), letters=letters)
    return page.sheet(layout.job, said("layout.title"), ink, date=date, notes=notes, legend=LEGEND)


def _kept_off(drawn: Iterable[Ink]) -> Iterator[tuple[Point, Point]]:
    """The lines that no number lies on; those of rows and hatching stop before a number instead."""
    for part in drawn:
        if isinstance(part, Line) and part.css in _KEPT_OFF:
            yield from pairwise(part.points)


def _center_lines(layout: Layout, page: PageFrame, whole: Box) -> Iterator[Ink]:
    """Both center lines of the opening from end to end, to be laid on the pencil lines on the skin."""
    x, y = page.point(*layout.center_in)
    yield Line(((x, whole.bottom), (x, whole.top)), Layer.STRUCTURE, Style.CENTER, "center-line", "opening")
    yield Line(((whole.left, y), (whole.right, y)), Layer.STRUCTURE, Style.CENTER, "center-line", "opening")


def _names(
    found: Sequence[Band], drawn: Sequence[Ink], unit: Unit
) -> tuple[tuple[Text, ...], tuple[Said, ...]]:
    """The name of each band where it meets nothing that is drawn, or a letter; and what the letters stand for."""
    edges = (part for band in found for part in band.ink() if isinstance(part, Outline))
    taken = traced((*drawn, *edges))
    texts: list[Text] = []
    letters: list[Said] = []
    for band in found:
        name = tell(band.called, unit)
        letter = chr(ord("A") + len(letters) % 26)
        for words in (name, letter):
            tried = list(_name_places(band, words))
            clear = taken.is_clear(sides_of(text.box().grown(_CLEAR_IN) for text in tried)) if tried else []
            if any(clear):
                texts.append(tried[clear.index(True)])
                taken = taken.beside(traced(texts[-1:]))
                break
        if words == letter:
            letters.append(said("true_size.letter", letter=letter, name=name))
    return tuple(texts), tuple(letters)


def _name_places(band: Band, words: str) -> Iterator[Text]:
    """Places of a name along a band, from its middle outward, read from below or from the right; of a letter beside a
    band that is too narrow for it."""
    box = band.box
    is_upright = box.height_in > box.width_in
    is_letter = len(words) == 1
    name = Text((0.0, 0.0), words, _LETTER_IN if is_letter else _NAME_IN, bold=is_letter)
    across_in, along_in = (box.width_in, box.height_in) if is_upright else (box.height_in, box.width_in)
    is_within = across_in == 0.0 or across_in >= _LEAST_ACROSS_RATIO * name.height_in
    if name.width_in > along_in or not (is_within or is_letter):
        return
    x, y = box.middle
    beside_in = 0.5 * (across_in + name.height_in) + _BESIDE_IN
    steps = int(0.5 * (along_in - name.width_in) / _STEP_IN)
    angle_deg = 90.0 if is_upright and not is_letter else 0.0
    right, up = (0.5 * name.height_in, 0.0) if angle_deg else (0.0, -0.5 * name.height_in)
    for across in (0.0,) if is_within else (beside_in, -beside_in):
        for along in sorted((step * _STEP_IN for step in range(-steps, steps + 1)), key=abs):
            off = (across, along) if is_upright else (along, across)
            at = (x + right + off[0], y + up + off[1])
            yield replace(name, at=at, anchor=Anchor.MIDDLE, angle_deg=angle_deg, css="name")


def _notes(
    layout: Layout, numbers: HoleNumbers, *, is_ringed: bool, is_sized: bool, letters: tuple[Said, ...]
) -> Iterator[Value]:
    """How the sheet is laid down, what bears no name, which holes are ringed or bear no number, what is elsewhere."""
    frame, (x, y) = layout.frame, layout.center_in
    yield said("true_size.lay", x=inch(x), y=inch(y), origin=frame.origin)
    if not is_sized:
        yield Listed(tuple(size_words(layout)), ";")
    if letters:
        yield said("true_size.letters", names=Listed(letters, ";"))
    if is_ringed:
        yield said("true_size.ringed")
    if numbers.is_thinned:
        yield said("true_size.every_fifth")
    elif numbers.left_out:
        yield said("true_size.no_number", n=len(numbers.left_out))
    yield said("true_size.elsewhere")
