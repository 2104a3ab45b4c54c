"""The places that a paper cites, each by one number, so that a line names its source in three letters."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from typing import Any

from hatchwright.ground import Ground, practice
from hatchwright.said import Listed, Said, Value, said
from hatchwright.tables.sources import Document, documents
from hatchwright.tables.table import ShopTables
from hatchwright.words.tell import tell
from hatchwright.workings import Grade, Rests

_TRUST = tuple(Grade)


def documents_of(keys: Collection[str], shop: ShopTables | None) -> list[tuple[str, str]]:
    """Key, title and edition of the documents of some keys, in the order of the bibliography."""
    return [(key, title) for key, title in _titles(shop).items() if key in keys]


class Citations:
    """Numbers of everything that a paper rests on, document by document in the order of the bibliography.

    Args:
        rests_on: findings, grounds and whatever else has a source and a grade, as often as each occurs.
        shop: the shop's own tables, whose documents come last.
    """

    def __init__(self, rests_on: Iterable[Rests], shop: ShopTables | None) -> None:
        self._titles = _titles(shop)
        order = {key: place for place, key in enumerate(self._titles)}
        grounds = {_ground(one) for one in rests_on}
        known = (ground for ground in grounds if ground.source.key in order)
        ordered = sorted(
            known, key=lambda one: (order[one.source.key], _TRUST.index(one.grade), one.source.place)
        )
        self._numbers = {ground: number for number, ground in enumerate(ordered, start=1)}

    def cited(self, *rests_on: Rests) -> str:
        """The numbers of what a line rests on, such as ``[3, 17]``; "" where it rests on nothing."""
        found = (self._numbers.get(_ground(one)) for one in rests_on)
        numbers = dict.fromkeys(number for number in found if number is not None)
        return f"[{', '.join(map(str, numbers))}]" if numbers else ""

    def documents(self) -> list[dict[str, Any]]:
        """Every document with its title and edition, and the numbered places in it by how far each is trusted."""
        told: dict[str, dict[str, list[Value]]] = {}
        for ground, number in self._numbers.items():
            of = told.setdefault(ground.source.key, {}).setdefault(ground.grade, [])
            of.append(_placed(number, ground.source.place))
        return [
            {
                "key": key,
                "title": self._titles[key],
                "places": " ".join(
                    tell(_graded(grade, Listed(tuple(places), ";"))) for grade, places in grades.items()
                ),
            }
            for key, grades in told.items()
        ]


def _ground(of: Rests) -> Ground:
    """What a line rests on; common practice is one thing, whatever the line is about."""
    if of.grade is Grade.PRACTICE and "docs/theory" not in of.source.place:
        return practice("")
    return Ground(of.source, of.grade)


def _graded(grade: str, places: Listed) -> Said:
    """Places with how far they are to be trusted, which the heading says of what is published."""
    id = "annex.published" if grade == Grade.PUBLISHED else "annex.graded"
    return said(id, grade=Grade(grade), places=places)


def _titled(document: Document) -> str:
    """Title and edition, the latter only where there is one to name."""
    first, *_ = document.edition.split()
    if first == "none":
        return tell(said("annex.titled", title=document.title))
    if first == "not":  # seen on the pages that were read
        return tell(said("annex.titled_only", title=document.title))
    return tell(said("annex.titled_edition", title=document.title, edition=document.edition))


def _placed(number: int, place: str) -> Said:
    """A place behind its number."""
    if not place:
        return said("annex.no_place", number=number)
    return said("annex.place", number=number, place=without_files(place))


def without_files(place: str) -> str:
    """A place in a document as paper names it, such as ``theory page guide template``."""
    return re.sub(r"docs/theory/(\w+)\.md", lambda page: _theory(page[1]), place)


def _theory(page: str) -> str:
    return tell(said("annex.theory", page=page.replace("_", " ")))


def _titles(shop: ShopTables | None) -> dict[str, str]:
    """Title and edition of every document by its key, the shop's own last."""
    own = shop.documents if shop else {}
    return {key: _titled(one) for key, one in documents().items()} | {
        key: tell(said("annex.shops_own", edition=edition)) for key, edition in own.items()
    }
