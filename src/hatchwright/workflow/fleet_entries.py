"""What a person enters in a fleet file on the page: aircraft, where the work stands, hours, and the stock."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from hatchwright.errors import JobError
from hatchwright.job.fleet.fleet import Fleet
from hatchwright.job.fleet.pasted_aircraft import aircraft_text, read_aircraft, read_stock
from hatchwright.job.job_text import added, taken
from hatchwright.workflow.fleet_lines import FleetLine, fleet_lines

STATED = ("step", "who", "waiting_for")
"""What is entered of a line on the board."""


def new_fleet_text(title: str, pattern: str, pasted: str) -> str:
    """The text of a new fleet file.

    Args:
        pattern: file name of the pattern job.
        pasted: rows of registration and serial number.
    Raises:
        JobError: a row can't be read.
    """
    aircraft = read_aircraft(pasted)
    named = {"title": title.strip(), "pattern": pattern}
    head = "".join(f"{name} = {json.dumps(value, ensure_ascii=False)}\n" for name, value in named.items())
    return f"schema = {Fleet.SCHEMA}\n{head}{aircraft_text(aircraft)}"


def with_aircraft(text: str, pasted: str) -> str:
    """A fleet's text with more aircraft behind those that are there; JobError where a row can't be read."""
    there, more = len(Fleet.read(text).aircraft), read_aircraft(pasted)
    new = f"{text.rstrip()}\n{aircraft_text(more)}"
    if len(Fleet.read(new).aircraft) != there + len(more):
        raise JobError.about("aircraft", "job.no_place")
    return new


def with_stated(text: str, stated: Mapping[str, Mapping[str, str]]) -> str:
    """A fleet's text with where the work on its lines stands.

    Args:
        stated: by the key of each line, what was entered, "" for nothing; of `STATED`.
    """
    changes: dict[str, Any] = {}
    gone: list[str] = []
    for one in fleet_lines(Fleet.read(text)):
        for name, value in stated.get(one.key, {}).items():
            value = value.strip()
            if name not in STATED or value == (getattr(one.line, name) or ""):
                continue
            if value:
                changes[f"{one.place}.{name}"] = value
            else:
                gone.append(f"{one.place}.{name}")
    return added(taken(text, gone), changes)


def with_hours(text: str, key: str, *, step: str, hours: str, date: str, who: str) -> str:
    """A fleet's text with the hours that a step of a line took; JobError where there is no such line."""
    one = _line(text, key)
    noted = {"step": step, "hours": hours.strip(), "date": date.strip(), "who": who.strip()}
    held = {name: value for name, value in noted.items() if value or name != "who"}
    return added(text, {f"{one.place}.hours.{len(one.line.hours)}": held})


def with_stock(text: str, pasted: str) -> str:
    """A fleet's text with another stock; JobError where a row can't be read."""
    stock = read_stock(pasted)
    if stock == [{"number": one.number, "count": one.count} for one in Fleet.read(text).stock]:
        return text
    bare = taken(text, ["stock"])
    return added(bare, {f"stock.{at}": one for at, one in enumerate(stock)})


def _line(text: str, key: str) -> FleetLine:
    found = next((one for one in fleet_lines(Fleet.read(text)) if one.key == key), None)
    if found is None:
        raise JobError.about("line", "fleet.no_line", key[:60])
    return found
