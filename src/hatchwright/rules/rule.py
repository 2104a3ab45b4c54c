"""How a function becomes a rule: it is entered into the register with all that steers it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import wraps
from typing import Any

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.layout.survey import Survey
from hatchwright.register import Entry, Shelf, enter
from hatchwright.remedy import Change
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction, instruction
from hatchwright.tables.limits import limit
from hatchwright.tables.table import Table
from hatchwright.workings import Grade, Source

Basis = Table[Any] | Instruction | Cited | str
"""What a rule may rest on; a document's words by their key, which are looked up where they are told."""

Check = Callable[[Survey], Iterator[Finding]]


class Rule(Struct, frozen=True):
    """One rule: its entry of the register, and the function that judges by it."""

    entry: Entry
    check: Check
    rests_on: tuple[Basis, ...]

    @property
    def code(self) -> str:
        """Stable code."""
        return self.entry.code

    @property
    def readings(self) -> tuple[str, ...]:
        """Where documents differ, the names that a job may choose from, the default first."""
        return self.entry.readings

    def limits(self) -> tuple[tuple[str, Cited], ...]:
        """Key and value of each limit that it judges by."""
        return tuple((key, limit(key)) for key in self.entry.limits)

    def bases(self) -> tuple[tuple[str, Source, Grade], ...]:
        """What it rests on besides its limits: words, document and grade."""
        found: dict[tuple[str, Source, Grade], None] = {}
        for one in self.rests_on:
            basis = instruction(one) if isinstance(one, str) else one
            if isinstance(basis, Table):
                found |= {
                    (f"table {basis.name}", Source(row.source.key), row.grade): None for row in basis.rows()
                }
            elif isinstance(basis, Instruction):
                found[basis.text, basis.source, basis.grade] = None
            else:
                found[basis.note, basis.source, basis.grade] = None
        return tuple(found)


_RULES: dict[str, Rule] = {}


def rule(
    code: str,
    shelf: Shelf,
    *,
    reads: tuple[str, ...] = (),
    marks_holes: bool = False,
    needs_every_hole: bool = False,
    forbids_template: bool = False,
    step: str = "",
    cause: str = "",
    comes_first: bool = False,
) -> Callable[[Check], Check]:
    """Enter a function into the register as a rule, and its code into its findings; arguments as for `Entry`."""

    def decorate(check: Check) -> Check:
        @wraps(check)
        def coded(survey: Survey) -> Iterator[Finding]:
            return (finding.of(code) for finding in check(survey))

        told = vars(check)
        entry = Entry(
            code,
            shelf,
            step,
            reads,
            marks_holes,
            needs_every_hole,
            forbids_template,
            cause=cause,
            comes_first=comes_first,
            **told,
        )
        _RULES[code] = Rule(enter(entry), coded, told.get("rests_on", ()))
        return coded

    return decorate


def judged_by(
    *rests_on: Basis, limits: tuple[str, ...] = (), readings: tuple[str, ...] = ()
) -> Callable[[Check], Check]:
    """Say under `rule` what a rule judges by; arguments as for `Entry`."""
    return _told(rests_on=rests_on, limits=limits, readings=readings)


def mended_by(*remedies: Change) -> Callable[[Check], Check]:
    """Say under `rule` what may be changed in a job that does not pass, in the order in which it is tried."""
    return _told(remedies=remedies)


def _told(**more: object) -> Callable[[Check], Check]:
    def tell(check: Check) -> Check:
        assert not hasattr(check, "__wrapped__")  # above `rule` it would be lost
        vars(check).update(more)
        return check

    return tell


def all_rules() -> tuple[Rule, ...]:
    """Every rule in the order of its code."""
    return tuple(_RULES[code] for code in sorted(_RULES))
