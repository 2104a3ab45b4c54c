"""Plan the pins of a job's template."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hatchwright.errors import Fault, JobError
from hatchwright.finding import Finding, Status
from hatchwright.job.job import Job
from hatchwright.tooling.guide_template import job_chain
from hatchwright.tooling.pin_findings import pin_findings
from hatchwright.tooling.pin_layout import PinLayout, pin_layout
from hatchwright.tooling.pin_notes import stage_notes
from hatchwright.workflow.finding_values import finding_values
from hatchwright.workflow.open_job import open_job

SCHEMA = 1
"""Number of the pin report's own schema."""


@dataclass(frozen=True, slots=True)
class PinReport:
    """Pins, judged.

    Args:
        job: as entered.
        pins: planned.
        findings: T5xx.
        notes: what to do in each stage.
    """

    job: Job
    pins: PinLayout
    findings: tuple[Finding, ...]
    notes: tuple[str, ...]

    @property
    def must_stop(self) -> bool:
        """Whether there is no plan."""
        return any(finding.status in (Status.STOP, Status.UNKNOWN) for finding in self.findings)


def plan_pins(path: Path, *, other_side: bool = False, shop: Path | None = None) -> PinReport:
    """Plan the pins of a job file.

    Args:
        path: the job file.
        other_side: whether to plan those of the mirrored job.
        shop: folder of a shop's own tables, when there is one.
    Returns:
        PinReport: judged.
    Raises:
        JobError: the file is refused, or a size that the plan needs is missing.
        TableError: a table of the shop is refused.
        GeometryError: the template cannot be made.
    """
    layout = open_job(path, shop=shop, other_side=other_side)
    chain = job_chain(layout)
    if chain is None:
        fault = Fault(
            "cutter", "there is no template to pin", remedy="Add the sections [cutter] and [template]."
        )
        raise JobError((fault,), where=path.name)
    pins = pin_layout(layout, chain)
    return PinReport(layout.job, pins, pin_findings(layout, chain, pins), stage_notes(layout.frame, pins))


def pin_values(report: PinReport) -> dict[str, Any]:
    """Turn a pin report into plain values for programs.

    Args:
        report: judged.
    Returns:
        dict: `schema`, `pins`, `stages`, `clamps_in`, `findings`, `must_stop`.
    """
    pins = report.pins
    return {
        "schema": SCHEMA,
        "reach_in": pins.reach_in,
        "clear_of_rough_line_in": pins.clear_in,
        "pins": [{"place_in": list(pin.place), "hole": pin.hole} for pin in pins.pins],
        "blocked_share": pins.plan.blocked_share if pins.plan else None,
        "stages": [
            {
                "pins": list(stage.pins),
                "hold_ratio": stage.hold_ratio,
                "worst_place_in": list(stage.worst),
                "cut": [{"from_in": list(one.start), "to_in": list(one.end)} for one in stage.stretches],
                "note": note,
            }
            for stage, note in zip(pins.plan.stages if pins.plan else (), report.notes, strict=True)
        ],
        "clamps_in": [list(place) for place in pins.clamps],
        "findings": [finding_values(finding) for finding in report.findings],
        "must_stop": report.must_stop,
    }
