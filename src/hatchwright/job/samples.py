"""The list of sample values in a job's text: what is typed, or no longer there, goes off the list."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Any

from hatchwright.job.as_typed import number_in_list, raw_data, standing_at
from hatchwright.job.job_text import relisted


def confirmed(text: str, typed: Collection[str]) -> str:
    """Take what was typed off the list of sample values, and what the job no longer holds.

    Args:
        typed: dotted fields, such as ``skin.thickness`` or ``opening.center.0``.
    """
    data = raw_data(text)

    def stays(name: str) -> str | None:
        was_typed = any(f"{path}.".startswith(f"{name}.") for path in typed)
        return None if was_typed or standing_at(data, name) is None else name

    return _listed(text, data, stays)


def without_line(text: str, path: str) -> str:
    """Follow a line of a list that is about to be taken away: its own values go, those after it move up by one.

    Args:
        text: a TOML document that still holds the line.
        path: of the line, such as ``rows.0``; of a section it changes nothing.
    """
    return _listed(text, raw_data(text), lambda name: name_without(name, path))


def name_without(name: str, path: str) -> str | None:
    """What a sample is called once a line of a list is taken away; None for one of that line.

    >>> name_without("rows.2.pitch", "rows.1"), name_without("rows.1.pitch", "rows.1")
    ('rows.1.pitch', None)
    """
    parent, _, place = path.rpartition(".")
    if number_in_list(place) is None:
        return name
    head, rest = f"{parent}.", name.removeprefix(f"{parent}.")
    at, _, field = rest.partition(".")
    number = number_in_list(at)
    if not name.startswith(head) or number is None or number < int(place):
        return name
    return None if number == int(place) else f"{head}{number - 1}.{field}".rstrip(".")


def _listed(text: str, data: Mapping[str, Any], kept: Callable[[str], str | None]) -> str:
    """The text with each name of the list kept, renamed or, for None, taken out."""
    names = data.get("samples")
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        return text
    now = [kept(name) for name in names]
    if now == names:
        return text
    return relisted(text, "samples", now)
