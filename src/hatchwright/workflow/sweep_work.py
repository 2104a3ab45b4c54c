"""The work of a sweep that any process or machine can do: a few variants of one job, analysed one after the other."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from pathlib import Path

from hatchwright.errors import HatchwrightError
from hatchwright.job.file import edited, read_job
from hatchwright.job.job import Job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.mass import sheet_masses
from hatchwright.strength.opening_analysis import CaseAnalysis, OpeningAnalysis
from hatchwright.strength.report import Elements, StrengthReport, strength_report
from hatchwright.tables.table import ShopTables
from hatchwright.workflow.variation import Variant, changes_of


@dataclass(frozen=True, slots=True)
class Task:
    """Variants for one worker, those of one geometry beside each other.

    Args:
        job_text: text of the job file.
        folder: folder of the job file, "" when there is none.
        variants: to be analysed in this order.
        buckling: whether to look for buckling too.
        shop: a shop's own rows, None without.
    """

    job_text: str
    folder: str
    variants: tuple[Variant, ...]
    buckling: bool
    shop: ShopTables | None = None


@dataclass(frozen=True, slots=True)
class SweepRow:
    """What one variant comes to.

    Args:
        variant: fields with their texts.
        lowest_margin: the lowest margin that could be had, None when there is none [-].
        governs: what it is of, "" when there is none.
        unknown: margins that could not be had.
        rivets: number of rivets.
        doubler_lb: mass of the doubler, None when there is none [lb].
        hardest_rivet_lbf: greatest elastic rivet load of any case at limit load, None without finite elements [lbf].
        edge_psi: greatest stress along the edge with the doubler at limit load, None without finite elements [psi].
        error: why there is no answer, "" when there is one.
    """

    variant: Variant
    lowest_margin: float | None = None
    governs: str = ""
    unknown: int = 0
    rivets: int = 0
    doubler_lb: float | None = None
    hardest_rivet_lbf: float | None = None
    edge_psi: float | None = None
    error: str = ""


def do_task(task: Task) -> list[dict[str, object]]:
    """Analyse the variants of a task.

    Args:
        task: plain values, so that it can be sent anywhere.
    Returns:
        list: rows as plain values; a variant that is refused has its reason in `error`.
    """
    rows: list[dict[str, object]] = []
    like: OpeningAnalysis | None = None
    for variant in task.variants:
        try:
            row, like = _row(task, variant, like)
        except HatchwrightError as error:
            row = SweepRow(variant, error=str(error))
        rows.append(asdict(row))
    return rows


def _row(
    task: Task, variant: Variant, like: OpeningAnalysis | None
) -> tuple[SweepRow, OpeningAnalysis | None]:
    text = edited(task.job_text, changes_of(task.job_text, variant))
    job: Job = read_job(text, folder=Path(task.folder) if task.folder else None)
    rows = tuple(row.model_copy(update={"first_number": None}) for row in job.rows)
    layout = lay_out(job.model_copy(update={"as_made": None, "rows": rows}), task.shop)
    report = strength_report(layout, layout.shop, elements=Elements(buckling=task.buckling, like=like))
    lowest, analysis = report.lowest, report.analysis
    safety = layout.limit("factor_of_safety").value
    loads_lbf = [rivet.greater_lbf for found in _cases(analysis) for rivet in found.rivets]
    edges_psi = [abs(found.after.stress_psi) for found in _cases(analysis)]
    row = SweepRow(
        variant=variant,
        lowest_margin=lowest.ratio if lowest else None,
        governs=f"{lowest.code} {lowest.subject}, {lowest.case}, {lowest.level}" if lowest else "",
        unknown=sum(margin.ratio is None for margin in report.margins),
        rivets=len(layout.holes_of("rivet")),
        doubler_lb=next((mass.mass_lb for mass in sheet_masses(layout) if mass.name == "doubler"), None),
        hardest_rivet_lbf=max(loads_lbf) / safety if loads_lbf else None,
        edge_psi=max(edges_psi) / safety if edges_psi else None,
        error="" if analysis else _refusal(report),
    )
    return row, analysis or like


def _cases(analysis: OpeningAnalysis | None) -> tuple[CaseAnalysis, ...]:
    return analysis.cases if analysis else ()


def _refusal(report: StrengthReport) -> str:
    return next((line for line in report.not_analysed if line.startswith("finite elements")), "")
