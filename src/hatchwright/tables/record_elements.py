"""What each record of a finished job has to hold, element by element, with where that is asked."""

from __future__ import annotations

from typing import Literal

from hatchwright.tables.table import Record, Table

RecordName = Literal["entry", "inspection", "form", "directive", "release", "ica", "easa", "canada"]
"""Maintenance entry, inspection entry, alteration form, directive status line, return to service, instructions for
continued airworthiness, and the lists of two other authorities."""


class ElementRow(Record, frozen=True):
    """One element.

    Args:
        fact: name under which it is known, see `RecordFacts`; of what is written by hand, its own name.
        is_by_hand: whether only a person can write it, on paper.
        is_by_rule: whether the rule asks for it, or practice alone.
    """

    record: RecordName
    element: str
    fact: str
    is_by_hand: bool
    is_by_rule: bool


RECORD_ELEMENTS = Table(ElementRow, "record_elements", named_by=2, is_open=False)


def record_elements(record: RecordName) -> tuple[ElementRow, ...]:
    """What a record has to hold, in its order."""
    return RECORD_ELEMENTS.all(record=record)
