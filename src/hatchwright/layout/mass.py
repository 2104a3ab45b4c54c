"""What the new sheet parts weigh, and what is taken away."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.layout.layout import Layout, Part
from hatchwright.said import said
from hatchwright.tables.materials import sheet
from hatchwright.words.tell import tell
from hatchwright.workings import Quantity, Working


@dataclass(frozen=True, slots=True)
class Mass:
    """One item of the mass of a job.

    Args:
        mass_lb: negative for what is taken away [lb].
        uncertainty_lb: by how much it may be out [lb].
    """

    name: str
    mass_lb: float
    uncertainty_lb: float
    working: Working


SHEET_UNCERTAINTY_RATIO = 0.05
"""Sheet comes a twentieth thicker or thinner than its gauge, and holes are left out; common practice, no source [-]."""


def sheet_masses(layout: Layout) -> tuple[Mass, ...]:
    """The sheet parts of a job: doubler and cover added, the skin of the opening taken away.

    Returns:
        tuple: one for each sheet, holes left out of account.
    Raises:
        TableError: the density of a sheet is not in the tables.
    """
    opening_sq_in = abs(layout.opening.area_sq_in)
    found = []
    for part in layout.parts:
        if part.name == "skin":
            found.append(_mass(layout, part, tell(said("weight.skin_taken_away")), -opening_sq_in))
        else:
            area = sum(
                (1.0 if edge.metal_inside else -1.0) * abs(edge.loop.area_sq_in) for edge in part.edges
            )
            found.append(_mass(layout, part, part.name, area))
    return tuple(found)


def _mass(layout: Layout, part: Part, name: str, area_sq_in: float) -> Mass:
    density = sheet(part.alloy, part.temper, part.clad, layout.shop).density
    mass_lb = area_sq_in * part.thickness_in * density.value
    working = Working.resting_on(
        density,
        "m = area x t x density",
        Quantity("m", mass_lb, "lb"),
        Quantity("area", area_sq_in, "in^2"),
        Quantity("t", part.thickness_in, "in"),
        Quantity("density", density.value, "lb/in^3"),
    )
    return Mass(name, mass_lb, SHEET_UNCERTAINTY_RATIO * abs(mass_lb), working)
