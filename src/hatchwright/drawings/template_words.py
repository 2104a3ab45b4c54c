"""What is lettered and engraved on a template: side and face, arrows, what it is for, datum lines, check length."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from msgspec.structs import replace

from hatchwright.drawings.block import paragraph
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.flexed_template import bending_said
from hatchwright.drawings.ink import (
    BEFORE_POINT,
    LEAST_IN,
    Ink,
    Layer,
    Line,
    Point,
    Solid,
    Text,
    box_of,
    moved,
)
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.page_frame import PageFrame, aircraft_words, side_word
from hatchwright.drawings.plate_room import PlateRoom
from hatchwright.drawings.tidy import without_repeats
from hatchwright.drawings.waste_holes import waste_hole_marks
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout
from hatchwright.layout.sizes import is_round, size_of
from hatchwright.making.making import Making
from hatchwright.making.pins.pin_layout import PinLayout, planned_pins
from hatchwright.making.template.flat_size import flat_size
from hatchwright.making.template.part import TemplatePart, key_quarter, template_part
from hatchwright.making.template.stroke_letters import Mark, lettered
from hatchwright.said import Listed, Place, Said, inch, said
from hatchwright.units import MM_PER_IN, figure
from hatchwright.words.tell import tell

_HEIGHTS_IN = (0.14, 0.12, 0.1, 0.085, 0.07)
_BIG_HEIGHTS_IN = (0.4, 0.34, 0.28, 0.24, 0.2, 0.17)
_COLUMN_SHARES = (1.0, 0.75, 0.55, 0.4, 0.3, 0.2)
_LEAST_COLUMN_IN = 1.0
_LABEL_WITHIN_IN = 0.25
_NUMBER_WITHIN_IN = 0.12
_TICK_IN = 0.07
_AXIS_TICK_IN = 0.12
_PLUG_LINE_SHARE = 0.12


class TemplateWords:
    """A template with its lettering, put where there is metal to letter on.

    No word meets a hole, a cut edge, an engraved line or another word.
    """

    def __init__(self, making: Making, part: TemplatePart, *, date: str) -> None:
        self._room = PlateRoom(part.material, ((hole.center, hole.diameter_in) for hole in part.holes))
        self.ink: list[Ink] = []
        """Texts, arrows and engraved lines on its face, none of them on a cut layer."""
        self.left_off: list[str] = []
        """Words for which there is no room on it."""
        self._check: tuple[str, Box] | None = None
        page, whole = (
            PageFrame(making.layout.frame, template_stretch(making.layout)),
            Box(*part.material.bounds),
        )
        if making.is_window:
            self._check_length(making.layout, whole)
        lines = (*_center_lines(making, whole, page), *_axis_ticks(whole, page))
        self.ink += lines
        self._room.take(lines)
        self._room.take(mark for mark in waste_hole_marks(making, page) if isinstance(mark, Text))
        self._letter(making, part, page, date)

    def _check_length(self, layout: Layout, whole: Box) -> None:
        """A ticked line of a round length, the longest that finds room; center lines may cross it, words may not."""
        unit = layout.job.unit
        step_in, most = (1.0, 6) if unit == "in" else (50.0 / MM_PER_IN, 3)
        for count in range(most, 0, -1):
            length_in = count * step_in
            ticks = (Line(((x, -_TICK_IN), (x, _TICK_IN)), Layer.ENGRAVE) for x in (0.0, length_in))
            line = (Line(((0.0, 0.0), (length_in, 0.0)), Layer.ENGRAVE), *ticks)
            if self._found((line, _upright(line)), (whole.middle[0], whole.bottom)):
                box = box_of(self.ink)
                length = said("engraved.check_length", length=inch(length_in))
                self._check = tell(length, unit), box
                return
        self.left_off.append(tell(said("engraved.check_length_alone")))

    def _letter(self, making: Making, part: TemplatePart, page: PageFrame, date: str) -> None:
        """Put down everything, the gravest first."""
        whole = Box(*part.material.bounds)
        right, _ = key_quarter(page.frame)
        far, key = (whole.left, whole.right) if right > 0.0 else (whole.right, whole.left)
        side, face = side_word(making.layout.job), tell(said("engraved.face"))
        names = Listed(tuple(word for word, _ in page.angles_deg()), ",")
        self._put(f"{side} {face}", _side_and_face(side), [(far, whole.top)])
        self._put(tell(said("engraved.arrows", names=names)), _arrows(page), [(key, whole.top)])
        for words, places in _labels(making.layout, whole, page):
            self._put(words, [_text(words)], places, within_in=_LABEL_WITHIN_IN)
        if self._check:
            words, box = self._check
            ends = [(box.left + 0.1, box.top), (box.right, box.bottom + 0.1), (box.right, box.top)]
            label = _text(words) if box.width_in > box.height_in else _upright(_text(words))
            self._put(words, [label], ends, within_in=_LABEL_WITHIN_IN)
        self._number_pins(making, part)
        job = making.layout.job
        issue = tell(said("engraved.issue", revision=job.revision, date=date))
        self._put_lines((job.title, aircraft_words(job), issue), (whole.left, whole.bottom))
        purpose = [tell(one, making.unit) for one in purpose_said(making)]
        self._put_lines(purpose, (whole.right, whole.bottom))

    def _number_pins(self, making: Making, part: TemplatePart) -> None:
        """The numbers of the holes by which the plan of the pins calls them, each beside its hole."""
        numbers = numbers_of_pins(planned_pins(making))
        for hole in part.holes:
            kind, _, number = hole.name.rpartition(" ")
            if kind and number in numbers:
                near_in = 0.5 * hole.diameter_in + _NUMBER_WITHIN_IN
                sizes = [_text(number, height_in) for height_in in _HEIGHTS_IN[1:]]
                words = tell(said("engraved.pin_hole", number=number))
                self._put(words, sizes, [hole.center], within_in=near_in)

    def _put_lines(self, lines: Sequence[str], near: Point) -> None:
        """Put lines down together, or each by itself where they find no room together."""
        if not self._found(_columns(lines), near):
            for line in lines:
                self._put(line, _columns((line,)), [near])

    def _put(
        self,
        words: str,
        variants: Iterable[tuple[Ink, ...]],
        places: Iterable[Point],
        *,
        within_in: float = math.inf,
    ) -> None:
        """Put ink down by the first of several places that has room, or note its words as left off."""
        tried = tuple(variants)
        if not any(self._found(tried, place, within_in) for place in places):
            self.left_off.append(words)

    def _found(self, variants: Iterable[tuple[Ink, ...]], near: Point, within_in: float = math.inf) -> bool:
        put = self._room.put(variants, near=near, within_in=within_in)
        self.ink += put
        return bool(put)


def numbers_of_pins(pins: PinLayout | None) -> frozenset[str]:
    """The numbers of the holes of the job that hold in some stage, none without a plan."""
    if pins is None or pins.plan is None:
        return frozenset()
    held = (pins.pins[index].hole for stage in pins.plan.stages for index in stage.pins)
    return frozenset(str(hole) for hole in held if hole is not None)


def purpose_said(making: Making) -> tuple[Said, ...]:
    """What a template is for, and what is in it, line by line."""
    guide, bend = making.chain.guide, bending_said(making.layout)
    edge = "window" if making.is_window else "plug"
    corner, bounds = making.chain.machinable_corner, making.chain.machinable.bounds
    size: Said = size_of(bounds)
    if bend:
        flat = size_of((0.0, 0.0, *flat_size(making)))
        size = said("engraved.flat_and_bent", flat=flat, bent=size)
    material, thick = making.template.material, inch(making.template.thickness.inch)
    sheet = said("engraved.of_material", material=material, thick=thick) if material else None
    made_of = sheet or said("engraved.of_thickness", thick=thick)
    if corner is None:
        of_edge = said(f"engraved.{edge}", size=size, made_of=made_of)
    elif is_round(bounds, corner) and not bend:
        across = inch(bounds[2] - bounds[0])
        of_edge = said(f"engraved.{edge}_round", across=across, made_of=made_of)
    elif corner.radius_in > LEAST_IN:
        radius = inch(corner.radius_in, fine=True)
        of_edge = said(f"engraved.{edge}_with_radius", size=size, radius=radius, made_of=made_of)
    else:
        of_edge = said(f"engraved.{edge}_square", size=size, made_of=made_of)
    for_guide = said(
        f"engraved.for_guide_of_{edge}",
        guide=inch(guide.guide_in),
        cut=inch(guide.cut_in),
        offset=inch(guide.offset_in, fine=True),
    )
    center = Place(*making.layout.center_in)
    from_origin = said("engraved.center", center=center, origin=making.layout.frame.origin)
    return (*((bend,) if bend else ()), of_edge, for_guide, from_origin)


def _text(words: str, height_in: float = 0.09, *, bold: bool = False) -> tuple[Ink, ...]:
    return (Text((0.0, 0.0), words, height_in, bold=bold),)


def _upright(ink: Iterable[Ink]) -> tuple[Ink, ...]:
    """Texts and lines turned to be read from the right, running up the template."""
    turned: list[Ink] = []
    for part in ink:
        if isinstance(part, Text):
            turned.append(replace(part, at=(-part.at[1], part.at[0]), angle_deg=90.0))
        elif isinstance(part, Line):
            turned.append(replace(part, points=tuple((-y, x) for x, y in part.points)))
    return tuple(turned)


def _side_and_face(side: str) -> Iterator[tuple[Ink, ...]]:
    """LEFT or RIGHT with the face that lies out below it; in one line where there is less room."""
    face = tell(said("engraved.face"))
    stacked = [
        (*_text(side, big_in, bold=True), Text((0.0, -0.9 * big_in), face, 0.45 * big_in, bold=True))
        for big_in in _BIG_HEIGHTS_IN
    ]
    lines = [_text(f"{side}  {face}", height_in, bold=True) for height_in in _HEIGHTS_IN]
    for ink in (*stacked, *lines):
        yield ink
        yield _upright(ink)


def _arrows(page: PageFrame) -> Iterator[tuple[Ink, ...]]:
    """Both direction arrows from one tail."""
    ink = tuple(page.arrows((0.0, 0.0), length_in=0.6, height_in=0.12))
    return (moved(ink, right_in=0.0, up_in=0.0, scale_ratio=scale) for scale in (1.0, 0.85, 0.7, 0.6))


def _columns(lines: Sequence[str]) -> Iterator[tuple[Ink, ...]]:
    """Lines as large as there is room for, level or upright, broken to narrower columns but never within a word."""
    for height_in in _HEIGHTS_IN:
        longest_in = _widest_in(lines, height_in)
        least_in = min(
            longest_in, max(_LEAST_COLUMN_IN, 1.01 * _widest_in(" ".join(lines).split(), height_in))
        )
        widths = {max(share * longest_in, least_in) for share in _COLUMN_SHARES}
        columns = [
            paragraph(lines, width_in=width_in, height_in=height_in).parts
            for width_in in sorted(widths, reverse=True)
        ]
        yield from columns
        yield from map(_upright, columns)


def _widest_in(texts: Iterable[str], height_in: float) -> float:
    return max((text_width_in(words, height_in=height_in) for words in texts), default=0.0)


def _center_lines(making: Making, whole: Box, page: PageFrame) -> Iterator[Line]:
    """The center lines of the opening at all four edges, to be laid on the pencil lines on the skin."""
    x, y = page.point(*making.layout.center_in)
    edge = page.box(making.chain.machinable.bounds)
    if not making.is_window:
        edge = edge.grown(-_PLUG_LINE_SHARE * min(edge.width_in, edge.height_in))
    for start, end in ((whole.top, edge.top), (whole.bottom, edge.bottom)):
        yield Line(((x, start), (x, end)), Layer.ENGRAVE)
    for start, end in ((whole.right, edge.right), (whole.left, edge.left)):
        yield Line(((start, y), (end, y)), Layer.ENGRAVE)


def _axis_ticks(whole: Box, page: PageFrame) -> Iterator[Line]:
    """The ends of the job's own axes where they run over the template away from its center lines."""
    x, y = page.point(0.0, 0.0)
    if whole.left < x < whole.right:
        for edge, way in ((whole.top, -_AXIS_TICK_IN), (whole.bottom, _AXIS_TICK_IN)):
            yield Line(((x, edge), (x, edge + way)), Layer.ENGRAVE)
    if whole.bottom < y < whole.top:
        for edge, way in ((whole.left, _AXIS_TICK_IN), (whole.right, -_AXIS_TICK_IN)):
            yield Line(((edge, y), (edge + way, y)), Layer.ENGRAVE)


