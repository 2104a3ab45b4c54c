"""Margins of safety: allowable against applied, at ultimate load or at limit load against yield, and in figures."""

from __future__ import annotations

import math
from enum import StrEnum

from msgspec import Struct

from hatchwright.finding import Finding, Stated
from hatchwright.judged import FLOAT_NOISE, Bound, Judgement, Measure, Status
from hatchwright.remedy import ASK
from hatchwright.said import Amount, Said, said
from hatchwright.strength.worked import Worked, weakest
from hatchwright.words.tell import tell
from hatchwright.workings import Grade, Source, Working


class Level(StrEnum):
    """The load at which a margin is taken."""

    ULTIMATE = "ultimate"
    LIMIT = "limit, yield"


class Margin(Struct, frozen=True):
    """One line of the strength report.

    Args:
        code: of the register, such as ``S201``.
        case: the load case: a name that somebody typed, or an id.
        applied: what it carries, factors included; None when it could not be computed.
        allowable: what it may carry; None when no value may be used. One that rests on a number known within a range
            is judged at both its ends: it passes with the worse, stops with the better, and is open between.
        advice: what to do; where a value could not be computed, why.
        enter: entries of the job whose absence kept it from being computed, such as ``loads.cover.screw_shear``.
    """

    code: str
    subject: Said
    case: Said | str
    level: Level
    applied: Worked | None
    allowable: Worked | None
    advice: tuple[Said | str, ...] = ()
    holes: tuple[int, ...] = ()
    enter: tuple[str, ...] = ()

    @property
    def ratio(self) -> float | None:
        """Margin of safety, allowable / applied - 1; None when it could not be computed [-]."""
        if self.applied is None or self.allowable is None:
            return None
        if self.applied.value <= FLOAT_NOISE:
            return float("inf")
        return self.allowable.value / self.applied.value - 1.0

    @property
    def grade(self) -> Grade:
        """The weakest grade that the margin rests on."""
        grades = [one.grade for one in (self.applied, self._best or self.allowable) if one]
        return weakest(grades) if grades else Grade.MEMORY

    @property
    def _best(self) -> Worked | None:
        """The allowable at its better end, where nothing but its range is doubtful: it is judged at both."""
        best = self.allowable.best if self.allowable else None
        grades = [one.grade for one in (self.applied, best) if one]
        return best if best and weakest(grades).may_stop else None

    @property
    def source(self) -> Source:
        """Where the allowable's formula is published."""
        known = self.allowable or self.applied
        return known.source if known else Source("STATICS")

    @property
    def status(self) -> Status:
        """Pass at zero or above; a number from memory neither passes nor fails silently."""
        return self.judged.status

    @property
    def judged(self) -> Judgement | Stated:
        """The load held to what may be carried; not shown where either could not be computed."""
        if self.applied is None or self.allowable is None:
            return Stated(Status.UNKNOWN, self.source, self.grade, working=self.working)
        measure = Measure(self.applied.symbol, self.applied.value, unit=self.applied.unit)
        best = self._best
        bounds = (Bound(self.allowable.value, self.source, self.grade, to=best.value if best else None),)
        return Judgement(measure, bounds, at_least=False, more=self.working, doubtful_as=Status.UNKNOWN)

    @property
    def finding(self) -> Finding:
        """The same as one answer among those of rules and making."""
        passes = self.status is Status.PASS
        subject = said("margin.subject", subject=self.subject, case=self.case, level=self.level)
        return Finding(
            self.code,
            self.judged,
            subject,
            () if passes else self.what_to_do or ((ASK,) if self.status is Status.STOP else ()),
            holes=() if passes else self.holes,
            enter=self.enter,
        )

    @property
    def what_to_do(self) -> tuple[Said | str, ...]:
        """The advice, with the better end before it where the margin is open between both."""
        if self.status is not Status.UNKNOWN or self._best is None:
            return self.advice
        best = Amount(self._best.value, self._best.unit, toward="down")
        return said("margin.between", best=best), *self.advice

    @property
    def working(self) -> tuple[Working, ...]:
        """Every step behind applied and allowable, once."""
        steps: dict[Working, None] = {}
        for one in (self.applied, self.allowable):
            if one:
                steps |= dict.fromkeys(one.working)
        return tuple(steps)

    @property
    def from_memory(self) -> tuple[Working, ...]:
        """The steps that rest on memory, to be confirmed before the margin is used; none where they decide nothing."""
        if self._best and self.allowable and self._best.value == self.allowable.value:
            return ()
        return tuple(step for step in self.working if step.grade is Grade.MEMORY)


def leading(margins: tuple[Margin, ...]) -> tuple[Margin, ...]:
    """The lowest margin of every check, and all that stop or could not be computed.

    Args:
        margins: the worst first.
    """
    seen: set[str] = set()
    shown = []
    for margin in margins:
        if margin.code not in seen or margin.status.holds_back:
            shown.append(margin)
        seen.add(margin.code)
    return tuple(shown)


def worst_first(margins: tuple[Margin, ...]) -> tuple[Margin, ...]:
    """Sort margins: those that could not be computed, then the lowest first."""
    return tuple(
        sorted(margins, key=lambda m: (float("-inf") if m.ratio is None else m.ratio, m.code, str(m.case)))
    )


def margin_words(ratio: float | None, *, places: int = 2) -> str:
    """Letter a margin of safety with its sign, rounded down, so that it never looks better than it is.

    Args:
        ratio: allowable / applied - 1, infinite when nothing is applied, None when it could not be computed [-].
        places: after the point.
    Returns:
        str: "" when it could not be computed.

    >>> margin_words(0.129), margin_words(-0.1142), margin_words(-0.001), margin_words(0.07, places=3)
    ('+0.12', '-0.12', '-0.01', '+0.070')
    >>> margin_words(float("inf")), margin_words(None)
    ('no load', '')
    """
    if ratio is None:
        return ""
    if not math.isfinite(ratio):
        return tell(said("margin.no_load"))
    least = math.floor(round(ratio * 10**places, 6)) / 10**places
    return f"{least:+.{places}f}"
