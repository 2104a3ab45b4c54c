"""Pages: a sheet laid over paper at full size, with what else is to be read beside the drawing where there is room."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache, partial

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.block import (
    Block,
    legend_block,
    notes_block,
    paragraph,
    rows_of,
    stacked,
    stop_block,
)
from hatchwright.drawings.ink import Ink
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.free_room import FreeRoom
from hatchwright.drawings.writers.key_plan import key_plan
from hatchwright.drawings.writers.paper import GAP_IN, MARGIN_IN, AnyPaper, Page, before_use, corrected_words
from hatchwright.drawings.writers.tile_pages import laid_over, tile_pages
from hatchwright.said import said
from hatchwright.words.tell import tell

_SPACE_IN = 0.2
_LETTER_IN = 0.09
_WIDTHS_IN = (9.6, 7.2, 6.0, 4.8, 3.8, 3.0, 2.4, 1.8, 1.3, 1.0)
"""Widths to which words are set to find room beside the drawing [in]."""

_KEY_PLANS_IN = ((2.6, 2.0), (1.8, 1.4))
"""Sizes of the key plan, the better first [in]."""


class _Beside(Struct, frozen=True):
    """What stands beside the drawing on each tile, and whether notes and tables find room there."""

    parts: tuple[tuple[Ink, ...], ...]
    has_room: bool


@lru_cache(maxsize=1)  # who writes a file lays out its pages, and who reads it back asks for them once more
def pages_of(sheet: Sheet | ScaledSheet, paper: AnyPaper) -> tuple[Page, ...]:
    """Lay a sheet over pages, one a tile and row by row; before them the notes and tables that find no room beside.
    A drawing to scale lies on its own pages, whatever the printer does to true size.

    Raises:
        ExportError: more pages than a person will join.
    """
    if isinstance(sheet, ScaledSheet):
        return tuple(Page(*sheet.lies_in, "", None, (), ink) for ink in sheet.inked)
    beside = _beside(sheet, paper)
    front = () if beside.has_room else _front_pages(sheet, paper)
    tiles = tile_pages(sheet, paper, before=len(front))
    told = zip(tiles, beside.parts, strict=True)
    return (*front, *(replace(tile, parts=(*tile.parts, *parts)) for tile, parts in told))


def page_count(sheet: Sheet | ScaledSheet, paper: AnyPaper) -> int:
    """How many pages a sheet takes, before its tiles are drawn; raises as `pages_of` does."""
    if isinstance(sheet, ScaledSheet):
        return len(sheet.pages)
    front = () if _beside(sheet, paper).has_room else _front_pages(sheet, paper)
    return len(front) + laid_over(sheet, paper).tiling.count


@lru_cache(maxsize=2)
def _beside(sheet: Sheet, paper: AnyPaper) -> _Beside:
    """Notes and tables first, which must be read; then the key plan of more than two tiles, and the legend."""
    laid = laid_over(sheet, paper)
    rooms: list[FreeRoom] = []
    parts: list[list[Ink]] = []

    def is_put(*variants: Block) -> bool:
        for number, room in enumerate(rooms):
            for block in variants:
                if (at := room.put(block.width_in, block.height_in)) is not None:
                    parts[number] += block.at(*at)
                    return True
        return False

    def begun() -> tuple[list[FreeRoom], list[list[Ink]]]:
        tiles = laid.tiling.kept
        return [FreeRoom(laid.window, laid.on_page(place)) for place in tiles], [[] for _ in tiles]

    has_room = False
    for wanted in _to_be_read(sheet):
        rooms, parts = begun()
        has_room = all(is_put(*variants) for variants in wanted)
        if has_room:
            break
    if not has_room:
        rooms, parts = begun()
    if laid.tiling.count > 2:
        is_put(*(key_plan(sheet, laid.tiling, within_in=size) for size in _KEY_PLANS_IN))
    is_put(*_set(lambda width_in: legend_block(sheet.meanings(), width_in=width_in, height_in=_LETTER_IN)))
    return _Beside(tuple(map(tuple, parts)), has_room)


def _to_be_read(sheet: Sheet) -> Iterator[list[list[Block]]]:
    """Notes and tables as blocks, each in several shapes: all notes in one, else each by itself."""
    notes, tables = sheet.notes, [[table.block()] for table in sheet.tables]
    together = (
        [_set(lambda width_in: notes_block(notes, width_in=width_in, height_in=_LETTER_IN))] if notes else []
    )
    yield together + tables
    yield [_set(partial(_note, note)) for note in _numbered(notes)] + tables


def _numbered(notes: Sequence[str]) -> list[str]:
    return [f"{number}. {note}" for number, note in enumerate(notes, start=1)]


def _note(words: str, width_in: float) -> Block:
    return paragraph([words], width_in=width_in, height_in=_LETTER_IN)


def _set(made: Callable[[float], Block]) -> list[Block]:
    return [made(width_in) for width_in in _WIDTHS_IN]


def _front_pages(sheet: Sheet, paper: AnyPaper) -> tuple[Page, ...]:
    """The pages to read first, upright."""
    width, height = paper.size_in
    width_in = width - 2.0 * MARGIN_IN
    stop = (stop_block(sheet.stop, width_in=width_in, height_in=0.14),) if sheet.stop else ()
    title = sheet.named(page=1, pages=1, width_in=width_in, full_size=False)
    used_in = title.height_in + sum(block.height_in + _SPACE_IN for block in stop)
    room_in = height - 2.0 * MARGIN_IN - GAP_IN - used_in
    columns = _filled(_words(sheet, paper, width_in, room_in), room_in)
    pages = len(columns) + laid_over(sheet, paper).tiling.count
    made = []
    for page, words in enumerate(columns, start=1):
        title = sheet.named(page=page, pages=pages, width_in=width_in, full_size=False)
        text = stacked((*stop, *words), gap_in=_SPACE_IN).at(MARGIN_IN, height - MARGIN_IN)
        parts = (*text, *title.at(MARGIN_IN, MARGIN_IN + title.height_in))
        made.append(Page(width, height, "", None, (), parts))
    return tuple(made)


def _words(sheet: Sheet, paper: AnyPaper, width_in: float, room_in: float) -> list[Block]:
    blocks = [paragraph([sheet.title], width_in=width_in, height_in=0.17, bold=True)]
    blocks += corrected_words(paper, width_in=width_in, unit=sheet.unit)
    blocks.append(paragraph([tell(before_use(sheet.unit))], width_in=width_in))
    blocks.append(legend_block(sheet.meanings(), width_in=width_in))
    if sheet.notes:
        blocks.append(paragraph([tell(said("sheet.notes"))], width_in=width_in, bold=True))
    blocks += (paragraph([note], width_in=width_in) for note in _numbered(sheet.notes))
    tables = [part.block() for table in sheet.tables for part in table.split(room_in)]
    return blocks + rows_of(tables, width_in=width_in, gap_in=_SPACE_IN)


def _filled(blocks: list[Block], room_in: float) -> list[list[Block]]:
    """The blocks divided over pages in their order."""
    columns: list[list[Block]] = [[]]
    left_in = room_in
    for block in blocks:
        if block.height_in > left_in and columns[-1]:
            columns.append([])
            left_in = room_in
        columns[-1].append(block)
        left_in -= block.height_in + _SPACE_IN
    return columns
