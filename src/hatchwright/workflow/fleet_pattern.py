"""A change of a fleet's pattern: what it changes where, what a line wants otherwise, and what both changed.

Each line's job is compared with the text of the pattern that it was last given and with the present one. What was
measured, seen or answered on one aircraft is its own and never taken from the pattern; a signed job is never touched.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from msgspec import Struct

from hatchwright.errors import Fault, JobError
from hatchwright.job.another_job import ASKED_AGAIN
from hatchwright.job.as_typed import raw_data
from hatchwright.job.file import read_job
from hatchwright.job.job_text import added, taken, with_values_at
from hatchwright.job.three_ways import Differing, ThreeWays, three_ways, with_theirs
from hatchwright.workflow.fleet_folder import FleetFolder
from hatchwright.workflow.fleet_lines import FleetLine, fleet_lines, on_side, pattern_text
from hatchwright.workflow.job_folder import Hand, JobFolder, version_of
from hatchwright.workflow.signed_jobs import signed_jobs

_NEVER = ("schema", "title", "revision", "aircraft", "samples", "gate")
"""Each job's own, and nobody compares it."""
_OWN = (*ASKED_AGAIN, "bay")
"""Each job's own, but what the pattern says newly is told."""

STEP = "pattern"
"""What the step of undo is called that gives a pattern."""


class LineChanges(Struct, frozen=True):
    """What the present pattern means for one line.

    Args:
        changed: what is taken from the pattern.
        own: what the line says otherwise by its own will; it stays.
        conflicts: what both changed; the line's stays unless the pattern's is asked for.
        beside: what the pattern says newly of a place that each job measures or answers itself; the line's stays.
        is_signed: whether somebody signed for the job; nothing is taken then.
        is_unknown: whether the pattern that it was given is not kept any more: all that differs is a conflict.
        faults: why nothing can be taken.
        job: version of the job that was compared.
    """

    line: FleetLine
    changed: tuple[Differing, ...] = ()
    own: tuple[Differing, ...] = ()
    conflicts: tuple[Differing, ...] = ()
    beside: tuple[Differing, ...] = ()
    is_signed: bool = False
    is_unknown: bool = False
    faults: tuple[Fault, ...] = ()
    job: str = ""

    @property
    def asks(self) -> bool:
        """Whether the present pattern says anything that the job does not."""
        return bool(self.changed or self.conflicts)

    @property
    def is_open(self) -> bool:
        """Whether something of it can be taken."""
        return self.asks and not self.is_signed and not self.faults


class PatternChanges(Struct, frozen=True):
    """What the present pattern means for all lines that have a job.

    Args:
        pattern: its version.
        fleet: version of the fleet file.
    """

    pattern: str
    fleet: str
    lines: tuple[LineChanges, ...]

    @property
    def asking(self) -> tuple[LineChanges, ...]:
        """Lines that the pattern changes."""
        return tuple(one for one in self.lines if one.is_open and one.changed)

    @property
    def is_open(self) -> tuple[LineChanges, ...]:
        """Lines that somebody has to look at: those that it changes, and those in conflict with it."""
        return tuple(one for one in self.lines if one.is_open)

    @property
    def signed(self) -> tuple[LineChanges, ...]:
        """Signed lines of which the pattern says otherwise."""
        return tuple(one for one in self.lines if one.is_signed and one.asks)


def pattern_changes(
    fleets: FleetFolder, jobs: JobFolder, name: str, *, only_newer: bool = False
) -> PatternChanges:
    """Compare each line's job with its pattern.

    Args:
        only_newer: whether to leave out lines that were given the present pattern, which changes nothing there.
    Raises:
        JobError: the fleet or its pattern can't be read.
        RecordError: the store can't be asked what is signed.
    """
    text = fleets.read(name)
    fleet = fleets.fleet(name)
    pattern = pattern_text(jobs, fleet)
    signed = signed_jobs(jobs.folder)
    version = version_of(pattern)
    lines = (
        one for one in fleet_lines(fleet) if one.line.job and not (only_newer and one.line.given == version)
    )
    found = tuple(_line(fleets, jobs, name, pattern, one, signed) for one in lines)
    return PatternChanges(version, version_of(text), found)


