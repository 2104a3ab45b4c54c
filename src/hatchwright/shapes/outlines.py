"""Outlines of the trade, each a counter-clockwise loop: rounded rectangle, circle, obround, D, polygon."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from hatchwright.errors import GeometryError
from hatchwright.said import Value, inch, missing, said
from hatchwright.shapes.pieces import Complexes, complex_of, following, pair_of, preceding
from hatchwright.shapes.profile import Loop, Profile

_NOISE_IN = 1e-9
_NOISE_RAD = 1e-9


@lru_cache(maxsize=64)  # of the same job, judged and drawn again and again with another box changed
def rounded_rectangle(
    *, width_in: float, height_in: float, radius_in: float, center: tuple[float, float] = (0.0, 0.0)
) -> Loop:
    """A rectangle with four equal corner radii, from the left end of its lower side.

    Raises:
        GeometryError: a size is not positive, or the radius is more than half of the smaller side.
    """
    _refuse_size("width_in", width_in)
    _refuse_size("height_in", height_in)
    _refuse_radius("radius_in", radius_in, most=0.5 * min(width_in, height_in))
    return _filleted(_box(width_in, height_in, center), [radius_in] * 4)


def circle(*, diameter_in: float, center: tuple[float, float] = (0.0, 0.0)) -> Loop:
    """A circle as two half circles, from its right-hand point.

    Raises:
        GeometryError: the diameter is not positive.
    """
    _refuse_size("diameter_in", diameter_in)
    x, y = center
    return Loop(np.array([(x + 0.5 * diameter_in, y, 1.0), (x - 0.5 * diameter_in, y, 1.0)]))


def obround(
    *, length_in: float, width_in: float, center: tuple[float, float] = (0.0, 0.0), angle_deg: float = 0.0
) -> Loop:
    """A slot with round ends; a circle when length and width are equal.

    Args:
        length_in: overall length, round ends included [in].
        angle_deg: direction of its length, counter-clockwise from x [deg].
    Raises:
        GeometryError: a size is not positive, or the slot is wider than long.
    """
    _refuse_size("width_in", width_in)
    if length_in < width_in:
        raise GeometryError.saying(
            "error.obround", where="length_in", length=inch(length_in), width=inch(width_in)
        )
    half, straight = 0.5 * width_in, 0.5 * (length_in - width_in)
    along = np.exp(1j * np.radians(angle_deg))
    z = complex(*center) + along * np.array(
        [-straight - 1j * half, straight - 1j * half, straight + 1j * half, -straight + 1j * half]
    )
    bulge = np.array([0.0, 1.0, 0.0, 1.0])
    if straight <= _NOISE_IN:
        z, bulge = z[[1, 2]], np.array([1.0, 1.0])
    return Loop(np.column_stack([z.real, z.imag, bulge]))


def d_shape(
    *, width_in: float, height_in: float, radius_in: float, center: tuple[float, float] = (0.0, 0.0)
) -> Loop:
    """A D: one straight side with two rounded corners, and a half circle over the whole height opposite.

    The straight side is at the smallest x and the half circle, of radius `height_in` / 2, reaches the
    largest x; turn or mirror the loop for the other three hands.

    Args:
        width_in: overall size in x, from the straight side to the top of the half circle [in].
        height_in: overall size in y, the diameter of the half circle [in].
        radius_in: radius of the two corners of the straight side, 0 for sharp corners [in].
        center: middle of the box round it (x, y) [in].
    Raises:
        GeometryError: a size is not positive, or the corners and the half circle do not fit.
    """
    _refuse_size("height_in", height_in)
    _refuse_radius("radius_in", radius_in, most=0.5 * height_in)
    half = 0.5 * height_in
    if width_in < half + radius_in - _NOISE_IN:
        raise GeometryError.saying(
            "error.d_shape",
            where="width_in",
            half=inch(half),
            radius=inch(radius_in),
            width=inch(width_in),
            least=inch(half + radius_in),
        )
    return _filleted(_box(width_in, height_in, center), [radius_in, half, half, radius_in])


def polygon(points: npt.ArrayLike, radii: float | Sequence[float] = 0.0) -> Loop:
    """A polygon with a tangent fillet at each corner, inside and re-entrant corners alike.

    Args:
        points: sharp corners in order round it, either way, shape (n, 2) [in].
        radii: fillet radius at each corner in the same order, or one for all; 0 for sharp [in].
    Raises:
        GeometryError: fewer than three corners, a repeated corner, a fillet that does not fit (the corner is
            named, counted from 1), or sides that cross; `place` is where.
    """
    corners = complex_of(points)
    count = len(corners)
    if count < 3:
        raise GeometryError(said("error.polygon", count=count), where="points")
    sizes = [float(radii)] * count if isinstance(radii, (int, float)) else [float(radius) for radius in radii]
    if len(sizes) != count:
        raise GeometryError(
            said("job.radii", corners=count, radii=len(sizes)),
            where="radii",
            remedy=said("error.radii.do"),
        )
    for number, radius in enumerate(sizes):
        _refuse_radius(f"radii.{number}", radius)
    loop = _filleted(corners, sizes)
    Profile((loop,)).checked()
    return loop


def _box(width_in: float, height_in: float, center: tuple[float, float]) -> Complexes:
    """The corners of a rectangle, counter-clockwise from its lower left."""
    half = complex(0.5 * width_in, 0.5 * height_in)
    return complex(*center) + np.array([-half, half.conjugate(), half, -half.conjugate()])


def _filleted(corners: Complexes, radii: Sequence[float]) -> Loop:
    """Round each corner of a polygon, and run it counter-clockwise."""
    names = list(range(1, len(corners) + 1))
    radius = np.array(radii)
    if (corners.conj() * following(corners)).imag.sum() < 0.0:
        corners, radius, names = corners[::-1], radius[::-1], names[::-1]
    side = following(corners) - corners
    length = np.abs(side)
    if length.min() <= _NOISE_IN:
        raise _corner_error("error.corner_twice", names, corners, int(length.argmin()))
    leaves = side / length
    turn_rad = np.angle(leaves * preceding(leaves).conj())
    reversing = np.abs(turn_rad) > np.pi - _NOISE_RAD
    if reversing.any():
        raise _corner_error("error.corner_back", names, corners, int(reversing.argmax()))
    cut_back = np.where(np.abs(turn_rad) > _NOISE_RAD, radius * np.tan(0.5 * np.abs(turn_rad)), 0.0)
    spare = length - cut_back - following(cut_back)
    if spare.min() < -_NOISE_IN:
        k = int(spare.argmin())
        worse = k if cut_back[k] >= cut_back[(k + 1) % len(corners)] else (k + 1) % len(corners)
        raise _corner_error(
            "error.corner_fillet",
            names,
            corners,
            worse,
            radius=inch(float(radius[worse])),
            by=missing(float(-spare[k])),
        )
    rows = []
    for k, corner in enumerate(corners):
        begin = corner - cut_back[k] * leaves[k - 1]
        end = corner + cut_back[k] * leaves[k]
        if cut_back[k] > _NOISE_IN:
            rows.append((begin.real, begin.imag, np.tan(0.25 * turn_rad[k])))
        if spare[k] > _NOISE_IN:
            rows.append((end.real, end.imag, 0.0))
    return Loop(np.array(rows)).cleaned()


def _corner_error(id: str, names: list[int], corners: Complexes, k: int, **values: Value) -> GeometryError:
    what = said(id, corner=int(names[k]), **values)
    return GeometryError(what, place=pair_of(corners[k]), remedy=said("error.corner.do"))


def _refuse_size(name: str, value: float) -> None:
    if not 0.0 < value < np.inf:
        raise GeometryError(
            said("error.size", size=inch(value)), where=name, remedy=said("error.over_zero_length")
        )


def _refuse_radius(name: str, value: float, *, most: float = np.inf) -> None:
    if not 0.0 <= value < np.inf:
        raise GeometryError.saying("error.radius", where=name, radius=inch(value))
    if value > most + _NOISE_IN:
        raise GeometryError.saying("error.radius_large", where=name, radius=inch(value), most=inch(most))
