"""The engineering answer: a judgement with its code, its subject and what to do."""

from __future__ import annotations

from typing import TypedDict, Unpack

from msgspec import Struct

from hatchwright.judged import Judgement, Status
from hatchwright.said import Said
from hatchwright.workings import Grade, Rests, Source, Working


class Stated(Struct, frozen=True):
    """An answer that holds no number against a bound: what a document asks in words, or what is not known.

    Args:
        grade: how far that is to be trusted.
        value: a number that is told beside it, or None [unit].
        limit: what that is read against, or None [unit].
        unit: of both.
        shortfall: by how much it misses, 0 when it does not [unit].
        uncertainty: of the number [unit].
        readings: where documents differ, the names that a job may choose from, the default first.
    """

    status: Status
    source: Source
    grade: Grade
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    working: tuple[Working, ...] = ()
    shortfall: float = 0.0
    uncertainty: float = 0.0
    readings: tuple[str, ...] = ()


class Finding(Struct, frozen=True):
    """One answer about one subject, with a judgement behind it; status, numbers and working are the judgement's.

    Args:
        code: of the register, such as ``R101``.
        advice: what to do about it, the sentence that protects life first; nothing where it passes.
        holes: numbers of the holes concerned, the worst first where it speaks for several.
        strays: numbers of the stray holes concerned.
        place: point concerned (x, y) in the job's frame [in].
        cause: what it shares with others of its code that are told in one line, such as an edge; "" for the code alone.
        enter: entries of the job whose absence kept it from being judged, such as ``cutter.reach``.
        told_by: the code whose line of the same cause says why it can't be judged; "" where it says so itself.
    """

    code: str
    judged: Judgement | Stated
    subject: Said | str
    advice: tuple[Said | str, ...] = ()
    holes: tuple[int, ...] = ()
    place: tuple[float, float] | None = None
    cause: str = ""
    enter: tuple[str, ...] = ()
    told_by: str = ""
    strays: tuple[int, ...] = ()

    def of(self, code: str) -> Finding:
        """The same of a code."""
        # Written out, since every finding of a rule comes by here and `replace` takes three times as long.
        about = self.holes, self.place, self.cause, self.enter, self.told_by, self.strays
        return Finding(code, self.judged, self.subject, self.advice, *about)

    @property
    def status(self) -> Status:
        """Pass, caution, unknown or stop."""
        return self.judged.status

    @property
    def value(self) -> float | None:
        """What was measured, or None [unit]."""
        return self.judged.value

    @property
    def limit(self) -> float | None:
        """What it was held to, or None [unit]."""
        return self.judged.limit

    @property
    def unit(self) -> str:
        """Of value and limit."""
        return self.judged.unit

    @property
    def source(self) -> Source:
        """Where the limit is published."""
        return self.judged.source

    @property
    def grade(self) -> Grade:
        """How far the limit is to be trusted."""
        return self.judged.grade

    @property
    def working(self) -> tuple[Working, ...]:
        """The arithmetic; the first workings are those of the readings, in their order."""
        return self.judged.working


class About(TypedDict, total=False):
    """What a finding is about besides its subject; see `Finding`."""

    holes: tuple[int, ...]
    place: tuple[float, float] | None
    cause: str
    enter: tuple[str, ...]
    told_by: str
    strays: tuple[int, ...]


def held(
    code: str, judged: Judgement, subject: Said | str, *advice: Said | str, **about: Unpack[About]
) -> Finding:
    """Make a finding of a judgement on one thing; what to do is told only where it does not pass. By how much it
    misses, and what is to be said of readings, is never part of the advice: `words` says it.

    Args:
        judged: on one thing, `Judgement.at` of an array.
        advice: what to do, a remedy only where it was applied to the job and judged.
    """
    passes = judged.status is Status.PASS
    return Finding(code, judged, subject, () if passes else advice, **about)


def stated(
    code: str,
    status: Status,
    subject: Said | str,
    on: Rests,
    *advice: Said | str,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    working: tuple[Working, ...] = (),
    shortfall: float = 0.0,
    uncertainty: float = 0.0,
    readings: tuple[str, ...] = (),
    **about: Unpack[About],
) -> Finding:
    """Make a finding that holds no number against a bound; see `Stated` and `Finding` for each argument.

    Args:
        on: what the answer rests on.
        advice: what to do, told whatever the answer.
    """
    judged = Stated(
        status, on.source, on.grade, value, limit, unit, working, shortfall, uncertainty, readings
    )
    return Finding(code, judged, subject, advice, **about)


def held_as(
    code: str, judged: Judgement, status: Status, subject: Said | str, *advice: Said, **about: Unpack[About]
) -> Finding:
    """Make a finding of a judgement whose number alone doesn't settle the answer: its figures, with another status.

    Args:
        judged: on one thing; value, limit, source and working are its own.
        advice: what to do, told whatever the answer.
    """
    figures = {name: getattr(judged, name) for name in Stated.__struct_fields__} | {"status": status}
    if status is Status.PASS:
        figures["shortfall"] = 0.0
    return Finding(code, Stated(**figures), subject, advice, **about)
