"""What readings pasted into a list of drilled holes come to, before they are entered: best fit, and what is named."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from msgspec import Struct

from hatchwright.errors import Fault, GeometryError, HatchwrightError, JobError
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.job_text import added, taken, with_values_at
from hatchwright.job.samples import confirmed
from hatchwright.page.lay_out_sheet import READINGS
from hatchwright.page.paste import Pasted
from hatchwright.said import Said
from hatchwright.words.tell import tell
from hatchwright.workflow.measure import HowRead, Measured, measured
from hatchwright.workflow.measure_said import fit_said, hole_cells

HOLES = "as_made.holes"
"""The list of drilled holes as measured by X and Y."""

_LIST = re.compile(r"as_made\.(?:holes|polar\.\d+\.holes)")
_UNCERTAINTY = "as_made.uncertainty"


class PastedHoles(Struct, frozen=True):
    """A pasted set laid on the drawing, as the page shows it.

    Args:
        told: the fit in one sentence.
        named: what is wrong with the set, the gravest first, and whether that makes it doubtful.
        doubts: what keeps it from being entered unless a person says that it is as it is.
        rows: of each hole its number and row, then off the drawing as measured, by the template and by drilling, and u.
    """

    told: str
    named: tuple[tuple[str, bool], ...]
    doubts: tuple[Fault, ...]
    rows: tuple[tuple[str, ...], ...]


def asks_for_u(text: str, path: str) -> bool:
    """Whether a list takes measured holes, and nothing says yet how far off they may be."""
    return bool(_LIST.fullmatch(path) or path == READINGS) and not standing_at(raw_data(text), _UNCERTAINTY)


def with_u(text: str, u: str) -> str:
    """The text with the uncertainty of its readings, which it did without."""
    if not u:
        return text
    is_there = standing_at(raw_data(text), _UNCERTAINTY) is not None
    return with_values_at(text, {_UNCERTAINTY: u}) if is_there else added(text, {_UNCERTAINTY: u})


def pasted_holes(
    text: str, path: str, pasted: str, *, u: str, folder: Path, commas_are_decimal: bool
) -> PastedHoles | None:
    """Lay pasted readings on the drawing.

    Args:
        u: expanded uncertainty of the readings, as typed; "" for that of the job.
        folder: of the job's file.
    Returns:
        PastedHoles | None: None where the list is another, the job is not sound yet, or too few rows were pasted.
    Raises:
        JobError: the readings can't be those of this job, such as readings in the other unit.
    """
    if not _LIST.fullmatch(path):
        return None
    is_polar = path != HOLES
    zero = _center(raw_data(text), path) if is_polar else None
    how = HowRead(u=u, zero=zero, commas_are_decimal=commas_are_decimal, is_polar=is_polar)
    try:
        found = measured(with_u(text, u), pasted, how, folder=folder)
    except GeometryError as error:
        _refuse_strangers(error)
        return None
    except HatchwrightError:
        return None  # told by who reads the rows, or by the job's own page
    return laid_on(found)


def with_unnumbered(
    text: str, pasted: str, *, u: str, folder: Path, replacing: bool, commas_are_decimal: bool
) -> Pasted | None:
    """Put measured holes into a job that are not all numbered: each as the hole next to which it lies, what is of no
    hole as one of no row.

    Args:
        replacing: whether they take the place of the list.
    Returns:
        Pasted | None: None where all are numbered, or they can't be laid on the drawing.
    Raises:
        JobError: a hole of no row has no diameter, its row as the fault's line; or the readings can't be those of this
            job.
    """
    text = with_u(taken(text, [HOLES]) if replacing else text, u)
    how = HowRead(u=u, commas_are_decimal=commas_are_decimal)
    try:
        found = measured(text, pasted, how, folder=folder)
    except GeometryError as error:
        _refuse_strangers(error)
        return None
    except HatchwrightError:
        return None
    if all(one.number is not None for one in found.holes):
        return None
    changed = confirmed(found.changed_text, {HOLES, "as_made.strays"})
    return Pasted(changed, found.count, found.notes)


def _refuse_strangers(error: GeometryError) -> None:
    """JobError for readings that can't be of this job; those too few to be laid on the drawing may be."""
    if not (isinstance(error.what, Said) and error.what.id in ("fit.few_points", "fit.one_place")):
        raise JobError((error.as_fault(""),)) from None


def _center(data: Mapping[str, Any], path: str) -> tuple[str, str] | None:
    center = standing_at(data, path.removesuffix("holes") + "center")
    return (str(center[0]), str(center[1])) if isinstance(center, list) and len(center) == 2 else None


def laid_on(found: Measured) -> PastedHoles | None:
    """How the holes of a set lie, None where they are too few to be laid on."""
    unit = found.job.unit
    if found.fit is None:
        return None
    return PastedHoles(
        told=tell(fit_said(found.fit), unit),
        named=tuple((tell(one.told, unit), one.is_doubtful) for one in found.named),
        doubts=found.refusals,
        rows=tuple(hole_cells(one, unit) for one in found.fit.holes),
    )
