"""Papers of one job after the other leave nothing behind in memory."""

from __future__ import annotations

import functools
import gc
from datetime import UTC, datetime
from itertools import pairwise

from hatchwright.workflow.examine import examine
from hatchwright.workflow.papers import papers

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
JOBS, BATCHES = 5, 3
"""What stays with each job is seen in each batch, what is made once for good in one; by hand 200 were made."""


def held():
    """How many things there are in memory once what is kept for the next job is dropped."""
    for one in gc.get_objects():
        if isinstance(one, functools._lru_cache_wrapper) and one.cache_info().maxsize is not None:
            one.cache_clear()
    gc.collect()
    return len(gc.get_objects())


def test_a_job_after_the_other_leaves_nothing_behind(dogwood):
    def made(first):
        for number in range(first, first + JOBS):
            job = dogwood.model_copy(update={"title": f"Job {number}", "revision": str(number)})
            assert papers(examine(job), stamp=STAMP, only=("card", "annex"), in_one=True)

    made(0)
    counted = [held()]
    for batch in range(1, BATCHES + 1):
        made(batch * JOBS)
        counted.append(held())
    more = [after - before for before, after in pairwise(counted)]
    assert min(more) < JOBS, f"{more} things more with each {JOBS} jobs"
