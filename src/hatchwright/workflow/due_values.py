"""What is due as plain values, documented in docs/due-json.md."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from hatchwright.airworthiness.due.line import DueLine
from hatchwright.airworthiness.due.terms import Term
from hatchwright.words.tell import tell
from hatchwright.workflow.due import AircraftDue, FleetDue
from hatchwright.workflow.due_said import about_said, hours_text

SCHEMA = 1
"""Number of the form of these values."""


def due_values(report: Iterable[FleetDue], on: date) -> dict[str, Any]:
    """Everything as plain values; hours are texts, so that no reader rounds them."""
    return {"schema": SCHEMA, "on": on.isoformat(), "fleets": [_fleet(one) for one in report]}


def _fleet(one: FleetDue) -> dict[str, Any]:
    return {
        "fleet": one.name,
        "title": one.fleet.title,
        "holds_back": one.holds_back,
        "aircraft": [
            {
                "registration": each.aircraft.registration,
                "serial": each.aircraft.serial,
                "lines": [_line(line, each, one.on) for line in each.lines],
            }
            for each in one.aircraft
        ],
    }


def _line(line: DueLine, of: AircraftDue, on: date) -> dict[str, Any]:
    return {
        "mandate": line.mandate.number,
        "paragraph": line.action.paragraph,
        "asks": line.action.asks,
        "part": line.part and {"name": line.part.name, "serial": line.part.serial},
        "keeps": line.keeps,
        "found": line.found and line.found.what,
        "state": line.state.value,
        "holds_back": line.state.holds_back,
        "due_hours": _text(line.due_hours),
        "due_landings": line.due_landings,
        "due_date": _day(line.due_date),
        "unknown": sorted(line.unknown),
        "joint": [_term(one) for one in line.joint],
        "hours_left": _text(line.hours_left),
        "landings_left": line.landings_left,
        "days_left": line.days_left(on),
        "latest_hours": _text(line.latest_hours),
        "other_reading": _day(line.other),
        "estimate": _day(line.estimate),
        "driver": line.driver or None,
        "since": line.since and line.since.value,
        "since_date": _day(line.base.date),
        "since_hours": _text(line.base.hours),
        "hours_now": _text(line.now.hours),
        "read_on": _day(line.now.date),
        "last_done": _day(line.last.date) if line.last else None,
        "alternative": line.alternative and line.alternative.letter,
        "words": [tell(one) for one in about_said(line, of.aircraft, on)],
    }


def _term(term: Term) -> dict[str, Any]:
    return {"hours": _text(term.hours), "landings": term.landings, "date": _day(term.date)}


def _text(hours: Decimal | None) -> str | None:
    return None if hours is None else hours_text(hours)


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
