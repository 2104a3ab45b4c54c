"""A traced drawing as plain values for programs, documented in docs/trace-json.md."""

from __future__ import annotations

from typing import Any

import msgspec

from hatchwright.workflow.compared import Compared
from hatchwright.workflow.measure_values import change_values
from hatchwright.workflow.report import job_values
from hatchwright.workflow.trace import TracedJob

SCHEMA = 1
"""Number of the form of `trace_values`."""


def trace_values(
    found: TracedJob, both: Compared, *, files: tuple[str, ...], is_entered: bool
) -> dict[str, Any]:
    """Turn a traced drawing into plain values, documented in docs/trace-json.md."""
    return {
        "schema": SCHEMA,
        "job": job_values(found.job),
        "within_in": found.within_in,
        "turned_deg": found.turned_deg,
        "entries": [
            {
                "field": one.field,
                "values": dict(one.values),
                "outline": one.loop.rows.tolist(),
                "lines": one.lines_and_arcs[0],
                "arcs": one.lines_and_arcs[1],
                "departure_in": one.departure_in,
                "points": one.points,
                "file": one.file.name if one.file else None,
            }
            for one in found.entries
        ],
        "row": None if found.row is None else {"field": found.row[0], **found.row[1], "points": found.points},
        "holes": msgspec.to_builtins(found.holes),
        "left": [list(one) for one in found.part.left],
        **change_values(both, found.job.unit),
        "files": list(files),
        "may_enter": not both.faults,
        "is_entered": is_entered,
    }
