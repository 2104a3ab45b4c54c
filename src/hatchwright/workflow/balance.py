"""Weight and balance of the aircraft of a fleet, and its papers."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from msgspec import Struct

from hatchwright.airworthiness.aircraft_balance import AircraftBalance, aircraft_balance
from hatchwright.documents.balance_sheet import balance_part
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.writers import Paper
from hatchwright.errors import HatchwrightError, JobError
from hatchwright.job.file import read_job
from hatchwright.job.fleet.fleet import Fleet
from hatchwright.judged import Status, worst_of
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.progress import Progress, in_parts, unheard
from hatchwright.said import said
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.fleet_lines import FleetLine, fleet_lines, job_of, pattern_text
from hatchwright.workflow.job_folder import JobFolder
from hatchwright.workflow.open_job import open_job, own_tables


class Weighing(Struct, frozen=True):
    """One aircraft of a fleet.

    Args:
        layouts: of each side that gets an opening.
        planned: which of these sides have no job of their own yet, so that the pattern stands for it.
        balance: None where no weight was entered for it.
    """

    registration: str
    serial: str
    layouts: tuple[Layout, ...]
    planned: tuple[str, ...]
    balance: AircraftBalance | None

    @property
    def status(self) -> Status:
        """The worst of it; not shown without a weight."""
        return self.balance.worst if self.balance else Status.UNKNOWN


class BalanceReport(Struct, frozen=True):
    """Weight and balance of a fleet, or of one aircraft of it."""

    fleet: Fleet
    aircraft: tuple[Weighing, ...]

    @property
    def unit(self) -> Unit:
        """What lengths and weights are told in."""
        return self.fleet.units

    @property
    def status(self) -> Status:
        """The worst of all."""
        return worst_of(one.status for one in self.aircraft)


def balance_file(
    path: Path, *, registration: str | None = None, shop: Path | None = None, progress: Progress = unheard
) -> BalanceReport:
    """Work out the weight and balance of a fleet file.

    Args:
        registration: of the one aircraft that is asked for; all without.
    Raises:
        JobError: the fleet file or a job of it is refused, it has no weight and balance, or no such aircraft.
        TableError: a table of the shop is refused.
    """
    return fleet_balance(
        Fleet.load(path), path.parent, registration=registration, shop=shop, progress=progress
    )


def fleet_balance(
    fleet: Fleet,
    folder: Path,
    *,
    registration: str | None = None,
    shop: Path | ShopTables | None = None,
    progress: Progress = unheard,
) -> BalanceReport:
    """The same of a fleet that was read; its jobs stand in a folder."""
    tables = own_tables(shop)
    if fleet.balance is None:
        raise JobError.about("balance", "balance.none_entered")
    wanted = [one for one in fleet.aircraft if registration in (None, one.registration)]
    if registration is not None and not wanted:
        raise JobError.about("aircraft", "balance.no_aircraft", registration[:40])
    found = []
    for one, mine in in_parts(wanted, progress):
        mine(0.0, said("balance.working", registration=one.registration))
        lines = [line for line in fleet_lines(fleet) if line.aircraft is one]
        sides = tuple(_layout(folder, fleet, line, tables) for line in lines)
        layouts = tuple(layout for layout, _ in sides)
        planned = tuple(layout.job.aircraft.side for layout, is_planned in sides if is_planned)
        try:
            balance = aircraft_balance(one.weight, fleet.balance, layouts, tables) if one.weight else None
        except HatchwrightError as error:
            raise JobError((error.as_fault("aircraft"),)) from None
        found.append(Weighing(one.registration, one.serial, layouts, planned, balance))
    return BalanceReport(fleet, tuple(found))


def _layout(folder: Path, fleet: Fleet, line: FleetLine, shop: ShopTables | None) -> tuple[Layout, bool]:
    """A side laid out, and whether the pattern stands for a job that is not there yet.

    Raises:
        JobError: the job is refused, or is of another aircraft or side.
    """
    if line.line.job and (folder / line.line.job).is_file():
        layout = open_job(folder / line.line.job, shop=shop)
        of = layout.job.aircraft
        is_other = of.registration.upper() not in ("", line.aircraft.registration.upper())
        if is_other or of.side != line.line.side:
            raise JobError.about(f"{line.place}.job", "balance.other_job", line.line.job, of_line=line.key)
        return layout, False
    text = job_of(pattern_text(JobFolder(folder), fleet), line)
    return lay_out(read_job(text, folder=folder, name=line.key), shop), True


def balance_papers(
    report: BalanceReport, *, stamp: datetime, paper: Paper = Paper.LETTER
) -> tuple[MadeFile, ...]:
    """The sheet of each side of each aircraft.

    Args:
        stamp: when they are made; the same time makes the same bytes.
    Raises:
        ExportError: a file did not read back as it was written.
    """
    return tuple(_papers(report, stamp, paper))


def _papers(report: BalanceReport, stamp: datetime, paper: Paper) -> Iterator[MadeFile]:
    date = stamp.strftime("%Y-%m-%d %H:%M %Z").strip()
    assert report.fleet.balance  # or there is no report
    for one in report.aircraft:
        for layout in one.layouts if one.balance else ():
            side = layout.job.aircraft.side
            assert one.balance
            part = balance_part(
                layout,
                one.balance,
                report.fleet.balance,
                date=date,
                unit=report.unit,
                is_planned=side in one.planned,
            )
            content = pdf_from(part, title=tell(said("balance.title")), paper=paper, stamp=stamp)
            name = f"{one.registration}_{side.upper()}_{MadeKind.BALANCE}_{paper.words}.pdf"
            yield MadeFile(
                name, MadeKind.BALANCE, side, true_size=False, written=Written.PDF, content=content
            )
