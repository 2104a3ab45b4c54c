"""The places that a small label may take round its hole: beside it, and farther off at the end of a leader."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.drawings.boxes import Floats
from hatchwright.drawings.ink import Point
from hatchwright.drawings.near import Places, touching_pairs

_NEAR_RATIO, _OFF_RATIO = 0.35, 1.0
"""Gaps between a hole and a label beside it, over the height of the label [-]."""

_LED_RATIOS = (2.2, 4.0, 6.5)
"""Lengths of leaders over the height of the label [-]."""

_TIP_RATIO = 0.2
"""Gap between a leader and its label, over the height of the label [-]."""

_NEIGHBOR_RATIO = 8.0
"""Labels that may have to make way for one that needs a leader lie so near, over its height [-]."""

_SIDES = np.array([(1, 0), (0, 1), (-1, 0), (0, -1)], dtype=np.float64)
_CORNERS = np.array([(1, 1), (-1, 1), (-1, -1), (1, -1)], dtype=np.float64)
_SHIFT = 0.7
_DIAGONAL_RATIO = 2.0**-0.5
_LEADER_WAYS = 16
_LEADER_PRICE, _OFF_PRICE, _LENGTH_PRICE = 0.5, 0.05, 0.1


class Spot(Struct, frozen=True):
    """A hole that wants a label of a width and a height [in].

    Args:
        clear_in: the label keeps this far from the center, such as the radius of a hole [in].
    """

    at: Point
    clear_in: float
    width_in: float
    height_in: float


class Candidates(Struct, frozen=True):
    """Places of all labels, those of one spot together and in the order of the spots; n of them.

    Args:
        spot: which label each is a place of, shape (n,).
        box: sides of the label, shape (n, 4) [in].
        leader: start (x, y) and end of the leader, not a number where there is none, shape (n, 4) [in].
        price: what makes it worse than another that is as clear, shape (n,) [-].
    """

    spot: Places
    box: Floats
    leader: Floats
    price: Floats

    @property
    def starts(self) -> Places:
        """The first place of each spot, shape (n_spots,)."""
        return np.flatnonzero(np.diff(self.spot, prepend=-1))

    @property
    def is_led(self) -> npt.NDArray[np.bool_]:
        """Which of them have a leader, shape (n,)."""
        led: npt.NDArray[np.bool_] = ~np.isnan(self.leader[:, 0])
        return led

    def taken(self, which: npt.NDArray[np.bool_]) -> Candidates:
        """Some of them, shape (n,)."""
        return Candidates(self.spot[which], self.box[which], self.leader[which], self.price[which])


def near_candidates(spots: Sequence[Spot]) -> Candidates:
    """Twenty-four places beside each hole: its sides and corners, its sides shifted, and a little farther off."""
    at, clear, half = _measured(spots)
    high = 2.0 * half[:, :, 1:]
    near, off = clear + _NEAR_RATIO * high, clear + _OFF_RATIO * high
    shifted = np.concatenate([_SIDES + _SHIFT * turn * _SIDES[:, ::-1] for turn in (1.0, -1.0)])
    middles = np.concatenate(
        [
            _SIDES * (near + half),
            _CORNERS * (_DIAGONAL_RATIO * near + half),
            np.where(np.abs(shifted) == 1.0, shifted * (near + half), shifted * half),
            _SIDES * (off + half),
            _CORNERS * (_DIAGONAL_RATIO * off + half),
        ],
        axis=1,
    )
    count = middles.shape[1]
    price = np.linspace(0.0, _OFF_PRICE, count)
    box = np.concatenate([at + middles - half, at + middles + half], axis=2).reshape(-1, 4)
    return Candidates(
        np.repeat(np.arange(len(spots)), count), box, np.full_like(box, np.nan), np.tile(price, len(spots))
    )


def with_leaders(candidates: Candidates, spots: Sequence[Spot], *, beside: Places) -> Candidates:
    """The same places, and of some spots and their neighbors those at the end of a leader too."""
    at, clear, half = _measured(spots)
    reach = _NEIGHBOR_RATIO * max(spot.height_in for spot in spots)
    points = np.hstack([at[:, 0], at[:, 0]])
    near, _ = touching_pairs(points, points[beside] + reach * np.array([-1.0, -1.0, 1.0, 1.0]))
    led = np.unique(near)
    angle = 2.0 * np.pi * np.arange(_LEADER_WAYS) / _LEADER_WAYS
    ways = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    ways[np.abs(ways) < 1e-9] = 0.0
    with np.errstate(divide="ignore"):
        inward = (half[led] / np.abs(ways)).min(
            axis=2, keepdims=True
        )  # from its edge to the middle of the label
    boxes, leaders = [], []
    for ratio in _LED_RATIOS:
        end = clear[led] + ratio * 2.0 * half[led][:, :, 1:]
        middle = at[led] + ways * (end + inward)
        boxes.append(np.concatenate([middle - half[led], middle + half[led]], axis=2))
        tip = end - _TIP_RATIO * 2.0 * half[led][:, :, 1:]
        leaders.append(np.concatenate([at[led] + ways * clear[led], at[led] + ways * tip], axis=2))
    box, leader = (np.concatenate(parts, axis=1).reshape(-1, 4) for parts in (boxes, leaders))
    count = _LEADER_WAYS * len(_LED_RATIOS)
    price = _LEADER_PRICE + _LENGTH_PRICE * np.repeat(np.arange(len(_LED_RATIOS)), _LEADER_WAYS)
    spot = np.concatenate([candidates.spot, np.repeat(led, count)])
    order = np.argsort(spot, kind="stable")
    return Candidates(
        spot[order],
        np.concatenate([candidates.box, box])[order],
        np.concatenate([candidates.leader, leader])[order],
        np.concatenate([candidates.price, np.tile(price, len(led))])[order],
    )


def _measured(spots: Sequence[Spot]) -> tuple[Floats, Floats, Floats]:
    """Center, clear radius and half size of each, of shapes (n, 1, 2), (n, 1, 1) and (n, 1, 2) [in]."""
    rows = np.array([(*spot.at, spot.clear_in, 0.5 * spot.width_in, 0.5 * spot.height_in) for spot in spots])
    return rows[:, None, :2], rows[:, None, 2:3], rows[:, None, 3:]
