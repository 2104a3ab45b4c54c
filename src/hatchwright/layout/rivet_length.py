"""Length of a rivet for its grip, and the shop head that a length would make."""

from __future__ import annotations

import math
from dataclasses import dataclass

STEP_IN = 1.0 / 16.0
"""Rivet lengths step by sixteenths, with half steps available [in]. Source: [AC43.13-1B], par. 4-57a(4)."""

HEAD_HEIGHT_RATIO = 0.5
"""Height to which a shop head is driven, in rivet diameters [-]. Source: [AC43.13-1B], par. 4-57."""


@dataclass(frozen=True, slots=True)
class ShopHead:
    """The shop head that one length makes.

    Args:
        dash: length in sixteenths, halves allowed [1/16 in].
        length_in: the same [in].
        protrusion_in: shank standing out of the stack before driving [in].
        diameter_in: of the head when it is driven to half a rivet diameter high, hole filled [in].
    """

    dash: float
    length_in: float
    protrusion_in: float
    diameter_in: float


@dataclass(frozen=True, slots=True)
class RivetLength:
    """The calculated length and the stock lengths round it, since documents differ on how to round.

    Args:
        grip_in: thickness of the stack [in].
        calculated_in: grip + allowance [in].
        nearest: the nearest sixteenth.
        next_half: the first half sixteenth not below the calculated length.
        next_up: the first sixteenth not below it.
    """

    grip_in: float
    calculated_in: float
    nearest: ShopHead
    next_half: ShopHead
    next_up: ShopHead

    @property
    def candidates(self) -> tuple[ShopHead, ...]:
        """The different lengths among the three, shortest first."""
        by_dash = {head.dash: head for head in (self.nearest, self.next_half, self.next_up)}
        return tuple(by_dash[dash] for dash in sorted(by_dash))


def shop_head(*, dash: float, grip_in: float, diameter_in: float, hole_in: float) -> ShopHead:
    """Predict the shop head from the volume of the protruding shank.

    Args:
        dash: rivet length in sixteenths [1/16 in].
        grip_in: thickness of the stack [in].
        hole_in: hole diameter; the shank swells to fill it [in].
    Returns:
        ShopHead: with its diameter at half a rivet diameter high; 0 when the shank does not reach through.
    Method: volume of the protruding shank less what fills the hole = volume of a flat round head.

    >>> round(shop_head(dash=4, grip_in=0.072, diameter_in=0.125, hole_in=0.1285).diameter_in / 0.125, 2)
    1.67
    """
    length_in = dash * STEP_IN
    volume = diameter_in**2 * (length_in - grip_in) - (hole_in**2 - diameter_in**2) * grip_in
    head_in = math.sqrt(max(volume, 0.0) / (HEAD_HEIGHT_RATIO * diameter_in))
    return ShopHead(dash, length_in, length_in - grip_in, head_in)


def rivet_length(
    *, grip_in: float, diameter_in: float, hole_in: float, allowance_ratio: float
) -> RivetLength:
    """The rivet lengths for a grip, each with the shop head that it would make.

    Args:
        grip_in: thickness of the stack [in].
        allowance_ratio: shank for the shop head over the diameter [-].
    """
    calculated_in = grip_in + allowance_ratio * diameter_in
    sixteenths = calculated_in / STEP_IN

    def head(dash: float) -> ShopHead:
        return shop_head(dash=dash, grip_in=grip_in, diameter_in=diameter_in, hole_in=hole_in)

    return RivetLength(
        grip_in=grip_in,
        calculated_in=calculated_in,
        nearest=head(max(1, math.floor(sixteenths + 0.5))),
        next_half=head(math.ceil(2.0 * sixteenths - 1e-9) / 2.0),
        next_up=head(math.ceil(sixteenths - 1e-9)),
    )
