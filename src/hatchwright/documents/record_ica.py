"""What a job tells for the instructions for continued airworthiness, item by item; the rest is left to write.

Source: [HBAW-98-18], items 1 to 9 seen only restated, 10 to 16 from memory. A section may say not applicable.
"""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.job_summary import mandate_said
from hatchwright.documents.log_draft import finish_said
from hatchwright.documents.parts_list import parts_list
from hatchwright.drawings.page_frame import aircraft_said
from hatchwright.drawings.parts_table import sheet_said
from hatchwright.layout.layout import Layout
from hatchwright.layout.sizes import size_of
from hatchwright.recipe.cover_hardware import cover_hardware
from hatchwright.said import Listed, Place, Said, Value, said


def ica_items(layout: Layout) -> dict[str, Value]:
    """What is known, by the name of the item; no limit and no interval is ever made up."""
    job = layout.job
    side = said(f"side.{job.aircraft.side}")
    surface = said(f"surface.{job.aircraft.surface}")
    where: dict[str, Value] = {
        "side": side,
        "surface": surface,
        "center": Place(*layout.center_in),
        "origin": layout.frame.origin,
    }
    known: dict[str, Value] = {
        "introduction": said(
            "record.ica.introduction.is", aircraft=aircraft_said(job), mandate=mandate_said(job.mandate)
        ),
        "description": said(
            "record.ica.description.is",
            size=size_of(layout.opening.bounds),
            sheets=Listed(tuple(_sheets(layout)), ";"),
            **where,
        ),
        "operation": said("record.ica.operation.is"),
        "servicing": said("record.ica.servicing.is", **where),
        "maintenance": said("record.ica.maintenance.is"),
        "troubleshooting": said("record.ica.troubleshooting.is"),
        "diagrams": said("record.ica.diagrams.is", revision=job.revision),
        "overhaul": said("record.ica.overhaul.is"),
    }
    if hardware := cover_hardware(layout):
        screws = hardware.screws
        known["removal"] = said("record.ica.removal.is", n=screws.count, screw=screws.name)
    if finish := finish_said(job.finish):
        known["protective"] = said("record.ica.protective.is", steps=Listed(finish, ","))
    if lines := parts_list(layout):
        each = (
            said("record.hardware", count=one.count, item=one.item, number=one.number or one.description)
            for one in lines
        )
        known["fasteners"] = said("record.ica.fasteners.is", hardware=Listed(tuple(each), ";"))
    return known


def _sheets(layout: Layout) -> Iterator[Said]:
    for part in layout.parts:
        yield said("record.sheet", part=said(f"part.{part.name}"), sheet=sheet_said(part))
