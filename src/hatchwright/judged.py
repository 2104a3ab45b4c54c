"""A judgement is a value before it is a sentence: what was measured, held to which bound, and what failing it means.

The same numbers serve one hole, all holes of a job as an array, and a million trials of them: `judge` is the one place
where a number meets its limit. Status, shortfall, limit and working are derived; words are made when they are shown
(`hatchwright.words`).
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from functools import cached_property, reduce
from math import isnan
from typing import Protocol, TypeAlias

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.workings import Grade, Quantity, Rests, Source, Working

FLOAT_NOISE = 1e-9
"""Differences below this are rounding of the arithmetic, not of the metal [any unit]."""

OFF = "off"
"""Symbol of a measure that is itself a difference from what is wanted: it is told whole, with what is allowed."""

Array: TypeAlias = npt.NDArray[np.float64]
Numbers: TypeAlias = float | Array
"""One number, or an array of them that broadcasts against the others of its judgement."""
Ranks: TypeAlias = npt.NDArray[np.uint8]
"""Answers as numbers that sort and compare: `RANKED[rank]` is the status."""


class Status(StrEnum):
    """The four answers; *unknown* means that the work cannot be shown to pass."""

    PASS = "pass"
    CAUTION = "caution"
    UNKNOWN = "unknown"
    STOP = "stop"

    @property
    def rank(self) -> int:
        """Place among the answers, the worst last; 0 passes [-]."""
        return _RANKS[self]

    @property
    def severity(self) -> int:
        """The same for sorting the worst first, 0 is the worst [-]."""
        return len(RANKED) - 1 - self.rank

    @property
    def holds_back(self) -> bool:
        """Whether work must not begin: it stops, or cannot be shown to pass."""
        return self in (Status.STOP, Status.UNKNOWN)


RANKED = (Status.PASS, Status.CAUTION, Status.UNKNOWN, Status.STOP)
"""The answers by rank."""

_RANKS = {status: rank for rank, status in enumerate(RANKED)}


def worst_of(statuses: Iterable[Status]) -> Status:
    """The worst of several answers; pass where there is none."""
    return max(statuses, key=lambda status: status.rank, default=Status.PASS)


def worst_given(statuses: Iterable[Status]) -> Status:
    """The same of what asks for an answer: not shown where nobody gave one."""
    return max(statuses, key=lambda status: status.rank, default=Status.UNKNOWN)


_ONE_ANSWER = tuple(np.array(rank, dtype=np.uint8) for rank in _RANKS.values())
for _one in _ONE_ANSWER:
    _one.setflags(write=False)  # shared by all judgements of one number


def judge(
    measured: Numbers,
    low: Numbers,
    high: Numbers | None = None,
    *,
    u: Numbers = 0.0,
    at_least: bool = True,
    strict: bool = False,
    fails_as: Status = Status.STOP,
) -> Ranks:
    """Hold numbers to a limit; every judgement of the program is made here.

    What clears the limit by its uncertainty passes; what misses it by more than its uncertainty fails as told; between
    the two it cannot be shown, or only cautions where failing only cautions. A limit that is known within a range is
    asked at both its ends: what clears the harder one passes, what misses the easier one fails. What is no number
    (NaN) never passes and never only cautions.

    Args:
        measured: drawn or measured values [any unit]; an array of any shape.
        low: the limit, or the lower end of the range that it is known within [same unit].
        high: the upper end, None where the limit is one figure [same unit].
        u: expanded uncertainty of each value, 0 for a drawn one [same unit].
        at_least: whether the limit is a least (a greatest otherwise).
        strict: whether a drawn value at its limit misses it, as metal that touches is not clear.
        fails_as: the answer where a value misses its limit beyond doubt.
    Returns:
        Ranks: of the broadcast shape.

    >>> [RANKED[rank].value for rank in judge(np.array([0.250, 0.248, 0.240]), 0.250, u=0.005)]
    ['unknown', 'unknown', 'stop']
    >>> RANKED[judge(0.250, 0.250)].value
    'pass'
    """
    hard, easy = (low, low) if high is None else (high, low) if at_least else (low, high)
    if isinstance(u, np.ndarray) and np.shape(measured) == u.shape and not u.any():
        u = 0.0
    # By so much a value has to be inside the hard limit to pass, and outside the easy one to fail. A drawn value has no
    # doubt: what does not clear its one limit misses it, by however little.
    inside: Numbers = u - FLOAT_NOISE
    outside: Numbers = u + FLOAT_NOISE
    if strict and isinstance(u, np.ndarray):
        is_drawn = np.equal(u, 0.0)
        inside = np.where(is_drawn, FLOAT_NOISE, inside)
        outside = np.where(is_drawn & (high is None), -FLOAT_NOISE, outside)
    elif strict and u == 0.0:
        inside, outside = FLOAT_NOISE, -FLOAT_NOISE if high is None else outside
    clear, failing = (hard + inside, easy - outside) if at_least else (hard - inside, easy + outside)
    if isinstance(measured, float) and isinstance(clear, float) and isinstance(failing, float):
        way = 1.0 if at_least else -1.0
        return _ONE_ANSWER[_judge_one(way * measured, way * clear, way * failing, fails_as)]
    fails, doubt = fails_as.rank, Status.UNKNOWN.rank if fails_as.holds_back else fails_as.rank
    # Two comparisons with what is worked out once a thing are all that a million trials of it ask; one where nothing
    # is in doubt.
    clears = np.greater_equal if at_least else np.less_equal
    if fails == doubt or (high is None and isinstance(u, float) and u == 0.0):
        ranks = _misses(clears(measured, clear)) * np.uint8(fails)
    else:
        surely = _misses(clears(measured, failing)) * np.uint8(fails - doubt)
        ranks = _misses(clears(measured, clear)) * np.uint8(doubt) + surely
    # No number clears no limit, so that it fails as told; only where that cautions it has to be looked for.
    if fails_as.holds_back or not ranks.any():
        return ranks
    return _unknown_where(ranks, no_number(measured, clear, failing))


def _judge_one(measured: float, clear: float, failing: float, fails_as: Status) -> int:
    """The same of one number, at which arrays are slow; every value is turned so that its limit is a least."""
    if measured >= clear:
        return 0
    if not fails_as.holds_back:
        is_number = not (isnan(measured) or isnan(clear) or isnan(failing))
        return fails_as.rank if is_number else Status.UNKNOWN.rank
    return Status.UNKNOWN.rank if measured >= failing else fails_as.rank


def no_number(*numbers: Numbers) -> npt.NDArray[np.bool_]:
    """Where any of them is no number, of their broadcast shape."""
    if all(isinstance(each, float) for each in numbers):
        return np.array(any(map(isnan, numbers)))
    return np.asarray(reduce(np.logical_or, (np.isnan(each) for each in numbers)))


def _unknown_where(ranks: Ranks, missing: npt.NDArray[np.bool_]) -> Ranks:
    """The same answers, not shown where a number is missing; one that is worse stays."""
    if not missing.any():
        return ranks
    return np.where(missing, np.maximum(ranks, np.uint8(Status.UNKNOWN.rank)), ranks)


def _misses(clears: npt.NDArray[np.bool_] | np.bool_) -> Ranks:
    """1 where a limit is not cleared, else 0."""
    bits = np.asarray(clears).view(np.uint8)
    return np.bitwise_xor(bits, np.uint8(1), out=bits)


class Figure(Rests, Protocol):
    """A published number: its value, where it stands, how far it is to be trusted."""

    @property
    def value(self) -> float:
        """The number, in the unit of its table."""


class Measure(Struct, frozen=True):
    """What was measured, or worked out: a symbol, its value and its expanded uncertainty.

    Args:
        symbol: as the working writes it, such as "e".
        value: one number, or one for each hole [unit].
        u: of each, 0 for a drawn one [unit].
        unit: of both.
        per: symbol, value and unit of what it is told in multiples of, such as ("D", 0.125, "in"); None for none.
        with_: further values of the working: symbol, value, unit.
    """

    symbol: str
    value: Numbers
    u: Numbers = 0.0
    unit: str = "in"
    per: tuple[str, Numbers, str] | None = None
    with_: tuple[tuple[str, Numbers, str], ...] = ()


def lengths(**values_in: Numbers) -> tuple[tuple[str, Numbers, str], ...]:
    """Lengths for the working of a measure by their symbols, in which an underscore stands for a space [in]."""
    return tuple([(symbol.replace("_", " "), value, "in") for symbol, value in values_in.items()])


class Bound(Struct, frozen=True):
    """What one document, or one method, holds a measure to.

    Args:
        limit: the figure [unit of the measure].
        grade: how far it is to be trusted.
        asks: how a formula writes it, such as "2 D"; "" for the figure itself.
        reading: its name where documents differ, as a job keeps it when it is chosen.
        to: the other end of the range that it is known within, None for one figure [unit of the measure].
    """

    limit: Numbers
    source: Source
    grade: Grade
    asks: str = ""
    reading: str = ""
    to: Numbers | None = None


def bound(
    figure: Figure, per: Numbers = 1.0, symbol: str = "", *, reading: str = "", to: Figure | None = None
) -> Bound:
    """Make a bound of a published number, so many of something where that is how it is published.

    Args:
        per: what it is a multiple of, such as the diameters of the holes.
        symbol: of that, such as "D".
        to: the other end, where two documents span a range.
    """
    return Bound(
        figure.value * per,
        figure.source,
        figure.grade,
        f"{figure.value:g} {symbol}" if symbol else "",
        reading,
        None if to is None else to.value * per,
    )


class Chosen(Struct, frozen=True):
    """The reading that a job goes by where documents differ, and its reason."""

    reading: str
    reason: str


class Judgement(Struct, frozen=True, dict=True):
    """A measure held to a bound, or to each reading where documents differ.

    Args:
        measure: what was measured; its arrays are of shape (n,), or it is one number.
        bounds: of each document, the default first.
        at_least: whether the bounds are least values (greatest otherwise).
        fails_as: the answer where a value misses its limit beyond doubt.
        chosen: what the job chose, None when it chose nothing.
        differ: the answer where nothing was chosen and documents that were seen differ in theirs; else the default's.
        strict: whether a drawn value at its limit misses it.
        doubtful_as: the answer where a value misses a limit from memory and no document stands beside it.
        beside: judgements on the same thing that are no worse, whose workings are shown with its own.
    """

    measure: Measure
    bounds: tuple[Bound, ...]
    at_least: bool = True
    fails_as: Status = Status.STOP
    chosen: Chosen | None = None
    differ: Status | None = None
    more: tuple[Working, ...] = ()
    strict: bool = False
    doubtful_as: Status = Status.CAUTION
    beside: tuple[Judgement, ...] = ()

    def ranks(self) -> Ranks:
        """The answer on each measured value."""
        return self.ranks_of(self.measure.value, self.measure.u)

    def ranks_of(self, value: Numbers, u: Numbers = 0.0) -> Ranks:
        """The answer on other values of the same things: trials of the drilling, or a hole that was moved.

        Args:
            value: of any shape that broadcasts against the limits, such as (n_trials, n_holes) [unit].
            u: of each [unit].
        Returns:
            Ranks: of the broadcast shape.
        """
        by = self._by
        ranks = asked = self._ranks_by(by, value, u)
        default = self.bounds[0]
        if not by.grade.may_stop and by.to is None:
            # A figure from memory neither passes nor stops by itself: it cautions, or leaves it to the default.
            standing = self._ranks_by(default, value, u) if default.grade.may_stop else None
            caution, missed = np.uint8(Status.CAUTION.rank), np.uint8(self.doubtful_as.rank)
            ranks = (
                np.where(ranks > 0, missed, caution)
                if standing is None
                else np.where(ranks * standing, standing, caution)
            )
        if self.differ is not None and self.chosen is None and len(self.bounds) > 1:
            differs = self._differs(asked, value, u)
            if differs.any():
                ranks = np.where(differs, np.uint8(self.differ.rank), ranks)
        if ranks is asked:
            return ranks
        ends = (each.limit if each.to is None else np.add(each.limit, each.to) for each in self.bounds)
        return _unknown_where(ranks, no_number(value, u, *ends))

    def at(self, index: int) -> Judgement:
        """The judgement on one of many things."""

        def one(numbers: Numbers) -> float:
            if isinstance(numbers, np.ndarray):
                return float(numbers.item(min(index, numbers.size - 1)))
            return float(numbers)

        def at_one(each: Bound) -> Bound:
            to = None if each.to is None else one(each.to)
            return Bound(one(each.limit), each.source, each.grade, each.asks, each.reading, to)

        whole = self.measure
        per = whole.per and (whole.per[0], one(whole.per[1]), whole.per[2])
        with_ = tuple([(symbol, one(value), unit) for symbol, value, unit in whole.with_])
        return Judgement(
            Measure(whole.symbol, one(whole.value), one(whole.u), whole.unit, per, with_),
            tuple([at_one(each) for each in self.bounds]),
            self.at_least,
            self.fails_as,
            self.chosen,
            self.differ,
            self.more,
            self.strict,
            self.doubtful_as,
            self.beside,
        )

    def margins(self) -> Array:
        """How far each value is inside its limit, negative where it misses [unit]."""
        value, hard = self.measure.value, self._hard(self._by)
        return np.atleast_1d(value - hard if self.at_least else hard - value)

    def worst(self) -> int:
        """Of many things the one to name: the worst answer, and of those the one that is least sure to pass."""
        ranks, margins = np.atleast_1d(self.ranks()), self.margins()
        sure = margins - self.measure.u
        if ranks.max() > 0:
            sure = np.where(ranks == ranks.max(), sure, np.inf)
        return int(np.argmin(sure))

    @cached_property
    def status(self) -> Status:
        """The answer; of many things the worst."""
        ranks = self.ranks()
        return RANKED[int(ranks.max() if ranks.ndim else ranks)]

    @property
    def value(self) -> float | None:
        """What was measured [unit]."""
        return _scalar(self.measure.value)

    @property
    def limit(self) -> float | None:
        """What it was held to: of a range the harder end [unit]."""
        return _scalar(self._hard(self.by))

    @property
    def unit(self) -> str:
        """Of value and limit."""
        return self.measure.unit

    @property
    def uncertainty(self) -> float:
        """Of the measured value, 0 for a drawn one [unit]."""
        return _scalar(self.measure.u)

    @property
    def shortfall(self) -> float:
        """By how much the value misses its limit, 0 where it passes [unit]."""
        if self.status is Status.PASS:
            return 0.0
        sign = 1.0 if self.at_least else -1.0
        return max(0.0, sign * (_scalar(self._hard(self.by)) - _scalar(self.measure.value)))

    @property
    def source(self) -> Source:
        """Where the limit that it goes by is published."""
        return self.by.source

    @property
    def grade(self) -> Grade:
        """How far that is to be trusted."""
        return self.by.grade

    @cached_property
    def by(self) -> Bound:
        """The bound that one value goes by: the chosen one, unless it is from memory and the default fails too."""
        by, default = self._by, self.bounds[0]
        if by is default or by.grade.may_stop or by.to is not None or not default.grade.may_stop:
            return by
        value, u = self.measure.value, self.measure.u
        fails_both = np.max(self._ranks_by(by, value, u)) and np.max(self._ranks_by(default, value, u))
        return default if fails_both else by

    @property
    def reason(self) -> str:
        """The user's reason for the reading that it goes by, "" when nothing was chosen."""
        return self.chosen.reason if self.chosen and self.by.reading == self.chosen.reading else ""

    @property
    def readings(self) -> tuple[str, ...]:
        """Names that a job may choose from, the default first; none where documents agree."""
        return tuple(each.reading for each in self.bounds) if len(self.bounds) > 1 else ()

    @cached_property
    def documents_differ(self) -> bool:
        """Whether documents that were seen differ in their answer on any value."""
        if len(self.bounds) < 2:
            return False
        value, u = self.measure.value, self.measure.u
        return bool(np.any(self._differs(self._ranks_by(self.bounds[0], value, u), value, u)))

    @cached_property
    def working(self) -> tuple[Working, ...]:
        """One working for each bound, in their order, then the further ones, then those of what it is told with."""
        others = (step for one in self.beside for step in one.working)
        return (*(self._working(each) for each in self.bounds), *self.more, *others)

    @property
    def _by(self) -> Bound:
        default, chosen = self.bounds[0], self.chosen
        if chosen is None:
            return default
        return next((each for each in self.bounds if each.reading == chosen.reading), default)

    def _ranks_by(self, by: Bound, value: Numbers, u: Numbers) -> Ranks:
        low, high = by.limit, None
        if by.to is not None:
            low, high = np.minimum(low, by.to), np.maximum(low, by.to)
        return judge(
            value, low, high, u=u, at_least=self.at_least, strict=self.strict, fails_as=self.fails_as
        )

    def _hard(self, by: Bound) -> Numbers:
        if by.to is None:
            return by.limit
        return np.maximum(by.limit, by.to) if self.at_least else np.minimum(by.limit, by.to)

    def _differs(self, default: Ranks, value: Numbers, u: Numbers) -> npt.NDArray[np.bool_]:
        """Where a document that was seen answers otherwise than the default does."""
        others = [self._ranks_by(each, value, u) for each in self.bounds[1:] if each.grade.may_stop]
        differ = [ranks != default for ranks in others]
        return np.asarray(reduce(np.logical_or, differ)) if differ else np.zeros_like(default, dtype=bool)

    def _working(self, each: Bound) -> Working:
        measure = self.measure
        value, unit = _scalar(measure.value), measure.unit
        way = (">" if self.at_least else "<") + ("" if self.strict else "=")
        values = [
            Quantity(symbol, _scalar(number), of)
            for symbol, number, of in filter(None, (measure.per, *measure.with_))
        ]
        if not each.asks:
            values.append(Quantity("limit", _scalar(each.limit), unit))
        if each.to is not None:
            values.append(Quantity("limit, other end", _scalar(each.to), unit))
        if np.any(measure.u):
            values.append(Quantity("u", _scalar(measure.u), unit))
        asked = f"{measure.symbol} {way} {each.asks or 'limit'}"
        result = Quantity(measure.symbol, value, unit)
        if measure.per:
            values.insert(1, result)
            result = Quantity(f"{measure.symbol}/{measure.per[0]}", value / _scalar(measure.per[1]), "")
        return Working(asked, tuple(values), result, each.source, each.grade, reading=each.reading)


def the_same(
    measure: Measure, wanted: Bound, *, fails_as: Status = Status.STOP, more: tuple[Working, ...] = ()
) -> Judgement:
    """Hold one number to the figure that it should be: it misses whether it is more or less.


    >>> from hatchwright.workings import Grade, Source
    >>> [the_same(Measure("n", n), Bound(2.0, Source("KEY"), Grade.COMPUTED)).shortfall for n in (1.0, 2.0, 3.0)]
    [1.0, 0.0, 1.0]
    """
    is_under = bool(np.all(np.less(measure.value, wanted.limit)))
    return Judgement(measure, (wanted,), at_least=is_under, fails_as=fails_as, more=more)


def _scalar(numbers: Numbers) -> float:
    return float(numbers.item(0)) if isinstance(numbers, np.ndarray) else float(numbers)
