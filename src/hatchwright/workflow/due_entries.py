"""What a person enters of mandates and times on the page, as a change of the fleet file's text."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hatchwright.errors import JobError
from hatchwright.job.fleet.fleet import Fleet
from hatchwright.job.job_text import added, taken

WHAT = ("reading", "done", "found", "answer", "mandate")
"""What can be entered, each by a form of its own."""

_LISTS = {"reading": "readings", "done": "done", "found": "found", "answer": "applies"}
_KEPT = {"notice", "hours", "landings"}
"""Of an earlier answer, where the new one leaves them blank: without them a limit would count from later."""
_OF_ACTION = ("paragraph", "asks", "stands", "first", "repeat")
_WHOLE = ("landings", "days", "months", "calendar_months")
_YES_NO = ("applies", "unless_done", "before_flight", "stands")
BETWEEN = "\n"
"""Parts number and paragraph of an action where both stand in one value; no number has a line's end."""


def with_entry(text: str, what: str, sent: Mapping[str, str]) -> str:
    """A fleet's text with what one form has sent.

    Args:
        what: one of `WHAT`.
        sent: by the names of the entries, those of a section within with its name before a dot; blank ones are left
            out. An answer that is there is replaced, its notice and times kept where none are sent, and an action
            goes to its mandate where that is there.
    Raises:
        JobError: the aircraft is not there, or the mandate is and says otherwise; whether the rest is sound is for who
            reads the text.
    """
    entries = _typed(sent)
    fleet = Fleet.read(text)
    if what == "mandate":
        return _with_mandate(text, fleet, entries)
    registration = str(entries.pop("registration", ""))
    aircraft = next((at for at, one in enumerate(fleet.aircraft) if one.registration == registration), None)
    if aircraft is None:
        raise JobError.about("aircraft", "due.no_aircraft", registration[:60])
    place = f"aircraft.{aircraft}.{_LISTS[what]}"
    there: tuple[Any, ...] = getattr(fleet.aircraft[aircraft], _LISTS[what])
    if what in ("done", "found"):
        number, _, paragraph = str(entries.pop("action", "")).partition(BETWEEN)
        entries = {"mandate": number, **({"paragraph": paragraph} if paragraph else {}), **entries}
    same = [at for at, one in enumerate(there) if what == "answer" and one.mandate == entries.get("mandate")]
    for at in same:
        was = there[at].model_dump(mode="json", include=_KEPT, exclude_none=True)
        entries = {**was, **entries}
    text = added(text, {f"{place}.{len(there)}": entries})
    return taken(text, [f"{place}.{at}" for at in same]) if same else text


def _with_mandate(text: str, fleet: Fleet, entries: dict[str, Any]) -> str:
    action: dict[str, Any] = {name: entries.pop(name) for name in _OF_ACTION if name in entries}
    for at, mandate in enumerate(fleet.mandates):
        if mandate.number == entries.get("number"):
            there = mandate.model_dump(mode="json")
            if any(there.get(name) != value for name, value in entries.items()):
                raise JobError.about("mandate", "due.mandate_there", mandate.number)
            return added(text, {f"mandates.{at}.actions.{len(mandate.actions)}": action})
    return added(text, {f"mandates.{len(fleet.mandates)}": {**entries, "actions": [action]}})


def _typed(sent: Mapping[str, str]) -> dict[str, Any]:
    """Entries as they stand in a file."""
    entries: dict[str, Any] = {}
    for name, value in sent.items():
        if not (value := value.strip()):
            continue
        section, _, key = name.rpartition(".")
        held: Any = value
        if key in _YES_NO:
            held = value == "yes"
        elif key in _WHOLE and value.isascii() and value.isdigit():
            held = int(value[:12])
        (entries.setdefault(section, {}) if section else entries)[key] = held
    return entries
