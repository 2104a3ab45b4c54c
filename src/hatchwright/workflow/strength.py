"""Analyze the strength of a job, and give the answer to people and programs (docs/strength-json.md)."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.search.strength_answer import StrengthAnswer, answer_of
from hatchwright.strength.cover_share import CoverShare
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.margin import Margin
from hatchwright.strength.opening_analysis import CaseAnalysis, OpeningAnalysis
from hatchwright.strength.report import AID, WHOLE, Elements, StrengthReport
from hatchwright.strength.side_share import SideShare
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.words.tell import tell, tell_all
from hatchwright.workflow.finding_values import job_values, picked, plain
from hatchwright.workflow.open_job import open_job

SCHEMA = 2
"""Number of the strength report's own schema."""


def analyze_strength(
    path: Path,
    *,
    other_side: bool = False,
    elements: Elements | None = WHOLE,
    shop: Path | None = None,
    cover_carries: bool = False,
) -> StrengthAnswer:
    """Read a job file and analyze its strength.

    Args:
        elements: how the finite elements are asked, None to leave them out.
        cover_carries: whether to let the cover carry load, whatever the job says.
    Returns:
        StrengthAnswer: without loads it says nothing about strength.
    Raises:
        JobError: the file is refused, with every fault.
        TableError: a table of the shop is refused.
        SolveError: a rivet that is said to be missing is not in the layout.
    """
    layout = open_job(path, shop=shop, other_side=other_side)
    return answer_of(_with_carrying_cover(layout) if cover_carries else layout, elements)


def _with_carrying_cover(layout: Layout) -> Layout:
    loads = layout.job.loads
    cover = loads.cover.model_copy(update={"carries": "load"})
    job = layout.job.model_copy(update={"loads": loads.model_copy(update={"cover": cover})})
    return replace(layout, job=job)


def strength_of(
    job: Job, shop: ShopTables | None = None, *, elements: Elements | None = WHOLE
) -> StrengthAnswer:
    """Analyze the strength of a job; JobError where it cannot be laid out."""
    return answer_of(lay_out(job, shop), elements)


def strength_values(answer: StrengthAnswer) -> dict[str, Any]:
    """Turn an answer into plain values; margins, findings and elements stay empty without loads."""
    job, report = answer.job, answer.report
    unit = job.unit

    return {
        "schema": SCHEMA,
        "job": job_values(job),
        "note": tell(AID, unit),
        "basis": report.basis,
        "summary": {
            "words": tell_all(report.summary, unit),
            **picked(report, unit, "must_refer", "must_stop"),
            **_count(report),
        },
        **picked(report, unit, "gate", "inputs", "assumptions"),
        "margins": [_margin(margin, unit) for margin in report.margins],
        "findings": plain(report.findings, unit),
        "elements": _elements(report.analysis, unit) if report.analysis else None,
        "not_analyzed": plain(report.not_analyzed, unit),
    }


def _count(report: StrengthReport) -> dict[str, int]:
    return {
        str(status): sum(margin.status is status for margin in report.margins)
        + sum(finding.status is status for finding in report.findings)
        for status in Status
    }


def _margin(margin: Margin, unit: Unit) -> dict[str, Any]:
    ratio = margin.ratio
    return {
        **picked(margin, unit, "code", "status", "subject", "case", "level"),
        "margin": ratio if ratio is not None and math.isfinite(ratio) else None,
        "applied": margin.applied.value if margin.applied else None,
        "allowable": margin.allowable.value if margin.allowable else None,
        "unit": margin.applied.unit if margin.applied else "",
        "grade": str(margin.grade),
        "advice": tell_all(margin.advice, unit),
        **picked(margin, unit, "holes", "working"),
    }


def _elements(analysis: OpeningAnalysis, unit: Unit) -> dict[str, Any]:
    return {
        **picked(analysis, unit, "panel", "cautions"),
        "cases": [_case(found, unit) for found in analysis.cases],
    }


def _case(found: CaseAnalysis, unit: Unit) -> dict[str, Any]:
    peaks = {
        name: {"stress": peak.stress_psi, "place": list(peak.place_in)}
        for name, peak in (("before", found.before), ("after", found.after))
    }
    return {
        "case": tell(found.case.name, unit),
        "rivets": [_load(rivet) for rivet in found.rivets],
        "sides": [_side(one) for one in found.sides],
        "cover": _cover(found.cover, unit) if found.cover else None,
        "edge": peaks,
        "pick_up": list(found.pick_up_lbf),
        "deflection": found.deflection_in,
        "grid_error": {
            "edge": found.grid_error.edge_ratio,
            "rivets": found.grid_error.fastener_ratio,
            "deflection": found.grid_error.deflection_ratio,
        },
        "buckling": [
            {
                "state": one.state.value,
                "factor": one.factor if math.isfinite(one.factor) else None,
                "lowered": one.lowered if math.isfinite(one.lowered) else None,
            }
            for one in found.buckling
        ],
    }


def _side(one: SideShare) -> dict[str, Any]:
    return {
        "side": one.side,
        "half": {"rivets": one.half, "load": one.half_lbf},
        "ahead": {"rivets": one.ahead, "load": one.ahead_lbf},
    }


def _cover(share: CoverShare, unit: Unit) -> dict[str, Any]:
    return {
        "screws_sit": tell(share.fit, unit),
        "screws": [_load(screw) for screw in share.screws],
        "direct": list(share.direct_lbf),
        "shear": share.shear_lbf,
    }


def _load(one: FastenerLoad) -> dict[str, Any]:
    return {"hole": one.number, "x": one.x_lbf, "y": one.y_lbf, "huth": one.huth_lbf, "swift": one.swift_lbf}
