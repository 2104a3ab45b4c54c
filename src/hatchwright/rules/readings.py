"""Readings: where documents differ, what each asks for, and which one the job goes by."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from hatchwright.finding import Finding, stated
from hatchwright.job.job import Job
from hatchwright.judged import Status, judge_at_least
from hatchwright.rules.wording import sentence
from hatchwright.workings import Grade, Quantity, Source, Working


@dataclass(frozen=True, slots=True)
class Reading:
    """What one document asks of one subject.

    Args:
        name: short name, as the job keeps it when it is chosen.
        limit: what it asks for [unit of the finding].
        working: how that comes about; its formula begins with the name.
    """

    name: str
    limit: float
    working: Working


def reading(
    name: str,
    limit: float,
    formula: str,
    values: tuple[Quantity, ...],
    result: Quantity,
    source: Source,
    grade: Grade,
) -> Reading:
    """Make a reading.

    Args:
        name: short name, as the job keeps it when it is chosen; "" for the only one.
        limit: what it asks for [unit of the finding].
        formula: how value and limit compare, or how the limit comes about.
        values: what goes into the formula.
        source: the document.
    Returns:
        Reading: with its working.
    """
    said = f"{name}: {formula}" if name else formula
    return Reading(name, limit, Working(said, values, result, source, grade))


@dataclass(frozen=True, slots=True)
class Judged:
    """The answer on one subject for which documents differ.

    Args:
        readings: all of them, the default first.
        by: the reading that it was judged by.
        reason: the user's, "" when nothing was chosen.
        differ: whether the readings differ in their answer.
    """

    readings: tuple[Reading, ...]
    by: Reading
    status: Status
    reason: str
    differ: bool

    def words(self, code: str) -> str:
        """What to say about the readings of a rule: the choice with its reason, or where one is to be made."""
        from_memory = self.by.working.grade is Grade.MEMORY
        if self.reason:
            memory = "; from memory, so confirm it" if from_memory else ""
            return f"Chosen: {self.by.name}{memory}. {self.reason}"
        if from_memory:
            return "The figure is from memory: confirm it."
        if not self.differ:
            return ""
        if self.status is Status.PASS:
            return f"Documents differ; {self.by.name} is the default."
        return (
            f'Documents differ: choose under [[choices]] (rule = "{code}", reading and reason), or ask the holder of '
            "the data."
        )


def choose(
    job: Job,
    code: str,
    readings: Sequence[Reading],
    judge: Callable[[Reading], Status],
    *,
    differ: Status | None = None,
) -> Judged:
    """Judge a subject by the reading that the job chose, else by the default.

    A reading from memory never lets anything pass without a caution, and is never what a job stops for.

    Args:
        readings: the default first.
        judge: the answer by one reading alone.
        differ: the answer when nothing was chosen and documents that were seen differ in theirs; the default's when
            None.
    Returns:
        Judged: with the reading and the reason.
    """
    choice = job.choice(code)
    chosen = next((one for one in readings if choice and one.name == choice.reading), None)
    default = readings[0]
    answers = {judge(one) for one in readings if one is default or one.working.grade.may_stop}
    differs = len(answers) > 1
    by = chosen or default
    status = judge(by)
    if not by.working.grade.may_stop:
        if status is not Status.PASS and default.working.grade.may_stop and judge(default) is not Status.PASS:
            by, status = default, judge(default)
        else:
            status = Status.CAUTION
    if chosen is None and differs and differ is not None:
        status = differ
    reason = choice.reason if choice and by is chosen else ""
    return Judged(tuple(readings), by, status, reason, differs)


def choose_at_least(
    job: Job,
    code: str,
    readings: Sequence[Reading],
    value: float,
    *,
    uncertainty: float = 0.0,
    short: Status = Status.STOP,
    differ: Status | None = None,
) -> Judged:
    """Judge a value that must not be below the limit of the reading; see `choose` and `finding.judge_at_least`.

    Args:
        readings: the default first.
        value: drawn or measured [any unit].
        uncertainty: of the value, 0 for a drawn one [same unit].
        short: the answer when the value is short beyond doubt.
        differ: the answer when nothing was chosen and the readings differ in theirs.
    Returns:
        Judged: with the reading and the reason.
    """

    def judge(one: Reading) -> Status:
        return judge_at_least(value, one.limit, uncertainty=uncertainty, short=short)

    return choose(job, code, readings, judge, differ=differ)


def by_readings(
    code: str,
    subject: str,
    judged: Judged,
    *,
    value: float | None,
    unit: str,
    more: tuple[Working, ...] = (),
    advice: str = "",
    holes: tuple[int, ...] = (),
    place: tuple[float, float] | None = None,
    shortfall: float = 0.0,
    uncertainty: float = 0.0,
) -> Finding:
    """Make a finding that shows every reading and names the one it goes by.

    Args:
        subject: what was judged.
        judged: the answer.
        value: what it is [unit].
        unit: of value and limits.
        more: further workings.
        advice: what to do; what is to be said of the readings follows it.
        holes: numbers of the holes concerned.
        place: point concerned [in].
        shortfall: by how much it misses, never below 0 in the finding [unit].
        uncertainty: of the value [unit].
    Returns:
        Finding: limit, source and grade are those of the reading that it goes by; its first workings are the readings.
    """
    return stated(
        code=code,
        status=judged.status,
        subject=subject,
        value=value,
        limit=judged.by.limit,
        unit=unit,
        source=judged.by.working.source,
        grade=judged.by.working.grade,
        working=(*(one.working for one in judged.readings), *more),
        advice=sentence(" ".join(filter(None, (advice, judged.words(code))))),
        holes=holes,
        place=place,
        shortfall=max(0.0, shortfall) if judged.status is not Status.PASS else 0.0,
        uncertainty=uncertainty,
        readings=tuple(one.name for one in judged.readings) if len(judged.readings) > 1 else (),
    )
