"""What moves a hole or an edge, as standard deviations: what the shop entered, and what the play of the pins gives.

Method: docs/theory/risk.md, eq. 3 and 4.
"""

from __future__ import annotations

import math
from enum import StrEnum

from msgspec import Struct

from hatchwright.job.scatter import Scatter
from hatchwright.units import Length


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


class Lack(StrEnum):
    """What nobody entered, and what counts as nothing for it."""

    PLACE = "place"
    TURN = "turn"
    OFFSET = "offset"
    FILING = "filing"
    RING_PLACE = "ring_place"
    RING_TURN = "ring_turn"
    EDGE = "edge"


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
        place_from_pins, turn_from_pins: whether place and turn follow from the play of the pins.
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
    missing: tuple[Lack, ...] = ()
    place_from_pins: bool = False
    turn_from_pins: bool = False


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

    Place and turn of the template, each where it was not entered, follow from the play of its pins. A ring lies as the
    pattern does in what was not entered of it, and sides that are filed scatter as any edge does; that is how files
    speak that name no more than a pattern and an edge. What is known from nowhere counts as nothing and is named.

    Args:
        play: of the template's pins, None where it is not known.
    """
    by_pins = (play.place_in, play.turn_rad) if play is not None else (None, None)
    placement, turn = _inch(scatter.placement), _rad(scatter.turn)
    place, turned = (
        pins if own is None else own for own, pins in zip((placement, turn), by_pins, strict=True)
    )
    edge = _inch(scatter.edge)
    filing = edge if scatter.filing is None else _inch(scatter.filing)
    offset = _inch(scatter.offset)
    ring_place = placement if scatter.ring_place is None else _inch(scatter.ring_place)
    ring_turn = turn if scatter.ring_turn is None else _rad(scatter.ring_turn)
    known = {
        Lack.PLACE: place,
        Lack.TURN: turned,
        Lack.OFFSET: edge if offset is None else offset,
        Lack.FILING: filing,
        Lack.RING_PLACE: ring_place,
        Lack.RING_TURN: ring_turn,
        Lack.EDGE: edge,
    }
    return Errors(
        square_in=scatter.drill.inch,
        along_in=(scatter.drill_along or scatter.drill).inch,
        place_in=place or 0.0,
        turn_rad=turned or 0.0,
        offset_in=offset or 0.0,
        filing_in=filing or 0.0,
        ring_place_in=ring_place or 0.0,
        ring_turn_rad=ring_turn or 0.0,
        edge_in=edge or 0.0,
        measuring_in=_inch(scatter.measuring) or 0.0,
        missing=tuple(lack for lack, size in known.items() if size is None),
        place_from_pins=placement is None and play is not None,
        turn_from_pins=turn is None and play is not None,
    )


def _inch(length: Length | None) -> float | None:
    return None if length is None else length.inch


def _rad(turn_deg: float | None) -> float | None:
    return None if turn_deg is None else math.radians(turn_deg)
