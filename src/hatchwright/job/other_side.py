"""The same job on the other side of the aircraft."""

from typing import Any

from hatchwright.errors import EntryError
from hatchwright.job.frame import SWAPPED
from hatchwright.job.gate import Gate
from hatchwright.job.job import Job
from hatchwright.job.patch import Patch
from hatchwright.job.rivet_rows import TURNED, OffsetRow, PolarRow, Row
from hatchwright.said import said

_NOT_MEASURED = {"measured": None, "measured_u": None}
_OF_THE_WHOLE_AIRCRAFT = ("over_12500_lb", "maker_data")


class MirroredJob(Job):
    """The job of the other side: what it says of the place is expected there, and was not seen."""


def other_side(job: Job) -> MirroredJob:
    """Turn a job into that of the other side.

    Coordinates stay as they are, measured outboard and aft as before; the page shows the mirror. What was measured
    on this side does not hold on the other, so it is left behind, and so is every answer of the gate that lets a job go
    on because of the place. Rows, flanges, what lies behind and fasteners that are there stay as what is expected.

    Raises:
        EntryError: the job is on the center line.
    """
    if job.aircraft.side == "center":
        raise EntryError(said("job.no_other_side"), where="aircraft.side", remedy=said("job.left_or_right"))
    side = "right" if job.aircraft.side == "left" else "left"
    entry = job.frame_entry
    axes = {"x": SWAPPED.get(entry.x, entry.x), "y": SWAPPED.get(entry.y, entry.y)}
    changed: dict[str, Any] = {
        "aircraft": job.aircraft.model_copy(update={"side": side}),
        "frame_entry": entry.model_copy(update=axes),
        "rows": tuple(_other_way_round(row) for row in job.rows),
        "skin": job.skin.model_copy(update=_NOT_MEASURED),
        "doubler": job.doubler.model_copy(update=_NOT_MEASURED) if job.doubler else None,
        "cover": job.cover.model_copy(update=_NOT_MEASURED) if job.cover else None,
        "bay": job.bay.model_copy(update={"corners": None, "nothing_near": None, "way_in": ""}),
        "site": None,
        "patch": _unmeasured(job.patch) if job.patch else None,
        "mount": job.mount.model_copy(update={"nearest_antenna": None}) if job.mount else None,
        "gate": _open_again(job.gate),
        "acknowledged": (),
        "as_made": None,
        "looks": (),
    }
    kept = {name: getattr(job, name) for name in Job.model_fields if name not in changed}
    return MirroredJob.model_construct(**kept, **changed)


def _unmeasured(patch: Patch) -> Patch:
    return patch.model_copy(update={"plug": patch.plug.model_copy(update=_NOT_MEASURED)})


def _other_way_round(row: Row) -> Row:
    """The same row, whose holes keep their numbers: what runs clockwise here runs counterclockwise in the mirror."""
    if not isinstance(row, OffsetRow | PolarRow):
        return row
    start_at = SWAPPED.get(row.start_at, row.start_at) if isinstance(row.start_at, str) else row.start_at
    direction = TURNED[row.direction] if row.direction else None
    return row.model_copy(update={"start_at": start_at, "direction": direction})


def _open_again(gate: Gate) -> Gate:
    """The gate with what was answered no of the place open again; a yes is expected on the other side too."""
    no = [name for name in Gate.model_fields if getattr(gate, name) is False]
    return gate.model_copy(update=dict.fromkeys(name for name in no if name not in _OF_THE_WHOLE_AIRCRAFT))
