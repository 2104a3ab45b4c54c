"""The store of a folder: what is said is added at its end, and read again; nothing in it is ever changed."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import AbstractContextManager, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from hatchwright.errors import RecordError
from hatchwright.records import database, guards, schema
from hatchwright.records.canonical import Plain, canonical
from hatchwright.records.database import BEGUN, PLACE, alias_of, alias_of_file
from hatchwright.records.disk import settled
from hatchwright.records.entry import CLOCK_WAS, FIRST_PREV, Entered, hash_of, named_bytes
from hatchwright.records.keys import SigningKey
from hatchwright.records.kinds import SIGNED_ONLY, Kind
from hatchwright.records.people import Crew, Person, people_in, person_in
from hatchwright.records.refused import told
from hatchwright.records.rows import Rows
from hatchwright.records.walk import Walk
from hatchwright.said import said
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    from django.db.backends.base.base import BaseDatabaseWrapper

_MOST_LETTERS = {"about": 255, "author": 120}
"""A file name is no longer on any system; the table has as many."""


class Store:
    """The store of one folder of jobs.

    Use `Store.opened(folder)`. A store belongs to no thread: each takes a connection of its own.
    """

    def __init__(self, place: Path, alias: str) -> None:
        self.place, self._alias = place, alias

    @staticmethod
    def is_there(folder: Path) -> bool:
        """Whether a folder has a store, or had one; nothing is opened or made."""
        return database.is_there(folder)

    @classmethod
    def opened(cls, folder: Path, *, anew: bool = False) -> Store:
        """Open the store of a folder, made or moved to the present schema where needed.

        Args:
            anew: whether one whose entries got lost may be opened: to put them back.
        Raises:
            RecordError: it can't be reached or written, it is no store, it is of a newer program, its entries got lost,
                or the triggers that guard it are gone.
        """
        if not folder.is_dir():
            raise RecordError.saying("records.no_folder", where=str(folder))
        if not anew and database.is_lost(folder):
            raise _gone(folder)
        with told(str(folder / PLACE)):
            if not (folder / PLACE).is_dir():
                (folder / PLACE).mkdir(exist_ok=True)
                settled(folder)
        store = cls(folder / PLACE, alias_of(folder))._made()
        if not anew and (folder / PLACE / BEGUN).is_file() and store.last() is None:
            raise _gone(folder)
        return store

    @classmethod
    def in_file(cls, file: Path) -> Store:
        """The same for a store in one SQLite file, wherever that lies, such as a backup."""
        return cls(file, alias_of_file(file))._made()

    @classmethod
    def as_it_is(cls, folder: Path) -> Store:
        """The store of a folder in whatever state, to be looked at: nothing is made, moved or refused.

        Raises:
            RecordError: there is none any more or none yet, or it is of a newer program.
        """
        if database.is_lost(folder):
            raise _gone(folder)
        if not cls.is_there(folder):
            raise RecordError.saying("records.none_there", where=str(folder))
        store = cls(folder / PLACE, alias_of(folder))
        with store._told():
            if not schema.is_made(store.connection, str(store.place)):
                raise RecordError.saying("records.none_there", where=str(folder))
        if (folder / PLACE / BEGUN).is_file() and store.last() is None:
            raise _gone(folder)
        return store

    def refuse_unguarded(self) -> None:
        """RecordError where the triggers that guard the chain are not as they were made."""
        with self._told():
            amiss = guards.amiss(self.connection)
        if amiss:
            raise RecordError.saying("records.unguarded", where=str(self.place), triggers=", ".join(amiss))

    @property
    def connection(self) -> BaseDatabaseWrapper:
        """This thread's own way to the database."""
        from django.db import connections

        return connections[self._alias]

    def close(self) -> None:
        """Give back what this thread holds of the database."""
        self.connection.close()

    def add(
        self,
        kind: Kind,
        about: str,
        body: Mapping[str, Plain],
        *,
        author: str,
        now: datetime,
        key: SigningKey | None = None,
        kept: Mapping[str, bytes] | None = None,
        after: int | None = None,
    ) -> Entered:
        """Add an entry; it is on disk when this returns.

        Args:
            about: job or fleet that it speaks of, "" for the store itself.
            body: a hash under a key `sha256` in it names bytes that are kept.
            now: with its time zone.
            key: of who signs it, None for an entry without a signature.
            kept: bytes that it speaks of, by their SHA-256; what is there already is not written again.
            after: number of the newest entry about the same thing that the author has seen, None where that is no
                matter; another since then is told and nothing is written.
        Raises:
            RecordError: a kind that counts only with a signature has none, whoever signs it may not, somebody else has
                added in between, the clock stands before the newest entry and nobody signs that it was wrong, or the
                database refuses.
        """
        if kind in SIGNED_ONLY and key is None:
            raise RecordError.saying("records.unsigned", where=kind.value)
        _refuse_names(about=about, author=author)
        text, at = canonical(body), now.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        public = key.public if key else ""
        with self._told(), schema.alone(self.connection):
            rows = self._rows
            last = rows.last()
            if after is not None and rows.newest_seq(about) != after:
                raise RecordError.saying("records.added_meanwhile", where=about)
            if last and at < last.at and not (kind is Kind.STORE and key and body.get(CLOCK_WAS) == last.at):
                raise RecordError.saying("records.clock_back", where="clock", now=at, last=last.at)
            seq, prev = (last.seq + 1, last.link) if last else (1, FIRST_PREV)
            hash = hash_of(
                seq=seq, prev=prev, kind=kind.value, about=about, body=text, author=author, at=at, key=public
            )
            signature = key.sign(hash) if key else ""
            entry = Entered(seq, prev, kind.value, about, text, author, at, public, hash, signature)
            if key:
                self._refuse_signer(entry)
            self._keep(kept or {}, named_bytes(dict(body)))
            rows.add(entry)
        self.note_begun()
        return entry

    def fill(self, entries: Iterable[Entered], kept: Iterable[tuple[str, bytes]]) -> None:
        """Take over a whole chain from elsewhere with all that it speaks of, or nothing; for a store without an entry.

        Args:
            kept: bytes by their SHA-256, of which each is looked at.
        Raises:
            RecordError: this store has entries, or the chain is not sound.
        """
        with self._told(), schema.alone(self.connection):
            rows, walk = self._rows, Walk()
            if rows.last():
                raise RecordError.saying("records.not_empty", where=str(self.place))
            rows.add_all(_sound(walk, entries))
            for sha256, content in kept:
                if sha256_of(content) != sha256:
                    raise RecordError.saying("records.bytes_gone", where=sha256[:12])
                rows.keep(sha256, content)
            for sha256 in walk.speaks_of:
                if not rows.has_kept(sha256):
                    raise RecordError.saying("records.bytes_gone", where=sha256[:12])
            rows.set_newest(walk.newest)
        self.note_begun()

    def last(self) -> Entered | None:
        """The newest entry of all, None in an empty store."""
        with self._told():
            return self._rows.last()

    def head(self) -> str:
        """What the whole chain comes to, as it is printed; "" for an empty store."""
        last = self.last()
        return last.head if last else ""

    def entries(
        self, *, about: str | None = None, kind: Kind | None = None, since: int = 0
    ) -> Iterator[Entered]:
        """Entries in their order, read as they are asked for."""
        with self._told():
            yield from self._rows.entries(about, kind.value if kind else None, since)

    def newest_seq(self, about: str) -> int:
        """Number of the newest entry about a thing, 0 for none."""
        with self._told():
            return self._rows.newest_seq(about)

    def newest(self) -> dict[str, tuple[int, int]]:
        """Each thing that was spoken of: its newest entry, and its newest signed one, 0 for none."""
        with self._told():
            return self._rows.newest()

    def entry(self, seq: int) -> Entered | None:
        """One entry, None where there is none."""
        with self._told():
            return self._rows.entry(seq)

    def kept(self, sha256: str) -> bytes:
        """Bytes that an entry speaks of.

        Raises:
            RecordError: they are not there, or not what they were.
        """
        with self._told():
            found = list(self._rows.kept([sha256]))
        if not found or sha256_of(found[0][1]) != sha256:
            raise RecordError.saying("records.bytes_gone", where=sha256[:12])
        return found[0][1]

    def all_kept(self) -> Iterator[tuple[str, bytes]]:
        """All bytes with the SHA-256 that they are kept under, which may lie."""
        with self._told():
            yield from self._rows.all_kept()

    def kept_of(self, wanted: Iterable[str]) -> Iterator[tuple[str, bytes]]:
        """The same for some of them; what is not there doesn't come."""
        with self._told():
            yield from self._rows.kept(wanted)

    def people(self) -> dict[str, Person]:
        """Everybody by name, as last named, also who has left."""
        return people_in(self.entries(kind=Kind.PERSON))

    def mend(self, newest: Mapping[str, tuple[int, int]]) -> None:
        """Put back what is made from the chain and guards it: the index of newest entries, and the triggers."""
        with self._told(), schema.alone(self.connection):
            guards.put_back(self.connection)
            self._rows.set_newest(dict(newest))

    def note_begun(self) -> None:
        """Note beside the store of a folder that it has entries; whoever still may take them back does it later."""
        note = self.place / BEGUN
        if self.place.is_dir() and not note.exists() and not self.connection.in_atomic_block:
            with suppress(OSError):  # what was said is on disk already, and the next entry tries again
                note.write_text(tell(said("records.begun")) + "\n", encoding="utf-8")

    @property
    def _rows(self) -> Rows:
        return Rows(self.connection)

    def _told(self) -> AbstractContextManager[None]:
        return told(str(self.place), self.connection)

    def _made(self) -> Store:
        with self._told():
            schema.move_forward(self.connection, str(self.place))
            database.refuse_careless_server(self.connection, str(self.place))
        self.refuse_unguarded()
        return self

    def _refuse_signer(self, entry: Entered) -> None:
        try:
            named = person_in(entry) if entry.kind == Kind.PERSON else None
        except (KeyError, ValueError) as error:
            raise TypeError(entry.body) from error
        refusal = Crew(self.people()).refusal(entry.kind, entry.author, entry.key, named)
        if refusal:
            raise RecordError(refusal, where=entry.author, remedy=said("records.may_not.do"))

    def _keep(self, kept: Mapping[str, bytes], named: Iterable[str]) -> None:
        for sha256, content in kept.items():
            if sha256_of(content) != sha256:
                raise ValueError(sha256)
            self._rows.keep(sha256, content)
        for sha256 in named:
            if not self._rows.has_kept(sha256):
                raise ValueError(sha256)


def sha256_of(content: bytes) -> str:
    """In hexadecimal digits, as bytes are kept under."""
    return hashlib.sha256(content).hexdigest()


def _gone(folder: Path) -> RecordError:
    return RecordError.saying("records.gone", where=str(folder / PLACE), file=BEGUN)


def _refuse_names(**names: str) -> None:
    for field, name in names.items():
        try:
            is_fit = name.isprintable() and len(name.encode()) <= _MOST_LETTERS[field]
        except UnicodeEncodeError:
            is_fit = False
        if not is_fit:
            raise RecordError.saying("records.name_unfit", where=ascii(name), most=_MOST_LETTERS[field])


def _sound(walk: Walk, entries: Iterable[Entered]) -> Iterator[Entered]:
    """The same entries, as long as there is nothing wrong with them."""
    for entry in entries:
        for fault in walk.over((entry,)):
            raise RecordError.saying("records.not_sound", where=str(fault.seq), why=fault.what)
        yield entry
