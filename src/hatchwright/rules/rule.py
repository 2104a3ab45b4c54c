"""What a rule is, and the list of them all."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from hatchwright.finding import Finding
from hatchwright.layout.survey import Survey

Check = Callable[[Survey], Iterator[Finding]]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule: its stable code, its title, what it says, and the function that judges by it."""

    code: str
    title: str
    says: str
    check: Check


_RULES: dict[str, Rule] = {}


def rule(code: str, title: str) -> Callable[[Check], Check]:
    """Enter a function into the list of rules; its docstring is what the rule says.

    Args:
        code: stable code, R and three digits, never used again for another rule.
        title: in the trade's words.
    Returns:
        Callable: decorator that leaves the function as it is.
    """
    assert re.fullmatch(r"R\d{3}", code), code
    assert code not in _RULES, code

    def enter(check: Check) -> Check:
        _RULES[code] = Rule(code, title, " ".join((check.__doc__ or "").split()), check)
        return check

    return enter


def all_rules() -> tuple[Rule, ...]:
    """Every rule in the order of its code."""
    return tuple(_RULES[code] for code in sorted(_RULES))
