"""How far forward and aft the center of gravity may lie at each weight."""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from hatchwright.job.fleet.weight import CgLimit


class Envelope(Struct, frozen=True):
    """Limits at some weights, the lightest first; straight between two, and the nearest one's beyond the ends."""

    weights_lb: tuple[float, ...]
    forward_in: tuple[float, ...]
    aft_in: tuple[float, ...]

    @property
    def heaviest_lb(self) -> float:
        """The most that the aircraft may weigh [lb]."""
        return self.weights_lb[-1]

    @property
    def widest_in(self) -> float:
        """The largest allowable range of the center of gravity [in]."""
        return max(aft - forward for forward, aft in zip(self.forward_in, self.aft_in, strict=True))

    def forward_at(self, weight_lb: float) -> float:
        """The forward limit at a weight [in]."""
        return float(np.interp(weight_lb, self.weights_lb, self.forward_in))

    def aft_at(self, weight_lb: float) -> float:
        """The rearward limit at a weight [in]."""
        return float(np.interp(weight_lb, self.weights_lb, self.aft_in))

    def narrowest(self, weight_lb: float, u_lb: float) -> tuple[float, float]:
        """Both limits at the end of a weight's uncertainty at which each is the harder: forward, rearward [in]."""
        ends_lb = (weight_lb - u_lb, weight_lb, weight_lb + u_lb)
        return max(map(self.forward_at, ends_lb)), min(map(self.aft_at, ends_lb))


def envelope_of(limits: tuple[CgLimit, ...]) -> Envelope:
    """The limits as entered, at least one."""
    return Envelope(
        tuple(float(one.weight) for one in limits),
        tuple(one.forward.inch for one in limits),
        tuple(one.aft.inch for one in limits),
    )
