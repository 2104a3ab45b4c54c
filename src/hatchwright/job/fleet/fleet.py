"""The fleet file as a whole; `NAME.fleet` beside the jobs."""

from collections.abc import Iterator
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from hatchwright.errors import Fault
from hatchwright.job.entered_file import EnteredFile
from hatchwright.job.entry import Entered, matching
from hatchwright.job.fleet.mandates import FleetMandate
from hatchwright.job.fleet.sound_mandates import mandate_faults
from hatchwright.job.fleet.times import AircraftTimes
from hatchwright.job.fleet.weight import AircraftWeight
from hatchwright.said import Said, said

SUFFIX = ".fleet"

Registration = Annotated[
    str,
    matching(
        r"[A-Za-z0-9][A-Za-z0-9-]{0,19}", said("fleet.no_registration"), said("fleet.no_registration.do")
    ),
]


class Line(Entered):
    """One side of one aircraft: a job of its own."""

    side: Literal["left", "right"]
    job: str = Field(default="", max_length=120)


class FleetAircraft(AircraftTimes):
    """One aircraft of the fleet."""

    registration: Registration
    serial: str = Field(min_length=1, max_length=80)
    weight: AircraftWeight | None = None
    lines: tuple[Line, ...] = Field(default=(), max_length=20)


class Fleet(EnteredFile):
    """All that one fleet file holds."""

    MANUAL: ClassVar[Said | str] = "docs/fleet-file.md"

    title: str = Field(min_length=1, max_length=200)
    units: Literal["in", "mm"] = "in"
    pattern: str = Field(default="", max_length=120)
    mandates: tuple[FleetMandate, ...] = Field(default=(), max_length=200)
    aircraft: tuple[FleetAircraft, ...] = Field(default=(), max_length=500)

    def impossible(self) -> Iterator[Fault]:
        """What cannot be together, looked for once every key is read."""
        yield from mandate_faults(self.mandates, self.aircraft)
