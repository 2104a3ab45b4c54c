"""What can't be together in the aircraft of a fleet, their lines and the stock."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Protocol

from hatchwright.errors import Fault
from hatchwright.job.fleet.line import Line, Stock


class _Aircraft(Protocol):
    @property
    def registration(self) -> str: ...
    @property
    def serial(self) -> str: ...
    @property
    def lines(self) -> tuple[Line, ...]: ...


def line_faults(
    aircraft: Sequence[_Aircraft], pattern: str | None, stock: Sequence[Stock]
) -> Iterator[Fault]:
    """A registration, a serial, a side, a job or a part number that stands twice; the pattern as a line of its own."""
    registrations = Counter(one.registration.upper() for one in aircraft)
    serials = Counter(one.serial.strip().upper() for one in aircraft)
    jobs = Counter(line.job for one in aircraft for line in one.lines if line.job)
    for at, one in enumerate(aircraft):
        if registrations[one.registration.upper()] > 1:
            yield Fault.saying(f"aircraft.{at}.registration", "fleet.registration_twice", one.registration)
        if serials[one.serial.strip().upper()] > 1:
            yield Fault.saying(f"aircraft.{at}.serial", "fleet.serial_twice", one.serial)
        sides = Counter(line.side for line in one.lines)
        for number, line in enumerate(one.lines):
            place = f"aircraft.{at}.lines.{number}"
            if sides[line.side] > 1:
                yield Fault.saying(f"{place}.side", "fleet.side_twice", line.side)
            if line.job and jobs[line.job] > 1:
                yield Fault.saying(f"{place}.job", "fleet.job_twice", line.job)
            if line.job and line.job == pattern:
                yield Fault.saying(f"{place}.job", "fleet.pattern_as_line", line.job)
    numbers = Counter(one.number.strip().upper() for one in stock)
    for at, part in enumerate(stock):
        if numbers[part.number.strip().upper()] > 1:
            yield Fault.saying(f"stock.{at}.number", "fleet.stock_twice", part.number)
