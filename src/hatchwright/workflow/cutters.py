"""Judge every cutter and hand tool of a shop for one job."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.job.cutter import Cutter, HandTool
from hatchwright.job.cutter_shelf import CutterShelf
from hatchwright.judged import Status, worst_of
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.making.cutter.cutter_fit import tool_findings
from hatchwright.units import Unit
from hatchwright.workflow.examine import examine_layout
from hatchwright.workflow.open_job import open_job
from hatchwright.workflow.report import picked

SCHEMA = 1
"""Number of the cutter report's own schema."""


class ToolAnswer(Struct, frozen=True):
    """One tool, judged for a job: of a cutter all of the making, of a hand tool T3xx."""

    tool: Cutter | HandTool
    findings: tuple[Finding, ...]
    unit: Unit

    @property
    def worst(self) -> Status:
        """The worst of its findings; pass when there is nothing to say against it."""
        return worst_of(finding.status for finding in self.findings)


def judge_shelf(job_path: Path, shelf_path: Path, *, shop: Path | None = None) -> tuple[ToolAnswer, ...]:
    """Judge each tool of a shelf as if it were the job's own: what does best first, in the order of the shelf
    where they are equal. JobError where a file is refused, TableError where a table of the shop is."""
    layout = open_job(job_path, shop=shop)
    shelf = CutterShelf.load(shelf_path)
    answers = [ToolAnswer(tool, _findings(layout, tool), layout.job.unit) for tool in shelf.tools]
    return tuple(sorted(answers, key=lambda answer: -answer.worst.severity))


def _findings(drawn: Layout, tool: Cutter | HandTool) -> tuple[Finding, ...]:
    """What is found of the making with that tool in the job; a starter hole stays where the job wants it."""
    if isinstance(tool, HandTool):
        return tool_findings(drawn, tool)
    job = drawn.job
    if tool.starter_at is None and job.cutter is not None:
        tool = tool.model_copy(update={"starter_at": job.cutter.starter_at})
    found = examine_layout(lay_out(job.model_copy(update={"cutter": tool}), drawn.shop)).findings
    return tuple(finding for finding in found if finding.code.startswith("T"))


def shelf_values(answers: tuple[ToolAnswer, ...]) -> dict[str, Any]:
    """Turn the answers into plain values for programs."""
    tools = [
        picked(one.tool, one.unit, "name", "kind") | picked(one, one.unit, "worst", "findings")
        for one in answers
    ]
    return {"schema": SCHEMA, "tools": tools}
