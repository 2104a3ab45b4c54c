"""Weight and balance as plain values for programs, documented in docs/balance-json.md."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from hatchwright.airworthiness.aircraft_balance import AircraftBalance
from hatchwright.airworthiness.balance import Weighed
from hatchwright.airworthiness.balance_parts import Change
from hatchwright.airworthiness.hinge import Hinge
from hatchwright.airworthiness.loading import Case
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.balance import BalanceReport, Weighing
from hatchwright.workflow.report import picked, plain

SCHEMA = 1
"""Number of the schema of a report."""


def balance_values(report: BalanceReport) -> dict[str, Any]:
    """A report with everything that was worked out."""
    return {
        "schema": SCHEMA,
        "fleet": report.fleet.title,
        "units": report.unit,
        "status": str(report.status),
        "aircraft": [_aircraft(one, report.unit) for one in report.aircraft],
    }


def _aircraft(one: Weighing, unit: Unit) -> dict[str, Any]:
    return {
        **picked(one, unit, "registration", "serial", "status"),
        "planned_sides": list(one.planned),
        "balance": _balance(one.balance, unit) if one.balance else None,
    }


def _balance(balance: AircraftBalance, unit: Unit) -> dict[str, Any]:
    return {
        "before": _weighed(balance.before.total),
        "after": _weighed(balance.after.total),
        "working": plain(balance.after.working, unit),
        "is_negligible": balance.is_negligible,
        "changes": [_change(one, unit) for one in balance.changes],
        "findings": plain((*balance.negligible, *balance.findings), unit),
        "cases": [_case(one) for one in balance.cases],
        "hinges": [_hinge(one, unit) for one in balance.hinges],
    }


def _weighed(weighed: Weighed) -> dict[str, float]:
    return dict(_figures(weighed))


def _figures(weighed: Weighed) -> Iterator[tuple[str, float]]:
    for name in ("weight_lb", "u_lb", "arm_in", "u_in", "moment_lb_in"):
        yield name, getattr(weighed, name)


def _change(change: Change, unit: Unit) -> dict[str, Any]:
    return {
        "side": change.side,
        **picked(change, unit, "weight_lb", "u_lb", "moment_lb_in", "lateral_lb_in", "not_weighed"),
        "parts": [
            {
                "name": tell(part.name, unit),
                **_weighed(part.weighed),
                "lateral_in": part.lateral_in,
                "working": plain(part.working, unit),
            }
            for part in change.parts
        ],
    }


def _case(case: Case) -> dict[str, Any]:
    return {
        "name": case.name,
        "aboard": [{"name": one.load.name, "weight_lb": one.weight_lb} for one in case.aboard],
        **_weighed(case.total),
        "forward_limit_in": case.forward_in,
        "aft_limit_in": case.aft_in,
    }


def _hinge(hinge: Hinge, unit: Unit) -> dict[str, Any]:
    names = ("before_in_lb", "change_in_lb", "u_in_lb", "after_in_lb", "least_in_lb", "most_in_lb")
    return picked(hinge, unit, "name", "side", *names, "not_weighed")
