"""The work of a sweep that any process or machine can do: a few variants of one job, analyzed one after the other."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import HatchwrightError, JobError, TableError, out_of_memory
from hatchwright.finding import Finding
from hatchwright.job.file import edited, read_job
from hatchwright.job.job import Job
from hatchwright.judged import Status, worst_of
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.layout.mass import sheet_masses
from hatchwright.said import Listed, Said, said
from hatchwright.search.strength_answer import answer_of
from hatchwright.search.variation import Variant, changes_of
from hatchwright.strength.margin import Margin
from hatchwright.strength.opening_analysis import OpeningAnalysis
from hatchwright.strength.report import Elements, StrengthReport
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text
from hatchwright.words.tell import tell


class Task(Struct, frozen=True):
    """Variants for one worker, those of one geometry beside each other; the folder is that of the job file,
    "" for none."""

    job_text: str
    folder: str
    variants: tuple[Variant, ...]
    buckling: bool
    shop: ShopTables | None = None


class SweepRow(Struct, frozen=True):
    """What one variant comes to.

    Args:
        answer: the worst answer of gate, margins and findings; a variant that is refused cannot be told.
        lowest_margin: the lowest margin that could be had, None when there is none [-].
        governs: what it is of, "" when there is none.
        left_out: what was not looked for to save time, or not taken, "" when nothing.
        gate: codes of the questions that send the job to an engineer.
        stops: codes of margins and findings that stop.
        cannot_tell: codes of margins and findings that could not be had or shown.
        hardest_rivet_lbf: greatest elastic rivet load of any case at limit load, None without finite elements [lbf].
        edge_psi: greatest stress along any free edge with the doubler at limit load, None without elements [psi].
        not_analyzed: what its strength report does not speak of, parted by bars.
        error: why there is no answer, "" when there is one.
    """

    variant: Variant
    answer: str = tell(Status.UNKNOWN)
    lowest_margin: float | None = None
    governs: str = ""
    left_out: str = ""
    gate: str = ""
    stops: str = ""
    cannot_tell: str = ""
    rivets: int = 0
    doubler_lb: float | None = None
    hardest_rivet_lbf: float | None = None
    edge_psi: float | None = None
    not_analyzed: str = ""
    error: str = ""

    @property
    def is_refused(self) -> bool:
        """Whether the variant was not judged at all; what is not shown for lack of a value was."""
        return bool(self.error) and self.lowest_margin is None and not self.cannot_tell

    @property
    def is_clear(self) -> bool:
        """Whether margins and findings were all had and none stops; the gate is another matter."""
        return not (self.stops or self.cannot_tell or self.error)


def do_task(task: Task) -> list[SweepRow]:
    """Analyze the variants of a task, here or wherever it was sent; a variant that is refused has its reason
    in `error`. RoomError where memory ran out, which is no answer to any variant."""
    rows: list[SweepRow] = []
    like: OpeningAnalysis | None = None
    for variant in task.variants:
        try:
            row, like = _row(task, variant, like)
        except HatchwrightError as error:
            row = SweepRow(variant, error=_refused(error))
        except Exception as error:
            if told := out_of_memory(error):
                raise told from None
            raise
        rows.append(row)
    return rows


def _row(
    task: Task, variant: Variant, like: OpeningAnalysis | None
) -> tuple[SweepRow, OpeningAnalysis | None]:
    text = edited(task.job_text, changes_of(task.job_text, variant))
    job: Job = read_job(text, folder=Path(task.folder) if task.folder else None)
    rows = tuple(row.model_copy(update={"first_number": None}) for row in job.rows)
    layout = lay_out(job.model_copy(update={"as_made": None, "rows": rows}), task.shop)
    report = answer_of(layout, Elements(buckling=task.buckling, like=like)).report
    lowest, analysis = report.lowest, report.analysis
    safety = layout.limit("factor_of_safety").value
    cases = analysis.cases if analysis else ()
    loads_lbf = [rivet.greater_lbf for found in cases for rivet in found.rivets]
    edges_psi = [abs(edge.peak.stress_psi) for found in cases for edge in found.edges]
    answers: tuple[Finding | Margin, ...] = (*report.margins, *report.findings)
    statuses = [one.status for one in (*report.gate, *answers)]
    if analysis is None:
        statuses.append(Status.UNKNOWN)  # without finite elements none is better than that it cannot be told
    governs = ""
    if lowest:
        subject, case, level = lowest.subject, lowest.case, lowest.level
        told = said("margin.governs", code=lowest.code, subject=subject, case=case, level=level)
        governs = tell(told, job.unit)
    row = SweepRow(
        variant=variant,
        answer=tell(worst_of(statuses)),
        lowest_margin=lowest.ratio if lowest else None,
        governs=governs,
        left_out=tell(Listed(left_out(job, buckling=task.buckling), ";")),
        gate=_codes(report.gate, *(status for status in Status if status is not Status.PASS)),
        stops=_codes(answers, Status.STOP),
        cannot_tell=_codes(answers, Status.UNKNOWN),
        rivets=len(layout.holes_of("rivet")),
        doubler_lb=_doubler_lb(layout),
        hardest_rivet_lbf=max(loads_lbf) / safety if loads_lbf else None,
        edge_psi=max(edges_psi) / safety if edges_psi else None,
        not_analyzed=" | ".join(tell(line, job.unit) for line in report.not_analyzed),
        error="" if analysis else _refusal(report, job.unit),
    )
    return row, analysis or like


def _doubler_lb(layout: Layout) -> float | None:
    """Its mass, None without one or where no table gives the density of a sheet [lb]."""
    with suppress(TableError):
        return next((mass.mass_lb for mass in sheet_masses(layout) if mass.name == "doubler"), None)
    return None


def left_out(job: Job, *, buckling: bool) -> tuple[Said, ...]:
    """What a sweep does not look for though a strength report of the same job does."""
    found = [] if buckling else [said("sweep.left_out.buckling")]
    if job.as_made:
        found.append(said("sweep.left_out.as_made"))
    return tuple(found)


def _codes(answers: Iterable[Finding | Margin], *statuses: Status) -> str:
    return " ".join(sorted({one.code for one in answers if one.status in statuses}))


def _refused(error: HatchwrightError) -> str:
    """Why a variant is refused; one fault in every row of rivets is told once."""
    if not isinstance(error, JobError):
        return str(error)
    kinds = {(fault.what, fault.given): fault for fault in reversed(error.faults)}
    told = [str(fault) for fault in reversed(kinds.values())]
    if more := len(error.faults) - len(kinds):
        told.append(tell(said("error.more_alike", n=more)))
    return " ".join(told)


def _refusal(report: StrengthReport, unit: Unit) -> str:
    """Why there are no finite elements, or no strength at all."""
    found = next((finding for finding in report.findings if finding.code in ("S100", "S816")), None)
    return f"{tell(found.subject, unit)}. {advice_text(found, unit)}" if found else ""
