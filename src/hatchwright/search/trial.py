"""A change on trial: the whole job laid out and judged again with it, on both sides, and held against what it was."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding
from hatchwright.job.departures import Subject
from hatchwright.job.job import Job
from hatchwright.job.other_side import MirroredJob, other_side
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.register import find
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.rules.check import check, check_some
from hatchwright.rules.departures import DEPARTURES, departs_in
from hatchwright.rules.left_open import SAMPLES
from hatchwright.search.answers import answers_of, answers_of_making, answers_of_mount
from hatchwright.search.candidate import Candidate
from hatchwright.search.no_worse import (
    Answered,
    Key,
    at_most,
    changed_holes,
    counted,
    is_no_worse,
    number_short,
)


class Target(Struct, frozen=True):
    """What is to pass.

    Args:
        keys: code and cause of each finding.
        holes: the drilled holes that it is about; none for everything of the cause.
        is_made: whether it is about anything that is drilled.
    """

    keys: frozenset[Key]
    holes: frozenset[int] = frozenset()
    is_made: bool = False

    @property
    def codes(self) -> frozenset[str]:
        """Its codes."""
        return frozenset(code for code, _ in self.keys)

    def is_short(self, found: Iterable[Finding]) -> bool:
        """Whether anything of it does not pass."""
        return any(
            (one.code, one.cause) in self.keys and (not self.holes or not self.holes.isdisjoint(one.holes))
            for one in found
            if one.status is not Status.PASS
        )

    def passes(self, layout: Layout, found: Iterable[Finding]) -> bool:
        """Whether nothing of it is short any more, and its rules still speak, but of stray holes where none is left."""
        told = tuple(found)
        spoken = {one.code for one in told}
        left = {code for code in self.codes - spoken if layout.strays or not _is_of_strays(code)}
        return not left and not self.is_short(told)


def target_of(layout: Layout, judged: Iterable[Finding], findings: Iterable[Finding]) -> Target:
    """What findings of one cause ask for: where each is about holes that are drilled and speaks for no others, of those
    holes alone; what is asked of a stray hole is asked together.

    Args:
        judged: every answer on the job.
        findings: those of the cause.
    """
    told = tuple(findings)
    keys = {(one.code, one.cause) for one in told}
    if any(_is_of_strays(one.code) for one in told):
        asked = (one for one in judged if _is_of_strays(one.code) and one.status is not Status.PASS)
        return Target(frozenset(keys | {(one.code, one.cause) for one in asked}), is_made=True)
    drilled = {hole.number for hole in layout.holes if hole.is_drilled}
    holes = [drilled.intersection(one.holes) for one in told]
    is_alone = all(number_short(one) <= len(one.holes) for one in told) and all(holes)
    return Target(frozenset(keys), frozenset().union(*holes) if is_alone else frozenset(), any(holes))


def _is_of_strays(code: str) -> bool:
    entry = find(code)
    return entry is not None and "strays" in entry.reads


class Passed(Struct, frozen=True):
    """A change that passed.

    Args:
        candidate: with what is open by it.
        judged: every answer of rules, making and mount with it.
        departs: in what the job departs with it from what was mandated or given.
    """

    candidate: Candidate
    layout: Layout
    judged: tuple[Finding, ...]
    departs: tuple[Subject, ...]


@dataclass
class Trial:
    """Changes of one job, each held against the job as it is.

    Args:
        judged: every finding on it.
        other: the other side as it is; None until it is asked for.
    """

    layout: Layout
    judged: tuple[Finding, ...]
    before: Answered = field(init=False)
    other: Answered | None = None

    def __post_init__(self) -> None:
        self.before = Answered(self.layout, self.judged)

    def passed(self, candidate: Candidate, target: Target) -> Passed | None:
        """The change with all answers, None where its target does not pass or anything else gets worse."""
        try:
            job = candidate.on(self.layout.job)
            changed = lay_out(job, self.layout.shop)
            # What is cheap to know comes first: its own rules, then all of them, then the making, then the other side.
            if target.is_short(check_some(changed, target.codes)):
                return None
            departs, planned = departs_in(self.layout, changed), candidate.planned
            candidate = opened(candidate, job, departs)
            job = candidate.on(self.layout.job)
            changed = lay_out(job, self.layout.shop)
            told = (code for code, _ in candidate.brings)
            but = frozenset((*((DEPARTURES,) if departs else ()), *((SAMPLES,) if planned else ()), *told))
            after = check(changed)
            if not at_most(counted(after), self.before.counted, but):
                return None
            after += (*answers_of_making(changed)[0], *answers_of_mount(changed))
            now = Answered(changed, after)
            if not (target.passes(changed, after) and is_no_worse(now, self.before, but)):
                return None
            if target.is_made and _stops(now, changed_holes(now, self.before), but):
                return None  # what passes may not hide what still stops at the holes that it changes
            return Passed(candidate, changed, after, departs) if self._there(job, but) else None
        except HatchwrightError:
            return None  # what cannot be laid out is no remedy

    def _there(self, job: Job, but: frozenset[str]) -> bool:
        """Whether nothing gets worse on the other side, where it gets the opening too."""
        craft = job.aircraft
        if craft.side == "center" or not craft.both_sides or isinstance(job, MirroredJob):
            return True
        if self.other is None:
            self.other = self._answers_there(self.layout.job)
        return is_no_worse(self._answers_there(job), self.other, but)

    def _answers_there(self, job: Job) -> Answered:
        there = lay_out(other_side(job), self.layout.shop)
        return Answered(there, answers_of(there)[0])


def _stops(answered: Answered, holes: frozenset[int], but: frozenset[str]) -> bool:
    """Whether anything stops at any of some holes."""
    return any(
        one.status is Status.STOP and one.code not in but and not holes.isdisjoint(one.holes)
        for one in answered.held()
    )


def opened(candidate: Candidate, job: Job, departs: Iterable[Subject]) -> Candidate:
    """The change with what is open by it: answers on departures that are true no more, until somebody takes these on;
    what is planned as made, until it is measured."""
    answers = (
        EntryChange(f"departures.{of}", "none", "departs")
        for of in departs
        if job.gate.maker_data and job.departures.answer(of) == "none"
    )
    entries = (*candidate.entries, *answers)
    if not candidate.planned:
        return replace(candidate, entries=entries)
    samples = list(dict.fromkeys((*job.samples, *candidate.planned)))
    return replace(candidate, entries=entries, parts=(*candidate.parts, PartChange("samples", samples)))
