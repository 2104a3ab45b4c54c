"""Remedies: changes that a rule allows are applied to the job, laid out and judged; one is told only where all of its
cause passes by it and no other answer of rules or making, on any side, gets worse."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import chain, islice
from typing import Literal, TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.job.other_side import MirroredJob
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import survey
from hatchwright.register import find
from hatchwright.remedy import OF_ONE_HOLE, Change, Remedy, Tried
from hatchwright.said import Listed, Said, said
from hatchwright.search.candidate import Candidate, Concern, concern_of
from hatchwright.search.changes import candidates
from hatchwright.search.trial import Passed, Trial, target_of
from hatchwright.verdict import Line
from hatchwright.words.of_job import said_of

MOST_OF_A_KIND = 24
"""Changes of one kind that are tried for one cause: what is not found among these takes somebody who lays the job out
anew [-]."""
MOST_SINGLY = 12
"""Holes of one line that are tried one by one, the worst first [-]."""
MOST_TRIALS = 150
"""Changes that are tried for one job, for the gravest causes first, at some 5 milliseconds each [-]."""
MOST_JUDGED = 60_000
"""Holes, and pairs of them near each other, that are judged in all trials of one job: 150 trials of a job as they come,
with some 250 of them, and few or none of one with thousands, which takes somebody who lays it out anew [-]."""


def remedies(layout: Layout, judged: Iterable[Finding], lines: Iterable[Line]) -> Tried:
    """What was tried and may be told beside the worst finding of each cause, the gravest first: finding and
    remedy, those that have one; never for the other side of a job, whose own side would have to be tried
    too."""
    asking = tuple(line for line in lines if _asks(line))
    if not may_try(layout.job, asking):
        return ()
    of_one = len(layout.holes) + len(survey(layout).near)
    trials = _Trials(Trial(layout, tuple(judged)), left=min(MOST_TRIALS, MOST_JUDGED // max(1, of_one)))
    found: list[tuple[Finding, Remedy]] = []
    told: dict[tuple[object, ...], str] = {}
    for line in asking:
        if tried := trials.first(line):
            first = told.setdefault((tried.entries, tried.parts), line.worst.code)
            if first != line.worst.code:
                tried = replace(tried, told=said("remedy.same", code=first))
            found.append((line.worst, tried))
    return tuple(found)


def may_try(job: Job, lines: Iterable[Line]) -> bool:
    """Whether there is anything to try, for which nothing needs to be laid out."""
    return not isinstance(job, MirroredJob) and any(_asks(line) for line in lines)


def _asks(line: Line) -> bool:
    """Whether its rule has changes to try, nobody lets it stand and something is to be done: where documents differ
    there is one to choose first."""
    entry = find(line.worst.code)
    return bool(entry and entry.remedies and line.worst.advice) and line.acknowledged is None


@dataclass
class _Trials:
    """Changes of one job, each laid out and judged once.

    Args:
        left: how many more may be tried.
        passed: those by which some cause passed, tried first for the next.
    """

    trial: Trial
    left: int
    passed: list[Candidate] = field(default_factory=list)

    def first(self, line: Line) -> Remedy | None:
        """The first change by which all findings of a line pass and nothing else gets worse; else one by which its
        worst finding does, of that hole alone."""
        for asked in islice(asked_of(line), 2):
            target = target_of(self.trial.layout, self.trial.judged, asked.findings)
            for candidate in chain(tuple(self.passed), self._candidates(asked)):
                if self.left <= 0:
                    return None
                self.left -= 1
                if found := self.trial.passed(candidate, target):
                    if candidate not in self.passed:
                        self.passed.append(candidate)
                    return remedy_of(found)
        return None

    def _candidates(self, asked: AskedFor) -> Iterator[Candidate]:
        for change in asked.changes:
            yield from some_candidates(change, concern_of(self.trial.layout, asked.findings))


class AskedFor(Struct, frozen=True):
    """Findings that are to pass together, and what may be changed for them, in the order in which it is tried."""

    findings: tuple[Finding, ...]
    changes: tuple[Change, ...]


def asked_of(line: Line) -> Iterator[AskedFor]:
    """All findings of a line together, by every change that its codes have; where there are several, then each by
    itself, the worst first, by what helps one hole."""
    entered = (find(code) for code in line.codes)
    changes = tuple(dict.fromkeys(change for entry in entered if entry for change in entry.remedies))
    yield AskedFor(line.findings, changes)
    of_one = tuple(change for change in changes if change in OF_ONE_HOLE)
    if of_one and len(line.findings) > 1:
        yield from (AskedFor((finding,), of_one) for finding in line.findings[:MOST_SINGLY])


def some_candidates(change: Change, concern: Concern) -> Iterator[Candidate]:
    """The changes of one kind that are tried for one cause."""
    return islice(candidates(change, concern), MOST_OF_A_KIND)


Strength: TypeAlias = Literal["not tried", "by hand", "whole"]
"""How far the strength of a change was tried: not at all, by hand methods, or with finite elements too."""


def remedy_of(passed: Passed, strength: Strength = "not tried") -> Remedy:
    """What is told of a change that passed.

    Args:
        strength: how far it was tried, where loads are entered.
    """
    job, change = passed.layout.job, passed.candidate.what
    opens = list(_opens(passed))
    if job.loads.basis != "none":
        opens.append(said(f"rescue.strength.{strength.replace(' ', '_')}"))
    told = said("rescue.tried" if opens else "remedy.tried", change=change)
    for more in opens:
        told = said("rescue.and", told=told, more=more)
    return Remedy(passed.candidate.entries, said_of(job.kind, told), passed.candidate.parts)


def _opens(passed: Passed) -> Iterator[Said]:
    """What stays open by a change, a sentence each."""
    yield from (told for _, told in passed.candidate.brings)
    if passed.departs:
        yield said("rescue.departs", which=Listed(tuple(said(f"departure.{of}") for of in passed.departs)))
    if passed.candidate.planned:
        yield said("rescue.planned")
