"""What lies behind the skin, as entered: slopes, things that move, and whether somebody looked."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from hatchwright.job.other_side import other_side
from job_text import job_text
from rules.cases import PLAIN, changed

HERE = {"name": "line", "x_from": "1", "x_to": "1"}
ENDS = {"start": ["1", "0"], "start_depth": ".4", "end": ["1", "5"], "end_depth": ".9"}


def job_with(*keep_outs: dict, **bay: object):
    return read_job(job_text(changed(PLAIN, {"bay": {"keep_outs": list(keep_outs), **bay}})))


@pytest.mark.parametrize(
    ("entered", "told"),
    [
        ({**ENDS, "end": ["1.0", "0.00"]}, "ends where it begins"),
        ({key: value for key, value in ENDS.items() if key != "end_depth"}, "each with its depth"),
        ({**ENDS, "depth": ".4"}, "one depth and the two depths of a slope"),
        ({"moves": True, "swing": ".2"}, "depth at rest is not entered"),
        ({"swing_sideways": ".2"}, "depth at rest is not entered"),
        ({"depth": "1", "moves": False, "swing": ".2"}, "does not move"),
        ({"depth": "1", "tied_back": ".99"}, "nearer to the skin than before"),
        ({"depth": "1", "swing_sideways": "2", "x_from": "2"}, "beyond its 'to' bound"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_contradicts_itself_is_refused_by_name(entered, told):
    with pytest.raises(JobError) as refused:
        job_with({**HERE, **entered})
    assert told in str(refused.value)
    assert "bay.keep_outs" in str(refused.value)


def test_the_room_of_a_part_that_moves_holds_its_travel_sideways():
    (one,) = job_with({**HERE, "depth": "1", "moves": True, "swing_sideways": ".25"}).bay.keep_outs
    assert one.bounds_in[0::2] == (0.75, 1.25)


def test_nothing_near_is_refused_beside_something_that_is_there():
    with pytest.raises(JobError, match="nothing is near behind the skin, but line is entered there"):
        job_with({**HERE, "depth": "1"}, nothing_near=True)


def test_who_looked_behind_one_side_saw_nothing_of_the_other():
    there = other_side(job_with(nothing_near=True, way_in="inspection port 2 bays inboard"))
    assert (there.bay.nothing_near, there.bay.way_in) == (None, "")
