"""Hole numbers of a drawing to scale: every fifth, the ends of each row, and those that a finding names.

At half size there is no room for all of them. Each number that is lettered stands clear of edges, holes and other
lettering, near its hole where it can, else at the end of a leader. Studied on 60 synthetic jobs at half size, whose
every fifth number found such a place.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Point, Text
from hatchwright.drawings.ink_field import InkField
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.scale import Scale
from hatchwright.finding import Finding
from hatchwright.layout.layout import Hole, Layout

EVERY = 5
"""Every so manieth hole of a row bears its number [-]. Own choice, from the study."""

_LEAST_RATIO = 0.5

_OFFS_IN = (0.04, 0.09, 0.18, 0.3, 0.45, 0.6, 0.8)
_TURNS = 24
_LEADER_FROM_IN = 0.1
_AROUND_IN = 0.02
_TEXT_WEIGHT = 10.0


def numbers_fifths(scale: Scale) -> bool:
    """Whether every fifth hole of a row has room for its number at a scale, or its ends alone."""
    return scale.ratio >= _LEAST_RATIO


def numbered_holes(layout: Layout, findings: Iterable[Finding], scale: Scale) -> tuple[Hole, ...]:
    """The holes whose numbers are lettered."""
    named = {number for finding in findings if finding.status.holds_back for number in finding.holes[:2]}
    wanted = set(named)
    for holes in layout.rows().values():
        fifths = holes[::EVERY] if numbers_fifths(scale) else holes[:1]
        wanted |= {hole.number for hole in (*fifths, holes[-1])}
    return tuple(hole for hole in layout.holes if hole.number in wanted)


def number_labels(
    spots: Sequence[tuple[int, Point, float]], drawn: Sequence[Ink], *, height_in: float
) -> Iterator[Ink]:
    """Letter numbers, the one with fewest clean places first, each with a leader where it stands off its hole.

    Args:
        spots: number, center on the page and radius to keep clear of each [in].
        drawn: all other ink, which neither a number nor a leader may meet.
        height_in: of the figures [in].
    """
    field = InkField(drawn)
    free = {spot: sum(cost == 0.0 for cost, *_ in _candidates(field, spot, height_in)) for spot in spots}
    for spot in sorted(spots, key=lambda spot: (free[spot], spot[0])):
        _, foot, ends = min(_candidates(field, spot, height_in), key=lambda place: place[0])
        text = Text(foot, str(spot[0]), height_in, anchor=Anchor.MIDDLE, css="hole-number")
        ink = (text, Line(ends, Layer.DIMENSION, css="hole-leader")) if ends else (text,)
        field.take(*ink)
        yield from ink


def _candidates(
    field: InkField, spot: tuple[int, Point, float], height_in: float
) -> Iterator[tuple[float, Point, tuple[Point, Point] | None]]:
    """Places of one number with what each would hide, the nearest first: its foot, and the ends of its leader."""
    number, (x, y), clear_in = spot
    half_wide, half_high = 0.5 * text_width_in(str(number), height_in=height_in), 0.5 * height_in
    for rank, off in enumerate(_OFFS_IN):
        for turn in range(_TURNS):
            angle = 2.0 * math.pi * turn / _TURNS
            across, up = math.cos(angle), math.sin(angle)
            reach = clear_in + off + half_wide * abs(across) + half_high * abs(up)
            at = x + reach * across, y + reach * up
            box = Box(at[0] - half_wide, at[1] - half_high, at[0] + half_wide, at[1] + half_high)
            cost = _TEXT_WEIGHT * field.under(box.grown(_AROUND_IN))
            ends = None
            if off > _LEADER_FROM_IN:
                near, far = clear_in + 0.02, clear_in + off - 0.02
                ends = (x + near * across, y + near * up), (x + far * across, y + far * up)
                cost += field.along(*ends)
            yield cost + (0.0 if cost == 0.0 else 0.001 * rank), (at[0], at[1] - half_high), ends
