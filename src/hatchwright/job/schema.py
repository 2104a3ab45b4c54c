"""Schema numbers of job files: files of any earlier number stay readable."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from hatchwright.errors import Fault

SCHEMA = 1
"""The schema that this program writes."""

_STEPS: dict[int, Callable[[Mapping[str, Any]], Mapping[str, Any]]] = {}
"""From a schema number to the step that makes the next one of it; a step never changes once released."""


def brought_up_to_date(data: Mapping[str, Any]) -> tuple[Mapping[str, Any], list[Fault]]:
    """Bring the data of an older job file to the present schema.

    Args:
        data: a job file's data.
    Returns:
        tuple: the data in the present schema, and the faults that forbid it.
    """
    number = data.get("schema")
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        fault = Fault(
            "schema",
            "the schema number is missing",
            given=str(number or ""),
            remedy=f"Write schema = {SCHEMA}.",
        )
        return data, [fault]
    if number > SCHEMA:
        remedy = f"Use a newer Hatchwright; this one reads up to {SCHEMA}."
        return data, [
            Fault("schema", "this job was made by a newer program", given=str(number), remedy=remedy)
        ]
    for step in range(number, SCHEMA):
        data = _STEPS[step](data)
    return data, []
