"""How loose the template of a job lies on its pins while the opening is cut.

Method: docs/theory/risk.md, eq. 3.
"""

from __future__ import annotations

import math
from itertools import combinations

from hatchwright.making.making import Making
from hatchwright.making.pins.pin_layout import planned_pins
from hatchwright.search.risk.errors import Play


def play_of(making: Making | None) -> Play | None:
    """The play of the pins that hold in the plan; None where clearance or plan is not known, or clamps alone hold."""
    clearance = making.template.pin_clearance if making else None
    layout = planned_pins(making) if making and clearance else None
    if clearance is None or layout is None or layout.plan is None:
        return None
    held = {index for stage in layout.plan.stages for index in stage.pins}
    places = [layout.pins[index].place for index in held if not layout.pins[index].is_clamp]
    span_in = max((math.dist(one, other) for one, other in combinations(places, 2)), default=0.0)
    return Play(clearance.inch, span_in) if span_in > 0.0 else None
