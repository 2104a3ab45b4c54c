"""Wishes that cannot be, once they are seen beside the rest of the job."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from hatchwright.errors import Fault
from hatchwright.job.bay import Bay
from hatchwright.job.skin import Skin
from hatchwright.job.wish import Wish
from hatchwright.said import inch
from hatchwright.units import Length


def wish_faults(sections: dict[str, Any]) -> Iterator[Fault]:
    """Look for wishes that no layout of this job can keep to.

    Args:
        sections: those that could be read, as for `sound.impossible`.
    """
    wish: Wish | None = sections.get("wish")
    if wish is None:
        return
    skin: Skin | None = sections.get("skin")
    for index, sheet in enumerate(wish.sheets if skin else ()):
        assert skin is not None  # no sheet is looked at without it
        if sheet.exact_in < skin.thickness.exact_in:
            yield Fault.saying(
                f"wish.sheets.{index}", "job.wish.sheet_thin", sheet.text, skin=inch(skin.thickness.inch)
            )
    bay: Bay | None = sections.get("bay")
    if bay is not None:
        at_x = [row.x.inch for row in bay.rows if row.x]
        at_y = [row.y.inch for row in bay.rows if row.y]
        yield from _fits_bay("width_from", wish.width_from, at_x)
        yield from _fits_bay("height_from", wish.height_from, at_y)


def _fits_bay(field: str, least: Length | None, rows_in: list[float]) -> Iterator[Fault]:
    """A least size that is larger than the bay from its first row to its last [in]."""
    if least is not None and len(rows_in) > 1 and least.inch > (free_in := max(rows_in) - min(rows_in)):
        yield Fault.saying(f"wish.{field}", "job.wish.over_bay", least.text, bay=inch(free_in))
