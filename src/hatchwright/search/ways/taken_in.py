"""What an opening that is moved out past drilled holes must take with it."""

from __future__ import annotations

from contextlib import suppress

from hatchwright.errors import TableError
from hatchwright.job.outline import Outline, loop_about
from hatchwright.layout.layout import Hole, points_of
from hatchwright.search.candidate import Concern
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.rivets import hole_drill

_METAL_IN = 0.030
"""Metal that is cut away past a hole that the opening takes in, so that nothing of it is left in the edge. Common
practice, no source [in]."""
MOST_OUT_IN = 1.0
"""An edge that has to move farther is another design. Common practice, no source [in]."""


def takes_in(concern: Concern, outline: Outline, holes: tuple[Hole, ...]) -> bool:
    """Whether some holes are cut away by an outline with metal round them, their uncertainty included; what is left in
    the skin, or cut through, may not go unsaid."""
    gaps = distances(Profile((loop_about(outline, concern.layout.center_in),)), points_of(holes))
    least_in = [_bored_in(concern, hole) / 2.0 + hole.uncertainty_in + _METAL_IN for hole in holes]
    return all(
        is_inside and away_in >= least
        for is_inside, away_in, least in zip(gaps.inside, gaps.distance_in, least_in, strict=True)
    )


def _bored_in(concern: Concern, hole: Hole) -> float:
    """How large a hole may be: as measured with its uncertainty, else as its usual drill leaves it [in]."""
    if hole.hole_in is not None:
        return hole.hole_in + hole.size_uncertainty_in
    with suppress(TableError):
        return hole_drill(hole.diameter_in, shop=concern.layout.shop).diameter_in
    return hole.diameter_in
