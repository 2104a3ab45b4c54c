"""What a job says otherwise than its site survey."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.said import Said


class Difference(Struct, frozen=True):
    """One entry of the job beside what the survey says of it.

    Args:
        name: of the landmark or thing, as it was entered.
        what: which of its sizes or places, in words.
        field: the entry of the job, such as ``bay.rows.1.x``; where the job has nothing of it, where it would go.
        job_in: what the job says, None where it says nothing [in].
        site_in: what the survey says, None where the job has something that the survey has not [in].
        u_in: expanded uncertainty of that [in].
    """

    name: str
    what: Said
    field: str
    job_in: float | None
    site_in: float | None
    u_in: float

    @property
    def off_in(self) -> float | None:
        """By how much they differ, None where one of the two is missing [in]."""
        return None if self.job_in is None or self.site_in is None else abs(self.job_in - self.site_in)