def _labels(layout: Layout, whole: Box, page: PageFrame) -> Iterator[tuple[str, list[Point]]]:
    """The words beside each center line and axis, with the ends of the line where they may stand."""
    unit, (x, y) = layout.job.unit, page.point(*layout.center_in)
    names, values = (
        (("X", "Y"), layout.center_in) if page.x_is_level else (("Y", "X"), layout.center_in[::-1])
    )
    yield f"{names[0]} {figure(values[0], unit)}", [(x, whole.top), (x, whole.bottom)]
    yield f"{names[1]} {figure(values[1], unit)}", [(whole.left, y), (whole.right, y)]
    x_0, y_0 = page.point(0.0, 0.0)
    if x != x_0 and whole.left < x_0 < whole.right:
        yield f"{names[0]} 0", [(x_0, whole.top), (x_0, whole.bottom)]
    if y != y_0 and whole.bottom < y_0 < whole.top:
        yield f"{names[1]} 0", [(whole.left, y_0), (whole.right, y_0)]


def template_engraving(making: Making, *, date: str) -> tuple[Mark, ...]:
    """The marks on the face of a template that lies out, where the drawing has them [in]."""
    words = TemplateWords(making, template_part(making), date=date)
    return tuple(mark for part in without_repeats(words.ink) for mark in _marks(part))


def _marks(part: Ink) -> Iterator[Mark]:
    match part:
        case Line():
            yield part.points
        case Solid():
            yield (*part.points, part.points[0])
        case Text():
            back_in, angle = BEFORE_POINT[part.anchor] * part.width_in, math.radians(part.angle_deg)
            yield from lettered(
                part.words,
                at=(part.at[0] - back_in * math.cos(angle), part.at[1] - back_in * math.sin(angle)),
                width_in=part.width_in,
                height_in=part.height_in,
                angle_deg=part.angle_deg,
            )
