"""Solid rivets: diameters, heads, holes, and what may take the place of what."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hatchwright.errors import TableError
from hatchwright.tables.catalog import (
    RIVET_DIAMETERS,
    RIVET_HEAD_SIZES,
    RIVET_HOLE_DRILLS,
    RIVET_HOLE_RANGES,
    RIVET_SUBSTITUTIONS,
)
from hatchwright.tables.cited import Cited
from hatchwright.tables.drills import Drill, drill
from hatchwright.tables.limits import limit
from hatchwright.tables.rivet_part import (
    RivetAlloy,
    RivetHead,
    RivetPart,
    parse_rivet,
    rivet_alloys,
    rivet_heads,
)
from hatchwright.tables.table import Row, ShopTables, Table
from hatchwright.workings import Grade, Source

__all__ = [
    "HeadSize",
    "HoleRange",
    "RivetAlloy",
    "RivetHead",
    "RivetPart",
    "Substitution",
    "grip_of",
    "head_size",
    "hole_drill",
    "hole_drills",
    "hole_range",
    "next_rivet_diameter",
    "parse_rivet",
    "rivet_alloys",
    "rivet_diameters",
    "rivet_heads",
    "substitution",
]

_SAME_IN = 1e-6


@dataclass(frozen=True, slots=True)
class HeadSize:
    """The manufactured head of one size.

    Args:
        head_in: diameter across the head [in].
        head_tolerance_in: plus and minus on it, None when not given [in].
        height_in: height; for a countersunk head the depth of its cone [in].
        source: where it stands.
        grade: how far it is to be trusted.
    """

    head_in: float
    head_tolerance_in: float | None
    height_in: float
    source: Source
    grade: Grade


@dataclass(frozen=True, slots=True)
class HoleRange:
    """Least and greatest finished hole for one rivet size [in]."""

    least_in: float
    greatest_in: float
    source: Source
    grade: Grade


@dataclass(frozen=True, slots=True)
class Substitution:
    """A rivet that may take the place of another.

    Args:
        letters: alloy letters of the substitute.
        diameter_in: its diameter [in].
        source: the paragraph that allows it.
        grade: how far that is to be trusted.
    """

    letters: str
    diameter_in: float
    source: Source
    grade: Grade


def rivet_diameters() -> tuple[Cited, ...]:
    """The standard diameters, smallest first [in]."""
    return tuple(
        Cited(row.number("diameter_in"), "in", row.source, row.grade) for row in RIVET_DIAMETERS.rows()
    )


def next_rivet_diameter(diameter_in: float, *, above: bool = False) -> Cited:
    """The standard rivet diameter at a diameter or next above it.

    Args:
        diameter_in: wanted diameter, such as three times the thickest sheet [in].
        above: whether a diameter that is itself standard is passed over, as for the next oversize.
    Returns:
        Cited: standard diameter [in].
    Raises:
        TableError: no standard rivet is that large.

    >>> next_rivet_diameter(0.096).value, next_rivet_diameter(0.125, above=True).value
    (0.125, 0.15625)
    """
    least_in = diameter_in + _SAME_IN if above else diameter_in - _SAME_IN
    for one in rivet_diameters():
        if one.value >= least_in:
            return one
    largest_in = rivet_diameters()[-1].value
    raise TableError(
        f"no standard rivet is as large as {diameter_in:.4f} in"
        if not above
        else "there is no larger standard rivet",
        where="rivet diameters",
        remedy=f"Standard rivets end at {largest_in:g} in; choose a bolt or ask the holder of the data",
    )


def head_size(part: RivetPart, shop: ShopTables | None = None) -> HeadSize:
    """Size of a rivet's manufactured head.

    Args:
        part: the rivet; an older family is read as the one that replaced it.
        shop: a shop's own rows, when there are any.
    Returns:
        HeadSize: diameter, tolerance and height.
    Raises:
        TableError: the tables hold no head of that family and size.
    """
    family = part.head.replaced_by or part.family
    rows = tuple(row for row in RIVET_HEAD_SIZES.rows(shop) if row.text("family") == family)
    row = _row_of(RIVET_HEAD_SIZES, rows, part.diameter_in, what=f"no head size of {family}")
    return HeadSize(
        row.number("head_in"),
        row.number_or_none("head_tolerance_in"),
        row.number("height_in"),
        row.source,
        row.grade,
    )


def hole_drill(diameter_in: float, *, use: str = "usual", shop: ShopTables | None = None) -> Drill:
    """The final drill for a rivet.

    Args:
        diameter_in: nominal rivet diameter [in].
        use: "usual" (trade), "strength basis" (hole of the strength tables), "alternative" or "1940s".
        shop: a shop's own rows, when there are any.
    Returns:
        Drill: with the source and grade of the pairing of rivet and drill.
    Raises:
        TableError: no drill of that use is listed for the diameter.

    >>> hole_drill(0.125).name, hole_drill(0.09375, use="strength basis").name
    ('30', '41')
    """
    rows = tuple(row for row in RIVET_HOLE_DRILLS.rows(shop) if row.text("use") == use)
    return _paired(_row_of(RIVET_HOLE_DRILLS, rows, diameter_in, what=f"no '{use}' drill"))


def hole_drills(diameter_in: float, shop: ShopTables | None = None) -> dict[str, Drill]:
    """All final drills listed for a rivet, by use, side by side.

    Args:
        diameter_in: nominal rivet diameter [in].
        shop: a shop's own rows, when there are any.
    Returns:
        dict[str, Drill]: drill by use; empty when the diameter is not listed.
    """
    return {
        row.text("use"): _paired(row)
        for row in RIVET_HOLE_DRILLS.rows(shop)
        if row.is_size("diameter_in", diameter_in)
    }


def hole_range(diameter_in: float, shop: ShopTables | None = None) -> HoleRange:
    """Least and greatest finished hole for a rivet.

    Args:
        diameter_in: nominal rivet diameter [in].
        shop: a shop's own rows, when there are any.
    Returns:
        HoleRange: both limits.
    Raises:
        TableError: the diameter is not listed.

    >>> found = hole_range(0.125)
    >>> found.least_in, found.greatest_in
    (0.125, 0.135)
    """
    row = _row_of(RIVET_HOLE_RANGES, RIVET_HOLE_RANGES.rows(shop), diameter_in, what="no hole range")
    return HoleRange(row.number("hole_min_in"), row.number("hole_max_in"), row.source, row.grade)


def grip_of(part: RivetPart, shop: ShopTables | None = None) -> Cited:
    """The grip that a rivet's length is meant for, by the formula that lengths are chosen with.

    Args:
        part: the rivet, with its length.
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: length less the allowance for the shop head [in].
    Raises:
        TableError: the length is open, or too short for any grip.
    Source: [NAVEDTRA-14018], ch. 13, rivet selection rule 8.

    >>> grip_of(parse_rivet("MS20470AD4-4")).value
    0.0625
    """
    allowance = limit("upset_allowance", shop)
    grip_in = (part.length_in or 0.0) - allowance.value * part.diameter_in
    if grip_in <= 0.0:
        what = "has no length" if part.length_in is None else "is too short for any grip"
        raise TableError(f"{part} {what}", where="rivets", remedy="Give a longer length, such as -4")
    note = f"length - {allowance.value:g} {allowance.unit}"
    return Cited(grip_in, "in", allowance.source, allowance.grade, note)


def substitution(letters: str, *, diameter_in: float) -> Substitution:
    """What may take the place of a rivet that has to be kept cold or cannot be had.

    Args:
        letters: alloy letters of the original, "D" or "DD".
        diameter_in: diameter of the original [in].
    Returns:
        Substitution: alloy letters and diameter.
    Raises:
        TableError: the circular allows no substitution for that rivet.
    Source: [AC43.13-1B], par. 4-57b.

    >>> substitution("D", diameter_in=0.15625).diameter_in
    0.1875
    """
    for row in RIVET_SUBSTITUTIONS.rows():
        if row.text("letters") == letters and diameter_in <= row.number("largest_in") + _SAME_IN:
            larger_in = diameter_in + row.number("increase_in")
            return Substitution(row.text("replacement"), larger_in, row.source, row.grade)
    raise TableError(
        f"no substitution is published for a {letters} rivet of {diameter_in:g} in",
        where="rivet substitutions",
        remedy="AD 1/32 larger may replace D up to 3/16 and DD up to 5/32; otherwise keep the original",
    )


def _row_of(table: Table, rows: tuple[Row, ...], diameter_in: float, *, what: str) -> Row:
    for row in rows:
        if row.is_size("diameter_in", diameter_in):
            return row
    listed = (
        ", ".join(f"{size_in:g}" for size_in in sorted(row.number("diameter_in") for row in rows)) or "none"
    )
    raise TableError(
        f"{what} is listed for a rivet of {diameter_in:.4f} in",
        where=table.about,
        remedy=f"Listed diameters: {listed}",
    )


def _paired(row: Row) -> Drill:
    return replace(drill(row.text("drill")), source=row.source, grade=row.grade)
