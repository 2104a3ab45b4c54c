"""Lines of the list that were judged once, in one file of the user's cache folder, which outlives the program."""

from __future__ import annotations

import hashlib
import os
import sqlite3
from collections.abc import Callable, Iterable
from contextlib import closing, suppress
from pathlib import Path
from threading import Lock
from typing import TypeVar

MOST_LINES = 20_000
"""Lines that are kept, of a kilobyte each; the oldest go first."""

_FILE = "lines-1.sqlite"
"""Its number changes with the table in it."""
_OTHERS_TAKE_S = 2.0
"""Another program has written its line long before [s]."""

Told = TypeVar("Told")


def place_of_lines() -> Path | None:
    """The file in this user's cache folder; None where there is no such folder.

    Source: XDG Base Directory Specification: a place that is not absolute is passed over.
    """
    given = Path(os.environ.get("XDG_CACHE_HOME", ""))
    try:
        return (given if given.is_absolute() else Path.home() / ".cache") / "hatchwright" / _FILE
    except RuntimeError:
        return None


class KeptLines:
    """Text by its key, on disk where that can be written and in memory in any case.

    Several programs may keep theirs in one file. A file that is spoilt is begun anew; where it cannot be read or
    written, nothing is told of it and nothing fails.

    Args:
        most: lines that are kept; the oldest go first.
    """

    def __init__(self, place: Path | None, *, most: int = MOST_LINES) -> None:
        self._place = place
        self._most = most
        self._lock = Lock()
        self._held: dict[str, str] = {}

    def get(self, keys: Iterable[str]) -> dict[str, str]:
        """The texts of the keys that are known."""
        wanted = dict.fromkeys(keys)
        with self._lock:
            found = {key: self._held[key] for key in wanted if key in self._held}
        missing = [key for key in wanted if key not in found]
        if missing:
            on_disk = self._on_disk(lambda base: _read(base, missing)) or {}
            with self._lock:
                self._hold(on_disk)
            found |= on_disk
        return found

    def put(self, key: str, text: str) -> None:
        """Keep a text, in place of an earlier one of its key."""
        with self._lock:
            self._hold({key: text})
        self._on_disk(lambda base: _write(base, key, text, self._most))

    def _hold(self, texts: dict[str, str]) -> None:
        for key in texts:
            self._held.pop(key, None)
        self._held |= texts
        for key in list(self._held)[: max(0, len(self._held) - self._most)]:
            del self._held[key]

    def _on_disk(self, do: Callable[[sqlite3.Connection], Told]) -> Told | None:
        if self._place is None:
            return None
        with suppress(OSError, sqlite3.Error):
            try:
                return _done(self._place, do)
            except sqlite3.OperationalError:  # full, read-only, held by another: as it is
                return None
            except sqlite3.DatabaseError:  # no database, or a spoilt one
                self._place.unlink()
                return _done(self._place, do)
        return None


def _done(place: Path, do: Callable[[sqlite3.Connection], Told]) -> Told:
    place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    os.close(os.open(place, os.O_RDWR | os.O_CREAT, 0o600))  # nobody else reads what stands in jobs
    with closing(sqlite3.connect(place, timeout=_OTHERS_TAKE_S, isolation_level=None)) as base:
        base.execute("PRAGMA synchronous = OFF")  # what is lost with the power is judged again
        base.execute("CREATE TABLE IF NOT EXISTS line (key TEXT UNIQUE, value TEXT, mark TEXT)")
        return do(base)


def _read(base: sqlite3.Connection, keys: Iterable[str]) -> dict[str, str]:
    found = (
        base.execute("SELECT key, value, mark FROM line WHERE key = ?", (key,)).fetchone() for key in keys
    )
    return {row[0]: row[1] for row in found if row and row[2] == _mark(row[0], row[1])}


def _write(base: sqlite3.Connection, key: str, text: str, most: int) -> None:
    row = (key, text, _mark(key, text))
    written = base.execute("INSERT OR REPLACE INTO line (key, value, mark) VALUES (?, ?, ?)", row)
    base.execute("DELETE FROM line WHERE rowid <= ?", ((written.lastrowid or 0) - most,))


def _mark(key: str, text: str) -> str:
    """What a row must bear: a verdict that the disk has changed is not shown."""
    return hashlib.sha256(f"{key}\0{text}".encode()).hexdigest()
