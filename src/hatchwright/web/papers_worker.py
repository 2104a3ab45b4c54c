"""The papers of a job made by a process of their own, one making at a time, dropped when its page is gone."""

from __future__ import annotations

import asyncio
import io
import threading
import zipfile
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from hatchwright.errors import Fault, JobError
from hatchwright.page.made_papers import MadeFile, MadeKind, MadePapers, PaperChoice, Written, made_papers
from hatchwright.tables.table import ShopTables
from hatchwright.web.worker import Worker

WORKER = Worker("papers", is_kept=False)


async def papers_for_page(
    text: str, folder: Path, name: str, *, stamp: datetime, choice: PaperChoice, shop: ShopTables | None
) -> MadePapers:
    """Make the papers of a job; a caller that is cancelled drops them, begun or not.

    Returns:
        MadePapers: with a file of all files, named by `bundle_name`, when there are any.
    Raises:
        JobError: the job is not sound.
        WorkerError: the worker was ended from outside, or failed.
    """
    is_left = threading.Event()
    try:
        asked = (text, folder, name, stamp, choice, shop)
        made = await asyncio.to_thread(
            lambda: WORKER.ask(_made, *asked, is_wanted=lambda: not is_left.is_set())
        )
    finally:
        is_left.set()
    assert made is not None
    if isinstance(made, tuple):
        raise JobError(made)
    return made


def bundle_name(name: str) -> str:
    """What the file of all files is called."""
    return f"{name.removesuffix('.toml')}.zip"


def _made(
    text: str, folder: Path, name: str, stamp: datetime, choice: PaperChoice, shop: ShopTables | None
) -> MadePapers | tuple[Fault, ...]:
    try:
        made = made_papers(text, folder, name, stamp=stamp, choice=choice, shop=shop)
    except JobError as error:
        return error.faults
    if not made.files:
        return made
    bundle = MadeFile(
        bundle_name(name),
        MadeKind.ALL_IN_ONE,
        side="",
        true_size=False,
        written=Written.ZIP,
        content=_zipped(made.files, stamp),
    )
    return replace(made, files=(*made.files, bundle))


def _zipped(files: Iterable[MadeFile], stamp: datetime) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as bundle:
        for file in files:
            info = zipfile.ZipInfo(file.name, stamp.timetuple()[:6])
            bundle.writestr(info, file.content, zipfile.ZIP_DEFLATED)
    return out.getvalue()
