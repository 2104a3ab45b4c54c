"""The risk of a job as plain values, documented in docs/risk-json.md."""

from __future__ import annotations

from typing import Any

from msgspec import to_builtins

from hatchwright.search.risk.own_scatter import Found
from hatchwright.search.risk.simulate import Simulated
from hatchwright.search.risk.values import HoleChance, Risk
from hatchwright.words.tell import tell
from hatchwright.workflow.report import job_values
from hatchwright.workflow.risk import RiskReport
from hatchwright.workflow.risk_said import WHAT_TO_MEASURE, beside_said, between_said, head_said

SCHEMA = 1
"""Number of the form of these values."""


def risk_values(report: RiskReport) -> dict[str, Any]:
    """Everything as plain values."""
    job = report.layout.job
    values: dict[str, Any] = {
        "schema": SCHEMA,
        "job": job_values(job),
        "found": [_found(one) for one in report.found],
        "silent": list(report.silent),
        "risk": None,
        "simulated": None,
    }
    if report.risk is None:
        return {**values, "measure": [tell(one, job.unit) for one in WHAT_TO_MEASURE]}
    told = (*head_said(report.risk), *beside_said(report))
    return {
        **values,
        "risk": _risk(report.risk),
        "simulated": _simulated(report.simulated) if report.simulated else None,
        "words": [tell(one, job.unit) for one in told],
    }


def _risk(risk: Risk) -> dict[str, Any]:
    short, not_shown = risk.judged_per_hundred
    return {
        "chance": risk.job,
        "is_upper_bound": risk.is_bound,
        "short_per_hundred_jobs": risk.spoilt_per_hundred,
        "judged_short_per_hundred_jobs": short,
        "not_shown_per_hundred_jobs": not_shown,
        "errors": to_builtins(risk.errors),
        "up_to": to_builtins(risk.up_to),
        "holes": [_hole(one) for one in risk.holes],
        "rules": to_builtins(risk.rules),
        "gains": to_builtins(risk.gains),
        "orders": to_builtins(risk.orders),
        "left_out": to_builtins(risk.left_out),
        "held": risk.held,
        "unlisted": risk.unlisted,
        "is_one_of_two": risk.is_one_of_two,
    }


def _hole(one: HoleChance) -> dict[str, Any]:
    return {
        "number": one.hole.number,
        "chance": to_builtins(one.chance),
        "is_held": one.is_held,
        "likeliest": {
            "code": one.likeliest.code,
            "against": tell(between_said(one.likeliest, one.hole)),
            "gap_in": one.gap_in,
        },
    }


def _simulated(found: Simulated) -> dict[str, Any]:
    return {
        "trials": found.trials,
        "seed": found.seed,
        "distances": found.distances,
        "chance": to_builtins(found.job),
        "short_per_hundred_jobs": to_builtins(found.spoilt_per_hundred),
        "holes": {str(number): to_builtins(one) for number, one in found.holes.items()},
        "rules": to_builtins(found.rules),
    }


def _found(one: Found) -> dict[str, Any]:
    return to_builtins(one)  # type: ignore[no-any-return]
