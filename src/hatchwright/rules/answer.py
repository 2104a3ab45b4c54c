"""Make a finding of what a document asks for in words, and tell the worse of several judgements."""

from __future__ import annotations

from dataclasses import replace
from typing import Unpack

from hatchwright.finding import About, Finding, stated
from hatchwright.judged import Judgement, Status
from hatchwright.said import Said, said
from hatchwright.tables.instructions import Instruction


def in_words(
    code: str,
    status: Status,
    subject: Said | str,
    asked: Instruction,
    *told: Said | str,
    **about: Unpack[About],
) -> Finding:
    """Make a finding that rests on what a document asks for in words, without value or limit.

    Args:
        told: what to do; where it does not pass, the document's own words when left out.
    """
    own = () if status is Status.PASS else (said("document.asks", text=asked.text),)
    return stated(code, status, subject, asked, *(told or own), **about)


def worse(first: Judgement, *others: Judgement) -> Judgement:
    """Of judgements on one thing the one to tell: the worst, and of those one for which documents differ.

    Their workings are shown together, those of the one that is told first.
    """
    every = (first, *others)
    told = max(every, key=lambda one: (one.status.rank, one.documents_differ))
    return replace(told, beside=(*told.beside, *(one for one in every if one is not told)))
