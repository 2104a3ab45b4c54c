"""The fleet file as a whole; `NAME.fleet` beside the jobs."""

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from hatchwright.job.entered_file import EnteredFile
from hatchwright.job.entry import Entered, matching
from hatchwright.job.fleet.mandates import FleetMandate
from hatchwright.job.fleet.times import Done, Reading
from hatchwright.job.fleet.weight import AircraftWeight, FleetBalance
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


class FleetAircraft(Entered):
    """One aircraft of the fleet."""

    registration: Registration
    serial: str = Field(min_length=1, max_length=80)
    readings: tuple[Reading, ...] = Field(default=(), max_length=1000)
    done: tuple[Done, ...] = Field(default=(), max_length=1000)
    weight: AircraftWeight | None = None
    lines: tuple[Line, ...] = Field(default=(), max_length=20)


class Fleet(EnteredFile):
    """All that one fleet file holds."""

    MANUAL: ClassVar[Said | str] = "docs/fleet-file.md"

    title: str = Field(min_length=1, max_length=200)
    units: Literal["in", "mm"] = "in"
    pattern: str = Field(default="", max_length=120)
    balance: FleetBalance | None = None
    mandates: tuple[FleetMandate, ...] = Field(default=(), max_length=200)
    aircraft: tuple[FleetAircraft, ...] = Field(default=(), max_length=500)
