"""The store of a folder: what is said is added at its end, and read again; nothing in it is ever changed."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hatchwright.errors import RecordError
from hatchwright.records.canonical import Plain, canonical
from hatchwright.records.database import PLACE, alias_of
from hatchwright.records.entry import FIRST_PREV, Entered, hash_of
from hatchwright.records.keys import SigningKey
from hatchwright.records.kinds import SIGNED_ONLY, Kind
from hatchwright.records.people import Person, people_in

if TYPE_CHECKING:
    from django.db.backends.base.base import BaseDatabaseWrapper
    from django.db.models import QuerySet

    from hatchwright.records.models import Entry

_ADVISORY = 0x48_41_54_43
"""The number under which a server lets one writer at a time add to the chain."""

_FIELDS = ("seq", "prev", "kind", "about", "body", "author", "at", "key", "hash", "signature")
_AT_ONCE = 2000


class Store:
    """The store of one folder of jobs.

    Use `Store.opened(folder)`. A store belongs to no thread: each takes a connection of its own.
    """

    def __init__(self, folder: Path, alias: str) -> None:
        self.folder, self._alias = folder, alias

    @classmethod
    def opened(cls, folder: Path) -> Store:
        """Open the store of a folder, made or moved to the present schema where needed.

        Raises:
            RecordError: it can't be reached or written, it is no store, it is of a newer program, or the triggers that
                guard it are gone.
        """
        if not folder.is_dir():
            raise RecordError.saying("records.no_folder", where=str(folder))
        store = cls(folder, alias_of(folder))
        with _told(str(folder / PLACE)):
            (folder / PLACE).mkdir(exist_ok=True)
            store._move_forward()
        store.refuse_unguarded()
        return store

    def refuse_unguarded(self) -> None:
        """RecordError where the triggers that guard the chain are not as they were made."""
        from hatchwright.records.guards import missing

        with _told(str(self.folder / PLACE)):
            gone = missing(self.connection)
        if gone:
            raise RecordError.saying(
                "records.unguarded", where=str(self.folder / PLACE), triggers=", ".join(gone)
            )

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
            now: with its time zone.
            key: of who signs it, None for an entry without a signature.
            kept: bytes that it speaks of, by their SHA-256; what is there already is not written again.
            after: number of the newest entry about the same thing that the author has seen, None where that is no
                matter; another since then is told and nothing is written.
        Raises:
            RecordError: a kind that counts only with a signature has none, somebody else has added in between, the
                clock stands before the newest entry, or the database refuses.
        """
        if kind in SIGNED_ONLY and key is None:
            raise RecordError.saying("records.unsigned", where=kind.value)
        text, at = canonical(body), now.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        with self._writing():
            last, newest = self.last(), self.newest_seq(about)
            if after is not None and newest != after:
                raise RecordError.saying("records.added_meanwhile", where=about)
            if last and at < last.at:
                raise RecordError.saying("records.clock_back", where="clock", now=at, last=last.at)
            seq, prev = (last.seq + 1, last.link) if last else (1, FIRST_PREV)
            public = key.public if key else ""
            hash = hash_of(
                seq=seq, prev=prev, kind=kind.value, about=about, body=text, author=author, at=at, key=public
            )
            entry = Entered(
                seq, prev, kind.value, about, text, author, at, public, hash, key.sign(hash) if key else ""
            )
            self._keep(kept or {})
            self._write(entry)
        return entry

    def last(self) -> Entered | None:
        """The newest entry of all, None in an empty store."""
        rows = list(self._rows().order_by("-seq")[:1])
        return Entered(*rows[0]) if rows else None

    def head(self) -> str:
        """What the whole chain comes to, as it is printed; "" for an empty store."""
        last = self.last()
        return last.head if last else ""

    def entries(
        self, *, about: str | None = None, kind: Kind | None = None, since: int = 0
    ) -> Iterator[Entered]:
        """Entries in their order, read as they are asked for."""
        rows = self._rows().filter(seq__gt=since)
        rows = rows if about is None else rows.filter(about=about)
        rows = rows if kind is None else rows.filter(kind=kind.value)
        with _told(str(self.folder / PLACE)):
            for row in rows.order_by("seq").iterator(chunk_size=_AT_ONCE):
                yield Entered(*row)

    def newest_seq(self, about: str) -> int:
        """Number of the newest entry about a thing, 0 for none."""
        from hatchwright.records.models import Newest

        found = Newest.objects.using(self._alias).filter(about=about).values_list("seq", flat=True)
        return next(iter(found), 0)

    def newest(self) -> dict[str, tuple[int, int]]:
        """Each thing that was spoken of: its newest entry, and its newest signed one, 0 for none."""
        from hatchwright.records.models import Newest

        rows = Newest.objects.using(self._alias).values_list("about", "seq", "signed_seq")
        return {about: (seq, signed) for about, seq, signed in rows}

    def entry(self, seq: int) -> Entered | None:
        """One entry, None where there is none."""
        return next((Entered(*row) for row in self._rows().filter(seq=seq)), None)

    def kept(self, sha256: str) -> bytes:
        """Bytes that an entry speaks of.

        Raises:
            RecordError: they are not there, or not what they were.
        """
        from hatchwright.records.models import Kept

        found = list(Kept.objects.using(self._alias).filter(sha256=sha256).values_list("content", flat=True))
        content = bytes(found[0]) if found else b""
        if not found or sha256_of(content) != sha256:
            raise RecordError.saying("records.bytes_gone", where=sha256[:12])
        return content

    def all_kept(self) -> Iterator[tuple[str, bytes]]:
        """All bytes with the SHA-256 that they are kept under, which may lie."""
        from hatchwright.records.models import Kept

        with _told(str(self.folder / PLACE)):
            for sha256, content in (
                Kept.objects.using(self._alias).values_list("sha256", "content").iterator(chunk_size=20)
            ):
                yield sha256, bytes(content)

    def people(self) -> dict[str, Person]:
        """Everybody by name, as last named, also who has left."""
        return people_in(self.entries(kind=Kind.PERSON))

    @contextmanager
    def _writing(self) -> Iterator[None]:
        """One writer at a time, all or nothing, on disk at the end."""
        from django.db import transaction

        with _told(str(self.folder / PLACE)), transaction.atomic(using=self._alias):
            if self.connection.vendor == "postgresql":
                with self.connection.cursor() as cursor:
                    cursor.execute("SELECT pg_advisory_xact_lock(%s)", [_ADVISORY])
            yield

    def _keep(self, kept: Mapping[str, bytes]) -> None:
        from hatchwright.records.models import Kept

        for sha256, content in kept.items():
            if sha256_of(content) != sha256:
                raise ValueError(sha256)
            if not Kept.objects.using(self._alias).filter(sha256=sha256).exists():
                Kept.objects.using(self._alias).create(sha256=sha256, content=content)

    def _write(self, entry: Entered) -> None:
        from hatchwright.records.models import Entry, Newest

        Entry.objects.using(self._alias).create(**{field: getattr(entry, field) for field in _FIELDS})
        new = {"seq": entry.seq} | ({"signed_seq": entry.seq} if entry.is_signed else {})
        Newest.objects.using(self._alias).update_or_create(
            about=entry.about, defaults=new, create_defaults={"signed_seq": 0} | new
        )

    def _rows(self) -> QuerySet[Entry, tuple[Any, ...]]:
        from hatchwright.records.models import Entry

        return Entry.objects.using(self._alias).values_list(*_FIELDS)

    def _move_forward(self) -> None:
        from django.db.migrations.executor import MigrationExecutor

        executor = MigrationExecutor(self.connection)
        known = {name for app, name in executor.loader.disk_migrations if app == "records"}
        there = {name for app, name in executor.loader.applied_migrations if app == "records"}
        if there - known:
            raise RecordError.saying("records.newer_program", where=str(self.folder / PLACE))
        leaves = executor.loader.graph.leaf_nodes("records")
        if executor.migration_plan(leaves):
            executor.migrate(leaves)


def sha256_of(content: bytes) -> str:
    """In hexadecimal digits, as bytes are kept under."""
    return hashlib.sha256(content).hexdigest()


@contextmanager
def _told(where: str) -> Iterator[None]:
    """What a database refuses, in our words."""
    from django.db import DatabaseError, InterfaceError

    try:
        yield
    except (DatabaseError, InterfaceError, OSError) as error:
        raise RecordError.saying(
            "records.refused", where=where, why=str(error).strip().splitlines()[0]
        ) from error
