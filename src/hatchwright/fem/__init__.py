"""Finite elements for an opening in a sheet: stress round it, loads of its fasteners, and buckling.

Knows sheets, fasteners and running loads only. Start with `analyse`; method and limits: docs/theory/fem.md.
"""

from hatchwright.fem.analysis import analyse
from hatchwright.fem.model import Fastener, OpeningModel, Sheet, wide_panel
from hatchwright.fem.solution import EdgeStress, Response, UnitSolution
from hatchwright.fem.stations import Fineness

__all__ = [
    "EdgeStress",
    "Fastener",
    "Fineness",
    "OpeningModel",
    "Response",
    "Sheet",
    "UnitSolution",
    "analyse",
    "wide_panel",
]
