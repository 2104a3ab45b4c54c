"""The fleet file as a whole; `NAME.fleet` beside the jobs."""

from collections.abc import Iterator
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from hatchwright.errors import Fault
from hatchwright.job.entered_file import EnteredFile
from hatchwright.job.entry import matching
from hatchwright.job.fleet.line import JobFile, Line, Stock
from hatchwright.job.fleet.mandates import FleetMandate
from hatchwright.job.fleet.record_entries import RecordEntries
from hatchwright.job.fleet.sound_lines import line_faults
from hatchwright.job.fleet.sound_mandates import mandate_faults
from hatchwright.job.fleet.times import AircraftTimes
from hatchwright.job.fleet.weight import AircraftWeight, FleetBalance
from hatchwright.said import Said, said

SUFFIX = ".fleet"

REGISTRATION = r"[A-Za-z0-9][A-Za-z0-9-]{0,19}"
"""The form of a registration mark, which goes into file names."""

Registration = Annotated[
    str, matching(REGISTRATION, said("fleet.no_registration"), said("fleet.no_registration.do"))
]


class FleetAircraft(AircraftTimes):
    """One aircraft of the fleet."""

    registration: Registration
    serial: str = Field(min_length=1, max_length=80)
    weight: AircraftWeight | None = None
    records: RecordEntries | None = None
    lines: tuple[Line, ...] = Field(default=(), max_length=2)


class Fleet(EnteredFile):
    """All that one fleet file holds."""

    MANUAL: ClassVar[Said | str] = "docs/fleet-file.md"

    title: str = Field(min_length=1, max_length=200)
    units: Literal["in", "mm"] = "in"
    pattern: JobFile | None = None
    balance: FleetBalance | None = None
    records: RecordEntries | None = None
    stock: tuple[Stock, ...] = Field(default=(), max_length=1000)
    mandates: tuple[FleetMandate, ...] = Field(default=(), max_length=200)
    aircraft: tuple[FleetAircraft, ...] = Field(default=(), max_length=500)

    @property
    def lines(self) -> tuple[tuple[FleetAircraft, Line], ...]:
        """Each side that gets the opening, with its aircraft, in the order of the file."""
        return tuple((one, line) for one in self.aircraft for line in one.lines)

    def record_facts(self, aircraft: FleetAircraft) -> dict[str, str | bool]:
        """What is entered for the records of an aircraft; its own before that of the fleet."""
        entered = [one.facts for one in (self.records, aircraft.records) if one]
        return {name: value for facts in entered for name, value in facts.items()}

    def impossible(self) -> Iterator[Fault]:
        """What cannot be together, looked for once every key is read."""
        yield from line_faults(self.aircraft, self.pattern, self.stock)
        yield from mandate_faults(self.mandates, self.aircraft)
