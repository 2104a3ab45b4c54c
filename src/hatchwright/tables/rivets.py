"""Solid rivets: diameters, heads, holes, and what may take the place of what."""

from __future__ import annotations

from functools import cache
from typing import Annotated, Literal

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.columns import Heading
from hatchwright.tables.drills import Drill, drill
from hatchwright.tables.rivet_part import RivetPart
from hatchwright.tables.table import Order, Record, ShopTables, Table
from hatchwright.units import Unit
from hatchwright.workings import Grade, Source


class _Diameter(Record, frozen=True):
    diameter_in: float
    unit: Unit


class HeadSize(Record, frozen=True):
    """The manufactured head of one size.

    Args:
        head_in: diameter across the head [in].
        head_tolerance_in: plus and minus on it, None when not given [in].
        height_in: height; for a countersunk head the depth of its cone [in].
    """

    family: str
    diameter_in: float
    head_in: float
    head_tolerance_in: float | None
    height_in: float


class _HoleDrill(Record, frozen=True):
    diameter_in: float
    use: Literal["usual", "alternative", "strength basis", "1940s"]
    drill: str

    @property
    def paired(self) -> Drill:
        """The drill, with the source and grade of the pairing of rivet and drill."""
        return replace(drill(self.drill), source=self.source, grade=self.grade)


class HoleRange(Record, frozen=True):
    """Least and greatest finished hole for one rivet size [in]."""

    diameter_in: float
    least_in: Annotated[float, Heading("hole_min_in")]
    greatest_in: Annotated[float, Heading("hole_max_in")]


class _Replacement(Record, frozen=True):
    letters: str
    replacement: str
    largest_in: float
    increase_in: float


RIVET_DIAMETERS = Table(
    _Diameter, "rivet_diameters", is_open=False, otherwise=True, asks=("unit", "diameter_in")
)

RIVET_HEAD_SIZES = Table(
    HeadSize,
    "rivet_head_sizes",
    named_by=2,
    orders=(Order("head_in", along="diameter_in"), Order("height_in", along="diameter_in")),
    asks=("family", "diameter_in"),
)

RIVET_HOLE_DRILLS = Table(_HoleDrill, "rivet_hole_drills", named_by=2, asks=("diameter_in", "use"))

RIVET_HOLE_RANGES = Table(
    HoleRange,
    "rivet_hole_ranges",
    orders=(Order("hole_min_in", along="diameter_in"), Order("hole_max_in", along="diameter_in")),
    asks=("diameter_in",),
)

RIVET_SUBSTITUTIONS = Table(_Replacement, "rivet_substitutions", named_by=2, is_open=False, otherwise=True)


class Substitution(Struct, frozen=True):
    """A rivet that may take the place of another."""

    letters: str
    diameter_in: float
    source: Source
    grade: Grade


@cache
def rivet_diameters(unit: Unit = "in") -> tuple[Cited, ...]:
    """The standard diameters of the rivets that go by inches or by millimeters, smallest first [in]."""
    return tuple(row.cited("diameter_in") for row in RIVET_DIAMETERS.some(unit=unit))


def next_rivet_diameter(diameter_in: float, unit: Unit = "in", *, above: bool = False) -> Cited:
    """The standard rivet diameter at a diameter or next above it [in].

    Args:
        unit: what the rivet is sized in.
        above: whether a diameter that is itself standard is passed over, as for the next oversize.
    Raises:
        TableError: no standard rivet is that large.

    >>> next_rivet_diameter(0.096).value, next_rivet_diameter(0.125, above=True).value
    (0.125, 0.15625)
    """
    return RIVET_DIAMETERS.at_least("diameter_in", diameter_in, above=above, unit=unit).cited("diameter_in")


def head_size(part: RivetPart, shop: ShopTables | None = None) -> HeadSize:
    """Size of a rivet's manufactured head; an older family is read as the one that replaced it.

    Raises:
        TableError: the tables hold no head of that family and size.
    """
    family = part.head.replaced_by or part.family
    return RIVET_HEAD_SIZES.one(shop, family=family, diameter_in=part.diameter_in)


def hole_drill(diameter_in: float, *, use: str = "usual", shop: ShopTables | None = None) -> Drill:
    """The final drill for a rivet, with the source and grade of the pairing of rivet and drill.

    Args:
        use: "usual" (trade), "strength basis" (hole of the strength tables), "alternative" or "1940s".
    Raises:
        TableError: no drill of that use is listed for the diameter.

    >>> hole_drill(0.125).name, hole_drill(0.09375, use="strength basis").name
    ('30', '41')
    """
    return RIVET_HOLE_DRILLS.one(shop, use=use, diameter_in=diameter_in).paired


def hole_range(diameter_in: float, shop: ShopTables | None = None) -> HoleRange:
    """Least and greatest finished hole for a rivet of a nominal diameter.

    Raises:
        TableError: the diameter is not listed.

    >>> found = hole_range(0.125)
    >>> found.least_in, found.greatest_in
    (0.125, 0.135)
    """
    return RIVET_HOLE_RANGES.one(shop, diameter_in=diameter_in)


def substitution(letters: str, *, diameter_in: float) -> Substitution:
    """What may take the place of a rivet that has to be kept cold or cannot be had.

    Args:
        letters: alloy letters of the original, "D" or "DD".
    Raises:
        TableError: the circular allows no substitution for that rivet.
    Source: [AC43.13-1B], par. 4-57b.

    >>> substitution("D", diameter_in=0.15625).diameter_in
    0.1875
    """
    for row in RIVET_SUBSTITUTIONS.all(letters=letters):
        if diameter_in <= row.largest_in + FLOAT_NOISE:
            return Substitution(row.replacement, diameter_in + row.increase_in, row.source, row.grade)
    listed = [
        said("table.up_to", letters=row.letters, largest=inch(row.largest_in, fine=True))
        for row in RIVET_SUBSTITUTIONS.all()
    ]
    asked = said("table.rivets_of", letters=letters, diameter=inch(diameter_in))
    raise RIVET_SUBSTITUTIONS.refusal(asked, listed)
