"""How a finding is put into words: one place for the screen, the card, the command and the JSON alike."""

from __future__ import annotations

import math

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, OFF, Judgement, Status
from hatchwright.remedy import ASK
from hatchwright.said import Amount, Listed, Said, Value, inch, missing, room, said
from hatchwright.units import Unit
from hatchwright.words.catalog import HOME
from hatchwright.words.readings import reading_called
from hatchwright.words.tell import ended, tell, tell_all

_COUNTED = {
    "rivets": "kind.rivet.counted",
    "screws": "kind.screw.counted",
    "holes": "kind.hole.counted",
}
"""Units that are pieces: how many of them are said with their plural."""


def _missing(by: float, unit: str) -> Value:
    counted = _COUNTED.get(unit)
    return said(counted, n=math.ceil(by - FLOAT_NOISE)) if counted else missing(by, unit)


_RATIOS = ("", "-", "of a pitch")
"""Units of which a difference says nothing to a reader: the value is told with what is needed or allowed."""


def missed(finding: Finding) -> Said | None:
    """By how much the value misses its limit and what its uncertainty makes of that; None where nothing is missed.

    What is missing is rounded up and what is left is rounded down.
    """
    judged = finding.judged
    if not isinstance(judged, Judgement) or judged.status is Status.PASS:
        return None
    if judged.value is None or judged.limit is None:
        return None
    by = (judged.limit - judged.value) * (1.0 if judged.at_least else -1.0)
    short = "short" if judged.at_least else "over"
    unsure = 0.0 < judged.uncertainty >= abs(by) - FLOAT_NOISE
    if (is_off := judged.measure.symbol == OFF) or (by > FLOAT_NOISE and judged.unit in _RATIOS):
        whole = {
            "value": Amount(judged.value, judged.unit, beside=judged.limit),
            "limit": Amount(judged.limit, judged.unit, beside=judged.value),
        }
        if unsure:
            return said("missed.off_unsure", u=missing(judged.uncertainty, judged.unit), **whole)
        return said("missed.off" if is_off else f"missed.ratio_{short}", **whole)
    if by > FLOAT_NOISE:
        by_how_much: Value = _missing(by, judged.unit)
        id = f"missed.{short}"
    else:
        by_how_much, id = room(-by, judged.unit), "missed.within"
    if unsure:
        return said(f"{id}_unsure", by=by_how_much, u=missing(judged.uncertainty, judged.unit))
    return said(id, by=by_how_much) if by > FLOAT_NOISE else None


def ratio(finding: Finding) -> Said | None:
    """The value in multiples of what its limit is told in, such as ``1.94D of 2D``; None where it is told in none."""
    judged = finding.judged
    if not isinstance(judged, Judgement) or judged.measure.per is None or judged.limit is None:
        return None
    symbol, per, _ = judged.measure.per
    if symbol not in ("D", "t"):
        return None
    value, limit = float(judged.measure.value) / float(per), judged.limit / float(per)
    return said(
        "missed.ratio",
        value=Amount(value, symbol, beside=limit),
        limit=said("missed.times", limit=f"{limit:.4g}", symbol=symbol),
    )


def reading_notes(finding: Finding) -> tuple[Said, ...]:
    """What is to be said where documents differ: the choice with its reason, or that one is to be made."""
    judged = finding.judged
    if not isinstance(judged, Judgement):
        return ()
    from_memory = not judged.by.grade.may_stop and judged.by.to is None
    if judged.reason:
        chosen = said(
            "reading.chosen", reading=reading_called(judged.by.reading), reason=ended(judged.reason)
        )
        return (chosen, said("reading.chosen_from_memory")) if from_memory else (chosen,)
    if from_memory:
        return (said("reading.from_memory", source=str(judged.source)),)
    if not judged.documents_differ:
        return ()
    if judged.status is Status.PASS:
        return (said("reading.default", reading=reading_called(judged.by.reading)),)
    named = tuple(map(reading_called, judged.readings))
    return (said("reading.choose", readings=Listed(named, ";")),)


def what_to_do(finding: Finding, remedy: Said | None = None) -> tuple[Value, ...]:
    """What to do, and what is to be said of readings.

    Args:
        remedy: what was tried on the job and makes it pass; it stands in the place of asking for a disposition.
    """
    told = finding.advice
    if remedy:
        told = (*(one for one in told if one != ASK), remedy)
    return (*told, *reading_notes(finding))


def advice(finding: Finding, remedy: Said | None = None) -> tuple[Value, ...]:
    """Everything that is said after the subject: by how much it misses, then `what_to_do`."""
    by, of = missed(finding), ratio(finding)
    if by is None:
        return what_to_do(finding, remedy)
    told = said("missed.with_ratio", ratio=of, missed=by) if of else said("missed.alone", missed=by)
    return (told, *what_to_do(finding, remedy))


def advice_text(finding: Finding, unit: Unit, tongue: str = HOME, *, remedy: Said | None = None) -> str:
    """The same as words."""
    return tell_all(advice(finding, remedy), unit, tongue)


def told_text(finding: Finding, unit: Unit) -> str:
    """What was judged with its value and limit, where it is read without columns for them.

    A value that the subject tells already is not told again.
    """
    subject = tell(finding.subject, unit)
    if finding.unit != "in" or finding.value is None:
        return subject
    value = inch(finding.value, fine=True)
    if tell(value, unit) in subject or tell(inch(finding.value), unit) in subject:
        return subject
    if finding.limit is None:
        return tell(said("finding.told", subject=subject, value=value), unit)
    limit = inch(finding.limit, fine=True)
    return tell(said("finding.told_with_limit", subject=subject, value=value, limit=limit), unit)


def number_said(finding: Finding) -> Said | None:
    """The value with its uncertainty and its limit, so that they can be told apart; None where nothing was measured."""
    if finding.value is None:
        return None
    value = Amount(finding.value, finding.unit, beside=finding.limit)
    if finding.limit is None:
        return said("number.value", value=value)
    limit = Amount(finding.limit, finding.unit, beside=finding.value)
    if finding.judged.uncertainty:
        return said(
            "number.measured",
            value=value,
            limit=limit,
            u=Amount(finding.judged.uncertainty, finding.unit, toward="up"),
        )
    return said("number.limit", value=value, limit=limit)
