"""The last check of a ring: entered into the job, judged by every rule, its making, its recipe and its strength."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from msgspec import Struct

from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding, Stated
from hatchwright.job.departures import Subject
from hatchwright.job.job import Job
from hatchwright.job.other_side import MirroredJob, other_side
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.register import find
from hatchwright.remedy import Change
from hatchwright.rules.departures import DEPARTURES, departs_in
from hatchwright.rules.right_bay import MANDATED_SIZE
from hatchwright.search.answers import answers_of
from hatchwright.search.candidate import Candidate
from hatchwright.search.rescue import lacks
from hatchwright.search.trial import opened

_ROW = "a row"
"""Cause of what is told of a row by its name: the rows of a proposal have names of their own."""

_LAID = frozenset(
    (
        Change.ROW_DISTANCE, Change.ROW_PLACE, Change.ROW_PITCH, Change.ROW_STAGGER, Change.DOUBLER_SIZE,
        Change.OPENING_SIZE,
    )
)  # fmt: skip
"""What a proposal lays: a rule that is mended by one of these may not be short with it, whatever the job had before."""


_DISTANCES = frozenset(("distinct_edges", "edges", "near", "pattern", "pitches", "row_spacings", "sides"))
"""What rules read that follows from where holes lie."""


class Entered(Struct, frozen=True):
    """A ring that passed the last check.

    Args:
        candidate: with what is open by it.
        departs: in what the job departs with it from what was mandated or given.
    """

    candidate: Candidate
    layout: Layout
    findings: tuple[Finding, ...]
    departs: tuple[Subject, ...]


class Refused(Struct, frozen=True):
    """A ring that did not.

    Args:
        findings: what holds back; none where the job can't be laid out with it, or its recipe lacks something.
        of_kind: whether rivet or sheet bring it, so that every ring of the same would.
    """

    findings: tuple[Finding, ...]
    of_kind: bool


@dataclass
class LastCheck:
    """The job as it is, against which every ring is held.

    Args:
        before: rank of each code and cause that holds back, and of each code, on this side and the other.
    """

    layout: Layout
    _before: list[Mapping[tuple[str, str | None], int]] = field(default_factory=list)
    _lacks: frozenset[object] | None = None

    def ask(self, candidate: Candidate) -> Entered | Refused:
        """Enter a ring and judge the whole job, on both sides where both get it."""
        try:
            job = candidate.on(self.layout.job)
            changed = lay_out(job, self.layout.shop)
            departs = self._departs(changed)
            candidate = opened(candidate, job, departs)
            job = candidate.on(self.layout.job)
            sides = self._sides(job)
        except HatchwrightError:
            return Refused((), of_kind=False)
        but = frozenset((DEPARTURES, MANDATED_SIZE)) if departs else frozenset[str]()
        found = [answers_of(side)[0] for side in sides]
        for number, findings in enumerate(found):
            alike = {row.name: _ROW for row in job.rows}
            refusing = tuple(one for one in findings if self._refuses(one, number, but, alike))
            if refusing:
                of_kind = any(not _is_placed(one) or _is_whatever(one) for one in refusing)
                return Refused(refusing, of_kind)
        if not self._recipe_holds(sides[0]):
            return Refused((), of_kind=True)
        return Entered(candidate, sides[0], found[0], departs)

    def _departs(self, changed: Layout) -> tuple[Subject, ...]:
        """In what a changed job departs from what was mandated or given; in size too where somebody called for one."""
        found, job = departs_in(self.layout, changed), self.layout.job
        called_for = job.mandate.opening_x or job.mandate.opening_y
        if called_for and self.layout.wanted.area_sq_in != changed.wanted.area_sq_in and "size" not in found:
            return ("size", *found)
        return found

    def _sides(self, job: Job) -> list[Layout]:
        """This side and, where it gets the opening too, the other one."""
        sides = [lay_out(job, self.layout.shop)]
        if job.aircraft.both_sides and job.aircraft.side != "center" and not isinstance(job, MirroredJob):
            sides.append(lay_out(other_side(job), self.layout.shop))
        return sides

    def _refuses(self, finding: Finding, side: int, but: frozenset[str], alike: Mapping[str, str]) -> bool:
        if not finding.status.holds_back or finding.code in but:
            return False
        if _is_laid(finding) and finding.judged.shortfall > FLOAT_NOISE:
            return True
        if self._is_to_enter(finding):
            return False
        key = None if _is_laid(finding) else alike.get(finding.cause, finding.cause)
        return finding.status.rank > self.before[side].get((finding.code, key), 0)

    def _is_to_enter(self, finding: Finding) -> bool:
        """Whether an entry is all that lacks, about rivets that the job did not have before."""
        is_open = (
            finding.status is Status.UNKNOWN and finding.enter and finding.judged.shortfall <= FLOAT_NOISE
        )
        return bool(is_open) and not self.layout.holes_of("rivet")

    @property
    def before(self) -> list[Mapping[tuple[str, str | None], int]]:
        """How gravely each code and cause held back before, and each code whatever its cause, side by side."""
        if not self._before:
            job = self.layout.job
            alike = {row.name: _ROW for row in job.rows}
            self._before = [_ranks(answers_of(side)[0], alike) for side in self._sides(job)]
        return self._before

    @property
    def first(self) -> tuple[Finding, ...]:
        """What holds the job back before any layout, whatever is laid."""
        found = (one for side in self._sides(self.layout.job) for one in answers_of(side)[0])
        return tuple(one for one in found if one.status.holds_back and _comes_first(one))

    def _recipe_holds(self, changed: Layout) -> bool:
        if self._lacks is None:
            self._lacks = frozenset(lacks(self.layout))
        return self._lacks.issuperset(lacks(changed))


def _is_laid(finding: Finding) -> bool:
    """Whether it asks what rows and ring decide."""
    entry = find(finding.code)
    return entry is not None and not (_LAID.isdisjoint(entry.remedies) and _DISTANCES.isdisjoint(entry.reads))


def _is_placed(finding: Finding) -> bool:
    """Whether another ring, or another place, may answer it otherwise."""
    entry = find(finding.code)
    return entry is not None and (_is_laid(finding) or "bay" in entry.reads)


def _is_whatever(finding: Finding) -> bool:
    """Whether it is not shown although its number is enough, as that of flush rivets, for which no table is."""
    judged = finding.judged
    is_told = isinstance(judged, Stated) and finding.status is Status.UNKNOWN and _is_laid(finding)
    return is_told and bool(judged.value and judged.limit and judged.value >= judged.limit)


def _comes_first(finding: Finding) -> bool:
    entry = find(finding.code)
    return entry is not None and entry.comes_first


def _ranks(findings: Iterable[Finding], alike: Mapping[str, str]) -> dict[tuple[str, str | None], int]:
    found: dict[tuple[str, str | None], int] = {}
    for one in findings:
        for cause in (alike.get(one.cause, one.cause), None):
            key = (one.code, cause)
            found[key] = max(found.get(key, 0), one.status.rank)
    return found


Asks = Callable[[Candidate], Entered | Refused]
"""What judges a ring that is entered."""
