"""Change the unit of a job's bare numbers without changing one length."""

from __future__ import annotations

from typing import Literal

from hatchwright.errors import EntryError
from hatchwright.job.as_typed import raw_data
from hatchwright.job.file import edited
from hatchwright.job.job_text import added
from hatchwright.page.entry_sheet import Box
from hatchwright.page.lay_out_sheet import sheet_of
from hatchwright.tables.drills import drill_sizes
from hatchwright.units import parse_length

Unit = Literal["in", "mm"]


def with_unit(text: str, unit: Unit) -> str:
    """Make another unit that of bare numbers; every number that was bare gets the old unit written beside it.

    Returns:
        str: the text in which every length is as long as before.
    Raises:
        JobError: the text is not TOML.
    """
    data = raw_data(text)
    old: Unit = "mm" if data.get("units") == "mm" else "in"
    if unit == old:
        return text
    marked = {
        path: f"{box.value.strip()} {old}"
        for path, box in sheet_of(text).boxes().items()
        if _would_change(box, old, unit)
    }
    text = edited(text, marked) if marked else text
    return edited(text, {"units": unit}) if "units" in data else added(text, {"units": unit})


def _would_change(box: Box, old: Unit, new: Unit) -> bool:
    """Whether what stands in the box is a length in the old unit and another one, or none, in the new."""
    if box.kind not in ("length", "coordinate", "diameter"):
        return False
    before = _exact(box, old)
    return before is not None and before != _exact(box, new)


def _exact(box: Box, unit: Unit) -> object:
    try:
        return parse_length(
            box.value, unit=unit, drills=drill_sizes(), signed=box.kind != "diameter"
        ).exact_in
    except EntryError:
        return None
