"""The load that a cover draws through its screws, without and with clearance."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.strength.worked import Worked, inputs, work_out

SCREW_MODULUS_PSI = 29.0e6
"""Steel screws, common practice, no source [psi]."""


@dataclass(frozen=True, slots=True)
class CoverPath:
    """The cover beside the doubler as two springs across the opening, along one axis.

    Args:
        length_in: of the opening along the load [in].
        doubler_lbf: E A of the doubler beside the opening [lbf].
        cover_lbf: E A of the cover [lbf].
        screws: screws on each side, along the load.
        flexibility: of one screw [in/lbf].
    """

    length_in: float
    doubler_lbf: float
    cover_lbf: float
    screws: int
    flexibility: Worked


def drawn_load(path: CoverPath, *, load_lbf: float, clearance_in: float = 0.0) -> Worked:
    """Load that the cover takes from the doubler.

    Args:
        load_lbf: load that goes round the opening [lbf].
        clearance_in: how far the screws of one side slide before they bear [in].
    Returns:
        Worked: load in the cover; nothing as long as the opening stretches less than both clearances [lbf].
    Method: docs/theory/cover.md, eq. 3 and 4.
    """
    doubler = path.doubler_lbf / path.length_in
    cover = 1 / (path.length_in / path.cover_lbf + 2 * path.flexibility.value / path.screws)
    taken = max(0.0, cover * (abs(load_lbf) - doubler * 2 * clearance_in) / (cover + doubler))
    return work_out(
        taken,
        "P cover = kc (P - kd 2 g) / (kc + kd); kd = EA doubler / L; 1/kc = L / EA cover + 2 C / n [lbf]",
        *inputs("lbf", P=abs(load_lbf), EA_doubler=path.doubler_lbf, EA_cover=path.cover_lbf),
        *inputs("in", L=path.length_in, g=clearance_in),
        path.flexibility,
        *inputs("", n=float(path.screws)),
    )
