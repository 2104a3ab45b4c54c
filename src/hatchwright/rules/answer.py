"""What a rule answers: findings, into which `rule` puts its code, and the worse of several judgements on one thing."""

from __future__ import annotations

from functools import partial

from msgspec.structs import replace

from hatchwright import finding
from hatchwright.judged import Judgement

held = partial(finding.held, "")
held_as = partial(finding.held_as, "")
stated = partial(finding.stated, "")


def worse(first: Judgement, *others: Judgement) -> Judgement:
    """Of judgements on one thing the one to tell: the worst, and of those one for which documents differ.

    Their workings are shown together, those of the one that is told first.
    """
    every = (first, *others)
    told = max(every, key=lambda one: (one.status.rank, one.documents_differ))
    return replace(told, beside=(*told.beside, *(one for one in every if one is not told)))
