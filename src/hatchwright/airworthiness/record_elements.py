"""What each record has to hold, by rule or by practice, and which of it is there: present, missing or not asked.

Nothing here says that a record is complete or a job approved: it names what is missing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum

from msgspec import Struct

from hatchwright.airworthiness.holds import Open
from hatchwright.airworthiness.record_facts import RecordFacts
from hatchwright.said import Listed, Said, Value, said
from hatchwright.tables.record_elements import ElementRow, RecordName, record_elements
from hatchwright.workings import Grade, Source


class Standing(StrEnum):
    """How an element of a record stands."""

    PRESENT = "present"
    MISSING = "missing"
    BY_HAND = "by_hand"
    """Only a person can write it, on paper: a signature, a statement. Missing as long as this program knows."""
    NOT_ASKED = "not_asked"


class Element(Struct, frozen=True):
    """One thing that a record holds.

    Args:
        values: what is known, one sentence or several; none where it is missing or written by hand.
        by_rule: whether the rule asks for it, or practice alone.
        fact: name under which it is known, "" for what is written by hand.
        source: where it is asked; its place is the paragraph or item.
    """

    record: RecordName
    name: str
    values: tuple[Value, ...]
    standing: Standing
    by_rule: bool
    fact: str
    source: Source
    grade: Grade

    @property
    def called(self) -> Said:
        """Its name."""
        return said(f"record.{self.record}.{self.name}")


def elements_of(record: RecordName, facts: RecordFacts) -> tuple[Element, ...]:
    """What a record has to hold, in its order, as far as it is known."""
    return tuple(_element(row, facts) for row in record_elements(record))


def missing_of(elements: Iterable[Element]) -> tuple[Element, ...]:
    """What the rule asks for and is not there; what is written by hand is among it."""
    wanted = (Standing.MISSING, Standing.BY_HAND)
    return tuple(one for one in elements if one.by_rule and one.standing in wanted)


def open_points(
    elements: Iterable[Element], holds: Sequence[Open], counts: Sequence[Open], *, stop: str = ""
) -> tuple[Said, ...]:
    """All that keeps a record a draft: what holds work back, each open hold and count, and what is missing.

    Args:
        stop: what the answers hold back by, as a paper prints it; "" where nothing does.
    Returns:
        tuple[Said, ...]: never empty while a hold or a count is open.
    """
    points: list[Said] = [said("record.open.stop", stop=stop)] if stop else []
    points += [one.why for one in (*holds, *counts)]
    if missing := missing_of(elements):
        points.append(said("record.open.missing", what=Listed(tuple(one.called for one in missing), ";")))
    return tuple(points)


def _element(row: ElementRow, facts: RecordFacts) -> Element:
    known = () if row.is_by_hand or row.fact in facts.not_asked else _known(row, facts)
    if row.fact in facts.not_asked:
        standing = Standing.NOT_ASKED
    elif row.is_by_hand:
        standing = Standing.BY_HAND
    else:
        standing = Standing.PRESENT if known else Standing.MISSING
    return Element(row.record, row.element, known, standing, row.is_by_rule, row.fact, row.source, row.grade)


def _known(row: ElementRow, facts: RecordFacts) -> tuple[Value, ...]:
    """What is known of an element, none where nothing is."""
    items = dict(facts.ica_items)
    known = items.get(row.fact, "") if row.record == "ica" else getattr(facts, row.fact, "")
    return known if isinstance(known, tuple) else (known,) if known else ()
