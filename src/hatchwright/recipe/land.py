"""How a doubler is located: the land that shows beside the opening's edge, and how far off it may lie."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.survey import survey
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.rivet_part import parse_rivet

_EQUAL_IN = 5e-4


class Land(Struct, frozen=True):
    """What of a doubler shows beside the edge of the opening, and what it costs to lie off.

    Args:
        least_in, greatest_in: from the opening's edge to that of the doubler's window, negative where the window is
            larger than the opening; None for a doubler without a window [in].
        nearest: the hole whose edge distance in the doubler has the least to spare; None without one.
        spare_in: what it surely has to spare over the least that is asked, its uncertainty taken off; negative where
            it is short or can't be shown to hold [in].
    """

    least_in: float | None
    greatest_in: float | None
    nearest: Hole | None = None
    spare_in: float = 0.0

    @property
    def is_equal(self) -> bool:
        """Whether the same land shows all around."""
        if self.least_in is None or self.greatest_in is None:
            return False
        return self.greatest_in - self.least_in < _EQUAL_IN


def land_of(layout: Layout) -> Land | None:
    """The land of a job's doubler; None without a doubler.

    Where window and opening have corners of other radii the land differs there: it is taken on the straights, at the
    middle of each side.
    """
    doubler = layout.part("doubler")
    if doubler is None:
        return None
    nearest, spare_in = _least_spare(layout)
    windows = [edge for edge in doubler.edges if not edge.metal_inside]
    if not windows:
        return Land(None, None, nearest, spare_in)
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    x, y = layout.center_in
    middles = [(x_min, y), (x_max, y), (x, y_min), (x, y_max)]
    shown = distances(Profile((windows[0].loop,)), middles)
    land = [-inward_in for inward_in in shown.inward_in.tolist()]
    return Land(min(land), max(land), nearest, spare_in)


def _least_spare(layout: Layout) -> tuple[Hole | None, float]:
    """The rivet of the doubler whose edge distance has the least to spare, and how much [in]."""
    flush, other = (
        layout.limit(f"edge_min_{which}").value for which in ("countersunk", "single_row_protruding")
    )
    spare = [
        (surely_in - (flush if parse_rivet(hole.fastener).is_flush else other) * hole.diameter_in, hole)
        for row in survey(layout).listed().edges
        if row.part.name == "doubler"
        for hole, surely_in in zip(row.holes, (row.distance_in - row.uncertainty_in).tolist(), strict=True)
        if hole.kind == "rivet"
    ]
    spare_in, nearest = min(spare, key=lambda one: one[0], default=(0.0, None))
    return nearest, spare_in
