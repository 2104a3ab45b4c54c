"""What was drilled, laid on what was drawn; what the job answers with it; and its readings entered in the job file."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Protocol

from msgspec import Struct

from hatchwright.errors import EntryError, Fault, JobError
from hatchwright.inspection.best_fit import COVERAGE, BestFit, best_fit
from hatchwright.inspection.entering import entered
from hatchwright.inspection.named import Named, named
from hatchwright.inspection.pattern import pattern_of
from hatchwright.inspection.readings import ReadingFrame, read_readings
from hatchwright.inspection.readings_text import readings_text
from hatchwright.job.file import load_job_text, read_job
from hatchwright.job.job import Job
from hatchwright.job.text_file import ended_alike, save_text
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.metrology.registration import Common
from hatchwright.progress import Progress, stretches, unheard
from hatchwright.said import Said
from hatchwright.search.changed_findings import ChangedFinding, changed_findings
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit, parse_length
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import Examination, examine_layout
from hatchwright.workflow.job_folder import jobs_alone, version_of
from hatchwright.workflow.open_job import own_tables


class HowRead(Struct, frozen=True):
    """What a person says of a table of readings.

    Args:
        u: expanded uncertainty of a reading that names none, as typed; "" for that of the job's readings.
        unit: of a bare length of the table, None for the job's.
        zero: where its zero is in the job's frame (x, y), as typed; None for the job's own, or for the opening's center
            where readings are by radius and angle.
        turn_deg: from the job's X toward its Y to the X of the table [deg].
        flipped: whether its Y runs to the other side.
        zero_u: expanded uncertainty of the zero that all readings share, as typed; "" for none.
        is_polar: whether its columns are radius and angle though no heading says so.
    """

    u: str = ""
    unit: Unit | None = None
    zero: tuple[str, str] | None = None
    turn_deg: float = 0.0
    flipped: bool = False
    zero_u: str = ""
    commas_are_decimal: bool = False
    is_polar: bool = False

    def frame(self, job: Job) -> ReadingFrame:
        """The frame of the table in that of the job; EntryError where its zero is no place."""
        zero = self.zero and (
            _size_in(self.zero[0], "zero", job, signed=True),
            _size_in(self.zero[1], "zero", job, signed=True),
        )
        return ReadingFrame(zero, self.turn_deg, self.flipped)


@dataclass(frozen=True)
class Measured:
    """A set of readings on its job.

    Args:
        text: the job's, as it was read.
        notes: how the table was read.
        u: expanded uncertainty of readings that name none, as typed.
        shop: the shop's own tables.
    """

    job: Job
    layout: Layout
    text: str
    fit: BestFit
    named: tuple[Named, ...]
    notes: tuple[Said, ...]
    u: str
    shop: ShopTables | None = None

    @property
    def doubts(self) -> tuple[Named, ...]:
        """What the set is not entered with, unless a person says that it is as it is."""
        return tuple(one for one in self.named if one.is_doubtful)

    @property
    def refusals(self) -> tuple[Fault, ...]:
        """Each doubt as a fault, why the set was not entered."""
        told = (tell(one.told, self.job.unit).removesuffix(".") for one in self.doubts)
        return tuple(Fault.saying("", "measure.doubtful", why) for why in told)

    @cached_property
    def changed_text(self) -> str:
        """The job's text with the readings; JobError where it can't take them."""
        text = ended_alike(entered(self.text, self.fit, u=self.u, unit=self.job.unit), like=self.text)
        return text


@dataclass(frozen=True)
class Compared:
    """The job before and after the readings became what was made.

    Args:
        after: None where the job can't take the readings; why is in `faults`.
    """

    before: Examination
    after: Examination | None
    changes: tuple[ChangedFinding, ...]
    faults: tuple[Fault, ...] = ()


def measured(
    text: str,
    table: str,
    how: HowRead,
    *,
    folder: Path | None,
    name: str = "job",
    shop: ShopTables | None = None,
) -> Measured:
    """Lay a table of readings on the holes of a job.

    Args:
        text: of the job.
        folder: of its file, where a DXF outline is looked for.
    Raises:
        JobError: the job is refused, a row can't be read, or no uncertainty is named.
        EntryError: an uncertainty or a zero is no length.
        GeometryError: the readings can't be laid on.
    """
    job = read_job(text, folder=folder, name=name)
    layout = lay_out(job, shop)
    u = how.u or (job.as_made.uncertainty.text if job.as_made else "")
    drawn = {hole.number: hole.drawn_in or hole.place for hole in layout.holes}
    found = read_readings(
        table,
        unit=how.unit or job.unit,
        job_unit=job.unit,
        u_in=_size_in(u, "u", job) if u else None,
        known=drawn,
        center_in=layout.center_in,
        frame=how.frame(job),
        is_polar=how.is_polar,
        commas_are_decimal=how.commas_are_decimal,
    )
    u = (
        u or max(found.all, key=lambda one: one.u_in).own_u
    )  # each names its own: the greatest stands for the set
    zero_u_in = _size_in(how.zero_u, "zero u", job) if how.zero_u else 0.0
    fit = best_fit(found.all, pattern_of(drawn), common=Common(place_in=zero_u_in / COVERAGE))
    diameters = {hole.number: size for hole in layout.holes if (size := hole.hole_in or hole.nominal_in)}
    return Measured(job, layout, text, fit, named(fit, diameters), found.notes, u, shop)


def _size_in(typed: str, where: str, job: Job, *, signed: bool = False) -> float:
    try:
        return parse_length(typed, unit=job.unit, signed=signed).inch
    except EntryError as error:
        raise EntryError(error.what, where=where, remedy=error.remedy) from None


def measured_file(path: Path, readings: Path, how: HowRead, *, shop: Path | None = None) -> Measured:
    """The same for a job file and a file of readings; errors as of `measured` and `readings_text`."""
    own = own_tables(shop)
    text, table = load_job_text(path), readings_text(readings)
    try:
        return measured(text, table, how, folder=path.parent, name=path.name, shop=own)
    except JobError as error:
        where = error.where if isinstance(error.where, str) else ""
        raise JobError(error.faults, where=where or readings.name) from None


class Changed(Protocol):
    """A job, and its text with something else in it."""

    @property
    def layout(self) -> Layout:
        """As it is."""

    @property
    def shop(self) -> ShopTables | None:
        """The shop's own tables."""

    @property
    def changed_text(self) -> str:
        """With what was read; JobError where the job can't take it."""


def compared(found: Changed, *, folder: Path | None, progress: Progress = unheard) -> Compared:
    """Judge the job as it is and with what was read in it, in one pass."""
    first, second = stretches(progress, 1.0, 1.0)
    before = examine_layout(found.layout, progress=first)
    try:
        job = read_job(found.changed_text, folder=folder)
        after = examine_layout(lay_out(job, found.shop), progress=second)
    except JobError as error:
        return Compared(before, None, (), error.faults)
    return Compared(before, after, changed_findings(before.findings, after.findings))


def enter(path: Path, found: Measured, *, as_they_are: bool = False) -> None:
    """Write the readings into the job file.

    Args:
        as_they_are: whether a person says that a doubtful set is as it was read.
    Raises:
        JobError: the set is doubtful, the file is not the one that was read any more, it can't be written, or the
            changed job would be refused. Nothing was written then.
    """
    if found.doubts and not as_they_are:
        raise JobError(found.refusals)
    with jobs_alone(path.resolve().parent):
        if version_of(load_job_text(path)) != version_of(found.text):
            raise JobError.about("file", "error.not_as_judged", str(path))
        lay_out(read_job(found.changed_text, folder=path.parent, name=path.name), found.shop)
        save_text(path, found.changed_text)
