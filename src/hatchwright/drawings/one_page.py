"""One page: a drawing at the largest scale that leaves room for what stands beside it, upright or lying.

What there is no room for beside the drawing may follow on further pages, where whoever draws allows it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import chain, product

from msgspec import Struct

from hatchwright.drawings.block import Block, stacked, stop_block
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Ink, box_of, moved
from hatchwright.drawings.scale import Scale
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.table import Table
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.errors import ExportError
from hatchwright.said import said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

MARGIN_IN = 0.4
"""Edge that a printer may leave white [in]. Common practice, no source."""

GAP_IN = 0.13
"""Between two things on a page [in]."""

_STOP_LETTER_IN = 0.12
_MOST_PACKED = 4
"""Pages that follow: more are left as they are read [-]."""

_MOST_ROWS = (10_000, 48, 40, 32, 24, 20, 16, 12)
"""Rows of one column of a table, in the order in which they are tried [-]."""


Item = Block | Table
"""What stands beside a drawing; a table may be divided into columns."""

Size = tuple[float, float]


class Framed(Struct, frozen=True):
    """What every page of a drawing to scale bears, whatever is drawn on it.

    Args:
        foot: blocks above the title block of the first page, each made for a width [in], such as that of tolerances.
        head: a block in the upper right corner of the first page, such as that of revisions.
        corner: in the title block instead of the direction arrows, which the view bears itself; None for these.
        stop: what must be settled before the aircraft is cut, "" when nothing must.
    """

    title: str
    title_block: TitleBlock
    unit: Unit
    stop: str = ""
    foot: tuple[Callable[[float], Block], ...] = ()
    head: Block | None = None
    corner: Block | None = None

    def bare(self, lies_in: Size, *, page: int, pages: int, scale: str) -> tuple[tuple[Ink, ...], Box]:
        """The ink that a page of this width and height [in] bears, and the room that it leaves [in]."""
        width, height = lies_in
        across, right, top = width - 2.0 * MARGIN_IN, width - MARGIN_IN, height - MARGIN_IN
        title = self.title_block.block(
            title=self.title, page=page, pages=pages, scale=scale, width_in=across, corner=self.corner
        )
        made = self.foot if page == 1 else ()
        foot = stacked((*(one(across) for one in made), title), gap_in=0.0)
        low = MARGIN_IN + foot.height_in
        ink = [*foot.at(MARGIN_IN, low)]
        beside, high = 0.0, top
        if self.head is not None and page == 1:
            beside = self.head.width_in + GAP_IN
            ink += self.head.at(right - self.head.width_in, top)
            high = top - self.head.height_in - GAP_IN
        if self.stop:
            stop = stop_block(self.stop, width_in=across - beside, height_in=_STOP_LETTER_IN)
            ink += stop.at(MARGIN_IN, top)
            high = min(high, top - stop.height_in - GAP_IN)
        return tuple(ink), Box(MARGIN_IN, low + GAP_IN, right, high)


class Arrangement(Struct, frozen=True):
    """Where things stand: beside the drawing, to its right or below it, or on the pages that follow."""

    beside: tuple[Item, ...] = ()
    following: tuple[Item, ...] = ()


def on_one_page(
    framed: Framed,
    paper_in: Size,
    choice: Iterable[Scale],
    draws: Callable[[Scale], Iterable[Ink]],
    beside: Sequence[Item] = (),
) -> ScaledSheet:
    """Lay a drawing on one page, at the first scale at which it fits with all that stands beside it.

    Args:
        paper_in: width and height of the paper, upright [in].
        choice: scales from large to small.
        draws: the drawing at a scale, its lettering at its own height, anywhere on the page [in].
        beside: to the right of the drawing or below it, in their order.
    Raises:
        ExportError: at no scale does all of it fit this paper.
    """
    arranged = (Arrangement(tuple(beside)),)
    return on_pages(framed, paper_in, ((scale, arranged) for scale in choice), draws)


def scales_with_room(choice: Iterable[Scale], size_in: Size, paper_in: Size) -> tuple[Scale, ...]:
    """The scales at which something so wide and high goes on the paper, upright or lying, before anything is drawn.

    Args:
        size_in: at full size, without lettering [in].
    """
    (short, long), (narrow, wide) = sorted(size_in), sorted(side - 2.0 * MARGIN_IN for side in paper_in)
    return tuple(one for one in choice if short * one.ratio <= narrow and long * one.ratio <= wide)


def on_pages(
    framed: Framed,
    paper_in: Size,
    tries: Iterable[tuple[Scale, Sequence[Arrangement]]],
    draws: Callable[[Scale], Iterable[Ink]],
) -> ScaledSheet:
    """Lay a drawing on a page and what follows it on further ones, at the first scale at which it fits.

    Args:
        tries: scales in the order in which they are wanted, each with ways to arrange what stands beside the drawing;
            of those that fit the one of fewest pages is taken, the first of them.
    Raises:
        ExportError: none of them fits this paper.
    """
    drawn: dict[Scale, tuple[Ink, ...]] = {}
    for scale, ways in tries:
        if scale not in drawn:
            drawn[scale] = tuple(draws(scale))
        ink = drawn[scale]
        words = tell(said("scale.stated", scale=scale.words, unit=framed.unit.upper()))
        box = box_of(ink)
        rooms = {
            lies_in: [framed.bare(lies_in, page=page, pages=2, scale=words)[1] for page in (1, 2)]
            for lies_in in (paper_in, paper_in[::-1])
        }
        fitting = _fewest(
            (lies_in, inked)
            for arranged in ways
            for lies_in, (first, other) in rooms.items()
            if (inked := _inked(ink, box, first, other, arranged))
        )
        if fitting:
            lies_in, inked = fitting
            pages = (
                (*framed.bare(lies_in, page=page, pages=len(inked), scale=words)[0], *parts)
                for page, parts in enumerate(inked, start=1)
            )
            return ScaledSheet(framed.title, framed.title_block, lies_in, tuple(pages), scale, framed.unit)
    raise ExportError.saying("error.no_room_on_page", where=framed.title)


def _inked(
    ink: Sequence[Ink], box: Box, first_room: Box, room: Box, arranged: Arrangement
) -> list[tuple[Ink, ...]]:
    """What is set on each page, none where the drawing does not fit with what stands beside it.

    Args:
        box: of the drawing [in].
        first_room: what the first page has room for; `room` is that of each page that follows [in].
    """
    first = _first_page(ink, box, first_room, arranged.beside)
    if first is None:
        return []
    following: list[tuple[Ink, ...]] | None = None
    for is_largest_first, most in product((False, True), _MOST_ROWS):
        pages = _following(arranged.following, room, most, is_largest_first=is_largest_first)
        if following is None or len(pages) < len(following):
            following = pages
        if len(following) <= 1 or len(following) > _MOST_PACKED:
            break
    return [first, *(following or ())]


def _fewest(
    fitting: Iterable[tuple[Size, list[tuple[Ink, ...]]]],
) -> tuple[Size, list[tuple[Ink, ...]]] | None:
    """What takes the fewest pages, the first of those; who finds two looks no further."""
    best = None
    for one in fitting:
        if best is None or len(one[1]) < len(best[1]):
            best = one
        if len(best[1]) <= 2:
            break
    return best


def _first_page(ink: Sequence[Ink], box: Box, room: Box, beside: Sequence[Item]) -> tuple[Ink, ...] | None:
    """The drawing in the upper left corner of a room, the rest to its right and below it; None where they miss."""
    if box.width_in > room.width_in or box.height_in > room.height_in:
        return None
    drawn = Box(room.left, room.top - box.height_in, room.left + box.width_in, room.top)
    tried = _MOST_ROWS if any(isinstance(item, Table) for item in beside) else _MOST_ROWS[:1]
    for most in tried:
        placed = _filled(room, chain.from_iterable(_in_columns(item, most, room) for item in beside), drawn)
        if placed is not None:
            return *moved(ink, right_in=room.left - box.left, up_in=room.top - box.top), *placed
    return None


def _following(
    items: Sequence[Item], room: Box, most: int, *, is_largest_first: bool
) -> list[tuple[Ink, ...]]:
    """Pages of what does not stand beside the drawing, each table in columns of so many rows at most.

    Each page takes of what is left whatever it has room for, in the order in which it is to be read, or the largest
    first: less is left over between them.
    """
    left = [_in_columns(item, most, room) for item in items]
    if is_largest_first:
        left.sort(key=lambda parts: -sum(block.width_in * block.height_in for block in parts))
    pages: list[tuple[Ink, ...]] = []
    while left:
        ink, over = _one_page_of(left, room)
        if over == left:
            raise ExportError.saying("error.no_room_on_page", where="")
        pages.append(ink)
        left = over
    return pages


def _one_page_of(items: Iterable[list[Block]], room: Box) -> tuple[tuple[Ink, ...], list[list[Block]]]:
    """What a page takes, and what is left: of a table no column before the one that comes before it."""
    ink: list[Ink] = []
    taken: list[Box] = []
    over: list[list[Block]] = []
    for parts in items:
        done = 0
        while done < len(parts) and _set_down(parts[done], room, taken, ink):
            done += 1
        if done < len(parts):
            over.append(parts[done:])
    return tuple(ink), over


def _in_columns(item: Item, most: int, room: Box) -> list[Block]:
    """A block, or a table as columns of about one length, of so many rows at most and no higher than a room."""
    if isinstance(item, Block):
        return [item]
    most = min(most, item.rows_in(room.height_in))
    count = -(-len(item.rows) // most)
    return [part.block() for part in item.parted(-(-len(item.rows) // count))]


def _filled(room: Box, blocks: Iterable[Block], *there: Box) -> list[Ink] | None:
    """All blocks set into a room, None where one finds no place."""
    ink: list[Ink] = []
    taken = list(there)
    return ink if all(_set_down(block, room, taken, ink) for block in blocks) else None


def _set_down(block: Block, room: Box, taken: list[Box], ink: list[Ink]) -> bool:
    """Set a block at the highest free place of a room, the leftmost of those; False where there is none."""
    corner = _free_corner(block, room, taken)
    if corner is None:
        return False
    left, top = corner
    taken.append(Box(left, top - block.height_in, left + block.width_in, top))
    ink += block.at(left, top)
    return True


def _free_corner(block: Block, room: Box, taken: Sequence[Box]) -> tuple[float, float] | None:
    """The upper left corner at which a block lies in a room and clear of what is there."""
    inside = room.grown(1e-9)
    lefts = sorted({room.left, *(box.right + GAP_IN for box in taken)})
    tops = sorted({room.top, *(box.bottom - GAP_IN for box in taken)}, reverse=True)
    for top in tops:
        for left in lefts:
            tried = Box(left, top - block.height_in, left + block.width_in, top)
            is_in = inside.left <= tried.left and tried.right <= inside.right
            is_in = is_in and inside.bottom <= tried.bottom and tried.top <= inside.top
            if is_in and not any(tried.touches(box.grown(0.99 * GAP_IN)) for box in taken):
                return left, top
    return None
