"""What was drilled, laid on what was drawn; what the job answers with it; and its readings entered in the job file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import EntryError, Fault, GeometryError, JobError
from hatchwright.inspection.best_fit import BestFit, best_fit
from hatchwright.inspection.entering import entered
from hatchwright.inspection.entering_others import with_others
from hatchwright.inspection.held_lines import SetU
from hatchwright.inspection.kinds import by_kind
from hatchwright.inspection.named import Named, named
from hatchwright.inspection.other_readings import OtherReading, read_others
from hatchwright.inspection.pattern import pattern_of
from hatchwright.inspection.readings import Reading, ReadingFrame, Readings, borne, read_readings
from hatchwright.inspection.readings_text import readings_text
from hatchwright.inspection.sorting import Sorted, sorted_out
from hatchwright.job.bounds import first_of
from hatchwright.job.file import load_job_text, read_job
from hatchwright.job.job import Job
from hatchwright.job.text_file import ended_alike, save_text
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.metrology.budget import COVERAGE
from hatchwright.metrology.registration import Common
from hatchwright.said import Said
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit, parse_length
from hatchwright.words.tell import tell
from hatchwright.workflow.job_folder import jobs_alone, version_of
from hatchwright.workflow.open_job import own_tables


class HowRead(Struct, frozen=True):
    """What a person says of a table of readings.

    Args:
        u: expanded uncertainty of a reading that names none, as typed; "" for that of the job's readings.
        unit: of a bare length of the table, and of `u` and `zero_u`; None for the job's.
        zero: where its zero is in the job's frame and unit (x, y), as typed; None for the job's own, or for the
            opening's center where readings are by radius and angle.
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
            _size_in(self.zero[0], "zero", job.unit, signed=True),
            _size_in(self.zero[1], "zero", job.unit, signed=True),
        )
        return ReadingFrame(zero, self.turn_deg, self.flipped)


@dataclass(frozen=True)
class Measured:
    """A set of readings on its job.

    Args:
        text: the job's, as it was read.
        holes: those whose place was measured.
        others: what else was.
        fit: None where no hole was placed, or too few to lay the set on.
        notes: how the table was read.
        u: expanded uncertainty of readings that name none, as it may stand in the job.
        typed_u: the same, "" where nobody typed one for this set.
        zero_u_in: expanded uncertainty of the zero that all places were measured from [in].
        shop: the shop's own tables.
    """

    job: Job
    layout: Layout
    text: str
    holes: tuple[Reading, ...]
    others: tuple[OtherReading, ...]
    fit: BestFit | None
    named: tuple[Named, ...]
    notes: tuple[Said, ...]
    u: str
    typed_u: str
    zero_u_in: float = 0.0
    shop: ShopTables | None = None

    @property
    def count(self) -> int:
        """Rows that go into the job."""
        return len(self.holes) + len(self.others) - len(self.sorted.repeats)

    @cached_property
    def sorted(self) -> Sorted:
        """What each reading of a hole is entered as."""
        return sorted_out(self.holes, self.fit, self.named)

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
        """The job's text with the readings; JobError where it can't take them, or a diameter stands in two rows."""
        if faults := first_of(_sized_twice(self.sorted.holes, self.others)):
            raise JobError(faults)
        text, job, u = self.text, self.job, SetU(self.u, self.job.unit, self.zero_u_in)
        if self.holes:
            text = entered(text, self.sorted, u=u)
        text = with_others(text, self.others, u=u, typed_u=self.typed_u, axes=job.frame)
        return ended_alike(text, like=self.text)


def _sized_twice(holes: Mapping[int, Reading], others: Sequence[OtherReading]) -> Iterator[Fault]:
    for one in others:
        beside = holes.get(int(one.cells[0])) if one.kind == "diameter" else None
        if beside and beside.diameter:
            yield Fault.saying("", "readings.read_twice", one.cells[0], line=one.row, other=beside.row)


def measured(
    text: str,
    table: str,
    how: HowRead,
    *,
    folder: Path | None,
    name: str = "job",
    shop: ShopTables | None = None,
) -> Measured:
    """Read a table of readings, and lay the holes in it on those of a job.

    Args:
        text: of the job.
        table: of holes; or each row begins with what it is a reading of, see `kinds.by_kind`.
        folder: of its file, where a DXF outline is looked for.
    Raises:
        JobError: the job is refused, a row can't be read, or no uncertainty is named.
        EntryError: an uncertainty or a zero is no length.
        GeometryError: the readings can't be laid on.
    """
    job = read_job(text, folder=folder, name=name)
    layout = lay_out(job, shop)
    drawn = {hole.number: hole.drawn_in or hole.place for hole in layout.holes}
    tables = by_kind(table)
    unit, frame = how.unit or job.unit, how.frame(job)
    typed_u = borne(how.u, unit, job.unit)
    u = typed_u or (job.as_made.uncertainty.text if job.as_made else "")
    u_in = _size_in(u, "u", job.unit) if u else None
    others, notes = read_others(
        tables,
        unit=unit,
        job_unit=job.unit,
        known=drawn,
        axes=job.frame,
        frame=frame,
        commas_are_decimal=how.commas_are_decimal,
    )
    found = Readings((), ())
    if "hole" in tables:
        found = read_readings(
            tables["hole"],
            unit=unit,
            job_unit=job.unit,
            u_in=u_in,
            known=drawn,
            center_in=layout.center_in,
            frame=frame,
            is_polar=how.is_polar,
            commas_are_decimal=how.commas_are_decimal,
        )
    u = u or _greatest_u(found.all, others, unit)
    zero_u_in = _size_in(how.zero_u, "zero u", unit) if how.zero_u else 0.0
    fit = _fitted(found.all, others, drawn, Common(place_in=zero_u_in / COVERAGE))
    diameters = {hole.number: size for hole in layout.holes if (size := hole.hole_in or hole.nominal_in)}
    told = named(fit, diameters) if fit else ()
    return Measured(
        job,
        layout,
        text,
        found.all,
        others,
        fit,
        told,
        tuple(dict.fromkeys((*found.notes, *notes))),
        u,
        typed_u,
        zero_u_in,
        shop,
    )


def _greatest_u(holes: Sequence[Reading], others: Sequence[OtherReading], unit: Unit) -> str:
    """Where each reading names its own uncertainty, the greatest stands for the set; a thickness needs none.

    Raises:
        JobError: one names none.
    """
    own = [*(one.own_u for one in holes), *(one.own_u for one in others if one.kind != "thickness")]
    if not all(own):
        raise JobError.about("u", "measure.no_u")
    return max(own, key=lambda typed: parse_length(typed, unit=unit).inch, default="")


def _fitted(
    holes: tuple[Reading, ...],
    others: tuple[OtherReading, ...],
    drawn: dict[int, tuple[float, float]],
    common: Common,
) -> BestFit | None:
    """The best fit of the holes; none where there are too few beside other readings, and each bears its number."""
    if not holes:
        return None
    try:
        return best_fit(holes, pattern_of(drawn), common=common)
    except GeometryError as error:
        is_small = isinstance(error.what, Said) and error.what.id in ("fit.few_points", "fit.one_place")
        if is_small and others and all(one.number is not None for one in holes):
            return None
        raise


def _size_in(typed: str, where: str, unit: Unit, *, signed: bool = False) -> float:
    try:
        return parse_length(typed, unit=unit, signed=signed).inch
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
