"""What may be asked of whoever can decide where no ring can be laid: requests, none of them a way that is entered."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from hatchwright.said import Listed, Said, said
from hatchwright.search.proposal.conflict_asked import Asked, Question, Scope
from hatchwright.search.proposal.conflict_limit import is_mandated


def requests(question: Question, asked: Asked) -> tuple[Said, ...]:
    """The kinds of requests there are for a ring that does not clear what stands round it."""
    return tuple(_requests(question, asked))


def _requests(question: Question, asked: Asked) -> Iterator[Said]:
    job = question.layout.job
    narrowest, laid = question.narrowest(asked), replace(asked, is_through=False)
    if narrowest is not None and not question.holds(laid, Scope.ALL):
        if rows := tuple(row.name for row in job.bay.rows):
            yield said("conflict.request.rows", rows=Listed(rows))
        if job.doubler is None or job.doubler.face == "inside":
            yield said("conflict.request.outside")
        yield said(
            "conflict.request.reduced_mandated"
            if is_mandated(question.layout)
            else "conflict.request.reduced"
        )
    yield said("conflict.request.holder")
    if job.mandate.kind == "directive":
        yield said("largest.directive")
