"""Entries that bear the sound signature of whom they name, with who that was when they signed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.records.entry import Entered, hash_of
from hatchwright.records.keys import is_signed_by
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Person, people_in
from hatchwright.records.store import Store


def vouched(store: Store, entries: Iterable[Entered]) -> Iterator[tuple[Entered, Person]]:
    """Those of some entries that count as signed, each with the person as named at that time.

    What was written into the database past this program counts for nothing here; `verify` tells what it is.
    """
    named = tuple(store.entries(kind=Kind.PERSON))
    people: dict[int, dict[str, Person]] = {}
    for entry in entries:
        before = sum(one.seq < entry.seq for one in named)
        if before not in people:
            people[before] = people_in(named[:before])
        person = people[before].get(entry.author)
        if person is not None and person.role is not None and _is_by(person, entry):
            yield entry, person


def _is_by(person: Person, entry: Entered) -> bool:
    hash = hash_of(
        seq=entry.seq, prev=entry.prev, kind=entry.kind, about=entry.about, body=entry.body, author=entry.author,
        at=entry.at, key=entry.key,
    )  # fmt: skip
    return (
        person.key.public == entry.key
        and hash == entry.hash
        and is_signed_by(entry.key, hash, entry.signature)
    )
