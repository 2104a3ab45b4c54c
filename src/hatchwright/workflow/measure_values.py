"""A set of readings as plain values for programs, documented in docs/measure-json.md."""

from __future__ import annotations

import math
from typing import Any

from hatchwright.documents.drawn_made import DrawnMade
from hatchwright.inspection.best_fit import BestFit, HoleFit
from hatchwright.inspection.poses import Pose
from hatchwright.job.job import Job
from hatchwright.units import Unit
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell
from hatchwright.workflow.compared import Compared
from hatchwright.workflow.measure import Measured
from hatchwright.workflow.report import finding_values, job_values, picked, verdict_values

SCHEMA = 1
"""Number of the form of `measure_values`."""


def measure_values(found: Measured, both: Compared, *, is_entered: bool) -> dict[str, Any]:
    """Turn a set of readings into plain values, documented in docs/measure-json.md."""
    unit = found.job.unit
    return {
        "schema": SCHEMA,
        "job": job_values(found.job),
        "notes": [tell(note, unit) for note in found.notes],
        **(_fit_values(found.fit) if found.fit else _NO_FIT),
        "others": [
            {"kind": one.kind, "row": one.row, "cells": list(one.cells), "own_u": one.own_u}
            for one in found.others
        ],
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
    """What the job answered before and answers after something was put into it, and every number that differs."""
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
        "numbers": [_number_values(one, both.before.job) for one in both.numbers],
        "not_taken": [str(fault) for fault in both.faults],
    }


_NO_FIT: dict[str, Any] = {
    "pose": None,
    "alike": [],
    "numbers_hold": True,
    "fit": None,
    "holes": [],
    "extra_rows": [],
    "missing": [],
}
"""What stands in the place of a fit where no holes were laid on."""


def _fit_values(fit: BestFit) -> dict[str, Any]:
    x, y = fit.fit.shift_effects
    turn, scale = fit.fit.turn_effect, fit.fit.scale_effect
    matching = fit.matching
    return {
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
    }


def _number_values(one: DrawnMade, job: Job) -> dict[str, Any]:
    return {
        "group": one.group,
        "what": tell(in_words_of(job.kind, one.what), job.unit),
        "old": one.drawn,
        "new": one.made,
        "change": one.change,
        "unit": one.unit,
        "u95": one.u,
        "was": one.was,
        "now": one.now,
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
