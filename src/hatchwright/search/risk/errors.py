"""What moves a hole or an edge, as standard deviations: what the shop entered, and what the play of the pins gives.

Method: docs/theory/risk.md, eq. 3 and 4.
"""

from __future__ import annotations

import math
from enum import StrEnum

from msgspec import Struct

from hatchwright.job.scatter import Scatter


class Culprit(StrEnum):
    """What a distance comes out short by."""

    DRILLING = "drilling"
    PLACE = "place"
    OFFSET = "offset"
    FILING = "filing"
    RING = "ring"
    EDGE = "edge"


CULPRITS = tuple(Culprit)
"""Their order in every array."""


class Order(StrEnum):
    """Which sheet gets its holes first, and by what."""

    SKIN = "skin"
    """The skin is drilled through the template, the ring is laid on it and drilled through the skin."""
    DOUBLER = "doubler"
    """The ring is drilled on the bench, laid on the skin, and the skin is drilled through the ring."""
    ONE_TEMPLATE = "one_template"
    """The skin is drilled and cut through one template that is not taken off between; then as with the skin."""


class Errors(Struct, frozen=True):
    """Standard deviations of all that moves a hole against an edge or against another hole.

    Args:
        square_in: of a hole about its mark, square to its row [in].
        along_in: along its row [in].
        place_in: of the template for the cut against the holes, along each axis [in].
        turn_rad: of its angle [rad].
        offset_in: of the cutter's offset, the same all round [in].
        filing_in: of each of the four sides of the opening as filed, each by itself [in].
        ring_place_in: of the ring against the holes that lead it, along each axis [in].
        ring_turn_rad: of its angle [rad].
        edge_in: of each side of every other sheet about its line [in].
        measuring_in: of a distance as it is measured afterwards [in].
        missing: what was not entered and counts as nothing, so that every chance is too small by it.
        from_pins: whether place and turn follow from the play of the pins.
    """

    square_in: float
    along_in: float
    place_in: float = 0.0
    turn_rad: float = 0.0
    offset_in: float = 0.0
    filing_in: float = 0.0
    ring_place_in: float = 0.0
    ring_turn_rad: float = 0.0
    edge_in: float = 0.0
    measuring_in: float = 0.0
    missing: tuple[Culprit, ...] = ()
    from_pins: bool = False


class Play(Struct, frozen=True):
    """How loose a template lies on its pins.

    Args:
        clearance_in: of a pin in its hole, in diameter [in].
        span_in: between the two pins that lie farthest apart [in].
    """

    clearance_in: float
    span_in: float

    @property
    def place_in(self) -> float:
        """Standard deviation of its place along each axis, two pins at any place of their play [in]."""
        return self.clearance_in / (4.0 * math.sqrt(2.0))

    @property
    def turn_rad(self) -> float:
        """Standard deviation of its angle [rad]."""
        return self.clearance_in * math.sqrt(2.0) / (4.0 * self.span_in)


def errors_of(scatter: Scatter, play: Play | None = None) -> Errors:
    """Put the shop's entries into one set of standard deviations.

    Place and turn of the template that were not entered follow from the play of its pins. A ring for which nothing was
    entered lies as the pattern does, and sides that are filed scatter as any edge does; that is how files speak that
    name no more than a pattern and an edge. What is known from nowhere counts as nothing and is named as missing.

    Args:
        play: of the template's pins, None where it is not known.
    """
    entered = scatter.placement is not None or scatter.turn > 0.0
    place_in, turn_rad = _inch(scatter.placement), math.radians(scatter.turn)
    if not entered and play is not None:
        place_in, turn_rad = play.place_in, play.turn_rad
    has_ring = scatter.ring_place is not None or scatter.ring_turn is not None
    lacking = (
        (Culprit.PLACE, entered or play is not None),
        (Culprit.OFFSET, scatter.offset is not None or scatter.edge is not None),
        (Culprit.FILING, scatter.filing is not None or scatter.edge is not None),
        (Culprit.RING, has_ring or entered),
    )
    return Errors(
        square_in=scatter.drill.inch,
        along_in=(scatter.drill_along or scatter.drill).inch,
        place_in=place_in,
        turn_rad=turn_rad,
        offset_in=_inch(scatter.offset),
        filing_in=_inch(scatter.edge if scatter.filing is None else scatter.filing),
        ring_place_in=_inch(scatter.ring_place) if has_ring else _inch(scatter.placement),
        ring_turn_rad=math.radians(scatter.ring_turn or 0.0) if has_ring else math.radians(scatter.turn),
        edge_in=_inch(scatter.edge),
        measuring_in=_inch(scatter.measuring),
        missing=tuple(culprit for culprit, known in lacking if not known),
        from_pins=not entered and play is not None,
    )


def _inch(length: object) -> float:
    return float(getattr(length, "inch", 0.0))
