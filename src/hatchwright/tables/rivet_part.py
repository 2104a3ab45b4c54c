"""Solid rivets by part number, in 32nds and 16ths of an inch, or by size, head and alloy, in millimeters."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import EntryError
from hatchwright.said import Listed, said
from hatchwright.tables.columns import OptionalText
from hatchwright.tables.table import Record, Table
from hatchwright.units import MM_PER_IN, Unit


class Series(Struct, frozen=True):
    """The sizes in which rivets are made.

    Args:
        diameter_step_in: what a diameter is counted in [in].
        length_step_in: what a length is counted in [in].
        parts: into how many parts a step of the length is divided.
        diameters: shanks that are made [steps].
        longest: a rivet longer than this is a misread number [steps].
    """

    diameter_step_in: float
    length_step_in: float
    parts: int
    diameters: tuple[float, ...]
    longest: float

    def made(self, length: float) -> bool:
        """Whether rivets come in a length [steps]."""
        return 0 < length <= self.longest and not length * self.parts % 1


SERIES: dict[Unit, Series] = {
    "in": Series(1 / 32, 1 / 16, 2, (2, 3, 4, 5, 6, 8, 10, 12), 64),
    "mm": Series(1 / MM_PER_IN, 1 / MM_PER_IN, 1, (1.6, 2.4, 3.2, 4.0, 4.8, 5.6, 6.4), 100),
}
"""Dash numbers: [FAA-CT-8080-8D], exhibit 1, and half lengths [AC43.13-1B], par. 4-57a(4); from memory: diameters of
1/16, 5/16 and 3/8, and all of the metric ones."""

LARGEST_RIVET_IN = max(one.diameters[-1] * one.diameter_step_in for one in SERIES.values())
"""As far as a rivet that no table lists is looked after, since it may be as large as any [in]."""

_PART = re.compile(
    r"(?P<family>[A-Z]{2,3}\d{3,5}?)[\s-]*(?P<letters>[A-Z]{1,2})[\s-]*(?P<diameter>\d{1,2})"
    r"(?:\s*-\s*(?P<length>\d{1,2}(?:\.\d)?))?"
)

_METRIC = re.compile(
    r"(?P<diameter>\d(?:[.,]\d)?)(?:\s*X\s*(?P<length>\d{1,3}(?:[.,]\d)?))?\s*MM\s+(?P<family>[A-Z]+)\s+"
    r"(?P<alloy>\d{4})(?:-T\d)?"
)


class RivetHead(Record, frozen=True):
    """A family of solid rivets: its head and how its length is measured."""

    family: str
    unit: Unit
    head: str
    is_flush: bool
    length_measured: str
    replaced_by: OptionalText
    note: OptionalText

    @property
    def is_reduced(self) -> bool:
        """Whether it is smaller than other heads of its shank: what is listed by the shank is not for it."""
        return "reduced" in self.head


class RivetAlloy(Record, frozen=True):
    """The alloy behind the letters of a part number, and the mark on the head."""

    letters: str
    alloy: str
    head_mark: str
    note: OptionalText


RIVET_HEADS = Table(RivetHead, "rivet_heads", is_open=False)

RIVET_ALLOYS = Table(RivetAlloy, "rivet_alloys", is_open=False)


class RivetPart(Struct, frozen=True):
    """One solid rivet as its part number says, or as it is called where it goes by millimeters.

    Args:
        family: such as "MS20470", or "UNIVERSAL" of a metric one.
        letters: alloy letters, such as "AD".
        diameter: of the shank, counted as its series is [1/32 in or mm].
        length: counted so too; None when it is left open [1/16 in or mm].
    """

    family: str
    letters: str
    diameter: float
    length: float | None = None

    def __str__(self) -> str:
        if self.unit == "mm":
            length = "" if self.length is None else f" x {self.length:g}"
            alloy = self.alloy.alloy.partition("-")[0]
            return f"{self.diameter:g}{length} mm {self.family.lower()} {alloy}"
        return f"{self.family}{self.letters}{self.diameter:g}{self.length_called}"

    @property
    def length_called(self) -> str:
        """Its length as one names it, "-4" or "8 mm"; "" when it is left open."""
        if self.length is None:
            return ""
        return f"{self.length:g} mm" if self.unit == "mm" else f"-{self.length:g}"

    @property
    def unit(self) -> Unit:
        """What it is sized in."""
        return self.head.unit

    @property
    def series(self) -> Series:
        """The sizes of its kind."""
        return SERIES[self.unit]

    @property
    def diameter_in(self) -> float:
        """Nominal shank diameter [in]."""
        return self.diameter * self.series.diameter_step_in

    def of_diameter(self, diameter_in: float) -> RivetPart:
        """The same rivet of another nominal diameter [in]."""
        return replace(self, diameter=round(diameter_in / self.series.diameter_step_in, 3))

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
    """Read a solid rivet.

    Args:
        text: such as "MS20470AD4-4", "MS20426AD3-3.5", "3.2 x 8 mm universal 2117" or, with the length left open,
            "MS20470AD4", "3.2 mm universal 2117".
    Raises:
        EntryError: the text names no rivet, or one that is not made.
    Source: [FAA-CT-8080-8D], exhibit 1; half lengths [AC43.13-1B], par. 4-57a(4); the metric ones have no part number
        of their own here, since none was found.

    >>> parse_rivet("MS20470AD4-3.5").length, str(parse_rivet("3,2x8mm Universal 2117-T4"))
    (3.5, '3.2 x 8 mm universal 2117')
    """
    asked, where = text.strip().upper(), repr(text[:40])
    found = _PART.fullmatch(asked) or _METRIC.fullmatch(asked)
    if found is None:
        raise EntryError.saying("error.no_rivet", where=where)
    named = found.groupdict()
    unit: Unit = "mm" if "alloy" in named else "in"
    families = {name: head for name, head in rivet_heads().items() if head.unit == unit}
    alloys = {one.alloy.partition("-")[0]: letters for letters, one in rivet_alloys().items() if unit == "mm"}
    for name, known in (("family", families), ("letters", rivet_alloys()), ("alloy", alloys)):
        if name in named and named[name] not in known:
            what = said(f"error.rivet_unknown.{name}", **{name: named[name]})
            raise EntryError(what, where=where, remedy=said("error.known", words=Listed(tuple(known), ",")))
    letters = alloys[named["alloy"]] if unit == "mm" else named["letters"]
    series, diameter = SERIES[unit], float(named["diameter"].replace(",", "."))
    if diameter not in series.diameters:
        made = Listed(tuple(f"{one:g}" for one in series.diameters), ",")
        size = f"{diameter:g} mm" if unit == "mm" else f"{diameter:g}/32 in"
        raise EntryError.saying(f"error.rivet_diameter.{unit}", where=where, size=size, made=made)
    length = float(named["length"].replace(",", ".")) if named["length"] else None
    if length is not None and not series.made(length):
        raise EntryError.saying(f"error.rivet_length.{unit}", where=where, length=named["length"])
    return RivetPart(named["family"], letters, diameter, length)


@cache
def rivet_heads() -> dict[str, RivetHead]:
    """All families by name."""
    return {head.family: head for head in RIVET_HEADS.all()}


@cache
def rivet_alloys() -> dict[str, RivetAlloy]:
    """All alloys by the letters of the part number."""
    return {alloy.letters: alloy for alloy in RIVET_ALLOYS.all()}
