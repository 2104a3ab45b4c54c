"""Sizes of opening: held to every size of a grid, asked one by one."""

from __future__ import annotations

from fractions import Fraction

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.search.proposal.propose import propose
from hatchwright.search.proposal.sizes import largest
from hatchwright.words.tell import tell
from tests.conftest import EXAMPLES
from tests.search.small_jobs import small_job

STEP = Fraction(1, 100)
NONE = (Fraction(0), Fraction(0))


@pytest.mark.parametrize("is_round", [False, True])
def test_a_size_above_a_gap_is_found(is_round):
    """Rows divide better round 61 to 63 hundredths than round 41 to 60: what halving alone stops below."""

    def holds(grown):
        high = grown[1] / STEP
        return grown[0] <= Fraction(3, 10) * (3 if is_round else 1) and (high <= 40 or 61 <= high <= 63)

    every = [Fraction(k, 100) for k in range(101)]
    sizes = [(x, x) for x in every] if is_round else [(x, y) for x in every for y in every]
    best = max((size for size in sizes if holds(size)), key=lambda size: (size[0] + 1) * (size[1] + 1))
    assert largest(NONE, (Fraction(1), Fraction(1)), STEP, holds, is_round=is_round) == best


def test_birch_is_offered_no_less_than_an_opening_that_has_a_ring():
    """3.45 x 4.625 with a ring of .850 keeps .125 off flanges at 5.40 and 6.65: 5.40 and 6.575 across."""
    (offer,) = propose(lay_out(read_job((EXAMPLES / "birch.toml").read_text(encoding="utf-8")))).offers
    assert offer.width_in * offer.height_in >= 3.45 * 4.625 - 1e-9


def test_a_largest_of_a_range_is_told_as_no_proof():
    proposed = propose(lay_out(read_job((EXAMPLES / "birch.toml").read_text(encoding="utf-8"))))
    assert "no proof that a larger one" in " ".join(map(tell, proposed.unproved))


@pytest.mark.parametrize("step", [".00001", "1"])
def test_a_step_that_nobody_draws_on_is_refused(step):
    """The first took two minutes and could not be canceled, the second left no ring and blamed the rivets."""
    text = small_job(3).text.replace("most_rows", f'step = "{step}"\nmost_rows', 1)
    with pytest.raises(JobError, match=r"wish\.step"):
        read_job(text)
