"""The reinforced opening that most tests use: 44 rivets in two rows round a rounded rectangle."""

from __future__ import annotations

import numpy as np

from hatchwright.fem.curve import Curve
from hatchwright.fem.model import Fastener, OpeningModel, Sheet
from hatchwright.shapes.outlines import rounded_rectangle

MODULUS_PSI = 10.5e6


def ring_of(loop, count):
    """Even places along a loop, symmetric about the middle of its first side."""
    curve = Curve.of(loop)
    first = curve.length[0] / 2 if curve.sweep[0] == 0 else curve.length[0] + curve.length[1] / 2
    return curve.at((first + (np.arange(count) + 0.5) * curve.length.sum() / count) % curve.length.sum())[0]


def reinforced(*, center=(0.0, 0.0), inner=None, thickness_in=(0.040, 0.050), panel=(20.0, 16.0)):
    """A 20 x 16 panel with a 5.12 x 3.54 opening and a doubler 1.89 wide, inner row of 20 rivets, outer row of 24."""

    def frame(grow, radius):
        return rounded_rectangle(width_in=5.12 + grow, height_in=3.54 + grow, radius_in=radius, center=center)

    opening = frame(0.0, 0.984)
    places = np.concatenate([ring_of(frame(0.944, 1.456), 20), ring_of(frame(2.834, 2.401), 24)])
    rivets = tuple(
        Fastener(f"rivet {k}", float(x), float(y), 0.15625, 10.3e6, ("skin", "doubler"))
        for k, (x, y) in enumerate(places, start=1)
    )
    outer = rounded_rectangle(width_in=panel[0], height_in=panel[1], radius_in=0.0)
    return OpeningModel(
        skin=Sheet("skin", outer, opening, thickness_in[0], MODULUS_PSI),
        doublers=(Sheet("doubler", frame(3.78, 2.874), inner or opening, thickness_in[1], MODULUS_PSI),),
        fasteners=rivets,
    )
