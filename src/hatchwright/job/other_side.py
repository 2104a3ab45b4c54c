"""The same job on the other side of the aircraft."""

from __future__ import annotations

from hatchwright.errors import EntryError
from hatchwright.job.frame import Direction
from hatchwright.job.job import Job

_SWAPPED: dict[str, Direction] = {"LEFT": "RIGHT", "RIGHT": "LEFT"}


def other_side(job: Job) -> Job:
    """Turn a job into that of the other side.

    Coordinates stay as they are, measured outboard and aft as before; the page shows the mirror. What was measured
    on this side does not hold on the other, so it is left behind.

    Args:
        job: on the left or the right.
    Returns:
        Job: on the other side, nothing of it made yet.
    Raises:
        EntryError: the job is on the centre line.
    """
    if job.aircraft.side == "centre":
        raise EntryError(
            "a job on the centre line has no other side", where="aircraft.side", remedy="Write left or right"
        )
    side = "right" if job.aircraft.side == "left" else "left"
    entry = job.frame_entry
    axes = {"x": _SWAPPED.get(entry.x, entry.x), "y": _SWAPPED.get(entry.y, entry.y)}
    return job.model_copy(
        update={
            "aircraft": job.aircraft.model_copy(update={"side": side}),
            "frame_entry": entry.model_copy(update=axes),
            "as_made": None,
        }
    )
