"""A plain hole: one that stays open, for a wire bundle, a line, a vent or a drain, with what guards its edge."""

from typing import Literal

from hatchwright.job.entry import Entered, Positive, YesNo


class PlainHole(Entered):
    """A hole without a cover: its edge in a grommet, stiffened by a ring, or bare; and the wire that goes through."""

    edge: Literal["grommet", "ring", "bare"]
    wires: YesNo | None = None
    wire_distance: Positive | None = None
