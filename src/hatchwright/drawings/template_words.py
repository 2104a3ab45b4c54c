"""What is lettered and engraved on a template: side and face, arrows, what it is for, datum lines, check length."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from hatchwright.drawings.figures import Unit, figure, size_words, unit_of
from hatchwright.drawings.ink import LEAST_IN
from hatchwright.drawings.lettering import fitted
from hatchwright.drawings.page_frame import PageFrame, aircraft_words, side_word
from hatchwright.drawings.sheet import Anchor, Arrow, Box, Entity, Layer, Line, Text, box_of, moved, paragraph
from hatchwright.drawings.template_plate import key_quarter, middle
from hatchwright.layout.layout import Layout
from hatchwright.shapes.corners import smallest_corner
from hatchwright.tooling.guide_template import GuideChain
from hatchwright.units import MM_PER_IN

FACE = "THIS SIDE OUT"
"""Says which face lies away from the skin; it reads the right way round on that face only."""

_PAD_IN = 0.15
_CLOSE_IN = 0.08
_HEIGHTS_IN = (0.14, 0.12, 0.1, 0.085, 0.07)
_BIG_IN = 0.4
_NARROW_IN = 0.35
_ROOM_IN = 0.65
_LABEL_IN = 0.09
_TICK_IN = 0.07
_CHECK_STRIP_IN = 0.34
_CENTRE_SHARE = 0.12
_PLUG_SHARES = (0.38, 0.30)
_KEY_CLEAR = 0.28


def window_words(
    layout: Layout, chain: GuideChain, plate: Box, page: PageFrame, *, kept_free: Box, date: str
) -> Iterator[Entity]:
    """Letter the border of a window: side and arrows above it, what it is for below.

    Words keep off the pilot holes where the border leaves room for them; else they keep off the window only.

    Args:
        layout: as derived.
        chain: its template.
        plate: the plate on the page [in].
        page: its page.
        kept_free: the window with the pilot holes round it [in].
        date: date and time as they are to be read.
    Yields:
        Entity: texts, arrows and engraved lines, none of them on a cut layer.
    """
    window = page.box(chain.machinable.bounds)
    (x, _), (right, _) = middle(plate), key_quarter(page)
    upper = Box(plate.left, kept_free.top, plate.right, plate.top)
    if upper.height_in < _ROOM_IN:
        upper = upper._replace(bottom=window.top)
    lower = Box(plate.left, plate.bottom, plate.right, window.bottom)
    halves = _halves(upper, x)
    yield from _side_and_face(layout, halves[0 if right > 0.0 else 1])
    yield from _arrows(page, halves[1 if right > 0.0 else 0])
    check = _check_length(layout, lower)
    yield from check
    clear = lower._replace(bottom=lower.bottom + (_CHECK_STRIP_IN if check else 0.0))
    free, beside = clear._replace(top=kept_free.bottom), clear._replace(top=middle(window)[1])
    sides = beside._replace(right=kept_free.left), beside._replace(left=kept_free.right)
    for column, lines in enumerate((identity_lines(layout, date), purpose_lines(layout, chain))):
        for words in (
            _lettered(_halves(free, x)[column], lines),
            _lettered_upright(sides[column], lines),
            _lettered(_halves(clear, x)[column], lines),
        ):
            found = list(words)
            yield from found
            if found:
                break
    yield from _centre_lines(layout, plate, plate.top - window.top, page)


def plug_words(layout: Layout, chain: GuideChain, page: PageFrame, *, date: str) -> Iterator[Entity]:
    """Letter the middle of a plug, its key hole kept free.

    Args:
        layout: as derived.
        chain: its template.
        page: its page.
        date: date and time as they are to be read.
    Yields:
        Entity: texts, arrows and engraved lines, none of them on a cut layer.
    """
    plug = page.box(chain.machinable.bounds)
    text, words, arrows = _plug_rooms(plug, page)
    yield from _side_and_face(layout, words)
    yield from _arrows(page, arrows)
    yield from _lettered(text, (*identity_lines(layout, date), *purpose_lines(layout, chain)))
    yield from _centre_lines(layout, plug, _CENTRE_SHARE * min(plug.width_in, plug.height_in), page)


def identity_lines(layout: Layout, date: str) -> tuple[str, ...]:
    """Which job a template belongs to.

    Args:
        layout: as derived.
        date: date and time as they are to be read.
    Returns:
        tuple[str, ...]: lines to letter.
    """
    job = layout.job
    return job.title, aircraft_words(job), f"REVISION {job.revision}, {date}"


def purpose_lines(layout: Layout, chain: GuideChain) -> tuple[str, ...]:
    """What a template is for, and what is in it.

    Args:
        layout: as derived.
        chain: its template.
    Returns:
        tuple[str, ...]: lines to letter.
    """
    template, guide, unit = layout.job.template, chain.guide, unit_of(layout.job)
    assert template is not None  # a chain comes from a template
    word = "WINDOW" if guide.kind == "female" else "PLUG"
    material = f"{template.material} " if template.material else ""
    side = "OUTSIDE" if guide.kind == "female" else "INSIDE"
    return (
        f"{word} {size_words(chain.machinable.bounds, unit)}{_least_corner_words(chain, unit)}; "
        f"{material}{figure(template.thickness.inch, unit)} thick",
        f"FOR GUIDE {figure(guide.guide_in, unit)} AND CUT {figure(guide.cut_in, unit)} ONLY: OFFSET "
        f"{figure(guide.offset_in, unit, fine=True)} {side} THE ROUGH CUT IS IN IT",
        f"CENTRE X {figure(layout.centre_in[0], unit)}, Y {figure(layout.centre_in[1], unit)} FROM "
        f"{layout.frame.origin}",
    )


def _least_corner_words(chain: GuideChain, unit: Unit) -> str:
    radii = [corner.radius_in for loop in chain.machinable.loops if (corner := smallest_corner(loop))]
    if not radii:
        return ""
    return f", LEAST R {figure(min(radii), unit, fine=True)}" if min(radii) > LEAST_IN else ", SQUARE CORNERS"


def _halves(box: Box, x: float) -> tuple[Box, Box]:
    """The left and right half of a box, padded on every side."""
    top, bottom = box.top - _PAD_IN, box.bottom + _PAD_IN
    return Box(box.left + _PAD_IN, bottom, x - _PAD_IN, top), Box(
        x + _PAD_IN, bottom, box.right - _PAD_IN, top
    )


def _plug_rooms(plug: Box, page: PageFrame) -> tuple[Box, Box, Box]:
    """Rooms for text, words and arrows, from the far end of a plug to its key hole."""
    (x, y), (right, up) = middle(plug), key_quarter(page)
    long, short = _PLUG_SHARES
    if plug.width_in > plug.height_in:
        half = short * plug.height_in
        ends = sorted((x - right * long * plug.width_in, x))
        text = Box(ends[0], y - half, ends[1] - _PAD_IN, y + half)
        ends = sorted((x, x + right * _KEY_CLEAR * plug.width_in))
        rest = Box(ends[0], y - half, ends[1], y + half)
    else:
        half = short * plug.width_in
        ends = sorted((y - up * long * plug.height_in, y))
        text = Box(x - half, ends[0], x + half, ends[1] - _PAD_IN)
        ends = sorted((y, y + up * _KEY_CLEAR * plug.height_in))
        rest = Box(x - half, ends[0], x + half, ends[1])
    level = 0.5 * (rest.bottom + rest.top)
    return text, rest._replace(bottom=level), rest._replace(top=level - 0.5 * _PAD_IN)


def _side_and_face(layout: Layout, room: Box) -> Iterator[Entity]:
    """LEFT or RIGHT as large as it goes, and which face lies out; in one line where the border is narrow."""
    side, high = side_word(layout.job), room.height_in
    if high < _NARROW_IN:
        yield _bold(f"{side}  {FACE}", room, top=room.top, height_in=max(high, _HEIGHTS_IN[-1]))
        return
    big_in = min(_BIG_IN, 0.5 * high)
    yield _bold(side, room, top=room.top, height_in=big_in)
    yield _bold(FACE, room, top=room.top - 1.4 * big_in, height_in=min(0.18, 0.25 * high))


def _bold(words: str, room: Box, *, top: float, height_in: float) -> Text:
    width_in = max(room.width_in, 1.0)
    shown, height = fitted(
        words, height_in=height_in, width_in=width_in, least_height_in=_HEIGHTS_IN[-1], bold=True
    )
    return Text((room.left, top - height), shown, height, bold=True)


def _arrows(page: PageFrame, room: Box) -> Iterator[Entity]:
    """Both direction arrows, made to fit the middle of a room."""
    ink = [
        part for words, angle in page.angles_deg() for part in Arrow((0.0, 0.0), angle, words, 0.6).parts()
    ]
    box = box_of(ink)
    scale = max(min(1.0, room.width_in / box.width_in, room.height_in / box.height_in), 0.3)
    (x, y), (across, up) = middle(room), middle(box)
    yield from moved(ink, right_in=x - scale * across, up_in=y - scale * up, scale_ratio=scale)


def _lettered(room: Box, lines: Sequence[str]) -> Iterator[Entity]:
    """Lines as large as the room allows; nothing when they would be too small to read, for the notes say it too."""
    for height in _HEIGHTS_IN if room.width_in > 1.0 else ():
        block = paragraph(lines, width_in=room.width_in, height_in=height)
        if block.height_in <= room.height_in:
            yield from block.at(room.left, room.top)
            return


def _lettered_upright(room: Box, lines: Sequence[str]) -> Iterator[Entity]:
    """The same, read from the right; the lines run up the room."""
    long_in, wide_in = room.height_in - 2.0 * _CLOSE_IN, room.width_in - 2.0 * _CLOSE_IN
    for height in _HEIGHTS_IN if long_in > 1.0 else ():
        block = paragraph(lines, width_in=long_in, height_in=height)
        if block.height_in <= wide_in:
            for part in block.at(0.0, 0.0):
                assert isinstance(part, Text)  # a paragraph is nothing else
                at = (room.left + _CLOSE_IN - part.at[1], room.bottom + _CLOSE_IN + part.at[0])
                yield replace(part, at=at, angle_deg=90.0)
            return


def _check_length(layout: Layout, strip: Box) -> tuple[Entity, ...]:
    """A line of a round length that shows whether the plate was cut to size, in the middle of a strip."""
    step_in, word = (1.0, "in") if unit_of(layout.job) == "in" else (50.0 / MM_PER_IN, "mm")
    count = int((strip.width_in - 2.0 * _PAD_IN) / step_in)
    if strip.height_in < _CHECK_STRIP_IN + 0.1 or count < 1:
        return ()
    length_in = min(count, 6 if word == "in" else 2) * step_in
    (x, _), y = middle(strip), strip.bottom + _PAD_IN
    left, right = x - 0.5 * length_in, x + 0.5 * length_in
    words = f"CHECK LENGTH {figure(length_in, unit_of(layout.job))} {word}"
    return (
        Line(((left, y), (right, y)), Layer.ENGRAVE),
        *(Line(((end, y - _TICK_IN), (end, y + _TICK_IN)), Layer.ENGRAVE) for end in (left, right)),
        Text((left + 0.1, y + 0.06), words, _LABEL_IN),
    )


def _centre_lines(layout: Layout, part: Box, length_in: float, page: PageFrame) -> Iterator[Entity]:
    """The centre lines of the opening at all four edges, to be laid on the pencil lines on the skin.

    Where the job's own axes run over the part, their ends are ticked at its edges.
    """
    unit = unit_of(layout.job)
    x, y = page.point(*layout.centre_in)
    names = ("X", "Y") if page.x_is_level else ("Y", "X")
    values = layout.centre_in if page.x_is_level else layout.centre_in[::-1]
    for edge, way in ((part.top, -1.0), (part.bottom, 1.0)):
        yield Line(((x, edge), (x, edge + way * length_in)), Layer.ENGRAVE)
    for edge, way in ((part.right, -1.0), (part.left, 1.0)):
        yield Line(((edge, y), (edge + way * length_in, y)), Layer.ENGRAVE)
    yield Text(
        (x + _CLOSE_IN, part.top - length_in + 0.05), f"{names[0]} {figure(values[0], unit)}", _LABEL_IN
    )
    label = Text((part.left + 0.06, y + 0.04), f"{names[1]} {figure(values[1], unit)}", _LABEL_IN)
    if label.width_in < length_in - 0.08:
        yield label
    if x != 0.0 and part.left < 0.0 < part.right:
        yield from (
            Line(((0.0, edge), (0.0, edge + way)), Layer.ENGRAVE)
            for edge, way in ((part.top, -0.12), (part.bottom, 0.12))
        )
        yield Text((0.03, part.top - 0.12), f"{names[0]} 0", _LABEL_IN)
    if y != 0.0 and part.bottom < 0.0 < part.top:
        yield from (
            Line(((edge, 0.0), (edge + way, 0.0)), Layer.ENGRAVE)
            for edge, way in ((part.left, 0.12), (part.right, -0.12))
        )
        yield Text((part.left + 0.14, 0.0), f"{names[1]} 0", _LABEL_IN, anchor=Anchor.START)
