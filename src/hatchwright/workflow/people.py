"""The people of a folder: named, given a role or a new pass phrase, and known again by the one that opens their key."""

from __future__ import annotations

import unicodedata
from datetime import datetime
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import RecordError
from hatchwright.records.keys import LockedKey, SigningKey, new_key
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Person, Role
from hatchwright.records.store import Store

LONGEST_NAME = 80
LONGEST_PASS_PHRASE = 1000
"""More is no pass phrase, only work [letters]."""

_NOBODY = LockedKey(public="00" * 32, salt="00" * 16, nonce="00" * 12, box="00" * 48)
"""Opened by nothing: as much work for a name that nobody has as for any other."""


class Signer(Struct, frozen=True):
    """A person whose key is open, for as long as he signs."""

    person: Person
    key: SigningKey


def people_of(folder: Path) -> dict[str, Person]:
    """Everybody of a folder by name, also who has left; nobody where nothing was recorded yet.

    Raises:
        RecordError: the records can't be read.
    """
    return Store.opened(folder).people() if Store.is_there(folder) else {}


def signer(people: dict[str, Person], name: str, pass_phrase: str) -> Signer:
    """Who opens his key; a wrong name takes as long and is told in the same words as a wrong pass phrase.

    Raises:
        RecordError: nobody of that name has that pass phrase, or he has left.
    """
    person = people.get(as_named(name))
    is_known = person is not None and person.role is not None and len(pass_phrase) <= LONGEST_PASS_PHRASE
    try:
        key = (person.key if person and is_known else _NOBODY).opened(pass_phrase[:LONGEST_PASS_PHRASE])
    except RecordError:
        raise RecordError.saying("people.not_known") from None
    if person is None or not is_known:
        raise RecordError.saying("people.not_known")
    return Signer(person, key)


def name_first(folder: Path, *, name: str, pass_phrase: str, now: datetime, certificate: str = "") -> Signer:
    """Name the first person of a folder; he names all others, so he is an inspector.

    Raises:
        RecordError: somebody is named already, or a name or a pass phrase that can't be taken.
    """
    store, seen, people = _opened(folder)
    if people:
        raise RecordError.saying("people.not_first", where=name)
    locked = _locked_by(pass_phrase)
    person = Person(_sound_name(name, {}), Role.INSPECTOR, _sound_line(certificate), locked)
    by = Signer(person, locked.opened(pass_phrase))
    _add(store, person, by, now, seen)
    return by


def name_person(
    folder: Path, *, by: Signer, name: str, role: Role, pass_phrase: str, now: datetime, certificate: str = ""
) -> Person:
    """Name one more person, who alone should know the pass phrase.

    Raises:
        RecordError: who names him may not, there is one of that name, or a name or a pass phrase that can't be taken.
    """
    store, seen, people = _opened(folder)
    name = _sound_name(name, people)
    person = Person(name, role, _sound_line(certificate), _locked_by(pass_phrase))
    _add(store, person, by, now, seen)
    return person


def give_role(folder: Path, *, by: Signer, name: str, role: Role | None, now: datetime) -> Person:
    """Give a person another role, None where he has left.

    Raises:
        RecordError: who gives it may not, nobody has that name, or no inspector would be left.
    """
    store, seen, people = _opened(folder)
    before = _known(people, name)
    inspectors = {one.name for one in people.values() if one.role is Role.INSPECTOR}
    if role is not Role.INSPECTOR and inspectors == {before.name}:
        raise RecordError.saying("people.last_inspector", where=before.name)
    person = Person(before.name, role, before.certificate, before.key)
    _add(store, person, by, now, seen)
    return person


def new_pass_phrase(folder: Path, *, by: Signer, name: str, pass_phrase: str, now: datetime) -> Person:
    """Lock a new key with a new pass phrase: one's own, or as an inspector that of who has lost his.

    Raises:
        RecordError: it is another's and who gives it is no inspector, or it can't be taken.
    """
    store, seen, people = _opened(folder)
    before = _known(people, name)
    person = Person(before.name, before.role, before.certificate, _locked_by(pass_phrase))
    _add(store, person, by, now, seen)
    return person


def _locked_by(pass_phrase: str) -> LockedKey:
    """A new key; none that its owner could not open again, for `signer` reads so many letters."""
    if len(pass_phrase) > LONGEST_PASS_PHRASE:
        raise RecordError.saying("people.long_phrase", most=LONGEST_PASS_PHRASE)
    return new_key(pass_phrase)


def as_named(name: str) -> str:
    """A name as it is kept: one form of each letter, single blanks."""
    return " ".join(unicodedata.normalize("NFC", name).split())


def _opened(folder: Path) -> tuple[Store, int, dict[str, Person]]:
    """The store, the newest entry about itself, and everybody named up to it at the least."""
    store = Store.opened(folder)
    seen = store.newest_seq("")
    return store, seen, store.people()


def _known(people: dict[str, Person], name: str) -> Person:
    if (person := people.get(as_named(name))) is None:
        raise RecordError.saying("people.nobody", where=name[:LONGEST_NAME])
    return person


def _sound_name(name: str, people: dict[str, Person]) -> str:
    """A name that can be read and that no other looks like by case or width of its letters alone."""
    name = _sound_line(name)
    if not name:
        raise RecordError.saying("people.no_name", where="name", most=LONGEST_NAME)
    if _alike(name) in {_alike(one) for one in people}:
        raise RecordError.saying("people.name_taken", where=name)
    return name


def _sound_line(text: str) -> str:
    line = as_named(text)
    if not line.isprintable() or len(line) > LONGEST_NAME:
        raise RecordError.saying("people.no_name", where="name", most=LONGEST_NAME)
    return line


def _alike(name: str) -> str:
    return unicodedata.normalize("NFKC", name).casefold()


def _add(store: Store, person: Person, by: Signer, now: datetime, seen: int) -> None:
    store.add(Kind.PERSON, "", person.as_body(), author=by.person.name, now=now, key=by.key, after=seen)
