"""Flush heads: how thin a sheet may be countersunk, how wide, and how far a dimple opens its hole."""

from __future__ import annotations

from math import radians, tan
from typing import Annotated, Literal

from msgspec.structs import replace

from hatchwright.tables.cited import Cited
from hatchwright.tables.columns import Heading, OptionalText
from hatchwright.tables.drills import drill
from hatchwright.tables.limits import limit
from hatchwright.tables.rivet_part import RivetPart
from hatchwright.tables.rivets import head_size
from hatchwright.tables.table import Order, Record, ShopTables, Table
from hatchwright.workings import Grade

FLUSH_SLOPE = tan(radians(50.0))
"""Of the side of a cone of 100 degrees, the head of flush rivets and screws: half its width to its height [-]."""


class CountersinkThreshold(Record, frozen=True):
    """One document's word on the thinnest sheet for a machine countersink [in]."""

    diameter_in: float
    document: str
    use: Literal["default", "other"]
    thickness_in: float
    note: OptionalText

    @property
    def thickness(self) -> Cited:
        """Thinnest sheet [in]."""
        return self.cited("thickness_in", self.note)


class CountersinkDiameter(Record, frozen=True):
    """Least and greatest diameter of the countersink for a flush rivet of a nominal diameter [in].

    Source: [TM-9-2320-363-34-2], table 3.
    """

    diameter_in: float
    least_in: Annotated[float, Heading("countersink_min_in")]
    greatest_in: Annotated[float, Heading("countersink_max_in")]


class _Spread(Record, frozen=True):
    drill: str
    opens_to: str


COUNTERSINK_THRESHOLDS = Table(
    CountersinkThreshold,
    "countersink_thresholds",
    named_by=2,
    orders=(Order("thickness_in", along="diameter_in", within=("use", "document")),),
    asks=("diameter_in",),
)

COUNTERSINK_DIAMETERS = Table(
    CountersinkDiameter,
    "countersink_diameters",
    orders=(
        Order("countersink_min_in", along="diameter_in"),
        Order("countersink_max_in", along="diameter_in"),
    ),
    asks=("diameter_in",),
)

DIMPLE_SPREAD = Table(_Spread, "dimple_spread", otherwise=True, asks=("drill",))


def countersink_thresholds(
    diameter_in: float, shop: ShopTables | None = None
) -> tuple[CountersinkThreshold, ...]:
    """What every document says of the thinnest sheet for a machine countersink, the default first.

    Of two defaults a published one comes before the shop's own, and that before one from memory.

    Raises:
        TableError: none is listed for the rivet's nominal diameter.
    """
    return tuple(
        sorted(
            COUNTERSINK_THRESHOLDS.some(shop, diameter_in=diameter_in),
            key=lambda one: (one.use != "default", one.grade is not Grade.PUBLISHED),
        )
    )


def countersink_minimum(diameter_in: float, shop: ShopTables | None = None) -> Cited:
    """The thinnest sheet for a machine countersink that a rule judges by [in].

    Raises:
        TableError: none is listed for the rivet's nominal diameter.
    Source: [TM-9-2320-363-34-2], table 4; its 1/4 in entry is less than the head is deep and is not used.

    >>> countersink_minimum(0.125).value
    0.05
    """
    return countersink_thresholds(diameter_in, shop)[0].thickness


def countersink_diameter(rivet: RivetPart, shop: ShopTables | None = None) -> CountersinkDiameter:
    """How wide the countersink for a flush rivet is; for a reduced head as wide as that is listed, with its tolerance.

    Raises:
        TableError: none is listed for it.
    """
    if not rivet.head.is_reduced:
        return COUNTERSINK_DIAMETERS.one(shop, diameter_in=rivet.diameter_in)
    head = head_size(rivet, shop)
    if head.head_tolerance_in is None:
        raise COUNTERSINK_DIAMETERS.refusal(str(rivet), ())
    ends = head.head_in - head.head_tolerance_in, head.head_in + head.head_tolerance_in
    return CountersinkDiameter(
        diameter_in=rivet.diameter_in,
        least_in=ends[0],
        greatest_in=ends[1],
        source=head.source,
        grade=head.grade,
    )


def under_dimple(top_in: float, shop: ShopTables | None = None) -> tuple[Cited, Cited]:
    """How much deeper and how much wider a sheet is countersunk that takes a dimple instead of the bare head [in].

    Args:
        top_in: thickness of the dimpled sheet [in].
    Method: cones of 100 degrees that nest, [GEOMETRY].

    >>> [round(one.value, 4) for one in under_dimple(0.032)]
    [0.0098, 0.0233]
    """
    deeper = limit("dimple_then_csk_extra_depth", shop)
    wider = limit("dimple_then_csk_extra_diameter", shop)
    return replace(deeper, value=deeper.value * top_in, unit="in"), replace(
        wider, value=wider.value * top_in, unit="in"
    )


def dimple_spread(drill_name: str, shop: ShopTables | None = None) -> Cited:
    """How large a drilled hole is after dimpling, with a note naming the drill that then passes [in].

    Raises:
        TableError: no spread is listed for the drill; measure it on a trial piece.

    >>> dimple_spread("40").value
    0.104
    """
    found = DIMPLE_SPREAD.one(shop, drill=drill_name.strip().removeprefix("#"))
    after = drill(found.opens_to)
    return Cited(after.diameter_in, "in", found.source, found.grade, f"passes drill {after}")
