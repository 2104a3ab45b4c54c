"""Load of one fastener by both flexibility formulas, which make a band, and what those of each side hand over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.fem.solution import Response
from hatchwright.layout.cut_side import CutSide
from hatchwright.layout.layout import Hole
from hatchwright.strength.load_case import Case
from hatchwright.strength.site import Site
from hatchwright.strength.worked import inputs
from hatchwright.workings import Quantity


class FastenerLoad(Struct, frozen=True):
    """Load of one rivet or screw.

    Args:
        x_lbf: force along X on the sheet that it fastens, doubler or cover, by the formula of Huth [lbf].
        y_lbf: force along Y on that sheet, by the formula of Huth [lbf].
        huth_lbf: size of the load by the formula of Huth [lbf].
        swift_lbf: size of the load by the formula of Swift [lbf].
    """

    number: int
    x_lbf: float
    y_lbf: float
    huth_lbf: float
    swift_lbf: float

    @property
    def put_in(self) -> tuple[Quantity, ...]:
        """Both as they go into a working."""
        return inputs("lbf", P_Huth=self.huth_lbf, P_Swift=self.swift_lbf)

    @property
    def greater_lbf(self) -> float:
        """The greater of the two [lbf]."""
        return max(self.huth_lbf, self.swift_lbf)


def fastener_loads(huth: Response, swift: Response, kind: str) -> tuple[FastenerLoad, ...]:
    """Loads of all rivets or of all screws, in the order of the model.

    Args:
        kind: "rivet" or "screw", the word that their names start with.
    """
    sizes = (response.fastener_load_lbf.tolist() for response in (huth, swift))
    rows = zip(huth.unit.model.fasteners, huth.fastener_lbf.tolist(), *sizes, strict=True)
    return tuple(
        FastenerLoad(int(fastener.name.removeprefix(f"{kind} ")), x_lbf, y_lbf, by_huth, by_swift)
        for fastener, (x_lbf, y_lbf), by_huth, by_swift in rows
        if fastener.name.startswith(f"{kind} ")
    )


class SideShare(Struct, frozen=True):
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
    """Share of each reading in the loads of the rivets that are there, side by side as far as a case loads them."""
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
