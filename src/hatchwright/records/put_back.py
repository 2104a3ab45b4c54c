"""A whole chain takes the place of what a store holds, which is set aside first: the only way by which it ever does."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import RecordError
from hatchwright.records import guards, schema
from hatchwright.records.canonical import Plain
from hatchwright.records.database import FILE, PLACE
from hatchwright.records.disk import disk_told
from hatchwright.records.entry import Entered
from hatchwright.records.kinds import Kind
from hatchwright.records.manifest import Manifest
from hatchwright.records.refused import told
from hatchwright.records.rows import Rows
from hatchwright.records.snapshot import snapshot
from hatchwright.records.store import Store
from hatchwright.records.verify import verify

_BESIDE = ("", "-journal", "-wal", "-shm")
"""What belongs to a SQLite store: it is none without what was not yet written into it."""


class Present(Struct, frozen=True):
    """What a store holds before another chain takes its place.

    Args:
        head: as it is printed, "" where it can't be read.
        newer: entries that follow the newest one of the other chain; -1 where they are not of one chain, or not to be
            read.
    """

    entries: int
    head: str
    newer: int


def refuse_unsound(staged: Store, manifest: Manifest, where: str, *, printed: str = "") -> None:
    """RecordError where a chain is not sound, not what its manifest says, or doesn't hold a printed head."""
    found = verify(staged, printed=printed)
    if found.chain:  # what guards and lists it is made anew
        first = found.chain[0]
        raise RecordError.saying(
            "backup.unsound", where=where, n=len(found.chain), seq=first.seq, why=first.what
        )
    last = staged.last()
    if (manifest.entries, manifest.head, manifest.link) != (
        found.entries,
        found.head,
        last.link if last else "",
    ):
        raise RecordError.saying("backup.other_head", where=where, head=manifest.head, found=found.head)


def present_of(store: Store, staged: Store, where: str) -> Present:
    """What is there, set against what would take its place.

    Raises:
        RecordError: it is the chain of another shop: its first entry is another.
    """
    first, their_first = store.entry(1), staged.entry(1)
    if first and their_first and first.link != their_first.link:
        raise RecordError.saying("backup.other_shop", where=where, head=store.head(), found=staged.head())
    last, their_last = store.last(), staged.last()
    if last is None:
        return Present(0, "", 0)
    if their_last is None:
        return Present(last.seq, last.head, last.seq)
    same = store.entry(their_last.seq)
    goes_on = same is not None and same.link == their_last.link
    return Present(last.seq, last.head, last.seq - their_last.seq if goes_on else -1)


def put_back(
    staged: Store, store: Store, aside: Path | None, *, note: dict[str, Plain], now: datetime
) -> Entered:
    """Let a chain take the place of another, and say so in a last entry; all of it or nothing.

    Args:
        aside: folder into which what is there is copied first, None where nothing is.
        note: what the last entry says.
    Raises:
        RecordError: the chain is not sound, the clock stands before its newest entry, or the database refuses.
    """
    with told(str(store.place), store.connection), schema.alone(store.connection):
        if aside and store.last():
            snapshot(store, aside)
        _emptied(store)
        store.fill(staged.entries(), staged.all_kept())
        last = store.add(Kind.STORE, "", note, author="", now=now)
    store.note_begun()
    return last


@contextmanager
def spoilt_aside(folder: Path, aside: Path) -> Iterator[None]:
    """The files of a SQLite store that can't be read are out of the way, as they are; where something fails, they come
    back.

    Raises:
        RecordError: they can't be moved.
    """
    _moved(folder, aside)
    try:
        yield
    except BaseException:
        for end in _BESIDE:
            (folder / PLACE / f"{FILE}{end}").unlink(missing_ok=True)
        _moved(aside, folder)
        raise


def _moved(folder: Path, aside: Path) -> None:
    with disk_told(folder / PLACE):
        (aside / PLACE).mkdir(parents=True, exist_ok=True)
        for end in _BESIDE:
            file = folder / PLACE / f"{FILE}{end}"
            if file.exists():
                file.rename(aside / PLACE / file.name)


def _emptied(store: Store) -> None:
    """Take all rows away; the guards are up again when this returns, in the same transaction."""
    rows = Rows(store.connection)
    guards.put_down(store.connection)
    for table in ("records_entry", "records_kept", "records_newest"):
        rows.ask_nothing(f"DELETE FROM {table}")
    guards.put_back(store.connection)
