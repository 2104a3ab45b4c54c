"""The elliptical arc of an SVG path, as places along it.

Source: [SVG 1.1], appendix F.6.5 and F.6.6.
"""

from __future__ import annotations

import cmath
import math

import numpy as np

from hatchwright.shapes.pieces import Complexes

_MOST_STEPS = 2000


def arc_places(
    start: complex, end: complex, *, radii: tuple[float, float], turn_deg: float, is_large: bool,
    is_clockwise: bool, sag: float,
) -> Complexes:  # fmt: skip
    """Places along an arc behind its start, the last at its end, shape (n,) [the drawing's unit].

    Args:
        radii: along its own axes, of either sign; 0 makes it a line.
        turn_deg: of its first axis [deg].
        is_large: whether it is the longer of the two ways.
        is_clockwise: whether it runs from X toward the Y of the drawing.
        sag: how far chords may lie off it.
    """
    rx, ry = (abs(one) for one in radii)
    if not (rx and ry) or start == end:
        return np.array([end])
    way = cmath.rect(1.0, math.radians(turn_deg))

    def unit(z: complex) -> complex:
        own = z / way
        return complex(own.real / rx, own.imag / ry)

    first, last = unit(start), unit(end)
    reach = 0.5 * abs(last - first)
    if reach > 1.0:  # too small to reach: grown until it does
        rx, ry, first, last, reach = rx * reach, ry * reach, first / reach, last / reach, 1.0
    aside = math.sqrt(max(1.0 - reach**2, 0.0)) * (-1.0 if is_large == is_clockwise else 1.0)
    hub = 0.5 * (first + last) + aside * 1j * (last - first) / abs(last - first)
    swept = cmath.phase((last - hub) / (first - hub))
    if is_clockwise != (swept > 0.0):
        swept += 2.0 * math.pi if is_clockwise else -2.0 * math.pi
    step = 2.0 * math.acos(max(1.0 - sag / max(rx, ry), 0.0))
    steps = min(max(math.ceil(abs(swept) / max(step, 1e-9)), 2), _MOST_STEPS)
    turn = (first - hub) * np.exp(1j * swept * np.arange(1, steps + 1) / steps) + hub
    places: Complexes = (turn.real * rx + 1j * turn.imag * ry) * way
    places[-1] = end
    return places
