"""Remedies: changes that a rule allows are applied to the job, laid out and judged; one is told only where all of its
cause passes by it and no other answer of rules or making, on any side, gets worse."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import chain, islice

from msgspec.structs import replace

from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.job.other_side import MirroredJob, other_side
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import survey
from hatchwright.register import find
from hatchwright.remedy import Remedy, Tried
from hatchwright.rules.check import check, check_some
from hatchwright.said import Said, said
from hatchwright.search.answers import answers_of, answers_of_making
from hatchwright.search.candidate import Candidate, concern_of
from hatchwright.search.changes import candidates
from hatchwright.verdict import Line
from hatchwright.words.of_job import said_of

MOST_OF_A_KIND = 24
"""Changes of one kind that are tried for one cause: what is not found among these takes somebody who lays the job out
anew [-]."""
MOST_TRIALS = 150
"""Changes that are tried for one job, for the gravest causes first, at some 5 milliseconds each [-]."""
MOST_JUDGED = 60_000
"""Holes, and pairs of them near each other, that are judged in all trials of one job: 150 trials of a job as they come,
with some 250 of them, and few or none of one with thousands, which takes somebody who lays it out anew [-]."""

Key = tuple[str, str]
"""Code and cause."""


def remedies(layout: Layout, judged: Iterable[Finding], lines: Iterable[Line]) -> Tried:
    """What was tried and may be told beside the worst finding of each cause, the gravest first: finding and
    remedy, those that have one; never for the other side of a job, whose own side would have to be tried
    too."""
    asking = tuple(line for line in lines if _asks(line))
    if not may_try(layout.job, asking):
        return ()
    of_one = len(layout.holes) + len(survey(layout).near)
    trials = _Trials(layout, tuple(judged), left=min(MOST_TRIALS, MOST_JUDGED // max(1, of_one)))
    found: list[tuple[Finding, Remedy]] = []
    told: dict[tuple[object, ...], str] = {}
    for line in asking:
        if tried := trials.first(line):
            first = told.setdefault(tried.entries, line.worst.code)
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
        judged: every finding on it.
        left: how many more may be tried.
        passed: those by which some cause passed, tried first for the next.
        others: answers on the other side as it is, by count; None until they are asked for.
    """

    layout: Layout
    judged: tuple[Finding, ...]
    left: int
    passed: list[Candidate] = field(default_factory=list)
    others: Mapping[Key, _Count] | None = None

    def first(self, line: Line) -> Remedy | None:
        """The first change by which all findings of a line pass and nothing else gets worse."""
        keys = {(finding.code, finding.cause) for finding in line.findings}
        for candidate in chain(tuple(self.passed), self._candidates(line)):
            if self.left <= 0:
                return None
            self.left -= 1
            if self._holds(candidate, keys):
                if candidate not in self.passed:
                    self.passed.append(candidate)
                has_loads = self.layout.job.loads.basis != "none"
                id = "remedy.tried_not_strength" if has_loads else "remedy.tried"
                told = said_of(self.layout.job.kind, said(id, change=candidate.what))
                return Remedy(candidate.entries, told)
        return None

    def _candidates(self, line: Line) -> Iterator[Candidate]:
        concern = concern_of(self.layout, line.findings)
        entry = find(line.worst.code)
        for change in entry.remedies if entry else ():
            yield from islice(candidates(change, concern), MOST_OF_A_KIND)

    def _holds(self, candidate: Candidate, keys: set[Key]) -> bool:
        try:
            job = candidate.on(self.layout.job)
            changed = lay_out(job, self.layout.shop)
            # What is cheap to know comes first: its own rules, then all of them, then the making, then the other side.
            if _short(check_some(changed, {code for code, _ in keys}), keys):
                return False
            after = check(changed)
            if not self._no_worse(_counted(after)):
                return False
            after += answers_of_making(changed)[0]
            return _pass(after, keys) and self._no_worse(_counted(after)) and self._no_worse_there(job)
        except HatchwrightError:
            return False  # what cannot be laid out is no remedy

    def _no_worse(self, after: Mapping[Key, _Count]) -> bool:
        return _at_most(after, _counted(self.judged))

    def _no_worse_there(self, job: Job) -> bool:
        """The same on the other side, where it gets the opening too."""
        craft = job.aircraft
        if craft.side == "center" or not craft.both_sides:
            return True
        if self.others is None:
            self.others = _counted(self._answers_there(self.layout.job))
        return _at_most(_counted(self._answers_there(job)), self.others)

    def _answers_there(self, job: Job) -> tuple[Finding, ...]:
        return answers_of(lay_out(other_side(job), self.layout.shop))[0]


def _short(found: Iterable[Finding], keys: set[Key]) -> bool:
    """Whether anything of a cause does not pass."""
    return any((one.code, one.cause) in keys for one in found if one.status is not Status.PASS)


def _pass(found: tuple[Finding, ...], keys: set[Key]) -> bool:
    """Whether all of a cause passes: nothing of it is short any more, and its rule still speaks."""
    return {code for code, _ in keys} <= {one.code for one in found} and not _short(found, keys)


_Count = tuple[float, ...]
"""How often one cause does not pass: things at each rank of answer or a graver one, CAUTION, NOT SHOWN, STOP [-]; then
the greatest part of its limit by which one that holds back misses it [-]."""

_NONE: _Count = (0, 0, 0, 0.0)


def _counted(found: Iterable[Finding]) -> Mapping[Key, _Count]:
    counted: dict[Key, _Count] = {}
    for finding in found:
        if finding.status is Status.PASS:
            continue
        key, number = (finding.code, finding.cause), _number(finding)
        *graver, worst = counted.get(key, _NONE)
        missed = finding.judged.shortfall / abs(finding.limit or 1.0)
        counts = (of + number * (finding.status.rank >= rank) for rank, of in enumerate(graver, start=1))
        counted[key] = (*counts, max(worst, missed if finding.status.holds_back else 0.0))
    return counted


_PIECES = ("rivets", "screws", "holes")


def _number(finding: Finding) -> int:
    """How many things are short: its holes, or as many as its subject counts.

    Where pieces are what is measured, such as the rivets on a side of the cut, its holes are those that hold, and it is
    one thing that is short.
    """
    if finding.unit in _PIECES:
        return 1
    counted = dict(finding.subject.values).get("n") if isinstance(finding.subject, Said) else None
    return max(1, len(finding.holes), counted if isinstance(counted, int) else 0)


def _at_most(after: Mapping[Key, _Count], before: Mapping[Key, _Count]) -> bool:
    """Whether no cause is short more often, more gravely or, where it holds work back, by more."""
    return all(
        now <= then + FLOAT_NOISE
        for key, count in after.items()
        for now, then in zip(count, before.get(key, _NONE), strict=True)
    )
