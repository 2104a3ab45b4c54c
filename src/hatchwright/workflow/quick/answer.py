"""A quick answer: what is asked, and what it says: judgements, numbers with their working, and what it leaves open."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import HatchwrightError, JobError
from hatchwright.finding import Finding
from hatchwright.job.entry import Entered
from hatchwright.judged import Status, worst_of
from hatchwright.said import Said, Value, said
from hatchwright.shapes.profile import Loop
from hatchwright.tables.cited import Cited
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.workings import Grade, Quantity, Rests, Source, Working


class Bench(Struct, frozen=True):
    """What every answer is worked out in: the unit of bare lengths, and the shop's own rows, None without."""

    unit: Unit = "in"
    shop: ShopTables | None = None

    def limit(self, key: str) -> Cited:
        """One limit of the tables; see `tables.limits.limit`."""
        return limit(key, self.shop)


class Told(Struct, frozen=True):
    """One number of an answer: what it is, the number, and how it came about, at least one working of each."""

    what: Said
    value: Value
    working: tuple[Working, ...]


class TrueSize(Struct, frozen=True):
    """Outlines to print at true size, about one center.

    Args:
        outlines: what each is called, and the outline [in].
        notes: what to do with them.
    """

    outlines: tuple[tuple[Said, Loop], ...]
    notes: tuple[Said, ...]


class Answer(Struct, frozen=True):
    """What an answer says.

    Args:
        findings: what was judged.
        told: the numbers, the one that was asked for first.
        open: what was not asked or not entered, and is to be looked at all the same.
        drawn: what is printed at true size, None where nothing is.
    """

    findings: tuple[Finding, ...]
    told: tuple[Told, ...]
    open: tuple[Said, ...]
    drawn: TrueSize | None = None

    @property
    def worst(self) -> Status:
        """The worst that was judged; pass where nothing was."""
        return worst_of(finding.status for finding in self.findings)


class Quick(Struct, frozen=True):
    """One quick answer.

    Args:
        name: as the command and the page's address call it.
        asks: its entries.
        work_out: what makes the answer of them.
    """

    name: str
    asks: type[Entered]
    work_out: Callable[[Any, Bench], Answer]

    @property
    def title(self) -> Said:
        """The question, as one asks it."""
        return said(f"quick.{self.name}.title")

    @property
    def about(self) -> Said:
        """What it answers, in a sentence."""
        return said(f"quick.{self.name}.about")


@contextmanager
def at(entry: str) -> Iterator[None]:
    """Put whatever goes wrong within at one entry."""
    try:
        yield
    except HatchwrightError as error:
        raise JobError((replace(error.as_fault(entry), field=entry),)) from None


def told(id: str, value: Value, *working: Working, **holes: Value) -> Told:
    """One number of an answer, called by a sentence of the catalog."""
    return Told(said(f"quick.{id}", **holes), value, working)


def entered(symbol: str, value: float, unit: str) -> Working:
    """The working of what was only entered."""
    quantity = Quantity(symbol, value, unit)
    return Working(f"{symbol} as entered", (), quantity, Source("PRACTICE", "as entered"), Grade.SHOP)


def listed(rests: Rests, symbol: str, value: float, unit: str = "in") -> Working:
    """The working of what stands in a table."""
    return Working.resting_on(rests, f"{symbol} as listed", Quantity(symbol, value, unit))
