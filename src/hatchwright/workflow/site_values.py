"""The answer on a survey as plain values for programs, documented in docs/survey-json.md."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from hatchwright.layout.site.center import RoutePlace, Tape
from hatchwright.layout.site.difference import Difference
from hatchwright.layout.site.sides import SideDifference
from hatchwright.metrology.routes import BestPlace, Place
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.report import finding_values, job_values, picked
from hatchwright.workflow.site import SiteAnswer

SCHEMA = 1
"""Number of the form of `survey_values`."""


def survey_values(answer: SiteAnswer, *, is_entered: bool) -> dict[str, Any]:
    """Turn the answer on one survey into plain values."""
    unit, center = answer.job.unit, answer.center
    gap = center.gap
    return {
        "schema": SCHEMA,
        "job": job_values(answer.job),
        "checks": [finding_values(one, unit) for one in answer.checks],
        "sketch": [picked(way, unit, "seen_from", "up", "right", "x", "y") for way in answer.sketches.ways],
        "routes": [_route(route, unit) for route in answer.routes],
        "gap_in": gap.apart.distance_in if gap else None,
        "gap_u95_in": gap.apart.u_in if gap else None,
        "center": _center(answer.best) if answer.best else None,
        "tapes": [_tape(tape) for tape in answer.tapes],
        "corners": None if center.corners is None else [_place(one) for one in center.corners],
        "differences": [_difference(one, unit) for one in answer.differences],
        "changes": [
            *({"field": one.field, "old": one.old, "new": one.new} for one in answer.entries),
            *({"field": one.field, "old": "", "new": one.new} for one in answer.parts),
        ],
        "contradictions": [one.code for one in answer.contradictions],
        "may_enter": not answer.contradictions,
        "is_entered": is_entered,
    }


def sides_values(one: SiteAnswer, other: SiteAnswer, found: Iterable[SideDifference]) -> dict[str, Any]:
    """Turn what two surveys say differently into plain values."""
    unit = one.job.unit
    return {
        "schema": SCHEMA,
        "job": job_values(one.job),
        "other": job_values(other.job),
        "differences": [
            {
                "name": tell(each.name, unit),
                "what": tell(each.what, unit),
                "one_in": each.one_in,
                "other_in": each.other_in,
                "is_on_one": each.is_on_one,
                "is_on_other": each.is_on_other,
                "off_in": each.off_in,
                "u95_in": None if each.off_in is None else each.u_in,
            }
            for each in found
        ],
    }


def _route(route: RoutePlace, unit: Unit) -> dict[str, Any]:
    why = None if route.why is None else tell(route.why, unit)
    at = _place(route.place) if route.place else {"at_in": None, "u95_in": None}
    return {"name": route.name, **at, "why": why}


def _place(place: Place) -> dict[str, Any]:
    return {"at_in": [one.value for one in place], "u95_in": [one.u for one in place]}


def _center(best: BestPlace) -> dict[str, Any]:
    return {
        **_place(best.place),
        "chi_square": best.chi_square,
        "freedom": best.freedom,
        "chance": best.chance,
    }


def _tape(tape: Tape) -> dict[str, Any]:
    off = tape.off
    return {
        "landmark": tape.landmark,
        "axis": None if tape.axis is None else "xy"[tape.axis],
        "expected_in": tape.expected.value,
        "u95_in": tape.expected.u,
        "taped_in": None if tape.taped is None else tape.taped.value,
        "off_in": None if off is None else off.value,
        "off_u95_in": None if off is None else off.u,
    }


def _difference(one: Difference, unit: Unit) -> dict[str, Any]:
    return {
        "name": tell(one.name, unit),
        "what": tell(one.what, unit),
        "field": one.field,
        "job_in": one.job_in,
        "survey_in": one.site_in,
        "off_in": one.off_in,
        "u95_in": None if one.site_in is None else one.u_in,
        "is_beyond": one.is_beyond,
        "is_missing": one.is_missing,
    }
