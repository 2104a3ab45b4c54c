"""One verdict of rules, making and strength on one side of an aircraft, and its answers on five shelves.

The verdict is the worst of all answers; the shelves are how it is read: one line a cause, the worst named, and one list
of the entries that are missing. Screen, card, command, list of jobs and every sheet show this value and no other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import StrEnum
from hashlib import sha256

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Status, worst_of
from hatchwright.register import Shelf, find

_MARK_LETTERS = 8
_SUBJECT_LETTERS = 4


class StrengthState(StrEnum):
    """What is known of the strength of a job."""

    NOT_ASKED = "not_asked"
    """The job names no loads: nothing is said about strength."""
    NOT_RUN = "not_run"
    """The job names loads, and their analysis stands out: it counts as not shown."""
    RUN = "run"
    """Its answers are among those of the verdict."""


class Acknowledgement(Struct, frozen=True):
    """A caution that somebody has read and gives a reason for; it comes back when its number changes.

    Args:
        number: what `acknowledged_number` gave when it was read.
    """

    code: str
    number: str
    reason: str
    initials: str


class Line(Struct, frozen=True):
    """One cause, told in one line by its worst finding.

    Args:
        findings: all that share the cause, the worst first.
        acknowledged: whose reason lets it stand, None while it is open.
    """

    shelf: Shelf
    findings: tuple[Finding, ...]
    acknowledged: Acknowledgement | None = None

    @property
    def worst(self) -> Finding:
        """The finding that is named."""
        return self.findings[0]

    @property
    def status(self) -> Status:
        """The worst answer among them."""
        return self.worst.status

    @property
    def holes(self) -> tuple[int, ...]:
        """Every hole that it concerns, each once, the worst first."""
        return tuple(dict.fromkeys(number for finding in self.findings for number in finding.holes))

    @property
    def more(self) -> int:
        """How many findings stand behind the one that is named [-]."""
        return len(self.findings) - 1

    @property
    def codes(self) -> tuple[str, ...]:
        """Codes of its findings, each once."""
        return tuple(dict.fromkeys(finding.code for finding in self.findings))

    @property
    def numbers(self) -> tuple[tuple[str, str], ...]:
        """Code and number of each caution, by which it may be acknowledged; none where work is held back, or where it
        stands already."""
        if self.acknowledged is not None or self.status.holds_back:
            return ()
        keys = ((finding.code, acknowledged_number(finding)) for finding in self.findings)
        return tuple(dict.fromkeys(keys))


class ToEnter(Struct, frozen=True):
    """An entry of the job that is missing, with the codes that wait for it."""

    entry: str
    status: Status
    codes: tuple[str, ...]


class Verdict(Struct, frozen=True):
    """The answer on one side.

    Args:
        status: the worst of all.
        lines: every cause that does not pass, by shelf, the worst first; the acknowledged ones last.
        to_enter: entries that are missing, what unlocks most first.
        passed: how many findings pass [-].
        mark: eight letters that change with any answer, so that an old paper beside a changed job is seen.
        unheard: acknowledgements that let nothing stand: the number is another by now, or it holds work back.
    """

    side: str
    status: Status
    lines: tuple[Line, ...]
    to_enter: tuple[ToEnter, ...]
    passed: int
    strength: StrengthState
    mark: str
    unheard: tuple[Acknowledgement, ...] = ()

    @property
    def holds_back(self) -> bool:
        """Whether nothing may be cut, drilled or riveted: something stops, or cannot be shown to pass."""
        return self.status.holds_back

    @property
    def acknowledged_lines(self) -> tuple[Line, ...]:
        """Those that somebody lets stand."""
        return tuple(line for line in self.lines if line.acknowledged is not None)

    @property
    def awaits_strength(self) -> bool:
        """Whether strength was asked for and has not been run, which counts as not shown."""
        return self.strength is StrengthState.NOT_RUN

    @property
    def open_lines(self) -> tuple[Line, ...]:
        """Those that nobody has acknowledged."""
        return tuple(line for line in self.lines if line.acknowledged is None)

    def shelf(self, shelf: Shelf) -> tuple[Line, ...]:
        """The open lines of one shelf, the worst first."""
        return tuple(line for line in self.open_lines if line.shelf is shelf)

    def shelves(self) -> Iterator[tuple[Shelf, tuple[Line, ...], tuple[ToEnter, ...]]]:
        """Every shelf that holds something, with its open lines; what is to be entered is one line more of the last."""
        for shelf in Shelf:
            lines, to_enter = self.shelf(shelf), self.to_enter if shelf is Shelf.KNOW else ()
            if lines or to_enter:
                yield shelf, lines, to_enter

    def count(self, status: Status) -> int:
        """How many lines of the head have one answer [-]: the open ones, by their worst finding; the list of what is to
        be entered, by its worst entry; and strength that was not run.

        Of what passes it is the number of findings, which have no lines.
        """
        if status is Status.PASS:
            return self.passed
        told = [line.status for line in self.open_lines] + [one.status for one in self.to_enter[:1]]
        return told.count(status) + (self.awaits_strength and status is Status.UNKNOWN)


def judge_all(
    findings: Iterable[Finding],
    *,
    side: str,
    strength: StrengthState,
    acknowledged: Iterable[Acknowledgement] = (),
) -> Verdict:
    """Bring all answers on one side under one verdict.

    Args:
        acknowledged: cautions that somebody gave a reason for; what holds work back is never among them.
    """
    judged = tuple(findings)
    known = tuple(acknowledged)
    causes: dict[tuple[Shelf, str, str, bool], list[Finding]] = {}
    for finding in judged:
        if finding.status is not Status.PASS and not _waits(finding):
            shelf, code = shelf_of(finding), finding.told_by or finding.code
            entered = find(code)
            shared = entered.cause if entered else ""
            # What cannot be shown is never counted behind a stop: the head counts both.
            key = (
                shelf,
                shared or code,
                "" if shared else finding.cause,
                finding.status is Status.UNKNOWN,
            )
            causes.setdefault(key, []).append(finding)
    lines = [_line(shelf, found, known) for (shelf, *_), found in causes.items()]
    heard = {_key(finding) for line in lines if line.acknowledged for finding in line.findings}
    not_run = (Status.UNKNOWN,) if strength is StrengthState.NOT_RUN else ()
    worst = worst_of((*(finding.status for finding in judged), *not_run))
    return Verdict(
        side=side,
        status=worst,
        lines=tuple(sorted(lines, key=_order)),
        to_enter=_to_enter(judged),
        passed=sum(finding.status is Status.PASS for finding in judged),
        strength=strength,
        mark=_mark(judged, side, strength),
        unheard=tuple(one for one in known if (one.code, one.number) not in heard),
    )


def _waits(finding: Finding) -> bool:
    """Whether it only waits for an entry, and is told with the others that are missing.

    What stops, or was measured and falls short, is told in its own words on its own shelf, whatever would mend it.
    """
    is_measured = isinstance(finding.judged, Judgement)
    return bool(finding.enter) and finding.status is not Status.STOP and not is_measured


def shelf_of(finding: Finding) -> Shelf:
    """Where a finding is read: that of the code that tells it, or among choices where only documents differ."""
    judged = finding.judged
    undecided = isinstance(judged, Judgement) and judged.chosen is None and judged.documents_differ
    if undecided and finding.status is Status.CAUTION:
        return Shelf.KNOW
    found = find(finding.told_by or finding.code)
    return found.shelf if found else Shelf.HOLDS


def acknowledged_number(finding: Finding) -> str:
    """The number of a finding as an acknowledgement keeps it: another number makes it open again.

    The worst hole and what it is about are part of it, so that another thing with the same number stays open. Where
    nothing was measured it is made of what is said alone.
    """
    if finding.value is None and finding.limit is None:
        return _digest(f"{finding.subject} {finding.advice} {finding.holes}")
    value = "" if finding.value is None else f"{finding.value:.6g}"
    number = f"{value}/{'' if finding.limit is None else f'{finding.limit:.6g}'}".strip("/")
    at = f"@{finding.holes[0]}" if finding.holes else ""
    return f"{number}{at}#{_digest(f'{finding.subject} {finding.cause}')[:_SUBJECT_LETTERS]}"


def _digest(told: str) -> str:
    return sha256(told.encode()).hexdigest()[:_MARK_LETTERS].upper()


def _key(finding: Finding) -> tuple[str, str]:
    return finding.code, acknowledged_number(finding)


def _missed_ratio(finding: Finding) -> float:
    """By how much of its limit a finding misses it: what lines of several units are sorted by [-]."""
    return finding.judged.shortfall / abs(finding.limit) if finding.limit else finding.judged.shortfall


def _line(shelf: Shelf, found: list[Finding], known: tuple[Acknowledgement, ...]) -> Line:
    ordered = tuple(
        sorted(
            found,
            key=lambda finding: (finding.status.severity, bool(finding.told_by), -_missed_ratio(finding)),
        )
    )
    if any(finding.status.holds_back for finding in ordered):
        return Line(shelf, ordered)
    by = {(one.code, one.number): one for one in known}
    given = [by.get(_key(finding)) for finding in ordered]
    return Line(shelf, ordered, given[0] if all(given) else None)


def _order(line: Line) -> tuple[bool, bool, int, int, str]:
    entered = find(line.worst.code)
    leads = entered is not None and entered.comes_first and line.status.holds_back
    return line.acknowledged is not None, not leads, line.shelf, line.status.severity, line.worst.code


def _to_enter(judged: tuple[Finding, ...]) -> tuple[ToEnter, ...]:
    waiting: dict[str, list[Finding]] = {}
    for finding in judged:
        if finding.status is not Status.PASS and _waits(finding):
            for entry in finding.enter:
                waiting.setdefault(entry, []).append(finding)
    found = [
        ToEnter(
            entry,
            worst_of(finding.status for finding in some),
            tuple(dict.fromkeys(finding.code for finding in some)),
        )
        for entry, some in waiting.items()
    ]
    return tuple(sorted(found, key=lambda one: (one.status.severity, -len(one.codes), one.entry)))


def _mark(judged: tuple[Finding, ...], side: str, strength: StrengthState) -> str:
    """Digest of every answer: what was judged by which code, with which numbers, and how it came out."""
    told = [
        f"{one.code} {one.status} {one.holes} {acknowledged_number(one)} {one.judged.uncertainty:.6g} {one.subject}"
        for one in judged
    ]
    return _digest("\n".join((side, strength, *sorted(told))))
