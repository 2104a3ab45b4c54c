"""The fasteners of a job: what to order, drill and drive, and what the new parts weigh."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from msgspec import Struct, to_builtins

from hatchwright.errors import HatchwrightError, JobError
from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.layout.mass import WeightChange, weight_change
from hatchwright.recipe.cover_hardware import Counted, CoverHardware, cover_hardware
from hatchwright.recipe.fastener_choice import (
    HeldBy,
    RivetChoice,
    UnlistedRivets,
    missed_by,
    rivet_choices,
    unlisted_rivets,
)
from hatchwright.recipe.sheet_work import LayerWork
from hatchwright.tables.cited import Cited
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import Examination, examine_file
from hatchwright.workflow.report import picked, plain, verdicts_values

SCHEMA = 3
"""Number of the fastener report's own schema."""

NEXT_SIZE = ("R105", "R214")
"""Rules of edge distance and spacing at the next rivet size."""

SCREWS = ("R802", "R803")
"""Rules of the length of cover screws and of what they may strike."""


class FastenerReport(Struct, frozen=True):
    """The fasteners of a job.

    Args:
        rivets: one choice for each kind that the tables list, stack and way of taking the head.
        unlisted: the kinds that no table lists.
        cover: what holds the cover, None without screws.
        weight: of the whole change, each side.
        judged: what the rules say of the next rivet size, of the length of the screws and of what they may strike.
        negligible: what counts as negligible for a light aircraft [lb].
    """

    examination: Examination
    rivets: tuple[RivetChoice, ...]
    unlisted: tuple[UnlistedRivets, ...]
    cover: CoverHardware | None
    weight: WeightChange
    judged: tuple[Finding, ...]
    negligible: Cited

    @property
    def job(self) -> Job:
        """As entered."""
        return self.examination.job


def choose_fasteners(path: Path, *, shop: Path | None = None) -> FastenerReport:
    """Choose the fasteners of a job file; JobError where it is refused, or a size is not in the tables,
    TableError where a table of the shop is refused."""
    examination = examine_file(path, shop=shop)
    layout = examination.layout
    try:
        rivets, unlisted, cover = rivet_choices(layout), unlisted_rivets(layout), cover_hardware(layout)
        weight, negligible = weight_change(layout), layout.limit("mass_negligible_light")
        judged = tuple(one for one in examination.findings if one.code in (*NEXT_SIZE, *SCREWS))
        return FastenerReport(examination, rivets, unlisted, cover, weight, judged, negligible)
    except HatchwrightError as error:
        raise JobError((error.as_fault("rows"),), where=path.name) from None


def fastener_values(report: FastenerReport) -> dict[str, Any]:
    """Turn a report into plain values for programs."""
    unit = report.job.unit
    return {
        "schema": SCHEMA,
        "job": report.job.title,
        "verdicts": verdicts_values(report.examination),
        "rivets": [_rivet(choice, unit) for choice in report.rivets],
        "unlisted_rivets": [
            {
                **picked(one, unit, "holes", "order", "grip_in", part="name"),
                "layers": _layers(one.layers, unit),
                "lacks": [tell(one.what, unit)],
            }
            for one in report.unlisted
        ],
        "cover": _cover(report.cover, unit) if report.cover else None,
        "masses": [
            picked(mass, unit, "name", "mass_lb", "uncertainty_lb", "working")
            for mass in report.weight.masses
        ],
        **picked(report.weight, unit, "uncertainty_lb", "not_weighed", net_mass_lb="total_lb"),
        "findings": plain(report.judged, unit),
    }


def _rivet(choice: RivetChoice, unit: Unit) -> dict[str, Any]:
    return {
        "part": str(choice.part),
        **picked(choice, unit, "holes", "order", "grip_in", calculated_length_in="calculated_in"),
        "lengths": [
            {
                "part": str(head.rivet),
                **picked(head, unit, "length_in", "protrusion_in", shop_head_in="diameter_in"),
                "missed_by": list(missed_by(head, choice.heads)),
            }
            for head in choice.lengths
        ],
        "diameters": [
            {
                "says": tell(one.says, unit),
                "diameter_in": one.working.result.value,
                "source": str(one.working.source),
                "grade": str(one.working.grade),
            }
            for one in choice.diameters
        ],
        "shop_heads": [to_builtins(head) for head in choice.heads],
        "temporary_fasteners": [_held(held) for held in choice.held_by],
        "final_drill": str(choice.final_drills[0]) if len(choice.final_drills) == 1 else None,
        **picked(choice, unit, "hole_range_in", "next_size_in", "lacks", dimple_spreads="spreads"),
        "layers": _layers(choice.layers, unit),
    }


def _held(held: HeldBy) -> dict[str, Any]:
    fastener: dict[str, Any] = to_builtins(held.fastener)
    return fastener | {"loose_over_in": held.loose_over_in}


def _layers(layers: tuple[LayerWork, ...], unit: Unit) -> list[dict[str, Any]]:
    return [
        {
            **picked(layer, unit, "part", "thickness_in", "preparation", "why"),
            "steps": [
                {
                    **picked(step, unit, "operation", "note", "grade"),
                    "drill": str(step.drill) if step.drill else None,
                    "source": str(step.source),
                }
                for step in layer.steps
            ],
        }
        for layer in layers
    ]


def _cover(cover: CoverHardware, unit: Unit) -> dict[str, Any]:
    rivets = cover.rivets
    return {
        "screws": _counted(cover.screws, unit),
        "nuts": _counted(cover.nuts, unit),
        "washers": _counted(cover.washers, unit) if cover.washers else None,
        "nut_rivets": None
        if rivets is None
        else {
            **picked(rivets, unit, "count", "order"),
            **picked(
                rivets.seat,
                unit,
                "fit",
                "ears_fit",
                "ears_drilled",
                "told",
                "ears_told",
                "ear_in",
                "strap_in",
                "behind_in",
            ),
            "lugs": rivets.seat.screws.nut_lugs,
            "sheet": rivets.seat.sheet.name,
            "rivet": _rivet(rivets.choice, unit) if rivets.choice else None,
            "lacks": [tell(rivets.seat.unlisted, unit)] if rivets.seat.unlisted else [],
        },
        **picked(cover, unit, "holes", "grip_in", "length_in", "least_length_in", "lacks"),
        "nut_height_in": cover.nut_in,
        "layers": _layers(cover.layers, unit),
    }


def _counted(parts: Counted, unit: Unit) -> dict[str, Any]:
    return picked(parts, unit, "name", "count", "order") | {"only": tell(parts.only or "", unit)}
