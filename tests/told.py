"""What a finding or a margin says, as a mechanic reads it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from hatchwright.errors import Fault, HatchwrightError
from hatchwright.finding import Finding
from hatchwright.said import Said
from hatchwright.strength.margin import Margin
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text
from hatchwright.words.tell import tell, tell_all


class _Named(dict):
    """A dictionary whose values can be asked for as attributes too."""

    __getattr__ = dict.__getitem__


def named(values: Any) -> Any:
    """What a paper prints, each value to be asked for by its name."""
    match values:
        case dict():
            return _Named((name, named(value)) for name, value in values.items())
        case list() | tuple():
            return type(values)(map(named, values))
        case _:
            return values


def subject_of(judged: Finding | Margin, unit: Unit = "in") -> str:
    """What was judged, in words."""
    return tell(judged.subject, unit)


def advice_of(judged: Finding | Margin, unit: Unit = "in") -> str:
    """By how much it misses, what to do, and what is to be said of readings, in words."""
    if isinstance(judged, Finding):
        return advice_text(judged, unit)
    return tell_all(judged.advice, unit)


def lines_of(told: Iterable[Said], unit: Unit = "in") -> list[str]:
    """Lines of a report in words."""
    return [tell(line, unit) for line in told]


def what_of(fault: Fault | HatchwrightError, unit: Unit | None = None) -> str:
    """What is wrong, in words."""
    return tell(fault.what, unit or fault.unit)


def remedy_of(fault: Fault | HatchwrightError, unit: Unit | None = None) -> str:
    """What to do about it, in words."""
    return tell(fault.remedy, unit or fault.unit)
