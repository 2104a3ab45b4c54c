"""What a rule is, and the list of them all."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from hatchwright.finding import Finding, Grade, Source
from hatchwright.layout.survey import Survey
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction
from hatchwright.tables.limits import limit
from hatchwright.tables.table import Table

Basis = Table[Any] | Instruction | Cited
"""What a rule may rest on."""

Check = Callable[[Survey], Iterator[Finding]]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule.

    Args:
        code: stable code.
        title: in the trade's words.
        says: what it asks for.
        check: the function that judges by it.
        limit_keys: keys of the limits that it judges by.
        readings: where documents differ, the names of the readings that a job may choose from, the default first.
        rests_on: what it rests on besides those limits: tables, documents' words, practice.
    """

    code: str
    title: str
    says: str
    check: Check
    limit_keys: tuple[str, ...]
    readings: tuple[str, ...]
    rests_on: tuple[Basis, ...] = ()

    def limits(self) -> tuple[tuple[str, Cited], ...]:
        """Key and value of each limit that it judges by."""
        return tuple((key, limit(key)) for key in self.limit_keys)

    def bases(self) -> tuple[tuple[str, Source, Grade], ...]:
        """What it rests on besides its limits: words, document and grade."""
        found: dict[tuple[str, Source, Grade], None] = {}
        for basis in self.rests_on:
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
    title: str,
    *limit_keys: str,
    readings: tuple[str, ...] = (),
    rests_on: tuple[Basis, ...] = (),
) -> Callable[[Check], Check]:
    """Enter a function into the list of rules; its docstring is what the rule says.

    Args:
        code: stable code, R and three digits, never used again for another rule.
        title: in the trade's words.
        limit_keys: keys of the limits in `tables/rule_limits.csv` that it judges by.
        readings: where documents differ, the names of the readings that a job may choose from, the default first.
        rests_on: what it rests on besides those limits.
    Returns:
        Callable: decorator that leaves the function as it is.
    """
    assert re.fullmatch(r"R\d{3}", code), code
    assert code not in _RULES, code

    def enter(check: Check) -> Check:
        _RULES[code] = Rule(
            code, title, " ".join((check.__doc__ or "").split()), check, limit_keys, readings, rests_on
        )
        return check

    return enter


def all_rules() -> tuple[Rule, ...]:
    """Every rule in the order of its code."""
    return tuple(_RULES[code] for code in sorted(_RULES))
