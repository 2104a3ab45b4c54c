"""A store at one moment as a store in a file of its own, made while others go on writing."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from hatchwright.job.text_file import HALF_WRITTEN
from hatchwright.records import schema
from hatchwright.records.database import FILE, PATIENCE_S, PLACE
from hatchwright.records.disk import disk_told
from hatchwright.records.refused import told
from hatchwright.records.rows import BEFORE_ANY, Rows
from hatchwright.records.store import Store


def snapshot(store: Store, folder: Path) -> None:
    """Copy a store, whatever state it is in, into ``records`` of another folder, as one SQLite file.

    A file is copied page by page, so that also what somebody did to it is seen in the copy; the rows of a server are
    read in one transaction.

    Raises:
        RecordError: the store can't be read, or the copy can't be written.
    """
    with disk_told(folder):
        (folder / PLACE).mkdir(parents=True, exist_ok=True)
    half = folder / PLACE / f"{HALF_WRITTEN}{FILE}"
    if store.connection.vendor == "sqlite":
        _copied(Path(str(store.connection.settings_dict["NAME"])), half)
    else:
        copy = Store.in_file(half)
        _poured(store, copy)
        copy.close()
        settle(half)
    with disk_told(folder):
        half.rename(folder / PLACE / FILE)


def settle(file: Path) -> None:
    """All that a SQLite store holds is in its one file after this, and none beside it.

    Raises:
        RecordError: it can't be written.
    """
    with _sqlite_told(str(file)), closing(sqlite3.connect(file, timeout=PATIENCE_S)) as connection:
        connection.execute("PRAGMA journal_mode=DELETE")


def _copied(file: Path, copy: Path) -> None:
    with (
        _sqlite_told(str(file)),
        closing(sqlite3.connect(file, timeout=PATIENCE_S)) as source,
        closing(sqlite3.connect(copy)) as target,
    ):
        source.backup(target)  # all pages in one step: another step would begin anew whenever somebody writes
        target.execute("PRAGMA journal_mode=DELETE")


def _poured(store: Store, copy: Store) -> None:
    """The rows as they are, sound or not."""
    with told(str(store.place), store.connection), _one_moment(store), schema.alone(copy.connection):
        rows, read, newest = Rows(copy.connection), Rows(store.connection), Rows(store.connection).newest()
        rows.add_all(read.entries(None, None, BEFORE_ANY))
        for sha256, content in read.all_kept():
            rows.keep(sha256, content)
        rows.set_newest(newest)


@contextmanager
def _one_moment(store: Store) -> Iterator[None]:
    """What is read in here on a server is of one moment; who holds the lock of writers has that already."""
    from django.db import transaction

    if store.connection.in_atomic_block:
        yield
        return
    with transaction.atomic(using=store.connection.alias):
        with store.connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        yield


@contextmanager
def _sqlite_told(where: str) -> Iterator[None]:
    """What SQLite refuses without the layer above it, in the same words."""
    from django.db import DatabaseError

    with told(where):
        try:
            yield
        except sqlite3.Error as error:
            raise DatabaseError(*error.args) from error
