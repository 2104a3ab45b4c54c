"""The predicted cut with its deviation from the wanted line made large enough to see, as a value for a picture."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchwright.making.cutter.remnants import Remnant, remnants
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.shapes.distance import distances
from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.profile import Loop
from hatchwright.shapes.stations import corner_middles, places_at

_FACTORS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
_WIDEST_IN = 0.4
_PLACES = 900
_CHORD_IN = 1e-4


@dataclass(frozen=True, slots=True)
class Exaggerated:
    """A cut whose deviations are drawn larger than they are.

    Args:
        factor: how many times the deviation is drawn.
        runs: closed runs of the drawn edge, each of shape (n, 2) [in].
    """

    factor: int
    runs: tuple[Floats, ...]
    labels: tuple[Remnant, ...]


def exaggerated(chain: GuideChain) -> Exaggerated:
    """Draw the predicted cut with its deviation made visible.

    Returns:
        Exaggerated: by a round factor with which the deepest place is drawn no more than .4 in off; a place that is
            deeper than that is drawn as it is.
    """
    labels = remnants(chain)
    deepest_in = max((one.depth_in for one in labels), default=0.0)
    factor = 1
    if deepest_in > 0.0:
        factor = max(f for f in _FACTORS if f == 1 or f * deepest_in <= _WIDEST_IN)
    runs = [loop.points(_CHORD_IN) for loop in chain.predicted.loops]
    if factor > 1:
        runs = [_drawn(loop, chain, factor) for loop in chain.wanted.loops]
    return Exaggerated(factor, tuple(runs), labels)


def _drawn(loop: Loop, chain: GuideChain, factor: int) -> Floats:
    """Every place of the wanted line moved towards the nearest place of the cut, the factor times as far as it lies."""
    even = np.arange(_PLACES) * loop.length_in / _PLACES
    vertices = np.append(0.0, np.cumsum(loop.working_form().length_in)[:-1])
    places = places_at(loop, np.unique(np.concatenate([even, vertices, corner_middles(loop)]))).points
    drawn: Floats = places + factor * (distances(chain.predicted, places).foot - places)
    return drawn
