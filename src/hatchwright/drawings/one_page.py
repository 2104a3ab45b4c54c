"""One page: a drawing at the largest scale that leaves room for what stands beside it, upright or lying."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from msgspec import Struct

from hatchwright.drawings.block import Block, stacked, stop_block
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Ink, box_of, moved
from hatchwright.drawings.scale import Scale
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.errors import ExportError
from hatchwright.said import said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

MARGIN_IN = 0.4
"""Edge that a printer may leave white [in]. Common practice, no source."""

GAP_IN = 0.2
"""Between two things on a page [in]."""

_STOP_LETTER_IN = 0.12


class Framed(Struct, frozen=True):
    """What every page of a drawing to scale bears, whatever is drawn on it.

    Args:
        foot: blocks above the title block, each made for a width [in], such as that of material and finish.
        head: blocks beside the drawing before all others, such as that of revisions.
        stop: what must be settled before the aircraft is cut, "" when nothing must.
    """

    title: str
    title_block: TitleBlock
    unit: Unit
    stop: str = ""
    foot: tuple[Callable[[float], Block], ...] = ()
    head: tuple[Block, ...] = ()

    def bare(
        self, lies_in: tuple[float, float], *, page: int, pages: int, scale: str
    ) -> tuple[tuple[Ink, ...], Box]:
        """The ink that a page of this width and height [in] bears, and the room that it leaves [in]."""
        width, height = lies_in
        across = width - 2.0 * MARGIN_IN
        title = self.title_block.block(title=self.title, page=page, pages=pages, scale=scale, width_in=across)
        foot = stacked((*(made(across) for made in self.foot), title), gap_in=0.0)
        stop = stop_block(self.stop, width_in=across, height_in=_STOP_LETTER_IN)
        low, high = MARGIN_IN + foot.height_in, height - MARGIN_IN - stop.height_in
        ink = [*foot.at(MARGIN_IN, low), *stop.at(MARGIN_IN, height - MARGIN_IN)]
        return tuple(ink), Box(
            MARGIN_IN, low + GAP_IN, width - MARGIN_IN, high - (GAP_IN if self.stop else 0.0)
        )


def on_one_page(
    framed: Framed,
    paper_in: tuple[float, float],
    choice: Iterable[Scale],
    draws: Callable[[Scale], Iterable[Ink]],
    beside: Sequence[Block] = (),
) -> ScaledSheet:
    """Lay a drawing on one page, at the first scale at which it fits with all that stands beside it.

    Args:
        paper_in: width and height of the paper, upright [in].
        choice: scales from large to small.
        draws: the drawing at a scale, its lettering at its own height, anywhere on the page [in].
        beside: blocks to the right of the drawing or below it, in their order.
    Raises:
        ExportError: at no scale does all of it fit this paper.
    """
    lies = (paper_in, paper_in[::-1])
    for scale in choice:
        ink = tuple(draws(scale))
        for lies_in in lies:
            bare, room = framed.bare(lies_in, page=1, pages=1, scale=scale_words(scale, framed.unit))
            placed = _placed(ink, room, (*framed.head, *beside))
            if placed is not None:
                return ScaledSheet(
                    framed.title, framed.title_block, lies_in, ((*bare, *placed),), scale, framed.unit
                )
    raise ExportError.saying("error.no_room_on_page", where=framed.title)


def scale_words(scale: Scale, unit: Unit) -> str:
    """How a title block states a scale."""
    return tell(said("scale.stated", scale=scale.words, unit=unit.upper()))


def _placed(ink: Sequence[Ink], room: Box, beside: Sequence[Block]) -> tuple[Ink, ...] | None:
    """The drawing in the upper left corner of a room, blocks to its right and below it; None where they do not fit."""
    box = box_of(ink)
    if box.width_in > room.width_in or box.height_in > room.height_in:
        return None
    drawn = moved(ink, right_in=room.left - box.left, up_in=room.top - box.top)
    right, foot = room.left + box.width_in + GAP_IN, room.top - box.height_in - GAP_IN
    for regions in (
        (Box(right, room.bottom, room.right, room.top), Box(room.left, room.bottom, right - GAP_IN, foot)),
        (Box(right, foot + GAP_IN, room.right, room.top), Box(room.left, room.bottom, room.right, foot)),
    ):
        if (blocks := _filled(regions, beside)) is not None:
            return *drawn, *blocks
    return None


def _filled(regions: Sequence[Box], blocks: Sequence[Block]) -> list[Ink] | None:
    """Blocks set into regions in rows from the left and from the top, the next region where one is full; None where
    the last one is."""
    ink: list[Ink] = []
    left_over = list(regions)
    region = left_over.pop(0)
    x, top, deepest = region.left, region.top, region.top
    for block in blocks:
        while not _fits(block, x, top, region):
            if x > region.left:
                x, top = region.left, deepest - GAP_IN
            elif left_over:
                region = left_over.pop(0)
                x, top, deepest = region.left, region.top, region.top
            else:
                return None
        ink += block.at(x, top)
        x, deepest = x + block.width_in + GAP_IN, min(deepest, top - block.height_in)
    return ink


def _fits(block: Block, x: float, top: float, region: Box) -> bool:
    return x + block.width_in <= region.right + 1e-9 and top - block.height_in >= region.bottom - 1e-9
