"""Pages: a sheet laid over paper, what is to be read first and then the full-size tiles."""

from __future__ import annotations

from functools import lru_cache

from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.front_pages import front_pages
from hatchwright.drawings.writers.paper import AnyPaper, Page
from hatchwright.drawings.writers.tile_pages import tile_pages


@lru_cache(maxsize=1)  # who writes a file lays out its pages, and who reads it back asks for them once more
def pages_of(sheet: Sheet, paper: AnyPaper) -> tuple[Page, ...]:
    """Lay a sheet over pages: first those of notes and tables if there are any, then the tiles row by row.

    Raises:
        ExportError: more pages than a person will join.
    """
    front = front_pages(sheet, paper)
    return (*front, *tile_pages(sheet, paper, before=len(front)))
