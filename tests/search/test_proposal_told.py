"""What an answer may not claim: a proof that is none, a pass beside a stop, a layout in a bay that may be wrong."""

from __future__ import annotations

import pytest

from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.search.proposal import offering
from hatchwright.search.proposal.conflict import conflicts_of
from hatchwright.search.proposal.entering import shape_of
from hatchwright.search.proposal.propose import propose
from hatchwright.words.tell import tell
from hatchwright.workflow.propose import first_said, headline_said, ways_said
from tests.conftest import EXAMPLES
from tests.search.small_jobs import small_job


def laid(name: str):
    return lay_out(read_job((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")))


@pytest.fixture(scope="module")
def birch():
    return propose(laid("birch"))


def test_rings_left_unjudged_are_told_for_no_proof(monkeypatch):
    monkeypatch.setattr(offering, "MOST_JUDGED", 0)
    proposed = propose(lay_out(read_job(small_job(3).text)))
    assert not proposed.offers
    assert "no proof that none of the others passes" in " ".join(map(tell, proposed.unproved))


def test_the_right_bay_is_resolved_first(birch):
    """Birch's ribs stand 6.00 apart, its mandate shows 8.00."""
    assert [one.code for one in birch.first] == ["R908"]
    assert tell(next(first_said(birch))).startswith(
        "Resolve this first: bay along X, found 6.000, mandate shows 8.000."
    )


def test_a_job_that_stops_besides_is_not_told_to_pass_every_rule():
    """Elder's countersunk skin of .016 stops whatever ring is laid."""
    proposed = propose(laid("elder"))
    assert proposed.offers
    assert "pass" not in tell(headline_said(proposed))


def test_a_way_that_solves_all_is_told_with_what_it_gives_once(birch):
    told = [tell(one) for ways in ways_said(birch.conflicts) for way in ways for one in way]
    assert sum("19 to 13" in one and "Room for" in one for one in told) == 1
    assert any("19 to 13, as above" in one for one in told)


class CanceledError(Exception):
    """What a page raises to end a search."""


def test_explaining_a_no_can_be_canceled_on_the_way():
    layout, heard = laid("birch"), []

    def cancel(share, doing):
        heard.append(share)
        if len(heard) > 5:
            raise CanceledError

    with pytest.raises(CanceledError):
        conflicts_of(layout, shape_of(layout.job), progress=cancel)
    assert set(heard) == {0.0}
