"""Open a job file with the shop's own tables beside it: the one way from a file to a layout."""

from __future__ import annotations

from pathlib import Path

from hatchwright.errors import JobError
from hatchwright.job.file import load_job_text, on_their_lines, read_job
from hatchwright.job.other_side import other_side as mirrored
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.tables.table import ShopTables


def open_job(path: Path, *, shop: Path | ShopTables | None = None, other_side: bool = False) -> Layout:
    """Read a job file and lay it out.

    Args:
        shop: folder of a shop's own tables, or the tables themselves, when there are any.
    Raises:
        JobError: the file is refused, with every fault on its line.
        TableError: a table of the shop is refused, with file, line and reason; nothing of the folder is used.
        EntryError: a job on the center line has no other side.
    """
    own = own_tables(shop)
    text = load_job_text(path)
    job = read_job(text, folder=path.parent, name=path.name)
    try:
        return lay_out(mirrored(job) if other_side else job, own)
    except JobError as error:
        raise JobError(on_their_lines(error.faults, text), where=path.name) from None


def own_tables(folder: Path | ShopTables | None) -> ShopTables | None:
    """The shop's own rows of the tables, when it has a folder of them; TableError where anything in it is
    refused, with file, line and reason: nothing of the folder is used then."""
    if not isinstance(folder, Path):
        return folder
    # Every table there is comes with it, for a shop may add to any.
    from hatchwright.tables.shop import load_shop_tables

    return load_shop_tables(folder)
