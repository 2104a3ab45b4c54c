"""The engineering answer: findings, the workings behind them, and how a value is judged against a limit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

FLOAT_NOISE = 1e-9
"""Differences below this are rounding of the arithmetic, not of the metal [any unit]."""


class Status(StrEnum):
    """The four answers; *unknown* means that the work cannot be shown to pass."""

    PASS = "pass"
    CAUTION = "caution"
    STOP = "stop"
    UNKNOWN = "unknown"

    @property
    def word(self) -> str:
        """The word that people read; colour never carries the meaning."""
        return {"pass": "OK", "unknown": "CANNOT TELL"}.get(self.value, self.value.upper())

    @property
    def severity(self) -> int:
        """Rank for sorting, 0 is the worst [-]."""
        return (Status.STOP, Status.UNKNOWN, Status.CAUTION, Status.PASS).index(self)


class Grade(StrEnum):
    """How far the number behind an answer is to be trusted."""

    PUBLISHED = "published"
    RESTATED = "seen only restated"
    COMPUTED = "computed"
    SHOP = "the shop's own"
    PRACTICE = "common practice, no source"
    MEMORY = "from memory, unverified"

    @property
    def may_stop(self) -> bool:
        """Whether a number of this grade may stop a job; one from memory may only caution."""
        return self is not Grade.MEMORY


@dataclass(frozen=True, slots=True)
class Source:
    """Where a number stands: a key of the bibliography and the place in that document."""

    key: str
    place: str = ""

    def __str__(self) -> str:
        return f"{self.key}, {self.place}" if self.place else self.key


def amount_words(value: float, unit: str) -> str:
    """Letter a value as people write it, to four figures, without powers of ten.

    Args:
        value: to be lettered [unit].
        unit: its unit, "" or a bare dash when it has none.
    Returns:
        str: with thousands parted and the unit after it.

    >>> amount_words(11587.0, "lbf"), amount_words(0.88581, "-"), amount_words(10.5e6, "psi")
    ('11,590 lbf', '0.8858', '10,500,000 psi')
    >>> amount_words(36.0, "lbf"), amount_words(0.00001234, "in"), amount_words(-0.0, "")
    ('36 lbf', '0.00001234 in', '0')
    """
    if value == 0.0 or not math.isfinite(value):
        figures = "0" if value == 0.0 else str(value)
    else:
        places = 3 - math.floor(math.log10(abs(value)))
        figures = f"{round(value, places):,.{max(places, 0)}f}"
        figures = figures.rstrip("0").rstrip(".") if "." in figures else figures
    return f"{figures} {unit}" if unit not in ("", "-") else figures


@dataclass(frozen=True, slots=True)
class Quantity:
    """One value that goes into a working: its symbol, its value and its unit."""

    symbol: str
    value: float
    unit: str

    def __str__(self) -> str:
        return f"{self.symbol} = {self.value:.6g} {self.unit.removeprefix('-')}".rstrip()


@dataclass(frozen=True, slots=True)
class Working:
    """How a number came about, so that it can be recomputed from paper.

    Args:
        formula: the formula in plain symbols.
        result: what came out, symbol, value and unit.
        source: where the formula or the limit is published.
        grade: how far that is to be trusted.
    """

    formula: str
    values: tuple[Quantity, ...]
    result: Quantity
    source: Source
    grade: Grade

    def __str__(self) -> str:
        put_in = ", ".join(str(value) for value in self.values)
        return f"{self.formula}; {put_in}; {self.result} [{self.source}; {self.grade}]"


@dataclass(frozen=True, slots=True)
class Finding:
    """One answer of one rule about one subject.

    Args:
        code: stable code of the rule, such as ``R101``.
        status: pass, caution, stop or unknown.
        subject: what was judged, in the trade's words.
        value: what it is, or None when it could not be had.
        limit: what it was judged against, or None.
        unit: unit of value and limit.
        source: where the limit is published.
        grade: how far the limit is to be trusted.
        working: the arithmetic, when there is any.
        holes: numbers of the holes concerned.
        place: point concerned (x, y) in the job's frame [in].
        shortfall: by how much the value misses the limit, 0 when it does not [unit].
        uncertainty: of the measured value, 0 for a drawn one [unit].
        readings: where documents differ, the names that the job may choose from, the default first; the first workings
            are those of the readings, in the same order.
    """

    code: str
    status: Status
    subject: str
    value: float | None
    limit: float | None
    unit: str
    source: Source
    grade: Grade
    working: tuple[Working, ...] = ()
    advice: str = ""
    holes: tuple[int, ...] = ()
    place: tuple[float, float] | None = None
    shortfall: float = 0.0
    uncertainty: float = 0.0
    readings: tuple[str, ...] = ()


def judge_at_least(
    value: float, limit: float, *, uncertainty: float = 0.0, short: Status = Status.STOP
) -> Status:
    """Judge a value that must not be below its limit.

    Args:
        value: drawn or measured value [any unit].
        limit: least allowed value [same unit].
        uncertainty: expanded uncertainty of the value, 0 for a drawn one [same unit].
        short: the answer when the value is short beyond doubt.
    Returns:
        Status: pass only when the value clears the limit by its uncertainty; unknown inside it.

    >>> judge_at_least(0.248, 0.250, uncertainty=0.005)
    <Status.UNKNOWN: 'unknown'>
    >>> judge_at_least(0.250, 0.250)
    <Status.PASS: 'pass'>
    """
    margin = value - limit
    if margin >= uncertainty - FLOAT_NOISE:
        return Status.PASS
    if margin < -uncertainty - FLOAT_NOISE or uncertainty == 0.0:
        return short
    return Status.UNKNOWN if short in (Status.STOP, Status.UNKNOWN) else short


def judge_at_most(
    value: float, limit: float, *, uncertainty: float = 0.0, over: Status = Status.STOP
) -> Status:
    """Judge a value that must not be above its limit; the mirror of `judge_at_least`.

    Args:
        value: drawn or measured value [any unit].
        limit: greatest allowed value [same unit].
        uncertainty: expanded uncertainty of the value, 0 for a drawn one [same unit].
        over: the answer when the value is over beyond doubt.
    Returns:
        Status: pass only when the value clears the limit by its uncertainty; unknown inside it.
    """
    return judge_at_least(-value, -limit, uncertainty=uncertainty, short=over)
