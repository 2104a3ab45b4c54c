"""The jobs of a fleet's lines, made from its pattern: one for each side of each aircraft, with its own verdict."""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

from hatchwright.errors import JobError
from hatchwright.job.another_job import on_an_aircraft
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.file import edited, read_job
from hatchwright.job.fleet.fleet import SUFFIX, Fleet, FleetAircraft
from hatchwright.job.fleet.line import Line
from hatchwright.job.job_text import with_values_at
from hatchwright.progress import Progress, in_parts, unheard
from hatchwright.said import said
from hatchwright.words.tell import tell
from hatchwright.workflow.fleet_folder import FleetFolder, named_after
from hatchwright.workflow.job_folder import JobFolder, version_of
from hatchwright.workflow.signed_jobs import signed_jobs

_LONGEST_STEM = 40
_LONGEST_TITLE = 200
_NAMELESS = "-"
"""Stands in a text for what each aircraft is called, until it is."""


class FleetLine(Struct, frozen=True):
    """A line with its aircraft and its place in the file.

    Args:
        place: dotted, such as ``aircraft.3.lines.0``.
    """

    place: str
    aircraft: FleetAircraft
    line: Line

    @property
    def key(self) -> str:
        """What tells it from others, such as ``N101HW-left``."""
        return f"{self.aircraft.registration}-{self.line.side}"

    @property
    def called(self) -> str:
        """The same as a person reads it, such as ``N101HW LEFT``."""
        side = said(f"fleet.side.{self.line.side}")
        return tell(said("fleet.line", registration=self.aircraft.registration, side=side))


def fleet_lines(fleet: Fleet) -> tuple[FleetLine, ...]:
    """All lines in the order of the file."""
    return tuple(
        FleetLine(f"aircraft.{at}.lines.{number}", one, line)
        for at, one in enumerate(fleet.aircraft)
        for number, line in enumerate(one.lines)
    )


def pattern_text(jobs: JobFolder, fleet: Fleet) -> str:
    """The text of a fleet's pattern; JobError where it names none, or it can't be read."""
    if not fleet.pattern:
        raise JobError.about("pattern", "fleet.no_pattern")
    return jobs.read(fleet.pattern)


@lru_cache(maxsize=8)
def on_side(pattern: str, side: str) -> str:
    """The pattern on one side of an aircraft that has no name yet; JobError where it has no such side."""
    return on_an_aircraft(pattern, title=_NAMELESS, registration=_NAMELESS, serial=_NAMELESS, side=side)


def job_of(pattern: str, one: FleetLine) -> str:
    """The text of a line's job; JobError where the pattern has no such side."""
    names = {
        "title": title_of(pattern, one),
        "aircraft.registration": one.aircraft.registration,
        "aircraft.serial": one.aircraft.serial,
    }
    return edited(on_side(pattern, one.line.side), names)


def title_of(pattern: str, one: FleetLine) -> str:
    """What a line's job is called: by its aircraft and side first, so that no two are alike."""
    title = str(raw_data(pattern).get("title", ""))
    told = said(f"fleet.job_title.{one.line.side}", registration=one.aircraft.registration, title=title)
    return tell(told)[:_LONGEST_TITLE]


def job_name(fleet_name: str, one: FleetLine) -> str:
    """The file name of a line's job where it has none yet."""
    stem = fleet_name.removesuffix(SUFFIX)[:_LONGEST_STEM].strip("-")
    return f"{stem}-{one.aircraft.registration.lower()}-{one.line.side}.toml"


def without_job(jobs: JobFolder, fleet: Fleet) -> tuple[FleetLine, ...]:
    """The lines whose job is not there."""
    there = set(jobs.names())
    return tuple(one for one in fleet_lines(fleet) if one.line.job not in there)


class _Planned(Struct, frozen=True):
    """The job of a line that names none that is there.

    Args:
        is_there: whether there is such a file of just this aircraft and side already, as after an undo; it stays.
    """

    job: str
    line: FleetLine
    text: str
    is_there: bool


def begin_fleet(fleets: FleetFolder, jobs: JobFolder, title: str, text: str, *, by: str = "") -> str:
    """Start a fleet with all its jobs; its file name.

    Args:
        text: of the fleet.
        by: name of the person, "" where nobody is asked for it.
    Raises:
        JobError: the fleet or the pattern is not sound, or a file is there already; nothing is made then.
    """
    name = named_after(title)
    fleet = Fleet.read(text, name=name)
    pattern = pattern_text(jobs, fleet)
    planned = _planned(jobs, fleet, name, pattern, unheard)
    fleets.new(title, text)
    _make(fleets, jobs, name, version_of(text), pattern, planned, by)
    return name


def make_jobs(
    fleets: FleetFolder, jobs: JobFolder, name: str, base: str, *, by: str = "", progress: Progress = unheard
) -> tuple[str, ...]:
    """Make the job of each line that has none.

    Args:
        base: version of the fleet file that was seen.
        by: name of the person, "" where nobody is asked for it.
    Returns:
        tuple[str, ...]: file names of the jobs.
    Raises:
        ChangedElsewhereError: the fleet file is not of that version.
        JobError: the pattern is not sound or has no such side, a file of that name is there, or that of a signed job is
            gone; nothing is made then.
    """
    fleet = fleets.fleet(name)
    pattern = pattern_text(jobs, fleet)
    planned = _planned(jobs, fleet, name, pattern, progress)
    return _make(fleets, jobs, name, base, pattern, planned, by)


def _planned(jobs: JobFolder, fleet: Fleet, name: str, pattern: str, progress: Progress) -> list[_Planned]:
    there, signed = set(jobs.names()), signed_jobs(jobs.folder)
    planned = []
    for one, mine in in_parts(without_job(jobs, fleet), progress):
        job = one.line.job or job_name(name, one)
        mine(0.0, said("fleet.making", job=job))
        if job in there and not _is_of(jobs.read(job), one):
            raise JobError.about("lines", "error.job_there", job, name=job)
        if job in signed and job not in there:
            raise JobError.about("lines", "fleet.signed_gone", job)
        text = job_of(pattern, one)
        read_job(text, folder=jobs.folder, name=job)
        planned.append(_Planned(job, one, text, job in there))
    return planned


def _is_of(text: str, one: FleetLine) -> bool:
    """Whether a job is of just this aircraft and side."""
    data = raw_data(text)
    wanted = {
        "registration": one.aircraft.registration, "serial": one.aircraft.serial, "side": one.line.side
    }  # fmt: skip
    return all(standing_at(data, f"aircraft.{name}") == value for name, value in wanted.items())


def _make(
    fleets: FleetFolder, jobs: JobFolder, name: str, base: str, pattern: str, planned: list[_Planned], by: str
) -> tuple[str, ...]:
    version = fleets.keep_given(name, pattern)
    values: dict[str, str] = {}
    for one in planned:
        is_given = not one.is_there or jobs.read(one.job) == one.text
        values[f"{one.line.place}.job"] = one.job
        values[f"{one.line.place}.given"] = version if is_given else ""
    # The fleet names them first: a program that is ended in between finds which are still to be made.
    fleets.enter(name, base, lambda text: with_values_at(text, values), is_step=False, by=by)
    for one in planned:
        if not one.is_there:
            jobs.begin(one.job, one.text)
    return tuple(one.job for one in planned)
