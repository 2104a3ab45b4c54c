"""The page of people: who is named, as what, by whom and since when."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.records.kinds import Kind
from hatchwright.records.people import Person, Role, person_in
from hatchwright.records.store import Store
from hatchwright.said import said
from hatchwright.words.tell import tell


class PersonRow(Struct, frozen=True):
    """A person as the page lists him.

    Args:
        role: name of the role, "" for who has left.
        as_what: the same in words.
        named: on which day and by whom he was last named.
    """

    name: str
    role: str
    as_what: str
    certificate: str
    named: str


class PeopleSheet(Struct, frozen=True):
    """Everybody, and the roles that can be given.

    Args:
        roles: name and words of each.
    """

    rows: tuple[PersonRow, ...]
    roles: tuple[tuple[str, str], ...]


def people_sheet(store: Store, people: dict[str, Person]) -> PeopleSheet:
    """The page, in the order in which people were first named.

    Raises:
        RecordError: the store can't be read.
    """
    named: dict[str, str] = {}
    for entry in store.entries(kind=Kind.PERSON):
        name = entry.said.get("name", "")
        if name in people and person_in(entry) == people[name]:
            named[name] = tell(said("page_people.named", day=entry.at[:10], who=entry.author))
    rows = (_row(person, named.get(person.name, "")) for person in people.values())
    roles = ((role.value, tell(said(f"people.role.{role}"))) for role in Role)
    return PeopleSheet(tuple(rows), tuple(roles))


def _row(person: Person, named: str) -> PersonRow:
    role = person.role.value if person.role else ""
    as_what = tell(said(f"people.role.{role or 'left'}"))
    return PersonRow(person.name, role, as_what, person.certificate, named)
