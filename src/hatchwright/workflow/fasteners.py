"""The fasteners of a job: what to order, drill and drive, and what the new parts weigh."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from hatchwright.errors import Fault, HatchwrightError, JobError
from hatchwright.job.job import Job
from hatchwright.layout.hardware_mass import WeightChange, weight_change
from hatchwright.tables.cited import Cited
from hatchwright.tooling.fastener_choice import RivetChoice, ScrewChoice, rivet_choices, screw_choice
from hatchwright.workflow.finding_values import working_values
from hatchwright.workflow.open_job import open_job

SCHEMA = 2
"""Number of the fastener report's own schema."""


@dataclass(frozen=True, slots=True)
class FastenerReport:
    """The fasteners of a job.

    Args:
        job: as entered.
        rivets: one choice for each kind and stack.
        screws: those of the cover, None without any.
        weight: of the whole change, each side.
        negligible: what counts as negligible for a light aircraft [lb].
    """

    job: Job
    rivets: tuple[RivetChoice, ...]
    screws: ScrewChoice | None
    weight: WeightChange
    negligible: Cited


def choose_fasteners(path: Path, *, shop: Path | None = None) -> FastenerReport:
    """Choose the fasteners of a job file.

    Args:
        path: the job file.
        shop: folder of a shop's own tables, when there is one.
    Returns:
        FastenerReport: documents side by side.
    Raises:
        JobError: the file is refused, or a size is not in the tables.
        TableError: a table of the shop is refused.
    """
    layout = open_job(path, shop=shop)
    try:
        return FastenerReport(
            layout.job,
            rivet_choices(layout),
            screw_choice(layout),
            weight_change(layout),
            layout.limit("mass_negligible_light"),
        )
    except HatchwrightError as error:
        fault = Fault(error.where or "rows", error.what, remedy=f"{error.remedy}." if error.remedy else "")
        raise JobError((fault,), where=path.name) from None


def fastener_values(report: FastenerReport) -> dict[str, Any]:
    """Turn a report into plain values.

    Args:
        report: of a job.
    Returns:
        dict: `schema`, `job`, `rivets`, `screws`, `masses`, `net_mass_lb`, `uncertainty_lb`, `not_weighed`.
    """
    return {
        "schema": SCHEMA,
        "job": report.job.title,
        "rivets": [_rivet(choice) for choice in report.rivets],
        "screws": asdict(report.screws) if report.screws else None,
        "masses": [
            {
                "name": mass.name,
                "mass_lb": mass.mass_lb,
                "uncertainty_lb": mass.uncertainty_lb,
                "working": working_values(mass.working),
            }
            for mass in report.weight.masses
        ],
        "net_mass_lb": report.weight.total_lb,
        "uncertainty_lb": report.weight.uncertainty_lb,
        "not_weighed": list(report.weight.not_weighed),
    }


def _rivet(choice: RivetChoice) -> dict[str, Any]:
    return {
        "part": str(choice.part),
        "holes": list(choice.holes),
        "order": choice.order,
        "grip_in": choice.grip_in,
        "calculated_length_in": choice.calculated_in,
        "lengths": [
            {
                "part": choice.numbered(head),
                "length_in": head.length_in,
                "protrusion_in": head.protrusion_in,
                "shop_head_in": head.diameter_in,
            }
            for head in choice.lengths
        ],
        "diameters": [
            {"says": w.formula, "diameter_in": w.result.value, "source": str(w.source), "grade": str(w.grade)}
            for w in choice.diameters
        ],
        "final_drill": choice.drill[0],
        "hole_range_in": list(choice.hole_range_in),
        "next_size_in": choice.next_size_in,
        "layers": [
            {
                "part": layer.part,
                "thickness_in": layer.thickness_in,
                "preparation": layer.preparation,
                "why": layer.why,
                "steps": [
                    {
                        "operation": step.operation,
                        "drill": str(step.drill) if step.drill else None,
                        "note": step.note,
                        "source": str(step.source),
                        "grade": str(step.grade),
                    }
                    for step in layer.steps
                ],
            }
            for layer in choice.layers
        ],
    }
