"""Where a ring has room: at the opening's own place, or the least shift away from it.

The ring's outer edge is a box of the opening's straight edges, blown up by a radius. It keeps off another box by so
much where its own box, so much blown up more, does not touch that. Method: docs/theory/proposal.md, eq. 13 and 14.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.judged import FLOAT_NOISE
from hatchwright.search.proposal.ring import Shape

Floats = npt.NDArray[np.float64]
Shift = tuple[float, float]

_CHUNK = 1024
_MOST_HALVINGS = 40
"""More than any bay has steps, as a power of two [-]."""


class Obstacles(Struct, frozen=True):
    """Boxes that the ring keeps off, and landmark rows as boxes without width; from the opening's center.

    Args:
        boxes: x_from, y_from, x_to, y_to, infinite where there is no bound, shape (n, 4) [in].
        kept_in: what is kept from each, shape (n,) [in].
        names: of each.
    """

    boxes: Floats
    kept_in: Floats
    names: tuple[str, ...]

    def gaps_in(self, shape: Shape, ring_in: float, shift: Shift = (0.0, 0.0)) -> Floats:
        """What is left at each beyond what is kept, shape (n,) [in]."""
        off = self._off(shape, np.array([shift]))[0]
        return np.asarray(off - (shape.radius_in + ring_in) - self.kept_in)

    def widest_in(self, shape: Shape) -> float:
        """The widest ring that has room at the opening's own place; negative where not even the opening has [in]."""
        return float(self.gaps_in(shape, 0.0).min(initial=math.inf))

    def _off(self, shape: Shape, shifts: Floats) -> Floats:
        """From the box of the straight edges to each obstacle, negative within by the least way out, of shape
        (n_shifts, n) [in]."""
        half = np.array([shape.half_x_in, shape.half_y_in])
        low, high = self.boxes[:, :2], self.boxes[:, 2:]
        apart = np.maximum(low - (shifts + half)[:, None, :], (shifts - half)[:, None, :] - high)
        beside = np.maximum(apart, 0.0)
        outside = np.hypot(beside[..., 0], beside[..., 1])
        return np.asarray(np.where(outside > 0.0, outside, apart.max(axis=-1)))

    def are_clear(self, shape: Shape, ring_in: float, shifts: Floats) -> npt.NDArray[np.bool_]:
        """Whether a ring has room at each of some shifts, shape (m, 2) [in], shape (m,)."""
        square = np.zeros((len(shifts), len(self.boxes)))
        for axis, half_in in enumerate((shape.half_x_in, shape.half_y_in)):
            at = shifts[:, axis, None]
            apart = np.maximum(self.boxes[:, axis] - half_in - at, at - half_in - self.boxes[:, axis + 2])
            np.maximum(apart, 0.0, out=apart)
            square += apart * apart
        radius = np.maximum(shape.radius_in + ring_in + self.kept_in - FLOAT_NOISE, 0.0)
        return np.asarray((square >= radius**2).all(axis=1))

    def within_reach(self, shape: Shape, ring_in: float, most_in: float) -> Obstacles:
        """Those that a ring can touch while it is shifted by so much at most [in]."""
        near = self.gaps_in(shape, ring_in) < most_in
        names = tuple(name for name, is_near in zip(self.names, near.tolist(), strict=True) if is_near)
        return Obstacles(self.boxes[near], self.kept_in[near], names)


def least_shift(
    obstacles: Obstacles, shape: Shape, ring_in: float, most_in: float, step_in: float
) -> Shift | None:
    """The least shift at which a ring has room, on the shop's step, or None within a reach [in].

    Args:
        most_in: the farthest that it may be shifted [in].
    """
    if obstacles.gaps_in(shape, ring_in).min(initial=math.inf) >= -FLOAT_NOISE:
        return 0.0, 0.0
    near = obstacles.within_reach(shape, ring_in, most_in + 2.0 * step_in)
    for exact in _clear(near, shape, ring_in, _candidates(near, shape, ring_in, most_in)):
        around = np.array([(i, j) for i in (-1, 0, 1, 2) for j in (-1, 0, 1, 2)])
        on_step = (np.floor(exact / step_in) + around) * step_in
        on_step = on_step[np.hypot(*on_step.T) <= most_in + FLOAT_NOISE]
        on_step = on_step[near.are_clear(shape, ring_in, on_step)]
        if len(on_step):
            x, y = min(on_step.tolist(), key=lambda one: (round(math.hypot(*one), 9), one))
            return x, y
    return None


def widest_shifted_in(obstacles: Obstacles, shape: Shape, most_in: float, step_in: float) -> float:
    """The widest ring that has room somewhere within a reach, on the shop's step and found by halving [in]."""
    key = (obstacles.boxes.tobytes(), obstacles.kept_in.tobytes())
    return _widest_shifted_in(key, shape, most_in, step_in)


