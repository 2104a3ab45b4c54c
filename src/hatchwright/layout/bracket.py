"""The flat pattern of a bent bracket: setback, flats and bend allowance, and how long the blank is."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.job.mount import Bracket
from hatchwright.tables.bends import bend_allowances, setback
from hatchwright.tables.cited import Cited
from hatchwright.tables.table import ShopTables


class BracketFlat(Struct, frozen=True):
    """A bracket before it is bent.

    Args:
        setback: from a mould line to the tangent line beside it [in].
        flats_in: what stays flat of each leg, in their order [in].
        allowances: sheet that one bend takes up, by each document, the one that was seen first [in].
    """

    setback: Cited
    flats_in: tuple[float, ...]
    allowances: tuple[Cited, ...]

    @property
    def developed_in(self) -> tuple[float, ...]:
        """Width of the blank by each document, in the order of the allowances [in]."""
        return tuple(sum(self.flats_in) + (len(self.flats_in) - 1) * one.value for one in self.allowances)


def bracket_flat(bracket: Bracket, shop: ShopTables | None = None) -> BracketFlat:
    """Lay a bracket out flat.

    Method: each leg, which is told to the mould lines, less the setback of every bend beside it, so that a flat is
        negative where a leg is narrower than its setbacks; between two flats lies one bend allowance.
    Source: [AC43.13-1B], page 4-14, for the setback; [NAVEDTRA-14018] and [FAA-H-8083-31] for the allowance.
    """
    radius_in, thickness_in = bracket.radius.inch, bracket.thickness.inch
    back = setback(bend_deg=bracket.angle, radius_in=radius_in, thickness_in=thickness_in)
    last = len(bracket.legs) - 1
    return BracketFlat(
        setback=back,
        flats_in=tuple(
            leg.inch - (1 if at in (0, last) else 2) * back.value for at, leg in enumerate(bracket.legs)
        ),
        allowances=bend_allowances(
            bend_deg=bracket.angle, radius_in=radius_in, thickness_in=thickness_in, shop=shop
        ),
    )
