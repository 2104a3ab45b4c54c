"""Make a finding of what a document asks for in words, and tell the worse of several judgements."""

from __future__ import annotations

from dataclasses import replace

from hatchwright.finding import Finding, stated
from hatchwright.judged import Judgement, Status
from hatchwright.said import Said, said
from hatchwright.tables.instructions import Instruction


def in_words(
    code: str,
    status: Status,
    subject: Said | str,
    asked: Instruction,
    *told: Said | str,
    holes: tuple[int, ...] = (),
    place: tuple[float, float] | None = None,
    cause: str = "",
    enter: tuple[str, ...] = (),
) -> Finding:
    """Make a finding that rests on what a document asks for in words.

    Args:
        subject: what was judged.
        asked: what the document asks for.
        told: what to do; where it does not pass, the document's own words when left out.
        holes: numbers of the holes concerned.
        cause: see `Finding`.
        enter: entries whose absence kept it from being judged.
    Returns:
        Finding: without value or limit.
    """
    own = () if status is Status.PASS else (said("document.asks", text=asked.text),)
    return stated(
        code,
        status,
        subject,
        source=asked.source,
        grade=asked.grade,
        advice=told or own,
        holes=holes,
        place=place,
        cause=cause,
        enter=enter,
    )


def worse(first: Judgement, *others: Judgement) -> Judgement:
    """Of judgements on one thing the one to tell: the worst, and of those one for which documents differ.

    Their workings are shown together, those of the one that is told first.
    """
    every = (first, *others)
    told = max(every, key=lambda one: (one.status.rank, one.documents_differ))
    return replace(told, beside=(*told.beside, *(one for one in every if one is not told)))