def _line(
    fleets: FleetFolder, jobs: JobFolder, name: str, pattern: str, one: FleetLine, signed: Collection[str]
) -> LineChanges:
    is_signed = one.line.job in signed
    try:
        ours = jobs.read(one.line.job or "")
        given = fleets.given(name, one.line.given)
        theirs = on_side(pattern, one.line.side)
        base = on_side(given, one.line.side) if given is not None else theirs
        found = three_ways(base, theirs, ours, left_out=lambda field: _is_below(field, _NEVER))
    except JobError as error:
        return LineChanges(one, is_signed=is_signed, faults=error.faults)
    if given is None:  # nobody knows who changed what
        found = ThreeWays((), (), (*found.own, *found.conflicts))
    return LineChanges(
        one,
        changed=_parted(found.changed)[1],
        own=_parted(found.own)[1],
        conflicts=_parted(found.conflicts)[1],
        beside=tuple(both for both in (*_parted(found.changed)[0], *_parted(found.conflicts)[0]) if given),
        is_signed=is_signed,
        is_unknown=given is None,
        job=version_of(ours),
    )


def _parted(some: Collection[Differing]) -> tuple[tuple[Differing, ...], tuple[Differing, ...]]:
    """What each job says itself, and the rest."""
    own = tuple(one for one in some if _is_below(one.field, _OWN))
    return own, tuple(one for one in some if one not in own)


def _is_below(field: str, places: Collection[str]) -> bool:
    return any(field == place or field.startswith(f"{place}.") for place in places)


def give_pattern(
    fleets: FleetFolder,
    jobs: JobFolder,
    name: str,
    seen: PatternChanges,
    *,
    taking: Collection[str] = (),
    by: str = "",
) -> tuple[LineChanges, ...]:
    """Enter the changes of the pattern in every job that is not signed, each as a step that undo takes back.

    Args:
        seen: what was shown; a job or a pattern that changed since is left alone and told.
        taking: keys of lines that take the pattern's word where both changed.
        by: name of the person, "" where nobody is asked for it.
    Returns:
        tuple[LineChanges, ...]: what could not be done, each with its faults; empty where all was.
    Raises:
        JobError: the pattern or the fleet changed since, or can't be read.
        RecordError: the store can't be asked what is signed.
    """
    now = pattern_changes(fleets, jobs, name)
    if (now.pattern, now.fleet) != (seen.pattern, seen.fleet):
        raise JobError.about("pattern", "fleet.changed_meanwhile")
    pattern = pattern_text(jobs, fleets.fleet(name))
    version, shown = fleets.keep_given(name, pattern), {one.line.key: one.job for one in seen.lines}
    done: list[LineChanges] = []
    refused: list[LineChanges] = []
    for one in now.lines:
        if one.is_signed or one.faults:
            continue
        try:
            if one.job != shown.get(one.line.key):
                raise JobError.about("job", "fleet.changed_meanwhile")
            _give(jobs, pattern, one, is_taking=one.line.key in taking, by=by)
            done.append(one)
        except JobError as error:
            refused.append(LineChanges(one.line, changed=one.changed, faults=error.faults))
    given = {f"{one.line.place}.given": version for one in done if one.line.line.given != version}
    fleets.enter(name, now.fleet, lambda text: with_values_at(text, given), is_step=False)
    return tuple(refused)


def _give(jobs: JobFolder, pattern: str, one: LineChanges, *, is_taking: bool, by: str) -> None:
    changes = (*one.changed, *(one.conflicts if is_taking else ()))
    job = one.line.line.job or ""
    if not changes:
        return

    def change(text: str) -> str:
        if job in signed_jobs(jobs.folder):
            raise JobError.about("job", "fleet.signed_meanwhile")
        new = _with_samples(with_theirs(text, changes), on_side(pattern, one.line.line.side), changes)
        read_job(new, folder=jobs.folder, name=job)
        return new

    page = f"fleet-{version_of(pattern)}-{one.job}"
    jobs.enter(job, Hand(page, 1, STEP, one.job, by), change)


def _with_samples(text: str, theirs: str, changes: Collection[Differing]) -> str:
    """What the pattern has as a sample is one here too, where it was taken from it."""
    places = tuple(one.field for one in changes)
    held = list(raw_data(text).get("samples", ()))
    more = [one for one in _samples(theirs, places) if one not in held]
    return added(taken(text, ["samples"]), {"samples": [*held, *more]}) if more else text


def _samples(theirs: str, places: Collection[str]) -> Iterator[str]:
    for one in raw_data(theirs).get("samples", ()):
        if _is_below(one, places) or any(_is_below(place, (one,)) for place in places):
            yield one
