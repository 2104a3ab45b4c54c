"""What is left to be filed: from the cut as it will be to the finished line.

Method: docs/theory/guide_template.md, Filing.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.making.cutter.scallop import Scallop, scallops
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.said import said
from hatchwright.shapes.deviation import Depth, deviation
from hatchwright.shapes.distance import distances
from hatchwright.shapes.pieces import points_of
from hatchwright.shapes.profile import Loop, profile_of


class Filing(Struct, frozen=True):
    """The metal between the predicted cut and the finished line.

    Args:
        least_in: where there is least of it, negative where the cut goes beyond the finished line [in].
        most: where there is most of it, most often in a corner; without the ridges.
        ridges: between bites along each piece, the highest first; none for a cutter that takes no bites.
    """

    least_in: float
    most: Depth
    ridges: tuple[Scallop, ...]
    area_sq_in: float


def filing(chain: GuideChain, finished: Loop, *, advance_in: float | None) -> Filing:
    """Work out what is left to be filed, with the advance per bite, None for a cutter that takes none [in];
    GeometryError where the bites do not overlap, or nothing is cut."""
    if chain.predicted.is_empty:
        raise GeometryError(said("filing.nothing_cut"), where="template")
    wanted = profile_of(finished)
    off = deviation(chain.predicted, wanted)
    edge = chain.predicted.working_form()
    nearest = distances(wanted, points_of(np.concatenate([edge.start, edge.middle])))
    beyond_in, left_in = off.over_cut.depth_in, max(float(nearest.inward_in.min()), 0.0)
    ridges: tuple[Scallop, ...] = ()
    if advance_in is not None:
        ridges = scallops(chain.predicted, cut_in=chain.guide.cut_in, advance_in=advance_in)
    return Filing(-beyond_in if beyond_in > 0.0 else left_in, off.under_cut, ridges, off.left_area_sq_in)
