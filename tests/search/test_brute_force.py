"""The brute force that proposals are held to: it lays points as the program does, and what it takes passes every rule.

So its limits, typed from the documents, are those that the program judges by, and nothing that it finds is out of reach
of a proposal for another reason.
"""

from __future__ import annotations

import numpy as np

from hatchwright.job.file import read_job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.rules.check import check
from tests.search.brute_force import BruteForce, entered, lay
from tests.search.small_jobs import small_job

NOT_OF_THE_RING = {"R301", "R303", "R304", "R401", "R403"}
"""Corner of the opening, hand, ring going in, sheet against the job's own rivets: cautions that any ring has."""


def test_its_rings_lie_where_they_are_entered_and_pass_every_rule():
    """Some of twelve small jobs have a ring, and some have none."""
    found = {seed: BruteForce(small_job(seed)).best() for seed in range(12)}
    assert 0 < sum(map(bool, found.values())) < len(found)
    for job, ring in (
        (small_job(seed), ring) for seed, best in found.items() if best for ring in best.values()
    ):
        layout = lay_out(read_job(entered(job, ring)))
        points = np.array([hole.place for hole in layout.holes]) - layout.center_in
        own = np.concatenate([lay(job, d, (x, y), half) for d, x, y, half in ring.rows])
        assert len(points) == len(own) == ring.holes
        apart = np.hypot(*(points[:, None] - own[None]).transpose(2, 0, 1))
        assert apart.min(axis=1).max() < 1e-6
        open_ = {one.code for one in check(layout) if one.status is not Status.PASS}
        assert open_ <= NOT_OF_THE_RING
