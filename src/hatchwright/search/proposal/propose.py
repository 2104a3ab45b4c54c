"""Propose lay-outs for the opening of a job: an exact search, best first, whose first answer is the best of its space."""

from __future__ import annotations

from hatchwright.layout.layout import Layout
from hatchwright.progress import Progress, unheard
from hatchwright.search.proposal.values import Proposal


def propose(layout: Layout, *, progress: Progress = unheard) -> Proposal:
    """At most three lay-outs of a ring with its rows, or the conflicts that leave none.

    Args:
        layout: the job as it stands with the shop's tables: opening, bay, skin, doubler, its rivets and its `[wish]`.
        progress: told the share that is done; what it raises ends the search (so a page cancels).
    Raises:
        GeometryError: the job has no opening that a ring can be laid round, or holes of its rows are drilled already.
        JobError: an offer cannot be entered.
    Method: docs/theory/proposal.md.
    """
    raise NotImplementedError
