"""What a cut on scrap with the template must measure, and from where on it fails.

Method: docs/theory/guide_template.md, Filing.
"""

from __future__ import annotations

from contextlib import suppress

from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.making.cutter.filing import filing
from hatchwright.making.making import Making
from hatchwright.making.template.flat_size import flat_cut
from hatchwright.making.template.rigid_template import rigid_over_in
from hatchwright.making.trial.trial import USUAL_GAUGE
from hatchwright.units import parse_length


class ScrapCut(Struct, frozen=True):
    """The cut that a template gives on flat scrap. A reading passes by more than the error of a usual caliper.

    Args:
        size_in: along X and Y, as planned [in].
        left_in: metal left outside it where there is least, which a wider cut eats up; 0 where none is left [in].
        allowance_in: metal that it is to leave all round [in].
        gauge_in: what a usual caliper may be off [in].
    """

    size_in: tuple[float, float]
    left_in: float
    allowance_in: float
    gauge_in: float

    @property
    def has_room(self) -> bool:
        """Whether there is metal enough between planned and finished line that a caliper can tell; else no cut over
        the planned size passes."""
        return min(2.0 * self.left_in, 2.0 * self.allowance_in) > self.gauge_in

    def most_in(self, axis: int) -> float:
        """Along an axis, 0 for X: over it the cut on the aircraft would go past the finished line [in]."""
        return self.size_in[axis] + (2.0 * self.left_in - self.gauge_in if self.has_room else 0.0)

    def least_in(self, axis: int) -> float:
        """Along an axis, 0 for X: under it the offset is off by more than the metal that is left to file, so that it is
        not that of this cutter [in]."""
        return self.size_in[axis] - (2.0 * self.allowance_in - self.gauge_in if self.has_room else 0.0)


def scrap_cut(making: Making) -> ScrapCut:
    """Work out what a cut on scrap must measure; where nobody can say what is left, no more than planned passes."""
    left_in, advance = 0.0, making.cutter.advance
    with suppress(GeometryError):  # T402 says why
        found = filing(making.chain, making.layout.wanted, advance_in=advance.inch if advance else None)
        left_in = max(0.0, found.least_in - rigid_over_in(making.layout))
    gauge_in = parse_length(USUAL_GAUGE[making.unit]).inch
    return ScrapCut(flat_cut(making), left_in, making.cutter.filing_allowance.inch, gauge_in)
