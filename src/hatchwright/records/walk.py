"""One way through a chain from its first entry to its last: edits, removals, changes of order and lost signatures."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from msgspec import Struct

from hatchwright.errors import RecordError
from hatchwright.records.canonical import canonical
from hatchwright.records.entry import CLOCK_WAS, FIRST_PREV, SHOWN_DIGITS, Entered, named_bytes
from hatchwright.records.keys import is_signed_by
from hatchwright.records.kinds import SIGNED_ONLY, Kind
from hatchwright.records.people import Crew, Person, person_in
from hatchwright.said import Said, said


class ChainFault(Struct, frozen=True):
    """One thing that is wrong.

    Args:
        seq: of the entry where it shows, 0 for the store as a whole.
    """

    seq: int
    what: Said


_AT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", re.ASCII)
_LINK_DIGITS = 64


def digits_of(printed: str) -> str:
    """The digits of a head as typed from paper; all 64 of a link may be given too.

    Raises:
        RecordError: it is no head.

    >>> digits_of("0123-4567 89AB")
    '0123456789ab'
    """
    digits = re.sub(r"[\s-]", "", printed.lower())
    if not re.fullmatch("[0-9a-f]+", digits) or len(digits) not in (SHOWN_DIGITS, _LINK_DIGITS):
        raise RecordError.saying("records.head_unread", where=printed, digits=SHOWN_DIGITS)
    return digits


class Walk:
    """What a chain comes to as it is read.

    Args:
        looked: digits of a printed head to look for, "" for none.
    """

    def __init__(self, looked: str = "") -> None:
        self._looked = looked
        self._crew = Crew()
        self._prev = FIRST_PREV
        self.entries = self.signed = self.seq = self.printed_seq = 0
        self.head = self.at = ""
        self.speaks_of: dict[str, int] = {}
        self.newest: dict[str, tuple[int, int]] = {}

    def over(self, entries: Iterable[Entered]) -> Iterator[ChainFault]:
        """What is wrong with each entry."""
        for entry in entries:
            yield from (ChainFault(entry.seq, what) for what in self._step(entry))

    def _step(self, entry: Entered) -> Iterator[Said]:
        if entry.seq != self.seq + 1:
            yield said("records.verify.gap", expected=self.seq + 1, found=entry.seq)
        if entry.prev != self._prev:
            yield said("records.verify.not_after")
        if entry.own_hash != entry.hash:
            yield said("records.verify.changed")
        yield from self._says(entry)
        self.entries += 1
        self.seq, self._prev, self.at, self.head = entry.seq, entry.link, entry.at, entry.head
        self.newest[entry.about] = (
            entry.seq,
            entry.seq if entry.is_signed else self.newest.get(entry.about, (0, 0))[1],
        )
        if self._looked and self._prev.startswith(self._looked):
            self.printed_seq = entry.seq

    def _says(self, entry: Entered) -> Iterator[Said]:
        """Whether it is said as this program says it, by somebody who may."""
        try:
            body = entry.said
            is_ours = canonical(body) == entry.body and entry.kind in set(Kind)
            named = person_in(entry) if entry.kind == Kind.PERSON else None
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            body, is_ours, named = {}, False, None
        if not is_ours:
            yield said("records.verify.unread")
        sets_clock = entry.kind == Kind.STORE and entry.is_signed and body.get(CLOCK_WAS) == self.at
        if not _AT.fullmatch(entry.at) or (entry.at < self.at and not sets_clock):
            yield said("records.verify.time_back", at=entry.at)
        for sha256 in named_bytes(body):
            self.speaks_of.setdefault(sha256, entry.seq)
        yield from self._signature(entry, named)
        if named:
            self._crew.take_in(named)

    def _signature(self, entry: Entered, named: Person | None) -> Iterator[Said]:
        if not entry.signature:
            if entry.key or entry.kind in SIGNED_ONLY:
                yield said("records.verify.stripped")
            return
        if not is_signed_by(entry.key, entry.hash, entry.signature):
            yield said("records.verify.not_signed_by", who=entry.author)
            return
        self.signed += 1
        refusal = self._crew.refusal(entry.kind, entry.author, entry.key, named)
        if refusal:
            yield refusal
