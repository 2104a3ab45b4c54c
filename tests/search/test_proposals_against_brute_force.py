"""Proposals of random small jobs: sound, never beaten by brute force, no worse in a wider bay, and where there is none,
one as soon as the named limits are moved by what is said.

Some jobs; `studies/proposals_against_brute_force.py` asks a hundred.
"""

from __future__ import annotations

import pytest

from tests.search.against_brute_force import hold

SEEDS = (1, 2, 3, 7, 11, 13, 14, 23, 27, 34, 35, 39, 45, 58, 77, 91)
"""With a ring and without: 3, 14, 58 and 91 need both rows moved, 77 a way through the opening, 35 two limits at once,
34 another pitch, 45 another place."""


@pytest.mark.parametrize("seed", SEEDS)
def test_a_small_job_is_answered_as_it_must_be(seed):
    assert hold(seed).faults == []


def test_some_of_them_have_a_ring_and_some_have_none():
    assert {hold(seed).has_ring for seed in (1, 2)} == {True, False}
