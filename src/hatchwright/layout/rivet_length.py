"""Length of a rivet for its grip, and the shop head that a length would make."""

from __future__ import annotations

import math

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.tables.rivet_part import RivetPart

HEAD_HEIGHT_RATIO = 0.5
"""Height to which a shop head is driven, in rivet diameters [-]. Source: [AC43.13-1B], par. 4-57."""


class ShopHead(Struct, frozen=True):
    """The shop head that one length makes.

    Args:
        rivet: with its length.
        length_in: that length [in].
        protrusion_in: shank standing out of the stack before driving [in].
        diameter_in: of the head when it is driven to half a rivet diameter high, hole filled [in].
    """

    rivet: RivetPart
    length_in: float
    protrusion_in: float
    diameter_in: float


class RivetLength(Struct, frozen=True):
    """The calculated length and the stock lengths round it, since documents differ on how to round.

    Args:
        grip_in: thickness of the stack [in].
        calculated_in: grip + allowance [in].
        nearest: the nearest whole step of the length, a sixteenth or a millimeter.
        next_half: the first that is made not below the calculated length: half sixteenths, whole millimeters.
        next_up: the first whole step not below it.
    """

    grip_in: float
    calculated_in: float
    nearest: ShopHead
    next_half: ShopHead
    next_up: ShopHead

    @property
    def candidates(self) -> tuple[ShopHead, ...]:
        """The different lengths among the three, shortest first."""
        by_length = {head.length_in: head for head in (self.nearest, self.next_half, self.next_up)}
        return tuple(by_length[length_in] for length_in in sorted(by_length))


def shop_head(rivet: RivetPart, length: float, *, grip_in: float, hole_in: float) -> ShopHead:
    """Predict the shop head from the volume of the protruding shank.

    Args:
        length: of the rivet, in steps of its series [1/16 in or mm].
        grip_in: thickness of the stack [in].
        hole_in: hole diameter; the shank swells to fill it [in].
    Returns:
        ShopHead: with its diameter at half a rivet diameter high; 0 when the shank does not reach through.
    Method: volume of the protruding shank less what fills the hole = volume of a flat round head.

    >>> round(shop_head(RivetPart("MS20470", "AD", 4), 4, grip_in=0.072, hole_in=0.1285).diameter_in / 0.125, 2)
    1.67
    """
    length_in, diameter_in = length * rivet.series.length_step_in, rivet.diameter_in
    volume = diameter_in**2 * (length_in - grip_in) - (hole_in**2 - diameter_in**2) * grip_in
    head_in = math.sqrt(max(volume, 0.0) / (HEAD_HEIGHT_RATIO * diameter_in))
    return ShopHead(replace(rivet, length=length), length_in, length_in - grip_in, head_in)


def rivet_length(rivet: RivetPart, *, grip_in: float, hole_in: float, allowance_ratio: float) -> RivetLength:
    """The rivet lengths for a grip, each with the shop head that it would make.

    Args:
        grip_in: thickness of the stack [in].
        allowance_ratio: shank for the shop head over the diameter [-].
    """
    series = rivet.series
    calculated_in = grip_in + allowance_ratio * rivet.diameter_in
    steps = calculated_in / series.length_step_in

    def head(length: float) -> ShopHead:
        return shop_head(rivet, length, grip_in=grip_in, hole_in=hole_in)

    return RivetLength(
        grip_in=grip_in,
        calculated_in=calculated_in,
        nearest=head(max(1, math.floor(steps + 0.5))),
        next_half=head(math.ceil(series.parts * steps - 1e-9) / series.parts),
        next_up=head(math.ceil(steps - 1e-9)),
    )
