"""Make a finding from one value and its limit, the way most rules need it."""

from __future__ import annotations

from dataclasses import replace

from hatchwright.finding import Finding, stated
from hatchwright.judged import Judgement, Status
from hatchwright.rules.wording import sentence
from hatchwright.said import Said, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction
from hatchwright.workings import Quantity, Working


def against(
    code: str,
    status: Status,
    subject: str,
    *,
    value: float | None,
    limit: float | None,
    unit: str,
    cited: Cited,
    formula: str = "",
    values: tuple[Quantity, ...] = (),
    more: tuple[Working, ...] = (),
    advice: str = "",
    holes: tuple[int, ...] = (),
    place: tuple[float, float] | None = None,
    shortfall: float = 0.0,
    uncertainty: float = 0.0,
) -> Finding:
    """Make a finding whose limit comes from one cited number.

    Args:
        subject: what was judged.
        value: what it is [unit].
        limit: what it was judged against [unit].
        unit: of both.
        cited: the published number behind the limit.
        formula: how value and limit compare; no working when empty.
        values: what goes into the formula.
        more: further workings, such as the other reading of a conflict.
        holes: numbers of the holes concerned.
        place: point concerned [in].
        shortfall: by how much it misses, never below 0 in the finding [unit].
        uncertainty: of the value [unit].
    Returns:
        Finding: with source and grade of the cited number.
    """
    working: tuple[Working, ...] = ()
    if formula and value is not None:
        result = Quantity("value", value, unit)
        working = (Working(formula, values, result, cited.source, cited.grade),)
    return stated(
        code=code,
        status=status,
        subject=subject,
        value=value,
        limit=limit,
        unit=unit,
        source=cited.source,
        grade=cited.grade,
        working=(*working, *more),
        advice=sentence(advice),
        holes=holes,
        place=place,
        shortfall=max(0.0, shortfall) if status is not Status.PASS else 0.0,
        uncertainty=uncertainty,
    )


def in_words(
    code: str,
    status: Status,
    subject: Said | str,
    asked: Instruction,
    *,
    advice: tuple[Said | str, ...] | str = (),
    holes: tuple[int, ...] = (),
    cause: str = "",
    enter: tuple[str, ...] = (),
) -> Finding:
    """Make a finding that rests on what a document asks for in words.

    Args:
        subject: what was judged.
        asked: what the document asks for.
        advice: what to do; where it does not pass, the document's own words when left out.
        holes: numbers of the holes concerned.
        cause: see `Finding`.
        enter: entries whose absence kept it from being judged.
    Returns:
        Finding: without value or limit.
    """
    told: tuple[Said | str, ...]
    told = (sentence(advice),) if isinstance(advice, str) and advice else tuple(advice)
    if not told and status is not Status.PASS:
        told = (said("document.asks", text=asked.text),)
    return stated(
        code,
        status,
        subject,
        source=asked.source,
        grade=asked.grade,
        advice=told,
        holes=holes,
        cause=cause,
        enter=enter,
    )


def worse(first: Judgement, *others: Judgement) -> Judgement:
    """Of judgements on one thing the one to tell: the worst, and of those one for which documents differ.

    Their workings are shown together, those of the one that is told first.
    """
    every = (first, *others)
    told = max(every, key=lambda one: (one.status.rank, one.documents_differ))
    rest = tuple(step for one in every if one is not told for step in one.working)
    return replace(told, more=(*told.more, *rest))
