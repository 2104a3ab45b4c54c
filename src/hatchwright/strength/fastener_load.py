"""Load of one fastener by both flexibility formulas, which make a band."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.fem.solution import Response
from hatchwright.strength.worked import inputs
from hatchwright.workings import Quantity


@dataclass(frozen=True, slots=True)
class FastenerLoad:
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
    """Loads of all rivets or of all screws.

    Args:
        kind: "rivet" or "screw", the word that their names start with.
    Returns:
        tuple: in the order of the model.
    """
    sizes = (response.fastener_load_lbf.tolist() for response in (huth, swift))
    rows = zip(huth.unit.model.fasteners, huth.fastener_lbf.tolist(), *sizes, strict=True)
    return tuple(
        FastenerLoad(int(fastener.name.removeprefix(f"{kind} ")), x_lbf, y_lbf, by_huth, by_swift)
        for fastener, (x_lbf, y_lbf), by_huth, by_swift in rows
        if fastener.name.startswith(f"{kind} ")
    )
