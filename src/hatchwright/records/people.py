"""Who may say what: people with their roles and keys, as the chain names them."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from msgspec import Struct

from hatchwright.records.entry import Entered
from hatchwright.records.keys import LockedKey, is_signed_by
from hatchwright.records.kinds import Kind
from hatchwright.said import Said, said


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


_FIELDS = ("name", "role", "certificate", "public", "salt", "nonce", "box")


def person_in(entry: Entered) -> Person:
    """The person that an entry names.

    Raises:
        KeyError, ValueError: it isn't one.
    """
    body = entry.said
    if not all(isinstance(body[field], str) for field in _FIELDS) or not body["name"]:
        raise ValueError(entry.seq)
    key = LockedKey(body["public"], body["salt"], body["nonce"], body["box"])
    return Person(body["name"], Role(body["role"]) if body["role"] else None, body["certificate"], key)


def people_in(entries: Iterable[Entered]) -> dict[str, Person]:
    """Everybody by name, as last named by somebody who may; what was written past this program names nobody."""
    crew = Crew()
    for entry in entries:
        if entry.kind != Kind.PERSON:
            continue
        try:
            named = person_in(entry)
        except (KeyError, ValueError, TypeError):
            continue
        if is_soundly_signed(entry) and crew.refusal(entry.kind, entry.author, entry.key, named) is None:
            crew.take_in(named)
    return crew.by_name


def is_soundly_signed(entry: Entered) -> bool:
    """Whether an entry says what its signature was made for; whose that is, is for `Crew`."""
    return entry.own_hash == entry.hash and is_signed_by(entry.key, entry.hash, entry.signature)


class Crew:
    """The people of a chain as far as it has been read, and what they may say next."""

    def __init__(self, people: dict[str, Person] | None = None) -> None:
        self.by_name = dict(people or {})

    def refusal(self, kind: str, author: str, key: str, named: Person | None = None) -> Said | None:
        """Why a signed entry may not stand, None where it may.

        Args:
            key: public key that signs it.
            named: whom an entry of kind `Kind.PERSON` names.
        """
        if not self.by_name:
            return _first(author, key, named)
        signer = self.by_name.get(author)
        if signer is None or signer.role is None or signer.key.public != key:
            return said("records.verify.not_theirs", who=author)
        if kind == Kind.PERSON:
            return self._naming(signer, named)
        return said("records.verify.may_not_sign", who=author) if signer.role is Role.VIEWER else None

    def take_in(self, person: Person) -> None:
        """Somebody was named."""
        self.by_name[person.name] = person

    def _naming(self, signer: Person, named: Person | None) -> Said | None:
        if named is None:
            return said("records.verify.unread")
        holders = {one.name for one in self.by_name.values() if one.key.public == named.key.public}
        if holders - {named.name}:
            return said("records.verify.key_of_another", who=named.name)
        only_new_key = named.name == signer.name and (named.role, named.certificate) == (
            signer.role,
            signer.certificate,
        )
        return (
            None
            if only_new_key or self._names(signer)
            else said("records.verify.may_not_name", who=signer.name)
        )

    def _names(self, signer: Person) -> bool:
        """Inspectors name people; where the shop has none, a mechanic does."""
        has_inspector = any(one.role is Role.INSPECTOR for one in self.by_name.values())
        return signer.role is Role.INSPECTOR or (signer.role is Role.MECHANIC and not has_inspector)


def _first(author: str, key: str, named: Person | None) -> Said | None:
    """The first to sign names himself, with his own key, and may name others."""
    if named is None or named.name != author or named.key.public != key:
        return said("records.verify.not_theirs", who=author)
    return (
        None
        if named.role in (Role.MECHANIC, Role.INSPECTOR)
        else said("records.verify.may_not_name", who=author)
    )
