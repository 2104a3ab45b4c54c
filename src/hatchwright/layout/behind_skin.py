"""How far things lie and reach behind the skin: one datum for all of them, its outer face."""

from __future__ import annotations

from hatchwright.job.bay import KeepOut
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.layout import Layout

THROUGH_IN = 0.125
"""How far a drill's point may come out behind the last sheet: the stop's setting [in]. Common practice, no source."""

BEFORE_IN = 0.125
"""What is to stay between the drill's point and what lies behind [in]. Common practice, no source."""


def skin_in(layout: Layout) -> float:
    """From the outer to the inner face of the skin: as entered or as measured, the thicker of the two [in]."""
    skin = layout.job.skin
    return max(skin.thickness.inch, skin.measured.inch if skin.measured else 0.0)


def lies_on_skin(keep_out: KeepOut, layout: Layout) -> bool:
    """Whether something lies against the inner face of the skin; so does what was entered without a depth."""
    return keep_out.depth is None or keep_out.depth.inch <= skin_in(layout) + FLOAT_NOISE


def depth_in(keep_out: KeepOut, layout: Layout) -> float:
    """From the outer face of the skin to something behind it; at least the skin is between [in]."""
    return skin_in(layout) if keep_out.depth is None else max(keep_out.depth.inch, skin_in(layout))