@lru_cache(
    maxsize=256
)  # several rivets and sheets keep the same off, and a question is asked again with one limit moved
def _widest_shifted_in(key: tuple[bytes, bytes], shape: Shape, most_in: float, step_in: float) -> float:
    boxes, kept_in = (np.frombuffer(each, dtype=np.float64) for each in key)
    obstacles = Obstacles(boxes.reshape(-1, 4), kept_in, ("",) * len(kept_in))
    own_in = obstacles.widest_in(shape)
    if not math.isfinite(own_in):
        return own_in
    low, high = math.floor(own_in / step_in), math.ceil((own_in + most_in) / step_in)
    for _ in range(_MOST_HALVINGS):
        if high - low <= 1:
            break
        middle = (low + high) // 2
        shift = least_shift(obstacles, shape, middle * step_in, most_in, step_in)
        if shift is None:
            high = middle
        else:  # there a wider one may have room yet
            low = max(middle, math.floor(float(obstacles.gaps_in(shape, 0.0, shift).min()) / step_in))
    return max(own_in, low * step_in)


def _clear(obstacles: Obstacles, shape: Shape, ring_in: float, shifts: Floats) -> Floats:
    """Those of some shifts at which a ring has room, in their order: of the first chunk that has any."""
    for begin in range(0, len(shifts), _CHUNK):
        some = shifts[begin : begin + _CHUNK]
        clear = obstacles.are_clear(shape, ring_in - FLOAT_NOISE, some)
        if clear.any():
            return np.asarray(some[clear])
    return np.zeros((0, 2))


def _candidates(obstacles: Obstacles, shape: Shape, ring_in: float, most_in: float) -> Floats:
    """Every shift that can be the least: the feet of the origin on the outlines of the forbidden shifts, and where two
    of those cross, the shortest first, shape (n, 2) [in].

    A forbidden shift lies in an obstacle grown by the box of the straight edges and by a radius: four lines and four
    circles each. What is no point of the outline is told apart by the check that follows.
    """
    half = np.array([shape.half_x_in, shape.half_y_in])
    radius = shape.radius_in + ring_in + obstacles.kept_in
    low, high = obstacles.boxes[:, :2] - half, obstacles.boxes[:, 2:] + half
    x_lines = _finite(np.concatenate([low[:, 0] - radius, high[:, 0] + radius]))
    y_lines = _finite(np.concatenate([low[:, 1] - radius, high[:, 1] + radius]))
    corners = [np.column_stack([x[:, 0], y[:, 1], radius]) for x in (low, high) for y in (low, high)]
    circles = np.vstack(corners)
    circles = circles[np.isfinite(circles).all(axis=1)]
    found = [
        np.column_stack([x_lines, np.zeros_like(x_lines)]),
        np.column_stack([np.zeros_like(y_lines), y_lines]),
        np.stack(np.meshgrid(x_lines, y_lines), axis=-1).reshape(-1, 2),
        _feet(circles),
        _on_lines(circles, x_lines, axis=0),
        _on_lines(circles, y_lines, axis=1),
        _crossings(circles),
    ]
    shifts = np.vstack(found)
    length = np.hypot(*shifts.T)
    within = length <= most_in + FLOAT_NOISE
    shifts, length = shifts[within], length[within]
    return np.asarray(shifts[np.lexsort((shifts[:, 1], shifts[:, 0], np.round(length, 9)))])


def _finite(values: Floats) -> Floats:
    return np.unique(values[np.isfinite(values)])


def _feet(circles: Floats) -> Floats:
    """The nearest point of each circle to the origin, shape (n, 2)."""
    center = circles[:, 0] + 1j * circles[:, 1]
    far = np.maximum(np.abs(center), FLOAT_NOISE)
    foot = center * (1.0 - circles[:, 2] / far)
    return np.column_stack([foot.real, foot.imag])


def _on_lines(circles: Floats, lines: Floats, axis: int) -> Floats:
    """Where circles cross lines at a place along one axis, shape (n, 2)."""
    off = lines[None, :] - circles[:, axis, None]
    square = circles[:, 2, None] ** 2 - off**2
    of, line = np.nonzero(square >= 0.0)
    reach = np.sqrt(square[of, line])
    across = np.concatenate([circles[of, 1 - axis] - reach, circles[of, 1 - axis] + reach])
    along = np.tile(lines[line], 2)
    return np.column_stack([along, across] if axis == 0 else [across, along])


def _crossings(circles: Floats) -> Floats:
    """Where circles cross each other, shape (n, 2)."""
    one, other = np.triu_indices(len(circles), 1)
    center = circles[:, 0] + 1j * circles[:, 1]
    step = center[other] - center[one]
    apart = np.abs(step)
    r, s = circles[one, 2], circles[other, 2]
    with np.errstate(divide="ignore", invalid="ignore"):
        along = (apart**2 + r**2 - s**2) / (2.0 * apart)
        square = r**2 - along**2
    meets = (apart > FLOAT_NOISE) & (square >= 0.0)
    one, step, apart, along = one[meets], step[meets] / apart[meets], apart[meets], along[meets]
    foot, reach = center[one] + along * step, np.sqrt(square[meets]) * 1j * step
    points = np.concatenate([foot - reach, foot + reach])
    return np.column_stack([points.real, points.imag])
