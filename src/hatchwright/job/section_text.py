"""One section of a job's text made to hold other entries; comments and all other text stay."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.job_text import Typed, added, taken, with_values_at


def with_section(text: str, field: str, entries: Mapping[str, Typed]) -> str:
    """Make a section hold these entries and no others.

    Args:
        field: dotted place of it, such as ``opening`` or ``doubler.outer``; made where it is missing.
        entries: plain values and lists of them by their names.
    Raises:
        JobError: the place can't take them.
    """
    held = standing_at(raw_data(text), field)
    if not isinstance(held, dict):
        return _checked(added(text, {field: dict(entries)}), field, entries)
    text = taken(text, [f"{field}.{name}" for name in held if name not in entries])
    changed = {f"{field}.{name}": value for name, value in entries.items() if name in held}
    text = with_values_at(
        text, {at: value for at, value in changed.items() if standing_at(raw_data(text), at) != value}
    )
    new = {f"{field}.{name}": value for name, value in entries.items() if name not in held}
    return _checked(added(text, new), field, entries)


def _checked(text: str, field: str, entries: Mapping[str, Typed]) -> str:
    found: Any = standing_at(raw_data(text), field)
    if found != dict(entries):
        raise JobError.about(field, "job.no_place")
    return text
