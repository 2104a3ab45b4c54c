"""The register of codes: rules (R), making (T) and strength (S) alike, each entered beside the code that judges by it.

What a code is for stands with its rule and nowhere else: its shelf, whether it marks holes, whether a template may be
made while it stops, what it reads. Its title and what it asks are sentences of the catalogue, `<code>.title`,
`<code>.asks`, with `<code>.passes`, `<code>.fails` and `<code>.boundary` as examples.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import IntEnum
from types import MappingProxyType

from msgspec import Struct

from hatchwright.remedy import Change
from hatchwright.said import Said, said


class Shelf(IntEnum):
    """Where an answer is read, the gravest first."""

    PLACE = 1
    """Wrong place, wrong aircraft, or not a job for these rules."""
    BEHIND = 2
    """Can hurt what is behind the skin."""
    HOLDS = 3
    """Does not hold: edge, pitch, number, strength."""
    SETTLE = 4
    """To be settled before a step of the work that is named."""
    KNOW = 5
    """To enter, to choose, or to know."""


class Entry(Struct, frozen=True):
    """One code.

    Args:
        code: R, T or S and three digits, never used again for another.
        shelf: where its answers are read.
        step: id `step.<step>` of the work that waits for it, or that tells it; "" for none.
        reads: what it looks at: attributes of the survey, such as "edges", or parts of the job, such as "gate".
        marks_holes: whether a drawing marks the holes that it names.
        needs_every_hole: whether it asks about holes together, so that it is not shown while one of their fasteners
            is in no table; else the holes that are listed are judged without it.
        forbids_template: whether no template is written while it holds back.
        cause: what it shares with other codes that are told in one line, "" for its own.
        limits: keys of the published limits that it judges by.
        readings: where documents differ, the names that a job may choose from, the default first.
        rests_on: tables, documents' words and practice that it rests on besides.
        theory: page of docs/theory with its method, "" for none.
        remedies: what may be changed in a job that does not pass, in the order in which it is tried.
        comes_first: whether its answer is told before all others while it holds back: asked before anything else.
    """

    code: str
    shelf: Shelf
    step: str = ""
    reads: tuple[str, ...] = ()
    marks_holes: bool = False
    needs_every_hole: bool = False
    forbids_template: bool = False
    cause: str = ""
    limits: tuple[str, ...] = ()
    readings: tuple[str, ...] = ()
    rests_on: tuple[object, ...] = ()
    theory: str = ""
    remedies: tuple[Change, ...] = ()
    comes_first: bool = False

    @property
    def title(self) -> Said:
        """In the trade's words."""
        return said(f"{self.code}.title")

    @property
    def asks(self) -> Said:
        """What it asks, and why."""
        return said(f"{self.code}.asks")

    @property
    def family(self) -> str:
        """First two characters of its code."""
        return self.code[:2]


_ENTRIES: dict[str, Entry] = {}


def enter(entry: Entry) -> Entry:
    """Enter a code into the register, once.

    Raises:
        ValueError: it is no code, or it is taken.
    """
    if not re.fullmatch(r"[RTS]\d{3}", entry.code):
        raise ValueError(f"{entry.code!r} is no code")
    if entry.code in _ENTRIES:
        raise ValueError(f"{entry.code} is entered twice")
    _ENTRIES[entry.code] = entry
    return entry


def entries() -> Mapping[str, Entry]:
    """Every code that was entered by the modules loaded so far, in order."""
    return MappingProxyType(dict(sorted(_ENTRIES.items())))


def find(code: str) -> Entry | None:
    """One code, None where no module that is loaded has entered it."""
    return _ENTRIES.get(code)
