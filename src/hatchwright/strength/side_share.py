"""What the finite elements give the rivets on each side of the cut, in both readings of the count."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from hatchwright.layout.cut_side import CutSide
from hatchwright.layout.layout import Hole
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.load_case import Case
from hatchwright.strength.site import Site


@dataclass(frozen=True, slots=True)
class SideShare:
    """Load that the rivets of one side hand over to the doubler, by the formula of Huth.

    Args:
        side: its name, X+, X-, Y+ or Y-.
        half: rivets of the half that are there [-].
        ahead: of them those ahead of the opening's edge [-].
        half_lbf: what the half hands over together, which is all that the doubler carries past the middle [lbf].
        ahead_lbf: what those ahead of the edge hand over of it, along the same line [lbf].
    """

    side: str
    half: int
    ahead: int
    half_lbf: float
    ahead_lbf: float

    @property
    def ratio(self) -> float:
        """Share of those ahead of the edge in the load of the half, 0 when there is none [-]."""
        return self.ahead_lbf / self.half_lbf if self.half_lbf else 0.0


def side_shares(site: Site, case: Case, loads: Sequence[FastenerLoad]) -> tuple[SideShare, ...]:
    """Share of each reading, on the sides that a case loads.

    Args:
        loads: of the rivets that are there.
    Returns:
        tuple: in the order of the sides.
    """
    forces = {load.number: np.array([load.x_lbf, load.y_lbf]) for load in loads}
    return tuple(_share(side, forces) for side in site.sides if case.along(side.axis).value or case.q.value)


def _share(side: CutSide, forces: Mapping[int, npt.NDArray[np.float64]]) -> SideShare:
    half, ahead = _together(side.half, forces), _together(side.ahead, forces)
    size = float(np.hypot(*half))
    return SideShare(
        side.name,
        sum(hole.number in forces for hole in side.half),
        sum(hole.number in forces for hole in side.ahead),
        size,
        float(ahead @ half) / size if size else 0.0,
    )


def _together(
    holes: Sequence[Hole], forces: Mapping[int, npt.NDArray[np.float64]]
) -> npt.NDArray[np.float64]:
    own = [forces[hole.number] for hole in holes if hole.number in forces]
    total: npt.NDArray[np.float64] = np.array(own, dtype=np.float64).reshape(-1, 2).sum(axis=0)
    return total
