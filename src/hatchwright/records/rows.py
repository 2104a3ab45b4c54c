"""The statements that read and write the rows of a store: the same ones for each database."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice
from typing import TYPE_CHECKING, Any

from hatchwright.errors import RecordError
from hatchwright.records.entry import Entered

if TYPE_CHECKING:
    from django.db.backends.base.base import BaseDatabaseWrapper

Cell = int | str | bytes
"""What stands in a row."""
_LARGEST = 2**31 - 1
"""Number that the database holds. Source: the `integer` of SQL as PostgreSQL has it, from memory [-]."""
_FIELDS = Entered.__struct_fields__
_ENTRY = ", ".join(_FIELDS)
_ADD = f"INSERT INTO records_entry ({_ENTRY}) VALUES ({', '.join(['%s'] * len(_FIELDS))})"
_AT_ONCE, _BYTES_AT_ONCE = 2000, 16
"""Rows read in one question, so that nobody waits for who reads the whole chain. Own choice, no source [-]."""

BEFORE_ANY = -(2**62)
"""No number that a database holds is less, so that nothing put in before the first entry is left out."""


class Rows:
    """The rows of one store by one connection."""

    def __init__(self, connection: BaseDatabaseWrapper) -> None:
        self._connection = connection

    def ask(self, sql: str, *values: Cell) -> list[Any]:
        """All rows of an answer."""
        with self._connection.cursor() as cursor:
            cursor.execute(sql, values)
            return list(cursor.fetchall())

    def last(self) -> Entered | None:
        """The newest entry of all."""
        found = self.ask(f"SELECT {_ENTRY} FROM records_entry ORDER BY seq DESC LIMIT 1")
        return _entered(found[0]) if found else None

    def entry(self, seq: int) -> Entered | None:
        """One entry by its number, None also where no chain comes to such a number."""
        if not 0 < seq <= _LARGEST:
            return None
        found = self.ask(f"SELECT {_ENTRY} FROM records_entry WHERE seq = %s", seq)
        return _entered(found[0]) if found else None

    def entries(self, about: str | None, kind: str | None, since: int) -> Iterator[Entered]:
        """Entries in their order, some at once; what is added meanwhile comes too."""
        asked = [(name, value) for name, value in (("about", about), ("kind", kind)) if value is not None]
        where = "".join(f" AND {name} = %s" for name, _ in asked)
        sql = f"SELECT {_ENTRY} FROM records_entry WHERE seq > %s{where} ORDER BY seq LIMIT {_AT_ONCE}"
        while rows := self.ask(sql, since, *(value for _, value in asked)):
            yield from map(_entered, rows)
            if not rows[-1][0] > since:  # a damaged file may give them in any order
                raise _damaged(since)
            since = rows[-1][0]

    def newest_seq(self, about: str) -> int:
        """Number of the newest entry about a thing, 0 for none."""
        found = self.ask("SELECT seq FROM records_entry WHERE about = %s ORDER BY seq DESC LIMIT 1", about)
        return int(found[0][0]) if found else 0

    def newest(self) -> dict[str, tuple[int, int]]:
        """The index of the newest entry of each thing."""
        rows = self.ask("SELECT about, seq, signed_seq FROM records_newest")
        if not all(
            isinstance(about, str) and isinstance(seq, int) and isinstance(signed, int)
            for about, seq, signed in rows
        ):
            raise _damaged(0)
        return {about: (seq, signed) for about, seq, signed in rows}

    def add(self, entry: Entered) -> None:
        """One more entry, and its line in the index."""
        self.ask_nothing(_ADD, *_values(entry))
        signed = entry.seq if entry.is_signed else 0
        self.ask_nothing(
            "INSERT INTO records_newest (about, seq, signed_seq) VALUES (%s, %s, %s) ON CONFLICT (about) DO UPDATE "
            "SET seq = excluded.seq, signed_seq = CASE WHEN excluded.signed_seq > 0 THEN excluded.signed_seq "
            "ELSE records_newest.signed_seq END",
            entry.about, entry.seq, signed,
        )  # fmt: skip

    def add_all(self, entries: Iterable[Entered]) -> None:
        """Many entries at once; the index is for `set_newest`."""
        following = iter(entries)
        with self._connection.cursor() as cursor:
            while some := list(islice(following, _AT_ONCE)):
                cursor.executemany(_ADD, [_values(entry) for entry in some])

    def set_newest(self, newest: dict[str, tuple[int, int]]) -> None:
        """Make the index anew."""
        self.ask_nothing("DELETE FROM records_newest")
        with self._connection.cursor() as cursor:
            cursor.executemany(
                "INSERT INTO records_newest (about, seq, signed_seq) VALUES (%s, %s, %s)",
                [(about, seq, signed) for about, (seq, signed) in newest.items()],
            )

    def has_kept(self, sha256: str) -> bool:
        """Whether bytes are kept under a SHA-256."""
        return bool(self.ask("SELECT 1 FROM records_kept WHERE sha256 = %s", sha256))

    def keep(self, sha256: str, content: bytes) -> None:
        """Keep bytes, once."""
        self.ask_nothing(
            "INSERT INTO records_kept (sha256, content) VALUES (%s, %s) ON CONFLICT DO NOTHING",
            sha256,
            content,
        )

    def kept(self, wanted: Iterable[str]) -> Iterator[tuple[str, bytes]]:
        """Those of the wanted bytes that are there, under the SHA-256 that they are kept by, which may lie."""
        following = iter(wanted)
        while some := list(islice(following, _BYTES_AT_ONCE)):
            marks = ", ".join(["%s"] * len(some))
            sql = f"SELECT sha256, content FROM records_kept WHERE sha256 IN ({marks})"
            yield from ((sha256, _as_bytes(content)) for sha256, content in self.ask(sql, *some))

    def all_kept(self) -> Iterator[tuple[str, bytes]]:
        """All bytes, some at once."""
        last, sql = "", f"SELECT sha256 FROM records_kept WHERE sha256 > %s ORDER BY sha256 LIMIT {_AT_ONCE}"
        while names := [name for (name,) in self.ask(sql, last)]:
            if not all(isinstance(name, str) for name in names):
                raise _damaged("")
            yield from self.kept(names)
            last = names[-1]

    def ask_nothing(self, sql: str, *values: Cell) -> None:
        """A statement without an answer."""
        with self._connection.cursor() as cursor:
            cursor.execute(sql, values)


def _values(entry: Entered) -> tuple[Cell, ...]:
    return (
        entry.seq, entry.prev, entry.kind, entry.about, entry.body, entry.author, entry.at, entry.key, entry.hash,
        entry.signature,
    )  # fmt: skip


def _entered(row: tuple[Any, ...]) -> Entered:
    """A row as it was written; a damaged file may give anything."""
    seq, *texts = row
    if not isinstance(seq, int) or not all(isinstance(text, str) for text in texts):
        raise _damaged(seq)
    return Entered(*row)


def _damaged(seq: object) -> RecordError:
    return RecordError.saying("records.damaged_row", where="", seq=str(seq))


def _as_bytes(content: object) -> bytes:
    """Bytes as they are kept; a damaged file may give anything."""
    if isinstance(content, str):
        return content.encode("utf-8", "surrogateescape")
    return bytes(content) if isinstance(content, (bytes, memoryview)) else b""
