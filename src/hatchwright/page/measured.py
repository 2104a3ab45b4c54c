"""What was measured of a job, as the as-built sheet and the sheet of repeat looks have it, for the page."""

from __future__ import annotations

from typing import Any

from hatchwright.documents.as_built import as_built_tables
from hatchwright.documents.looks import looks_tables
from hatchwright.documents.made_table import tables_on_paper
from hatchwright.page.screen import Asked
from hatchwright.workflow.drawn_beside_made import drawn_beside_made, is_measured
from hatchwright.workflow.examine import examine


def measured_tables(asked: Asked) -> list[dict[str, Any]]:
    """The tables of what was measured and of the looks, strength left out; none where nothing was.

    Raises:
        HatchwrightError: the job is not sound.
    """
    examination = examine(asked.shown(), asked.shop, with_strength=False)
    layout, unit = examination.layout, examination.job.unit
    found: list[dict[str, Any]] = []
    if is_measured(examination.job):
        beside = drawn_beside_made(examination)
        found += tables_on_paper(as_built_tables(layout, examination.findings, beside), unit)
    if examination.job.looks:
        found += tables_on_paper(looks_tables(layout), unit)
    return [table for table in found if not table["is_empty"]]
