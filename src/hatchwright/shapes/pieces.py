"""The working form of a profile: lines and arcs as arrays of complex numbers, x + iy [in].

Complex numbers keep the formulas short: ``(conj(a) * b).real`` is the dot product and ``.imag`` the cross
product. Nothing outside `shapes` needs this file; the public values are in `profile`.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

import numpy as np
import numpy.typing as npt
from msgspec import Struct

Floats = npt.NDArray[np.float64]
Complexes = npt.NDArray[np.complex128]
Integers = npt.NDArray[np.intp]
Bools = npt.NDArray[np.bool_]
Kind = TypeVar("Kind", np.float64, np.complex128)

AXES = np.array([1.0, 1j, -1.0, -1j])
"""Unit directions along X, Y, -X and -Y."""

FLAT_IN = 1e-10
"""An arc that rises less than this above its chord is kept as a line [in]."""


def complex_of(points: npt.ArrayLike) -> Complexes:
    """Points of shape (n, 2) [in] as complex numbers of shape (n,)."""
    rows = np.ascontiguousarray(points, dtype=np.float64).reshape(-1, 2)
    return rows.view(np.complex128).ravel()


def points_of(z: Complexes) -> Floats:
    """Complex numbers of shape (n,) as points of shape (n, 2) [in]."""
    return np.ascontiguousarray(z).view(np.float64).reshape(-1, 2)


def pair_of(z: complex) -> tuple[float, float]:
    """One complex number as (x, y) [in]."""
    return float(z.real), float(z.imag)


def following(z: npt.NDArray[Kind]) -> npt.NDArray[Kind]:
    """For each value of a closed run the one after it, shape (n,)."""
    return np.concatenate((z[1:], z[:1]))


def preceding(z: npt.NDArray[Kind]) -> npt.NDArray[Kind]:
    """For each value of a closed run the one before it, shape (n,)."""
    return np.concatenate((z[-1:], z[:-1]))


class Pieces(Struct, frozen=True):
    """Directed lines and arcs, each array of shape (n,).

    Args:
        bulge: tangent of a quarter of its sweep, positive to the left; 0 for a line [-].
        center: center of an arc; the start for a line [in].
        radius: radius of an arc; 0 for a line [in].
    """

    start: Complexes
    end: Complexes
    bulge: Floats
    center: Complexes
    radius: Floats

    @property
    def count(self) -> int:
        """Number of pieces."""
        return len(self.start)

    @property
    def is_arc(self) -> Bools:
        """Which of the pieces are arcs, shape (n,)."""
        curved: Bools = self.bulge != 0.0
        return curved

    @property
    def sweep_rad(self) -> Floats:
        """Angle that each arc turns through, left positive, shape (n,) [rad]."""
        return 4.0 * np.arctan(self.bulge)

    @property
    def length_in(self) -> Floats:
        """Length of each piece, shape (n,) [in]."""
        return np.where(self.is_arc, np.abs(self.sweep_rad) * self.radius, np.abs(self.end - self.start))

    @property
    def middle(self) -> Complexes:
        """Mid-point of each piece, shape (n,) [in]."""
        return 0.5 * (self.start + self.end) - 0.5j * self.bulge * (self.end - self.start)

    def beside(self, aside_in: float) -> Complexes:
        """Places beside the middle of each piece: of all on the left, then of all on the right, shape (2 n,) [in]."""
        chord = self.end - self.start
        aside = 1j * aside_in * chord / np.abs(chord)
        middle = self.middle
        return np.concatenate([middle + aside, middle - aside])

    def tangents(self) -> tuple[Complexes, Complexes]:
        """Unit directions at the start and at the end of each piece, each of shape (n,)."""
        chord = self.end - self.start
        chord = chord / np.abs(chord)
        half_turn = (1.0 + 1j * self.bulge) ** 2 / (1.0 + self.bulge**2)
        return chord * half_turn.conj(), chord * half_turn

    def at(self, which: Integers, share: Floats) -> Complexes:
        """Places a share (0 to 1) of the way along the pieces `which`, each of shape (m,) [in]."""
        half_rad = 0.5 * self.sweep_rad[which]
        arc = half_rad != 0.0
        reach = np.where(arc, np.sin(half_rad * share) / np.sin(np.where(arc, half_rad, 1.0)), share)
        chord = (self.end - self.start)[which]
        place: Complexes = self.start[which] + chord * reach * np.exp(1j * half_rad * (share - 1.0))
        return place

    def steps(self, longest_in: float) -> tuple[Integers, Floats]:
        """Places along all pieces, the start of each and more at equal steps of at most a length [in].

        Returns:
            tuple: piece of each place and share of the way along it, each of shape (m,); see `at`.
        """
        return self.divided(np.ceil(self.length_in / longest_in))

    def chord_steps(self, chord_error_in: float) -> tuple[Integers, Floats]:
        """The start of each piece and as many more places as keep chords within a distance of an arc [in]."""
        rise = chord_error_in / np.where(self.is_arc, self.radius, 1.0)
        widest_rad = 2.0 * np.arccos(np.maximum(1.0 - rise, 0.0))
        return self.divided(np.ceil(np.abs(self.sweep_rad) / widest_rad))

    def divided(self, counts: Floats) -> tuple[Integers, Floats]:
        """So many equal steps on each piece, at least one; see `steps`."""
        steps = np.maximum(counts, 1.0).astype(np.intp)
        which = np.repeat(np.arange(self.count), steps)
        step = np.arange(len(which)) - np.repeat(np.cumsum(steps) - steps, steps)
        return which, step / steps[which]

    def boxes(self) -> tuple[Floats, Floats, Floats, Floats]:
        """x_min, y_min, x_max, y_max of the box round each piece, each of shape (n,) [in]."""
        start, end = self.start, self.end
        x_min, x_max = np.minimum(start.real, end.real), np.maximum(start.real, end.real)
        y_min, y_max = np.minimum(start.imag, end.imag), np.maximum(start.imag, end.imag)
        arcs = self.is_arc.nonzero()[0]
        if arcs.size:
            tops, is_on_arc = self.tops(arcs, AXES)
            reached = np.where(is_on_arc, tops, start[arcs])
            x_min[arcs] = np.minimum(x_min[arcs], reached.real.min(axis=0))
            x_max[arcs] = np.maximum(x_max[arcs], reached.real.max(axis=0))
            y_min[arcs] = np.minimum(y_min[arcs], reached.imag.min(axis=0))
            y_max[arcs] = np.maximum(y_max[arcs], reached.imag.max(axis=0))
        return x_min, y_min, x_max, y_max

    def tops(self, arcs: Integers, ways: Complexes) -> tuple[Complexes, Bools]:
        """The place of the circle of each arc that lies farthest along unit directions, and whether the arc has it.

        Returns:
            tuple: places [in] and whether they lie on the arc, each of shape (n_ways, n_arcs).
        """
        start, chord = self.start[arcs], (self.end - self.start)[arcs]
        tops = self.center[arcs] + ways[:, None] * self.radius[arcs]
        is_on_arc: Bools = (chord.conj() * (tops - start)).imag * self.bulge[arcs] < 0.0
        return tops, is_on_arc

    def taken(self, which: Integers | Bools) -> Pieces:
        """Some of the pieces, by index or by mask."""
        return Pieces(
            self.start[which], self.end[which], self.bulge[which], self.center[which], self.radius[which]
        )

    def turned(self) -> Pieces:
        """Every piece run through backwards, in the same order."""
        return Pieces(self.end, self.start, -self.bulge, self.center, self.radius)

    def distance(self, points: Complexes) -> tuple[Floats, Integers]:
        """Distance from each point to the nearest piece, and which piece that is.

        Args:
            points: shape (m,) [in].
        Returns:
            tuple: distance of shape (m,) [in], and piece index of shape (m,).
        """
        column = points[:, None]
        to_start, to_end = np.abs(column - self.start), np.abs(column - self.end)
        nearest = np.minimum(to_start, to_end)
        is_arc = self.is_arc
        lines, arcs = (~is_arc).nonzero()[0], is_arc.nonzero()[0]
        if lines.size:
            chord = self.end[lines] - self.start[lines]
            length = np.abs(chord)
            local = (column - self.start[lines]) * (chord / length).conj()
            beside = (local.real > 0.0) & (local.real < length)
            nearest[:, lines] = np.where(beside, np.abs(local.imag), nearest[:, lines])
        if arcs.size:
            arm = column - self.center[arcs]
            within = self._sectors(arm, arcs)
            nearest[:, arcs] = np.where(within, np.abs(np.abs(arm) - self.radius[arcs]), nearest[:, arcs])
        which = nearest.argmin(axis=1)
        return nearest[np.arange(len(points)), which], which

    def _sectors(self, arm: Complexes, arcs: Integers) -> Bools:
        """Whether each arm from the center points into the sector of its arc, at most a half circle."""
        left = np.sign(self.bulge[arcs])
        from_start = (arm * (self.start[arcs] - self.center[arcs]).conj()).imag * left
        to_end = (arm * (self.end[arcs] - self.center[arcs]).conj()).imag * left
        return (from_start >= 0.0) & (to_end <= 0.0)

    def feet(self, points: Complexes, which: Integers) -> Complexes:
        """The nearest place on piece `which[k]` to `points[k]`, shape (m,) [in]."""
        start, end, center = self.start[which], self.end[which], self.center[which]
        chord = end - start
        along = ((points - start) * chord.conj()).real / np.abs(chord) ** 2
        foot: Complexes = start + np.clip(along, 0.0, 1.0) * chord
        arc = self.is_arc[which].nonzero()[0]
        if arc.size:
            point, hub, first, last = points[arc], center[arc], start[arc], end[arc]
            arm = point - hub
            within = self._sectors(arm, which[arc])
            size = np.abs(arm)
            away = np.where(
                size > 0.0, arm / np.where(size > 0.0, size, 1.0), (first - hub) / np.abs(first - hub)
            )
            end_nearer = np.abs(point - last) < np.abs(point - first)
            foot[arc] = np.where(
                within, hub + self.radius[which[arc]] * away, np.where(end_nearer, last, first)
            )
        return foot

    def inside(self, points: Complexes) -> Bools:
        """Whether each point lies in the region that these closed pieces bound (even-odd), shape (m,).

        The region is the polygon of the chords, changed over in every cap between a chord and its arc.
        A point exactly on a chord counts as moved a little in +x and less in +y, the same in both tests.
        """
        x, y = np.ascontiguousarray(points.real), np.ascontiguousarray(points.imag)
        start, chord, end_y = self.start[:, None], (self.end - self.start)[:, None], self.end.imag[:, None]
        side = (y - start.imag) * chord.real - (x - start.real) * chord.imag
        on_chord = side == 0.0
        if on_chord.any():
            side = np.where(on_chord, np.where(chord.imag != 0.0, -chord.imag, chord.real), side)
        straddles = (start.imag <= y) != (end_y <= y)
        crossings = straddles & ((side > 0.0) == (chord.imag > 0.0))
        odd: Bools = np.logical_xor.reduce(crossings, axis=0)
        arcs = self.is_arc.nonzero()[0]
        if arcs.size:
            center = self.center[arcs, None]
            bulges_here = side[arcs] * self.bulge[arcs, None] < 0.0
            in_circle = (x - center.real) ** 2 + (y - center.imag) ** 2 < self.radius[arcs, None] ** 2
            odd ^= np.logical_xor.reduce(bulges_here & in_circle, axis=0)
        return odd


def pieces_of(rows: Floats) -> Pieces:
    """Pieces of one closed loop: rows of x, y [in] and bulge of the piece that leaves the vertex, shape (n, 3)."""
    start = complex_of(rows[:, :2])
    return pieces_between(start, following(start), rows[:, 2])


def pieces_between(start: Complexes, end: Complexes, bulge: Floats) -> Pieces:
    """Pieces from their ends [in] and bulges [-], each of shape (n,); arcs flatter than `FLAT_IN` become lines."""
    chord = end - start
    bulge = np.where(np.abs(bulge * chord) * 0.5 < FLAT_IN, 0.0, bulge)
    curved = bulge != 0.0
    safe = np.where(curved, bulge, 1.0)
    center = np.where(curved, 0.5 * (start + end) + 0.25j * chord * (1.0 / safe - safe), start)
    radius = np.where(curved, np.abs(chord) * (1.0 / np.abs(safe) + np.abs(safe)) * 0.25, 0.0)
    return Pieces(start, end, bulge, center, radius)


def joined(parts: Iterable[Pieces]) -> Pieces:
    """All pieces of several sets, one after the other."""
    sets = tuple(parts) or (_NO_PIECES,)
    if len(sets) == 1:
        return sets[0]
    return Pieces(
        np.concatenate([part.start for part in sets]),
        np.concatenate([part.end for part in sets]),
        np.concatenate([part.bulge for part in sets]),
        np.concatenate([part.center for part in sets]),
        np.concatenate([part.radius for part in sets]),
    )


_NO_PIECES = Pieces(*(np.empty(0, dtype=kind) for kind in (complex, complex, float, complex, float)))
