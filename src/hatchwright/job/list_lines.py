"""Many lines put into one list of a job's text at once, each on a line of its own; comments and all other text stay."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.job_text import added, taken
from hatchwright.job.lines import line_of_each_key

_PLACE = "\N{REPLACEMENT CHARACTER}lines\N{REPLACEMENT CHARACTER}"
_INDENT = "    "


def with_lines(text: str, field: str, lines: Sequence[Any], *, replacing: bool = False) -> str:
    """Put lines behind those of a list, or in their place.

    Args:
        field: the list, such as ``as_made.holes`` or ``bay.existing``; the section that holds it is there.
        lines: of one kind: texts, lists of values, or sections of them.
    Raises:
        JobError: the place cannot take them.
    """
    held = standing_at(raw_data(text), field)
    held = held if isinstance(held, list) else []
    if replacing and held:
        text, held = taken(text, [field]), []
    if not lines:
        return text
    are_sections = isinstance(lines[0], dict)
    if are_sections and (not held or f"{field}.0" in line_of_each_key(text)):
        changed = _with_sections(text, field, len(held), lines)
    else:
        changed = _with_values(text, field, len(held), lines)
    if standing_at(raw_data(changed), field) != [*held, *lines]:
        raise JobError.about(field, "job.no_place")
    return changed


def _with_values(text: str, field: str, held: int, lines: Sequence[Any]) -> str:
    """The lines in the brackets of the list."""
    written = f",\n{_INDENT}".join(map(_value, lines))
    if not held:
        text = added(taken(text, [field]), {field: [_PLACE]})
        return text.replace(f'["{_PLACE}"]', f"[\n{_INDENT}{written},\n]", 1)
    text = added(text, {f"{field}.{held}": _PLACE})
    return text.replace(f'"{_PLACE}"', written, 1)


def _with_sections(text: str, field: str, held: int, lines: Sequence[dict[str, Any]]) -> str:
    """A section for each line, the others behind the first of them."""
    text = added(text, {f"{field}.{held}": lines[0]})
    rows = text.splitlines(keepends=True)
    end = max(at for key, at in line_of_each_key(text).items() if key.startswith(f"{field}.{held}."))
    if not rows[end - 1].endswith("\n"):
        rows[end - 1] += "\n"
    further = (
        f"\n[[{field}]]\n" + "".join(f"{name} = {_value(value)}\n" for name, value in line.items())
        for line in lines[1:]
    )
    return "".join([*rows[:end], *further, *rows[end:]])


def _value(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{name} = {_value(one)}" for name, one in value.items()) + " }"
    return json.dumps(value, ensure_ascii=False)
