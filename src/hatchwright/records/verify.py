"""Whether a store is what was said: the chain, the bytes it speaks of, and what guards and lists it."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.errors import RecordError
from hatchwright.records import guards
from hatchwright.records.refused import told
from hatchwright.records.rows import BEFORE_ANY
from hatchwright.records.store import Store, sha256_of
from hatchwright.records.walk import ChainFault, Walk, digits_of
from hatchwright.said import said


class Verified(Struct, frozen=True):
    """What a look at the whole store gave.

    Args:
        entries: how many were read.
        signed: how many of them bear a sound signature.
        head: of the chain as it is, as printed; "" for an empty one.
        last_seq: number of the newest entry that was read.
        at: its time.
        chain: what is wrong with what was said and kept.
        beside: what is wrong only with what guards and lists it, and can be made again; see `mend`.
        printed: the printed head that was looked for, "" for none.
        printed_seq: its entry, 0 where it is none.
        is_whole: False where so much is wrong that the rest was not looked at.
    """

    entries: int
    signed: int
    head: str
    last_seq: int
    at: str
    chain: tuple[ChainFault, ...]
    beside: tuple[ChainFault, ...]
    printed: str
    printed_seq: int
    is_whole: bool

    @property
    def faults(self) -> tuple[ChainFault, ...]:
        """All that is wrong."""
        return self.chain + self.beside

    @property
    def is_sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.faults


_MOST_FAULTS = 100


def verify(store: Store, *, printed: str = "") -> Verified:
    """Read the whole chain and all that it speaks of; what is added meanwhile may be left out.

    Args:
        printed: a head from paper, with or without its marks; without one, a tail that was cut off can't be seen.
    Raises:
        RecordError: what was typed is no head.
    """
    looked = digits_of(printed) if printed else ""
    walk, is_whole = Walk(looked), True
    chain: list[ChainFault] = []
    beside: list[ChainFault] = []
    try:
        beside += _guard_faults(store)
        last = store.last()
        chain += _file_faults(store)
        for fault in walk.over(
            entry for entry in store.entries(since=BEFORE_ANY) if last and entry.seq <= last.seq
        ):
            chain.append(fault)
            if len(chain) >= _MOST_FAULTS:
                is_whole = False
                break
        else:
            chain += _kept_faults(store, walk.speaks_of)
            beside += _index_faults(store, walk)
    except RecordError as error:
        chain.append(ChainFault(walk.seq + 1, said("records.verify.unreadable", why=error.what)))
        is_whole = False
    if looked and not walk.printed_seq:
        chain.append(ChainFault(0, said("records.verify.head_not_there", head=printed)))
    return Verified(
        walk.entries, walk.signed, walk.head, walk.seq, walk.at, tuple(chain), tuple(beside), printed,
        walk.printed_seq, is_whole,
    )  # fmt: skip


def mend(store: Store, *, printed: str = "") -> Verified:
    """Make again what guards and lists a sound chain, and look again.

    Raises:
        RecordError: something is wrong with the chain itself, which nothing can make again.
    """
    found = verify(store, printed=printed)
    if found.chain:
        raise RecordError.saying("records.not_mended", where=str(store.place))
    walk = Walk()
    for _ in walk.over(store.entries()):
        pass
    store.mend(walk.newest)
    return verify(store, printed=printed)


def _guard_faults(store: Store) -> Iterator[ChainFault]:
    with told(str(store.place), store.connection):
        amiss = guards.amiss(store.connection)
    if amiss:
        yield ChainFault(0, said("records.verify.unguarded", triggers=", ".join(amiss)))


def _file_faults(store: Store) -> Iterator[ChainFault]:
    """What SQLite itself finds wrong with its file: an index that leaves a row out would hide it from every list."""
    if store.connection.vendor != "sqlite":
        return
    with told(str(store.place), store.connection), store.connection.cursor() as cursor:
        cursor.execute(f"PRAGMA integrity_check({_MOST_FAULTS // 10})")
        lines = [str(line) for (line,) in cursor.fetchall()]
    yield from (ChainFault(0, said("records.verify.file", why=line)) for line in lines if line != "ok")


def _kept_faults(store: Store, speaks_of: dict[str, int]) -> Iterator[ChainFault]:
    """Bytes that are gone or changed; those that no entry speaks of are held to their number too."""
    amiss = dict(speaks_of)
    for sha256, content in store.all_kept():
        if sha256_of(content) == sha256:
            amiss.pop(sha256, None)
        else:
            amiss.setdefault(sha256, 0)
    yield from (
        ChainFault(seq, said("records.verify.bytes_gone", which=one[:12])) for one, seq in amiss.items()
    )


def _index_faults(store: Store, walk: Walk) -> Iterator[ChainFault]:
    """Where the list of newest entries says something else than the chain; what was added meanwhile is newer."""
    try:
        listed = store.newest()
    except RecordError:
        listed = {"": (0, 0)}
    differing = [about for about in {*listed, *walk.newest} if listed.get(about) != walk.newest.get(about)]
    if any(store.newest_seq(about) <= walk.seq for about in differing):
        yield ChainFault(0, said("records.verify.index"))
