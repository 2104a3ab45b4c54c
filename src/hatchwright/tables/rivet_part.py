"""Solid-rivet part numbers: family, alloy letters, diameter in 32nds, length in 16ths."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache, lru_cache

from hatchwright.errors import EntryError
from hatchwright.said import Listed, said
from hatchwright.tables.columns import OptionalText
from hatchwright.tables.table import Record, Table

DIAMETERS_32NDS = (2, 3, 4, 5, 6, 8, 10, 12)
"""Dash numbers in which solid rivets are made [1/32 in]."""

LARGEST_RIVET_IN = DIAMETERS_32NDS[-1] / 32
"""As far as a rivet that no table lists is looked after, since it may be as large as any [in]."""

LONGEST_16THS = 64.0
"""A rivet longer than this is a misread number [1/16 in]."""

_PART = re.compile(
    r"(?P<family>[A-Z]{2,3}\d{3,5}?)[\s-]*(?P<letters>[A-Z]{1,2})[\s-]*(?P<diameter>\d{1,2})"
    r"(?:\s*-\s*(?P<length>\d{1,2}(?:\.\d)?))?"
)


@dataclass(frozen=True, slots=True)
class RivetHead(Record):
    """A family of solid rivets: its head and how its length is measured."""

    family: str
    head: str
    is_flush: bool
    length_measured: str
    replaced_by: OptionalText
    note: OptionalText


@dataclass(frozen=True, slots=True)
class RivetAlloy(Record):
    """The alloy behind the letters of a part number, and the mark on the head."""

    letters: str
    alloy: str
    head_mark: str
    note: OptionalText


RIVET_HEADS = Table(RivetHead, "rivet_heads", is_open=False)

RIVET_ALLOYS = Table(RivetAlloy, "rivet_alloys", is_open=False)


@dataclass(frozen=True, slots=True)
class RivetPart:
    """One solid rivet as its part number says.

    Args:
        family: such as "MS20470".
        letters: alloy letters, such as "AD".
        diameter_32nds: shank diameter [1/32 in].
        length_16ths: length, in half steps; None when the part number leaves it open [1/16 in].
    """

    family: str
    letters: str
    diameter_32nds: int
    length_16ths: float | None = None

    def __str__(self) -> str:
        length = "" if self.length_16ths is None else f"-{self.length_16ths:g}"
        return f"{self.family}{self.letters}{self.diameter_32nds}{length}"

    @property
    def diameter_in(self) -> float:
        """Nominal shank diameter [in]."""
        return self.diameter_32nds / 32

    @property
    def is_flush(self) -> bool:
        """Whether the head is countersunk."""
        return self.head.is_flush

    @property
    def head(self) -> RivetHead:
        """The family's head."""
        return rivet_heads()[self.family]

    @property
    def alloy(self) -> RivetAlloy:
        """The alloy of the letters."""
        return rivet_alloys()[self.letters]


@lru_cache(maxsize=512)
def parse_rivet(text: str) -> RivetPart:
    """Read a solid-rivet part number.

    Args:
        text: such as "MS20470AD4-4", "MS20426AD3-3.5" or, with the length left open, "MS20470AD4".
    Raises:
        EntryError: the text is no such part number, or names what is not made.
    Source: [FAA-CT-8080-8D], exhibit 1; half lengths [AC43.13-1B], par. 4-57a(4).

    >>> parse_rivet("MS20470AD4-3.5").length_16ths
    3.5
    """
    found, where = _PART.fullmatch(text.strip().upper()), repr(text[:40])
    if found is None:
        raise EntryError.saying("error.no_rivet", where=where)
    for name, known in (("family", rivet_heads()), ("letters", rivet_alloys())):
        if found[name] not in known:
            what = said(f"error.rivet_unknown.{name}", **{name: found[name]})
            raise EntryError(what, where=where, remedy=said("error.known", words=Listed(tuple(known), ",")))
    diameter_32nds = int(found["diameter"])
    if diameter_32nds not in DIAMETERS_32NDS:
        made = Listed(tuple(map(str, DIAMETERS_32NDS)), ",")
        size = f"{diameter_32nds}/32"
        raise EntryError.saying("error.rivet_diameter", where=where, size=size, made=made)
    length_16ths = float(found["length"]) if found["length"] else None
    if length_16ths is not None and (length_16ths * 2 % 1 or not 0 < length_16ths <= LONGEST_16THS):
        raise EntryError.saying("error.rivet_dash", where=where, length=found["length"])
    return RivetPart(found["family"], found["letters"], diameter_32nds, length_16ths)


@cache
def rivet_heads() -> dict[str, RivetHead]:
    """All families by name."""
    return {head.family: head for head in RIVET_HEADS.all()}


@cache
def rivet_alloys() -> dict[str, RivetAlloy]:
    """All alloys by the letters of the part number."""
    return {alloy.letters: alloy for alloy in RIVET_ALLOYS.all()}
