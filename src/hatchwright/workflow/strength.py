"""Analyze the strength of a job, and give the answer to people and programs (docs/strength-json.md)."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from itertools import chain
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out, without_rivets
from hatchwright.search.strength_answer import StrengthAnswer, answer_of
from hatchwright.strength.evidence import EvidenceRow
from hatchwright.strength.evidence import Path as EvidencePath
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.fastener_table import FastenerLine
from hatchwright.strength.margin import Margin
from hatchwright.strength.opening_analysis import CaseAnalysis
from hatchwright.strength.report import AID, WHOLE, Elements
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.words.tell import tell, tell_all
from hatchwright.workflow.open_job import open_job
from hatchwright.workflow.report import job_values, picked, plain

SCHEMA = 2
"""Number of the strength report's own schema."""


def analyze_strength(
    path: Path,
    *,
    other_side: bool = False,
    elements: Elements | None = WHOLE,
    shop: Path | None = None,
    cover_carries: bool = False,
    missing: Iterable[int] = (),
) -> StrengthAnswer:
    """Read a job file and analyze its strength.

    Args:
        elements: how the finite elements are asked, None to leave them out.
        cover_carries: whether to let the cover carry load, whatever the job says.
        missing: numbers of rivets to leave out, besides those that the job says are not there.
    Raises:
        JobError, TableError, EntryError: as of `open_job`, or a missing rivet is not in the layout.
    """
    layout = without_rivets(open_job(path, shop=shop, other_side=other_side), missing)
    if cover_carries:
        loads = layout.job.loads
        cover = loads.cover.model_copy(update={"carries": "load"})
        job = layout.job.model_copy(update={"loads": loads.model_copy(update={"cover": cover})})
        layout = replace(layout, job=job)
    return answer_of(layout, elements)


def strength_of(
    job: Job, shop: ShopTables | None = None, *, elements: Elements | None = WHOLE
) -> StrengthAnswer:
    """Analyze the strength of a job; JobError where it cannot be laid out."""
    return answer_of(lay_out(job, shop), elements)


def strength_values(answer: StrengthAnswer) -> dict[str, Any]:
    """Turn an answer into plain values; margins, findings and elements stay empty without loads."""
    job, report = answer.job, answer.report
    unit, analysis = job.unit, report.analysis
    statuses = (one.status for one in report.margins), (one.status for one in report.findings)
    counted = Counter(chain(*statuses))
    return {
        "schema": SCHEMA,
        "job": job_values(job),
        "note": tell(AID, unit),
        "basis": report.basis,
        "summary": {
            "words": tell_all(report.summary, unit),
            **picked(report, unit, "must_refer", "must_stop"),
            **{str(status): counted[status] for status in Status},
        },
        **picked(report, unit, "gate", "inputs", "assumptions"),
        "margins": [_margin(margin, unit) for margin in report.margins],
        "evidence": {
            "rows": [_evidence(row, unit) for row in report.evidence.rows],
            "told": [tell(line, unit) for line in report.evidence.told],
        },
        "findings": plain(report.findings, unit),
        "elements": {
            **picked(analysis, unit, "panel", "cautions"),
            "cases": [_case(found, unit) for found in analysis.cases],
        }
        if analysis
        else None,
        "fasteners": [_fastener(line, unit) for line in report.fasteners],
        **picked(report, unit, "inspection"),
        "not_analyzed": plain(report.not_analyzed, unit),
    }


def _margin(margin: Margin, unit: Unit) -> dict[str, Any]:
    applied, allowable = margin.applied, margin.allowable
    return {
        **picked(margin, unit, "code", "status", "subject", "case", "level"),
        "margin": _finite(margin.ratio),
        "applied": applied.value if applied else None,
        "allowable": allowable.value if allowable else None,
        "unit": applied.unit if applied else "",
        "advice": tell_all(margin.what_to_do, unit),
        **picked(margin, unit, "grade", "holes", "working"),
    }


def _evidence(row: EvidenceRow, unit: Unit) -> dict[str, Any]:
    return {
        **picked(row, unit, "part", "direction"),
        **{name: _path(getattr(row, name), unit) for name in ("circular", "hand", "elements")},
        "bay": row.bay.value if row.bay else None,
        **picked(row, unit, "agreement", "why"),
    }


def _path(path: EvidencePath | None, unit: Unit) -> dict[str, Any] | None:
    if path is None:
        return None
    restored = path.restored
    return {
        "restored": _finite(restored.value),
        "asked": path.asked,
        "passes": path.passes,
        "words": tell(path.told, unit),
        "grade": tell(restored.grade),
        "working": plain(restored.working, unit),
    }


def _fastener(line: FastenerLine, unit: Unit) -> dict[str, Any]:
    of = {"x": "x_in", "y": "y_in", "hole": "hole_in", "diameter": "diameter_in", "ultimate": "ultimate_lbf"}
    more = {"yield": "yield_lbf", "flexibility": "flexibility_in_per_lbf"}
    return {
        **picked(line, unit, "number", "rivet", "governs", **of, **more),
        "edges": dict(line.edge_in),
        "loads": list(line.loads_lbf),
        "margin": _finite(line.margin),
    }


def _finite(value: float | None) -> float | None:
    """None for what JSON has no number for."""
    return value if value is not None and math.isfinite(value) else None


def _case(found: CaseAnalysis, unit: Unit) -> dict[str, Any]:
    error, share = found.grid_error, found.cover
    return {
        "case": tell(found.case.name, unit),
        "rivets": _loads(found.rivets),
        "sides": [
            {
                "side": one.side,
                "half": {"rivets": one.half, "load": one.half_lbf},
                "ahead": {"rivets": one.ahead, "load": one.ahead_lbf},
            }
            for one in found.sides
        ],
        "cover": {
            "screws_sit": tell(share.fit, unit),
            "screws": _loads(share.screws),
            **picked(share, unit, direct="direct_lbf", shear="shear_lbf"),
        }
        if share
        else None,
        "edge": {
            "before": picked(found.before, unit, stress="stress_psi", place="place_in"),
            "after": picked(found.after, unit, stress="stress_psi", place="place_in"),
            "free": [
                {
                    **picked(one, unit, "name", "part", error="grid_ratio"),
                    **picked(one.peak, unit, stress="stress_psi", place="place_in"),
                }
                for one in found.edges
            ],
        },
        **picked(found, unit, pick_up="pick_up_lbf", deflection="deflection_in"),
        "grid_error": picked(
            error, unit, edge="edge_ratio", rivets="fastener_ratio", deflection="deflection_ratio"
        ),
        "buckling": [
            {"state": state.value, "factor": _finite(one.factor), "lowered": _finite(one.lowered)}
            for state, one in found.buckling.items()
        ],
    }


def _loads(all_of: Iterable[FastenerLoad]) -> list[dict[str, Any]]:
    return [
        {"hole": one.number, "x": one.x_lbf, "y": one.y_lbf, "huth": one.huth_lbf, "swift": one.swift_lbf}
        for one in all_of
    ]
