"""Who may say what: people with their roles and keys, as the chain names them."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from msgspec import Struct

from hatchwright.records.entry import Entered
from hatchwright.records.keys import LockedKey
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


def people_in(entries: Iterable[Entered]) -> dict[str, Person]:
    """Everybody by name, as last named."""
    named = (person_in(entry) for entry in entries if entry.kind == Kind.PERSON)
    return {person.name: person for person in named}
