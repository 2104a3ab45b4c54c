"""Small fleets of invented aircraft for the tests of what is due."""

from __future__ import annotations

from datetime import date
from typing import Any

from hatchwright.airworthiness.due.line import DueLine
from hatchwright.airworthiness.due.lines import lines_of
from hatchwright.job.fleet.fleet import Fleet

AD = "AD 2026-99-01"


def action(paragraph: str = "g", **entries: Any) -> dict[str, Any]:
    return {"paragraph": paragraph, "asks": "Inspect the lower spar cap", **entries}


def mandate(*actions: dict[str, Any], number: str = AD, **entries: Any) -> dict[str, Any]:
    return {"number": number, "read_by": "A", "checked_by": "B", "actions": actions, **entries}


def at(day: str, hours: str | None = None, **entries: Any) -> dict[str, Any]:
    return {"date": day, "hours": hours, **entries} if hours is not None else {"date": day, **entries}


def done(day: str, hours: str | None = None, paragraph: str = "g", **entries: Any) -> dict[str, Any]:
    return {"mandate": AD, "paragraph": paragraph, **at(day, hours), **entries}


def applies(number: str = AD, **entries: Any) -> dict[str, Any]:
    return {"mandate": number, "applies": True, "reason": "serial listed", **entries}


def fleet(*mandates: dict[str, Any], aircraft: tuple[dict[str, Any], ...] = (), **entries: Any) -> Fleet:
    """A fleet of one aircraft with the entries that are given, or of several."""
    one = {"registration": "N101HW", "serial": "1001", **entries}
    return Fleet.model_validate(
        {"schema": 1, "title": "Spar caps", "mandates": mandates, "aircraft": aircraft or (one,)},
        context={"unit": "in"},
    )


def lines(of: Fleet, on: str) -> tuple[DueLine, ...]:
    return tuple(line for one in of.aircraft for line in lines_of(of, one, date.fromisoformat(on)))


def line(of: Fleet, on: str, paragraph: str = "g") -> DueLine:
    """The only line of a paragraph."""
    (found,) = (one for one in lines(of, on) if one.action.paragraph == paragraph)
    return found
