"""A set of readings as plain values for programs, documented in docs/measure-json.md."""

from __future__ import annotations

import math
from typing import Any

from hatchwright.inspection.best_fit import HoleFit
from hatchwright.inspection.poses import Pose
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.measure import Compared, Measured
from hatchwright.workflow.report import finding_values, job_values, picked, verdict_values

SCHEMA = 1
"""Number of the form of `measure_values`."""


def measure_values(found: Measured, both: Compared, *, is_entered: bool) -> dict[str, Any]:
    """Turn a set of readings into plain values, documented in docs/measure-json.md."""
    unit, fit = found.job.unit, found.fit
    x, y = fit.fit.shift_effects
    turn, scale = fit.fit.turn_effect, fit.fit.scale_effect
    matching = fit.matching
    return {
        "schema": SCHEMA,
        "job": job_values(found.job),
        "notes": [tell(note, unit) for note in found.notes],
        "pose": _pose_values(fit.pose),
        "alike": [_pose_values(one) for one in fit.alike],
        "numbers_hold": fit.numbers_hold,
        "fit": {
            "shift_in": [x.size_in, y.size_in],
            "shift_u95_in": [x.expanded_in, y.expanded_in],
            "turn_deg": math.degrees(turn.size_in),
            "turn_u95_deg": math.degrees(turn.expanded_in),
            "scale": 1.0 + scale.size_in,
            "scale_u95": scale.expanded_in,
            "scatter_in": math.sqrt(fit.fit.mean_square_in2 / 2.0),
            "freedom": fit.fit.freedom,
        },
        "holes": [_hole_values(one) for one in fit.holes],
        "extra_rows": [fit.readings[at].row for at in matching.extra],
        "missing": [int(fit.pattern.numbers[hole]) for hole in matching.missing],
        "named": [
            {
                **picked(one, unit, "kind", "holes", "rows", "size", "expanded"),
                "words": tell(one.told, unit),
                "is_doubtful": one.is_doubtful,
            }
            for one in found.named
        ],
        **change_values(both, unit),
        "may_enter": not found.doubts and not both.faults,
        "is_entered": is_entered,
    }


def change_values(both: Compared, unit: Unit) -> dict[str, Any]:
    """What the job answered before and answers after something was put into it."""
    return {
        "before": verdict_values(both.before.verdict, unit),
        "after": verdict_values(both.after.verdict, unit) if both.after else None,
        "changes": [
            {
                "is_of_status": one.is_of_status,
                "old": None if one.old is None else finding_values(one.old, unit),
                "new": None if one.new is None else finding_values(one.new, unit),
            }
            for one in both.changes
        ],
        "not_taken": [str(fault) for fault in both.faults],
    }


def _pose_values(pose: Pose) -> dict[str, Any]:
    return {
        "is_mirrored": pose.is_mirrored,
        "turn_deg": math.degrees(pose.turn_rad),
        "shift_in": list(pose.shift_in),
    }


def _hole_values(one: HoleFit) -> dict[str, Any]:
    return {
        "number": one.number,
        "row": one.reading.row,
        "typed_number": one.reading.number,
        "drawn_in": list(one.drawn_in),
        "measured_in": list(one.reading.place),
        "off_in": list(one.off_in),
        "u95_in": one.u_in,
        "template_in": list(one.template_in),
        "drilling_in": list(one.drilling_in),
        "drilling_u95_in": one.drilling_u_in,
        "diameter_in": one.reading.diameter_in,
        "is_apart": one.is_apart,
    }
