"""What a rule is, and the list of them all."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from hatchwright.finding import Finding
from hatchwright.layout.survey import Survey
from hatchwright.tables.cited import Cited
from hatchwright.tables.limits import limit

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
    """

    code: str
    title: str
    says: str
    check: Check
    limit_keys: tuple[str, ...]
    readings: tuple[str, ...]

    def limits(self) -> tuple[tuple[str, Cited], ...]:
        """Key and value of each limit that it judges by."""
        return tuple((key, limit(key)) for key in self.limit_keys)


_RULES: dict[str, Rule] = {}


def rule(code: str, title: str, *limit_keys: str, readings: tuple[str, ...] = ()) -> Callable[[Check], Check]:
    """Enter a function into the list of rules; its docstring is what the rule says.

    Args:
        code: stable code, R and three digits, never used again for another rule.
        title: in the trade's words.
        limit_keys: keys of the limits in `tables/rule_limits.csv` that it judges by.
        readings: where documents differ, the names of the readings that a job may choose from, the default first.
    Returns:
        Callable: decorator that leaves the function as it is.
    """
    assert re.fullmatch(r"R\d{3}", code), code
    assert code not in _RULES, code

    def enter(check: Check) -> Check:
        _RULES[code] = Rule(code, title, " ".join((check.__doc__ or "").split()), check, limit_keys, readings)
        return check

    return enter


def all_rules() -> tuple[Rule, ...]:
    """Every rule in the order of its code."""
    return tuple(_RULES[code] for code in sorted(_RULES))
