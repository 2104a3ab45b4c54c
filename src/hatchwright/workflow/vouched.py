"""Entries that bear the sound signature of whom they name, with who that was when they signed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from heapq import merge

from hatchwright.records.entry import Entered
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Crew, Person, is_soundly_signed, person_in
from hatchwright.records.store import Store


def vouched(store: Store, entries: Iterable[Entered]) -> Iterator[tuple[Entered, Person]]:
    """Those of some entries, in their order, that count as signed, each with the person as named at that time.

    What was written into the database past this program counts for nothing here; `verify` tells what it is.
    """
    crew = Crew()
    for entry in merge(store.entries(kind=Kind.PERSON), entries, key=lambda one: one.seq):
        if not is_soundly_signed(entry):
            continue
        if entry.kind == Kind.PERSON:
            _take_in(crew, entry)
        elif crew.by_name and crew.refusal(entry.kind, entry.author, entry.key) is None:
            yield entry, crew.by_name[entry.author]


def _take_in(crew: Crew, entry: Entered) -> None:
    try:
        named = person_in(entry)
    except (KeyError, ValueError, TypeError):
        return
    if crew.refusal(entry.kind, entry.author, entry.key, named) is None:
        crew.take_in(named)
