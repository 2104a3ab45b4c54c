"""A job's text with what a remedy enters: texts typed anew, then sections and lines put in or taken away whole."""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.file import edited
from hatchwright.job.job_text import Typed, added, taken
from hatchwright.job.samples import without_line
from hatchwright.remedy import EntryChange, PartChange

_MEANT: dict[str, Typed] = {"true": True, "false": False}


def changed_text(text: str, entries: Iterable[EntryChange], parts: Iterable[PartChange] = ()) -> str:
    """Enter what a remedy enters; comments and all other text stay.

    Args:
        entries: texts to be typed anew, or for the first time.
        parts: what is put in or taken away whole after that, one after the other. A section that is there keeps the
            keys that stay, with their comments.
    Raises:
        JobError: a place is not there, or cannot take it.
    """
    data = raw_data(text)
    typed = {entry.field: entry.new for entry in entries}
    there = {field: new for field, new in typed.items() if standing_at(data, field) is not None}
    if there:
        text = edited(text, there)
    for field, new in typed.items():
        if field not in there:
            text = added(text, {field: _MEANT.get(new, new)})
    for part in parts:
        text = _placed(text, part)
    return text


def _placed(text: str, part: PartChange) -> str:
    held = standing_at(raw_data(text), part.field)
    if part.new is None:
        return taken(without_line(text, part.field), [part.field])
    if isinstance(held, dict) and isinstance(part.new, dict):
        text = taken(text, [f"{part.field}.{name}" for name in held if name not in part.new])
        changed = {name: new for name, new in part.new.items() if held.get(name) != new}
        return added(text, {f"{part.field}.{name}": new for name, new in changed.items()})
    text = added(text, {part.field: part.new})
    if standing_at(raw_data(text), part.field) != part.new:
        raise JobError.about(part.field, "job.no_place")
    return text
