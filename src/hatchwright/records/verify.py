"""Whether the chain is what was said: every edit, removal, change of order and stripped signature is found."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from msgspec import Struct

from hatchwright.records.canonical import canonical
from hatchwright.records.entry import FIRST_PREV, SHOWN_DIGITS, Entered, hash_of
from hatchwright.records.keys import is_signed_by
from hatchwright.records.kinds import SIGNED_ONLY, Kind
from hatchwright.records.people import Person, Role, person_in
from hatchwright.records.store import Store, sha256_of
from hatchwright.said import Said, said


class ChainFault(Struct, frozen=True):
    """One thing that is wrong.

    Args:
        seq: of the entry where it shows, 0 for the store as a whole.
    """

    seq: int
    what: Said


class Verified(Struct, frozen=True):
    """What a look at the whole chain gave.

    Args:
        entries: how many were read.
        signed: how many of them bear a sound signature.
        head: of the chain as it is, as printed; "" for an empty one.
        printed: the printed head that was looked for, "" for none; its entry.
    """

    entries: int
    signed: int
    head: str
    faults: tuple[ChainFault, ...]
    printed: str = ""
    printed_seq: int = 0

    @property
    def is_sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.faults


_MOST_FAULTS = 100


def verify(store: Store, *, printed: str = "") -> Verified:
    """Read the whole chain and all that it speaks of.

    Args:
        printed: a head from paper, with or without its marks; without one, a tail that was cut off can't be seen.
    """
    looked = digits_of(printed)
    walk = Walk(looked)
    faults: list[ChainFault] = []
    for fault in walk.over(store.entries()):
        faults.append(fault)
        if len(faults) >= _MOST_FAULTS:
            break
    else:
        faults += _kept_faults(store, walk.speaks_of)
    if looked and not walk.printed_seq:
        faults.append(ChainFault(0, said("records.verify.head_not_there", head=printed)))
    return Verified(walk.entries, walk.signed, walk.head, tuple(faults), printed, walk.printed_seq)


def digits_of(printed: str) -> str:
    """The digits of a head as typed from paper.

    >>> digits_of("0123-4567 89AB")
    '0123456789ab'
    """
    return re.sub(r"[^0-9a-f]", "", printed.lower())[:SHOWN_DIGITS]


class Walk:
    """One way through a chain from its first entry to its last."""

    def __init__(self, looked: str = "") -> None:
        self._looked = looked
        self._people: dict[str, Person] = {}
        self._next, self._prev, self._at = 1, FIRST_PREV, ""
        self.entries = self.signed = self.printed_seq = 0
        self.head = ""
        self.speaks_of: dict[str, int] = {}

    def over(self, entries: Iterable[Entered]) -> Iterator[ChainFault]:
        """What is wrong with each entry."""
        for entry in entries:
            yield from (ChainFault(entry.seq, what) for what in self._step(entry))

    def _step(self, entry: Entered) -> Iterator[Said]:
        self.entries += 1
        if entry.seq != self._next:
            yield said("records.verify.gap", expected=self._next, found=entry.seq)
        if entry.prev != self._prev:
            yield said("records.verify.not_after")
        if entry.at < self._at:
            yield said("records.verify.time_back", at=entry.at)
        hash = hash_of(
            seq=entry.seq, prev=entry.prev, kind=entry.kind, about=entry.about, body=entry.body, author=entry.author,
            at=entry.at, key=entry.key,
        )  # fmt: skip
        if hash != entry.hash:
            yield said("records.verify.changed")
        yield from self._signature(entry)
        yield from self._body(entry)
        self._next, self._prev, self._at = entry.seq + 1, entry.link, entry.at
        self.head = entry.head
        if self._looked and entry.link.startswith(self._looked):
            self.printed_seq = entry.seq

    def _signature(self, entry: Entered) -> Iterator[Said]:
        if not entry.signature:
            if entry.key or entry.kind in SIGNED_ONLY:
                yield said("records.verify.stripped")
            return
        if not is_signed_by(entry.key, entry.hash, entry.signature):
            yield said("records.verify.not_signed_by", who=entry.author)
            return
        self.signed += 1
        signer = self._people.get(entry.author)
        names_itself = entry.kind == Kind.PERSON and not self._people
        if not names_itself and (signer is None or signer.key.public != entry.key or signer.role is None):
            yield said("records.verify.not_theirs", who=entry.author)

    def _body(self, entry: Entered) -> Iterator[Said]:
        try:
            body = entry.said
            is_canonical = canonical(body) == entry.body
        except (ValueError, TypeError):
            yield said("records.verify.unread")
            return
        if not is_canonical:
            yield said("records.verify.unread")
        for sha256 in named_bytes(body):
            self.speaks_of.setdefault(sha256, entry.seq)
        if entry.kind == Kind.PERSON:
            yield from self._person(entry)

    def _person(self, entry: Entered) -> Iterator[Said]:
        try:
            person = person_in(entry)
        except (KeyError, ValueError, TypeError):
            yield said("records.verify.unread")
            return
        by = self._people.get(entry.author)
        if self._people and (by is None or by.role != Role.INSPECTOR) and entry.author != person.name:
            yield said("records.verify.may_not_name", who=entry.author)
        elif not self._people and person.key.public != entry.key:
            yield said("records.verify.not_theirs", who=entry.author)
        self._people[person.name] = person


def named_bytes(value: object) -> Iterator[str]:
    """Every SHA-256 that a body names, under a key `sha256`."""
    if isinstance(value, dict):
        for key, held in value.items():
            if key == "sha256" and isinstance(held, str):
                yield held
            else:
                yield from named_bytes(held)
    elif isinstance(value, list):
        for held in value:
            yield from named_bytes(held)


def _kept_faults(store: Store, speaks_of: dict[str, int]) -> Iterator[ChainFault]:
    left = dict(speaks_of)
    for sha256, content in store.all_kept():
        if sha256_of(content) == sha256:
            left.pop(sha256, None)
    yield from (
        ChainFault(seq, said("records.verify.bytes_gone", which=one[:12])) for one, seq in left.items()
    )
