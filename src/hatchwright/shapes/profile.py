"""The profile: closed loops of lines and circular arcs, with the region on the left of every piece.

An outer loop runs counter-clockwise, a hole clockwise. A piece is kept as in drawing exchange files: the
vertex it leaves, and its *bulge*, the tangent of a quarter of the angle it turns through (0 a line, 1 a half
circle to the left).
Method: docs/theory/conventions.md.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.said import inch, said
from hatchwright.shapes.contacts import contacts, cut_apart
from hatchwright.shapes.pieces import (
    Bools,
    Floats,
    Pieces,
    complex_of,
    following,
    joined,
    pair_of,
    pieces_between,
    pieces_of,
    points_of,
    preceding,
)

LARGEST_RADIUS_IN = 1e4
"""Radius above which rounding would spoil the contacts; such an arc must be drawn as a line [in]."""

SHORTEST_IN = 1e-9
"""A piece no longer than this is no piece but a rounding error [in]."""

_BULGE_NOISE = 1e-12
_BESIDE_IN = 2e-11
_END_IN = 1e-9


class Line(Struct, frozen=True):
    """A straight piece from `start` to `end`, each (x, y) [in]."""

    start: tuple[float, float]
    end: tuple[float, float]


class Arc(Struct, frozen=True):
    """A circular piece.

    Args:
        sweep_rad: angle turned through, counter-clockwise positive, at most pi either way [rad].
    """

    start: tuple[float, float]
    end: tuple[float, float]
    center: tuple[float, float]
    radius_in: float
    sweep_rad: float


@dataclass(frozen=True, slots=True, eq=False)
class Loop:
    """One closed run of pieces; counter-clockwise when it encloses metal or room, clockwise for a hole in it.

    Args:
        rows: x, y [in] and bulge [-] of the piece that leaves the vertex, shape (n, 3); kept read-only.
    Raises:
        GeometryError: not finite, fewer than two pieces, an arc over a half circle, a zero-length piece, or
            an arc so flat that it should be a line; `place` is the vertex.
    """

    rows: npt.NDArray[np.float64]
    _parts: Pieces = field(init=False, repr=False)
    _bounds: tuple[float, float, float, float] | None = field(init=False, repr=False, default=None)

    def __post_init__(self) -> None:
        rows = (
            np.array(self.rows, dtype=np.float64) + 0.0
        )  # so that -0.0 and 0.0, which are equal, hash alike
        _refuse_bad_vertices(rows)
        np.clip(rows[:, 2], -1.0, 1.0, out=rows[:, 2])
        rows.setflags(write=False)
        object.__setattr__(self, "rows", rows)
        object.__setattr__(self, "_parts", pieces_of(rows))
        _refuse_flat_arcs(self._parts)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Loop) and np.array_equal(self.rows, other.rows)

    def __hash__(self) -> int:
        return hash(self.rows.tobytes())

    @property
    def area_sq_in(self) -> float:
        """Signed area with its arcs, positive when counter-clockwise [sq in]."""
        return _area_sq_in(self._parts)

    @property
    def center_of_area(self) -> tuple[float, float]:
        """Where a sheet of this outline balances, arcs included [in]."""
        return pair_of(_first_moment(self._parts) / _area_sq_in(self._parts))

    @property
    def length_in(self) -> float:
        """Length once round [in]."""
        return float(self._parts.length_in.sum())

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """The box round it, arcs included: x_min, y_min, x_max, y_max [in]."""
        if self._bounds is None:
            object.__setattr__(self, "_bounds", _bounds(self._parts))
        assert self._bounds is not None
        return self._bounds

    def working_form(self) -> Pieces:
        """The pieces as arrays, in order."""
        return self._parts

    def reversed(self) -> Loop:
        """The same loop run the other way, from the same vertex."""
        return Loop(_backwards(self.rows))

    def transformed(self, matrix: npt.ArrayLike, shift: npt.ArrayLike = (0.0, 0.0)) -> Loop:
        """The loop moved, turned or mirrored; the region stays on its left.

        Args:
            matrix: orthogonal matrix, shape (2, 2); determinant -1 mirrors.
            shift: added after the matrix, (x, y) [in].
        Returns:
            Loop: the moved loop; a mirrored one runs through its vertices in the opposite order.
        Raises:
            GeometryError: the matrix stretches or skews.
        """
        turn = np.asarray(matrix, dtype=np.float64)
        if turn.shape != (2, 2) or not (np.abs(turn @ turn.T - np.eye(2)) < 1e-12).all():
            raise GeometryError.saying("error.matrix")
        rows = self.rows.copy()
        rows[:, :2] = rows[:, :2] @ turn.T + np.asarray(shift, dtype=np.float64)
        if turn[0, 0] * turn[1, 1] > turn[0, 1] * turn[1, 0]:
            return Loop(rows)
        rows[:, 2] = -rows[:, 2]
        return Loop(_backwards(rows))

    def points(self, chord_error_in: float) -> Floats:
        """Vertices of a polygon that stays within a distance of the loop, for outputs that know no arcs.

        Returns:
            ndarray: points on the loop, shape (m, 2), the first not repeated [in].
        """
        if not chord_error_in > 0.0:
            raise GeometryError.saying("error.chord")
        return points_of(self._parts.at(*self._parts.chord_steps(chord_error_in)))

    def pieces(self) -> Iterator[Line | Arc]:
        """Go through the pieces in order."""
        return lines_and_arcs(self._parts)

    def cleaned(self) -> Loop:
        """The same loop with collinear lines and co-circular arcs that follow each other made one.

        Returns:
            Loop: no vertex moved; what is left out lay within 1e-9 in of the piece that replaces it.
        """
        parts = self._parts
        smooth = _runs_on(parts)
        if not smooth.any():
            return self
        sweep_rad, middle = parts.sweep_rad, parts.middle
        first = int(smooth.argmin())
        kept: list[tuple[float, float, float]] = []
        run_start, run_sweep_rad, passed = 0j, 0.0, np.empty(0, dtype=np.complex128)
        for k in np.roll(np.arange(parts.count), -first):
            end = parts.end[k : k + 1]
            if kept and smooth[k]:
                total_rad = run_sweep_rad + sweep_rad[k]
                passing = np.concatenate([passed, [parts.start[k], middle[k]]])
                bulge = np.array([np.tan(0.25 * total_rad)])
                one = pieces_between(np.array([run_start]), end, bulge)
                if abs(bulge[0]) <= 1.0 + _BULGE_NOISE and one.distance(passing)[0].max() < SHORTEST_IN:
                    run_sweep_rad, passed = total_rad, passing
                    kept[-1] = (run_start.real, run_start.imag, bulge[0])
                    continue
            run_start, run_sweep_rad, passed = complex(parts.start[k]), sweep_rad[k], middle[k : k + 1]
            kept.append((run_start.real, run_start.imag, parts.bulge[k]))
        return Loop(np.array(kept))


@dataclass(frozen=True, slots=True)
class Profile:
    """A plane region bounded by loops that do not cross nor overlap; `profile_of` makes one from drawn loops.

    Args:
        loops: outer loops counter-clockwise, holes clockwise, in any order; empty for no region at all.
    """

    loops: tuple[Loop, ...] = ()
    _parts: Pieces = field(init=False, repr=False, compare=False)
    _is_sound: bool = field(init=False, repr=False, compare=False, default=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_parts", joined(loop.working_form() for loop in self.loops))

    @property
    def is_empty(self) -> bool:
        """Whether there is no region."""
        return not self.loops

    @property
    def area_sq_in(self) -> float:
        """Area of the region, holes taken off, arcs included [sq in]."""
        return 0.0 if self.is_empty else _area_sq_in(self._parts)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """The box round it, arcs included: x_min, y_min, x_max, y_max [in].

        Raises:
            GeometryError: the profile is empty.
        """
        if self.is_empty:
            raise GeometryError(said("error.empty_bounds"))
        return _bounds(self._parts)

    def transformed(self, matrix: npt.ArrayLike, shift: npt.ArrayLike = (0.0, 0.0)) -> Profile:
        """The profile moved, turned or mirrored; see `Loop.transformed`."""
        return Profile(tuple(loop.transformed(matrix, shift) for loop in self.loops))

    def contains(self, points: npt.ArrayLike) -> Bools:
        """Whether points of shape (n, 2) [in] lie in the region, shape (n,); within rounding of the edge either answer
        may come."""
        z = complex_of(points)
        return np.zeros(len(z), dtype=np.bool_) if self.is_empty else self._parts.inside(z)

    def checked(self) -> Profile:
        """The same profile, once it is shown that the region lies on the left of every piece and only there.

        Loops may touch in single points.

        Raises:
            GeometryError: loops cross, overlap or run the wrong way round; `place` is where.
        """
        if not (self.is_empty or self._is_sound):
            _refuse_unsound(self._parts)
            object.__setattr__(self, "_is_sound", True)
        return self

    def cleaned(self) -> Profile:
        """The same profile with every loop cleaned; see `Loop.cleaned`."""
        return Profile(tuple(loop.cleaned() for loop in self.loops))

    def working_form(self) -> Pieces:
        """All pieces of all loops as arrays, in order."""
        return self._parts


# The outlines of a job are asked for by layout, rules and drawings alike, at every entry.
@lru_cache(maxsize=64)
def profile_of(*loops: Loop) -> Profile:
    """Make a profile from loops drawn in any direction.

    A loop inside an even number of the others bounds the region from outside, a loop inside an odd number is
    a hole; each is turned so that the region lies on its left.

    Raises:
        GeometryError: a loop crosses itself or another, or lies on another; `place` is where.
    """
    turned = []
    for loop in loops:
        inside_of = sum(
            int(Profile((other,)).contains(loop.rows[:1, :2])[0]) for other in loops if other is not loop
        )
        is_outer = inside_of % 2 == 0
        turned.append(loop if (loop.area_sq_in > 0.0) == is_outer else loop.reversed())
    return Profile(tuple(turned)).checked()


def lines_and_arcs(parts: Pieces) -> Iterator[Line | Arc]:
    """Pieces of the working form as single values, in order."""
    sweep_rad = parts.sweep_rad
    for k in range(parts.count):
        start, end = pair_of(parts.start[k]), pair_of(parts.end[k])
        if parts.bulge[k] == 0.0:
            yield Line(start, end)
        else:
            yield Arc(start, end, pair_of(parts.center[k]), float(parts.radius[k]), float(sweep_rad[k]))


def _backwards(rows: Floats) -> Floats:
    """The rows of a loop run the other way, from the same vertex."""
    turned = np.concatenate((rows[:1], rows[:0:-1]))
    turned[:, 2] = -rows[::-1, 2]
    return turned


def _refuse_bad_vertices(rows: Floats) -> None:
    if rows.ndim != 2 or rows.shape[1:] != (3,) or len(rows) < 2 or not np.isfinite(rows).all():
        raise GeometryError(said("error.loop"))
    start = complex_of(rows[:, :2])
    reach = np.abs(following(start) - start)
    if reach.min() <= SHORTEST_IN:
        raise GeometryError.saying_at(start[reach.argmin()], "error.no_piece")
    bulge = np.abs(rows[:, 2])
    if bulge.max() > 1.0 + _BULGE_NOISE:
        raise GeometryError.saying_at(start[bulge.argmax()], "error.arc_long")


def _refuse_flat_arcs(parts: Pieces) -> None:
    if parts.radius.max() > LARGEST_RADIUS_IN:
        place = parts.start[parts.radius.argmax()]
        raise GeometryError.saying_at(place, "error.arc_flat", most=inch(LARGEST_RADIUS_IN))


def _refuse_unsound(parts: Pieces) -> None:
    """Cut the pieces wherever they meet, and look for the region just beside the middle of every part."""
    cuts, _ = cut_apart(parts)
    inside = parts.inside(cuts.beside(_BESIDE_IN))
    wrong = ~inside[: cuts.count] | inside[cuts.count :]
    if not wrong.any():
        return
    i, j, place = contacts(parts)
    follows = np.isclose(parts.end[i], parts.start[j], rtol=0.0, atol=_END_IN)
    follows |= np.isclose(parts.end[j], parts.start[i], rtol=0.0, atol=_END_IN)
    crossing = place[~follows]
    first = cuts.middle[wrong.argmax()]
    z = crossing[np.abs(crossing - first).argmin()] if crossing.size else first
    what = said("error.crosses") if crossing.size else said("error.wrong_way")
    raise GeometryError(what, place=pair_of(z), remedy=said("error.loops.do"))


def _runs_on(parts: Pieces) -> Bools:
    """Whether each vertex might join two pieces of one line or one circle, shape (n,)."""
    leaves, arrives = parts.tangents()
    straight_on: Bools = np.abs(preceding(arrives) - leaves) < 1e-3
    alike: Bools = np.abs(preceding(parts.radius) - parts.radius) < 1e-6 * (1.0 + parts.radius)
    same_hand: Bools = np.sign(preceding(parts.bulge)) == np.sign(parts.bulge)
    return straight_on & alike & same_hand


def _area_sq_in(parts: Pieces) -> float:
    sweep_rad = parts.sweep_rad
    chords = 0.5 * (parts.start.conj() * parts.end).imag
    caps = 0.5 * parts.radius**2 * (sweep_rad - np.sin(sweep_rad))
    return float(chords.sum() + caps.sum())


def _first_moment(parts: Pieces) -> complex:
    """Area times its center [in^3]: triangles from the origin to the chords, and the caps between chord and arc."""
    triangles = (parts.start.conj() * parts.end).imag * (parts.start + parts.end) / 6.0
    half_rad = 0.5 * parts.sweep_rad
    caps = parts.radius**2 * (half_rad - 0.5 * np.sin(2.0 * half_rad))
    outward = (parts.start - parts.center) * np.exp(1j * half_rad)
    beyond = 2.0 / 3.0 * parts.radius**2 * np.sin(half_rad) ** 3 * outward
    return complex(triangles.sum() + (caps * parts.center + beyond).sum())


def _bounds(parts: Pieces) -> tuple[float, float, float, float]:
    x_min, y_min, x_max, y_max = parts.boxes()
    return float(x_min.min()), float(y_min.min()), float(x_max.max()), float(y_max.max())
