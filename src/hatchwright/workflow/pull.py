"""The pull list of a set of jobs: every file laid out, nothing judged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from hatchwright.documents.lists import lists_of
from hatchwright.documents.pull_list import PulledJob, pull_csv, pull_list, pull_part
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.page_frame import side_word
from hatchwright.drawings.writers import Paper
from hatchwright.errors import GeometryError
from hatchwright.job.other_side import other_side
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.making.making import making_of
from hatchwright.progress import Progress, in_parts, unheard
from hatchwright.said import said
from hatchwright.tables.table import ShopTables
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import gets_both
from hatchwright.workflow.open_job import open_job, own_tables


def pull_files(
    jobs: Sequence[Path],
    *,
    stamp: datetime,
    paper: Paper = Paper.LETTER,
    shop: Path | ShopTables | None = None,
    on_hand: Mapping[str, int] | None = None,
    names: Sequence[str] = (),
    progress: Progress = unheard,
) -> tuple[MadeFile, ...]:
    """Make the pull list of some job files, to print and as a table.

    Args:
        jobs: one or more; one that is named twice counts twice.
        stamp: when it is made; the same time makes the same bytes.
        on_hand: what is there already, by part number; None where nobody counted.
        names: what the jobs are called for short, their file names where none is given.
    Raises:
        JobError: a file is refused; no list is made then.
        TableError: a table of the shop is refused.
        ExportError: a file did not read back as it was written.
    """
    found: list[PulledJob] = []
    tables = own_tables(shop)
    called = names or [path.stem for path in jobs]
    for (path, name), mine in in_parts(tuple(zip(jobs, called, strict=True)), progress):
        mine(0.0, said("progress.pulling", job=path.name))
        found += _sides(path, name, tables)
    pulled = pull_list(found, tables, on_hand=on_hand)
    part = pull_part(pulled, date=stamp.strftime("%Y-%m-%d %H:%M %Z").strip())
    content = pdf_from(part, title=tell(said("pull.title")), paper=paper, stamp=stamp)
    return (
        _file(f"{MadeKind.PULL_LIST}_{paper.words}.pdf", Written.PDF, content),
        _file(f"{MadeKind.PULL_LIST}.csv", Written.CSV, pull_csv(pulled)),
    )


def _sides(path: Path, name: str, shop: ShopTables | None) -> Iterator[PulledJob]:
    """A job by its short name, and its other side where both get the opening."""
    layout = open_job(path, shop=shop)
    yield _pulled(name, layout)
    if gets_both(layout.job):
        yield _pulled(name, lay_out(other_side(layout.job), layout.shop))


def _pulled(name: str, layout: Layout) -> PulledJob:
    making = None
    with suppress(
        GeometryError
    ):  # a template that does not fit is judged elsewhere; the job takes its parts all the same
        making = making_of(layout)
    return PulledJob(f"{name} {side_word(layout.job)}", lists_of(layout, making))


def _file(name: str, written: Written, content: bytes) -> MadeFile:
    return MadeFile(name, MadeKind.PULL_LIST, "", true_size=False, written=written, content=content)
