"""Finite elements for an opening in a sheet: stress round it, loads of its fasteners, and buckling.

Knows sheets, fasteners and running loads only. `analyze` solves a model once, `UnitSolution.combine` gives the response
to any load, `analyze_twice` adds the error of the grid, `panel` prepares for buckling.
Method and limits: docs/theory/fem.md.
"""

from hatchwright.fem.analysis import analyze
from hatchwright.fem.bound import GridError, TwiceSolved, analyze_twice
from hatchwright.fem.buckling import Buckling, Panel, State, panel
from hatchwright.fem.model import Fastener, OpeningModel, Sheet, wide_panel
from hatchwright.fem.running import RowLoads, crossing_loads, row_loads, running_loads
from hatchwright.fem.solution import EdgeStress, Response, UnitSolution
from hatchwright.fem.stations import Fineness

__all__ = [
    "Buckling",
    "EdgeStress",
    "Fastener",
    "Fineness",
    "GridError",
    "OpeningModel",
    "Panel",
    "Response",
    "RowLoads",
    "Sheet",
    "State",
    "TwiceSolved",
    "UnitSolution",
    "analyze",
    "analyze_twice",
    "crossing_loads",
    "panel",
    "row_loads",
    "running_loads",
    "wide_panel",
]
