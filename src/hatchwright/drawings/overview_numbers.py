"""Hole numbers of a drawing to scale: every fifth, the ends of each row, and those that a finding names.

At half size there is no room for all of them. Each number that is lettered stands clear of edges, holes and other
lettering, near its hole where it can, else at the end of a leader. Studied on 60 synthetic jobs at half size, whose
every fifth number found such a place.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from msgspec import Struct

from hatchwright.drawings.boxes import Floats
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
_TURNS = 2.0 * np.pi * np.arange(24) / 24
_WAYS = np.column_stack((np.cos(_TURNS), np.sin(_TURNS)))
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
    free = {spot: int((_places(field, spot, height_in).costs == 0.0).sum()) for spot in spots}
    for spot in sorted(spots, key=lambda spot: (free[spot], spot[0])):
        foot, ends = _places(field, spot, height_in).best()
        text = Text(foot, str(spot[0]), height_in, anchor=Anchor.MIDDLE, css="hole-number")
        ink = (text, Line(ends, Layer.DIMENSION, css="hole-leader")) if ends else (text,)
        field.take(*ink)
        yield from ink


class _Places(Struct, frozen=True):
    """Places of one number, the nearest first, with what each would hide.

    Args:
        feet: where the middle of its foot stands, of shape (n, 2) [in].
        starts, ends: of its leader, not a number where it has none, of shape (n, 2) [in].
    """

    costs: Floats
    feet: Floats
    starts: Floats
    ends: Floats

    def best(self) -> tuple[Point, tuple[Point, Point] | None]:
        """The foot, and the ends of the leader where there is one, of the place that hides least."""
        first = int(self.costs.argmin())
        foot, start, end = (tuple(some[first].tolist()) for some in (self.feet, self.starts, self.ends))
        return foot, None if math.isnan(start[0]) else (start, end)


def _places(field: InkField, spot: tuple[int, Point, float], height_in: float) -> _Places:
    number, at, clear_in = spot
    half = 0.5 * np.array([text_width_in(str(number), height_in=height_in), height_in])
    costs, feet, starts, ends = [], [], [], []
    for rank, off in enumerate(_OFFS_IN):
        middle = at + (clear_in + off + np.abs(_WAYS) @ half)[:, None] * _WAYS
        boxes = np.hstack((middle - half - _AROUND_IN, middle + half + _AROUND_IN))
        cost = _TEXT_WEIGHT * field.under_all(boxes)
        near, far = (at + reach * _WAYS for reach in (clear_in + 0.02, clear_in + off - 0.02))
        if off > _LEADER_FROM_IN:
            cost = cost + field.along_all(near, far)
        else:
            near = far = np.full_like(middle, np.nan)
        costs.append(np.where(cost == 0.0, 0.0, cost + 0.001 * rank))
        feet.append(middle - (0.0, half[1]))
        starts.append(near)
        ends.append(far)
    return _Places(*map(np.concatenate, (costs, feet, starts, ends)))
