"""One page: a drawing at the largest scale that leaves room for what stands beside it, upright or lying.

What there is no room for beside the drawing may follow on further pages, where whoever draws allows it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
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
    started: dict[Scale, _Start] = {}
    for scale, ways in tries:
        if scale not in started:
            started[scale] = _Start.of(framed, paper_in, scale, draws(scale))
        start = started[scale]
        fitting = _fewest(
            (lies_in, pages)
            for arranged in ways
            for lies_in, (first, other) in start.rooms.items()
            if (pages := _pages(start.drawn, first, other, arranged))
        )
        if fitting:
            lies_in, pages = fitting
            inked = (
                (*framed.bare(lies_in, page=page, pages=len(pages), scale=start.words)[0], *_ink(placed))
                for page, placed in enumerate(pages, start=1)
            )
            return ScaledSheet(framed.title, framed.title_block, lies_in, tuple(inked), scale, framed.unit)
    raise ExportError.saying("error.no_room_on_page", where=framed.title)


class _Start(Struct, frozen=True):
    """What all tries at one scale have in common.

    Args:
        words: that state the scale.
        rooms: by how the paper lies, what the first page has room for, and each that follows.
    """

    drawn: Block
    words: str
    rooms: dict[Size, tuple[Box, Box]]

    @staticmethod
    def of(framed: Framed, paper_in: Size, scale: Scale, drawing: Iterable[Ink]) -> _Start:
        ink = tuple(drawing)
        box = box_of(ink)
        words = tell(said("scale.stated", scale=scale.words, unit=framed.unit.upper()))

        def room(lies_in: Size, page: int) -> Box:
            return framed.bare(lies_in, page=page, pages=2, scale=words)[1]

        return _Start(
            Block(moved(ink, right_in=-box.left, up_in=-box.top), box.width_in, box.height_in),
            words,
            {lies_in: (room(lies_in, 1), room(lies_in, 2)) for lies_in in (paper_in, paper_in[::-1])},
        )


class _Placed(Struct, frozen=True):
    """A block where it stands on a page: ink is made of what is kept of many tries alone."""

    block: Block
    box: Box


def _ink(placed: Iterable[_Placed]) -> Iterator[Ink]:
    return chain.from_iterable(one.block.at(one.box.left, one.box.top) for one in placed)


def _pages(drawn: Block, first_room: Box, room: Box, arranged: Arrangement) -> list[list[_Placed]]:
    """What is set on each page, none where the drawing does not fit with what stands beside it.

    Args:
        first_room: what the first page has room for; `room` is that of each page that follows [in].
    """
    first = _first_page(drawn, first_room, arranged.beside)
    if first is None:
        return []
    following: list[list[_Placed]] | None = None
    for is_largest_first, most in product((False, True), _MOST_ROWS):
        pages = _following(arranged.following, room, most, is_largest_first=is_largest_first)
        if following is None or len(pages) < len(following):
            following = pages
        if len(following) <= 1 or len(following) > _MOST_PACKED:
            break
    return [first, *(following or ())]


def _fewest(fitting: Iterable[tuple[Size, list[list[_Placed]]]]) -> tuple[Size, list[list[_Placed]]] | None:
    """What takes the fewest pages, the first of those; who finds two looks no further."""
    best = None
    for one in fitting:
        if best is None or len(one[1]) < len(best[1]):
            best = one
        if len(best[1]) <= 2:
            break
    return best


def _first_page(drawn: Block, room: Box, beside: Sequence[Item]) -> list[_Placed] | None:
    """The drawing in the upper left corner of a room, the rest to its right and below it; None where they miss."""
    if drawn.width_in > room.width_in or drawn.height_in > room.height_in:
        return None
    ways = dict.fromkeys(tuple(_rows_each(item, most, room) for item in beside) for most in _MOST_ROWS)
    for rows in ways:
        blocks = chain.from_iterable(map(_in_columns, beside, rows))
        placed = _filled(room, chain((drawn,), blocks))
        if placed is not None:
            return placed
    return None


def _following(items: Sequence[Item], room: Box, most: int, *, is_largest_first: bool) -> list[list[_Placed]]:
    """Pages of what does not stand beside the drawing, each table in columns of so many rows at most.

    Each page takes of what is left whatever it has room for, in the order in which it is to be read, or the largest
    first: less is left over between them.
    """
    left = [_in_columns(item, _rows_each(item, most, room)) for item in items]
    if is_largest_first:
        left.sort(key=lambda parts: -sum(block.width_in * block.height_in for block in parts))
    pages: list[list[_Placed]] = []
    while left:
        placed, over = _one_page_of(left, room)
        if not placed:
            raise ExportError.saying("error.no_room_on_page", where="")
        pages.append(placed)
        left = over
    return pages


def _one_page_of(items: Iterable[list[Block]], room: Box) -> tuple[list[_Placed], list[list[Block]]]:
    """What a page takes, and what is left: of a table no column before the one that comes before it."""
    placed: list[_Placed] = []
    over: list[list[Block]] = []
    for parts in items:
        done = 0
        while done < len(parts) and _set_down(parts[done], room, placed):
            done += 1
        if done < len(parts):
            over.append(parts[done:])
    return placed, over


def _rows_each(item: Item, most: int, room: Box) -> int:
    """Rows of a column of a table, so many at most and no higher than a room; 0 for a block, which has no rows."""
    return 0 if isinstance(item, Block) else item.rows_each(min(most, item.rows_in(room.height_in)))


def _in_columns(item: Item, rows: int) -> list[Block]:
    """A block, or a table as columns of so many rows."""
    return [item] if isinstance(item, Block) else [*item.in_columns(rows)]


def _filled(room: Box, blocks: Iterable[Block]) -> list[_Placed] | None:
    """All blocks set into a room, None where one finds no place."""
    placed: list[_Placed] = []
    return placed if all(_set_down(block, room, placed) for block in blocks) else None


def _set_down(block: Block, room: Box, placed: list[_Placed]) -> bool:
    """Set a block at the highest free place of a room, the leftmost of those; False where there is none."""
    box = _free_place(block, room, [one.box for one in placed])
    if box is None:
        return False
    placed.append(_Placed(block, box))
    return True


def _free_place(block: Block, room: Box, taken: Sequence[Box]) -> Box | None:
    """Where a block lies in a room and clear of what is there, None where it finds no place."""
    inside, kept_off = room.grown(1e-9), [box.grown(0.99 * GAP_IN) for box in taken]
    lefts = sorted({room.left, *(box.right + GAP_IN for box in taken)})
    tops = sorted({room.top, *(box.bottom - GAP_IN for box in taken)}, reverse=True)
    for top in tops:
        for left in lefts:
            tried = Box(left, top - block.height_in, left + block.width_in, top)
            is_in = inside.left <= tried.left and tried.right <= inside.right
            is_in = is_in and inside.bottom <= tried.bottom and tried.top <= inside.top
            if is_in and not any(tried.touches(box) for box in kept_off):
                return tried
    return None
