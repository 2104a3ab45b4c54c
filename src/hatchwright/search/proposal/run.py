"""One row all round an opening, by closed forms: its pitches, its closest pair and the rivets that count on each side.

A row lies at an even distance d from the opening's edge. A run is what lies between two corner middles: half an arc of
radius rho = R + d, a straight, half an arc. Every array has the distances along its last axis.
Method: docs/theory/proposal.md, eq. 1 to 6.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.layout.cut_side import TIE_IN
from hatchwright.search.proposal.ring import Shape

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

LEAST_BAYS = 2
"""A run of a single bay is not in the space [-]."""


class Runs(Struct, frozen=True):
    """The runs along one axis, for some numbers of bays and some distances from the edge.

    Args:
        bays: shape (k,) [-].
        rho_in: radius of the row's corners, shape (d,) [in].
        pitch_in: a bay along the run, shape (k, d) [in].
        past_in: how far past the corner's middle the line of an edge lies that a rivet must be beyond, shape (d,) [in].
    """

    bays: Ints
    rho_in: Floats
    pitch_in: Floats
    past_in: Floats

    def closest(self, *, is_staggered: bool) -> Floats:
        """Straight distance of the closest neighbors on the run, but for those round a corner, shape (k, d) [in]."""
        first, second = (0.5, 1.5) if is_staggered else (0.0, 1.0)
        near = np.abs(self.place(second) - self.place(first))
        if is_staggered:
            return near
        return np.minimum(near, np.abs(self.place(2.0) - self.place(1.0)))

    def place(self, bays: float) -> npt.NDArray[np.complex128]:
        """So many bays from the corner's middle, from the center of its arc, shape (k, d) [in].

        The path is half an arc, then straight: where a second corner follows at once it is told too far.
        """
        along = bays * self.pitch_in
        arc = self.rho_in * (math.pi / 4.0)
        angle = math.pi / 4.0 + np.minimum(along, arc) / self.rho_in
        return np.asarray(self.rho_in * np.exp(1j * angle) - np.maximum(along - arc, 0.0))

    def own_count(self, *, is_staggered: bool) -> Ints:
        """Rivets of the run that lie beyond the edge on its own side, both ends included, shape (k, d) [-]."""
        short = np.maximum(-self.past_in, 0.0) / self.pitch_in
        bays = self.bays[:, None]
        if is_staggered:
            return _whole(np.maximum(bays - 2.0 * np.ceil(short - 0.5), 0.0))
        beyond = np.where(self.past_in > 0.0, bays + 1.0, bays + 1.0 - 2.0 * (np.floor(short) + 1.0))
        return _whole(np.maximum(beyond, 0.0))

    def neighbor_count(self, *, is_staggered: bool) -> Ints:
        """Rivets of the run that lie beyond the edges of the sides before and after it, on either, shape (k, d) [-]."""
        past = np.maximum(self.past_in, 0.0) / self.pitch_in
        if is_staggered:
            return _whole(2.0 * np.maximum(0.0, np.ceil(past - 0.5)))
        return _whole(np.where(self.past_in > 0.0, 2.0 * (np.ceil(past) - 1.0), 0.0))


def runs_of(shape: Shape, bays: Ints, distance_in: Floats) -> tuple[Runs, Runs]:
    """The runs along X, which lie on the sides toward Y, and those along Y.

    Args:
        bays: numbers of bays, shape (k,) [-].
        distance_in: from the opening's edge, shape (d,) [in].
    """
    rho = shape.radius_in + distance_in
    line = np.minimum((shape.radius_in + TIE_IN) / rho, 1.0)
    past = rho * (np.arccos(line) - math.pi / 4.0)
    both = []
    for half_in in (shape.half_x_in, shape.half_y_in):
        length = 2.0 * half_in + rho * (math.pi / 2.0)
        both.append(Runs(bays, rho, length / bays[:, None], past))
    return both[0], both[1]


def round_corner(x: Runs, y: Runs) -> Floats:
    """Straight distance of the two rivets beside a corner's middle of a row that starts half a bay on, shape
    (k of x, k of y, d) [in]."""
    one, other = x.place(0.5), 1j * np.conj(y.place(0.5))
    return np.abs(one[:, None, :] - other[None, :, :])


def half_count(x_bays: Ints, y_bays: Ints, *, is_staggered: bool) -> tuple[Ints, Ints]:
    """Rivets beyond the middle of the opening on a side toward X, and toward Y, each of shape (k of x, k of y) [-].

    A rivet on the middle line counts for neither half: with an even number of bays there is one, half a bay on with an
    odd number.
    """
    total = 2 * (x_bays[:, None] + y_bays[None, :])
    on_line_x = 2 * ((x_bays + is_staggered) % 2 == 0)[:, None]
    on_line_y = 2 * ((y_bays + is_staggered) % 2 == 0)[None, :]
    return (total - on_line_x) // 2, (total - on_line_y) // 2


def _whole(values: Floats) -> Ints:
    return np.asarray(values, dtype=np.int64)
