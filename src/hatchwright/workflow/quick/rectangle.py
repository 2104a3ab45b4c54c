"""A rectangular opening as several quick answers ask for it."""

from __future__ import annotations

from typing import Annotated

from hatchwright.job.entry import Entered, NotNegative, Positive, SameAs
from hatchwright.job.outline import RoundedRectangle
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Loop


class RectangleAsked(Entered):
    """An opening by its sizes, in the words of a job's entries."""

    width: Annotated[Positive, SameAs(RoundedRectangle, "width")]
    height: Annotated[Positive, SameAs(RoundedRectangle, "height")]
    radius: Annotated[NotNegative, SameAs(RoundedRectangle, "radius")]

    @property
    def loop(self) -> Loop:
        """Its edge about the origin [in]."""
        return rounded_rectangle(
            width_in=self.width.inch, height_in=self.height.inch, radius_in=self.radius.inch
        )
