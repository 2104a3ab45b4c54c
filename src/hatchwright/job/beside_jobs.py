"""Which files are of another kind than a job: a machine, a shelf of cutters, the readings of a trial."""

from __future__ import annotations

from pydantic import BaseModel

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data
from hatchwright.job.cutter_shelf import CutterShelf
from hatchwright.job.job import Job
from hatchwright.job.machine import Machine
from hatchwright.job.trial_readings import TrialReadings


def _keys(model: type[BaseModel]) -> frozenset[str]:
    return frozenset(field.alias or name for name, field in model.model_fields.items())


_OF_OTHERS = _keys(Machine) | _keys(CutterShelf) | _keys(TrialReadings)
_ONLY_JOBS = _keys(Job) - _OF_OTHERS
_ONLY_OTHERS = _OF_OTHERS - _keys(Job) - {"name"}  # which says nothing of what is named


def is_beside_jobs(text: str) -> bool:
    """Whether a text is of another kind by its keys: some that no job has, and none that only a job has.

    What cannot be read is not: it may have been a job.
    """
    if (
        "[aircraft]" in text
    ):  # so begins nearly every job, and a long list is not to be read through for the rest
        return False
    try:
        keys = raw_data(text).keys()
    except JobError:
        return False
    return bool(keys & _ONLY_OTHERS) and not keys & _ONLY_JOBS
