"""Who may say what: people with their roles and keys, as the chain names them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum

from msgspec import Struct

from hatchwright.records.entry import Entered, hash_of
from hatchwright.records.keys import LockedKey, is_signed_by
from hatchwright.records.kinds import Kind


class Role(StrEnum):
    """What a person may do: look; work, record and sign the work; pass a second inspection and name people."""

    VIEWER = "viewer"
    MECHANIC = "mechanic"
    INSPECTOR = "inspector"


class Person(Struct, frozen=True):
    """A person of the shop.

    Args:
        role: None for who has left: the name stays, the key signs nothing any more.
        certificate: kind and number of the certificate, as entered; "" where none is held.
    """

    name: str
    role: Role | None
    certificate: str
    key: LockedKey

    def may(self, least: Role) -> bool:
        """Whether a person may do what needs a role: each may what those before it may; who has left may nothing."""
        order = tuple(Role)
        return self.role is not None and order.index(self.role) >= order.index(least)

    def as_body(self) -> dict[str, str]:
        """What the chain keeps of a person."""
        return {
            "name": self.name,
            "role": self.role or "",
            "certificate": self.certificate,
            "public": self.key.public,
            "salt": self.key.salt,
            "nonce": self.key.nonce,
            "box": self.key.box,
        }


def person_in(entry: Entered) -> Person:
    """The person that an entry names.

    Raises:
        KeyError, ValueError: it isn't one.
    """
    body = entry.said
    key = LockedKey(body["public"], body["salt"], body["nonce"], body["box"])
    return Person(body["name"], Role(body["role"]) if body["role"] else None, body["certificate"], key)


def may_name(author: str, person: Person, people: Mapping[str, Person]) -> bool:
    """Whether somebody may name a person so: the first names himself, then an inspector anybody; everybody else may
    give himself a new key, and neither another role nor another certificate."""
    if not people:
        return author == person.name
    by, before = people.get(author), people.get(person.name)
    if by is None or by.role is None:
        return False
    is_own = before is not None and author == person.name
    is_only_key = is_own and (before.role, before.certificate) == (person.role, person.certificate)
    return is_only_key or by.role is Role.INSPECTOR


def people_in(entries: Iterable[Entered]) -> dict[str, Person]:
    """Everybody by name, as last named by somebody who may; what was written past this program names nobody."""
    people: dict[str, Person] = {}
    for entry in entries:
        if entry.kind != Kind.PERSON:
            continue
        try:
            person = person_in(entry)
        except (KeyError, ValueError, TypeError):
            continue
        key = people[entry.author].key if entry.author in people else person.key
        if key.public == entry.key and may_name(entry.author, person, people) and _is_signed(entry):
            people[person.name] = person
    return people


def _is_signed(entry: Entered) -> bool:
    hash = hash_of(
        seq=entry.seq, prev=entry.prev, kind=entry.kind, about=entry.about, body=entry.body, author=entry.author,
        at=entry.at, key=entry.key,
    )  # fmt: skip
    return hash == entry.hash and is_signed_by(entry.key, hash, entry.signature)
