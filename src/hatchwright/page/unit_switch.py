"""Change the unit of a job's bare numbers without changing one length."""

from __future__ import annotations

from contextlib import suppress

from hatchwright.errors import EntryError
from hatchwright.job.as_typed import raw_data
from hatchwright.job.file import edited
from hatchwright.job.job_text import added
from hatchwright.page.entry_sheet import Box
from hatchwright.page.lay_out_sheet import sheet_of
from hatchwright.tables.drills import drill_sizes
from hatchwright.units import Unit, parse_length


def with_unit(text: str, unit: Unit) -> str:
    """Make another unit that of bare numbers; beside each that was bare the old unit is written, so no length changes.

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
        if box.kind in ("length", "coordinate", "diameter")
        and (before := _exact(box, old)) is not None
        and before != _exact(box, unit)  # another length in the new unit, or none
    }
    text = edited(text, marked) if marked else text
    return edited(text, {"units": unit}) if "units" in data else added(text, {"units": unit})


def _exact(box: Box, unit: Unit) -> object:
    is_signed = box.kind != "diameter"
    with suppress(EntryError):
        return parse_length(box.value, unit=unit, drills=drill_sizes(), signed=is_signed).exact_in
    return None
