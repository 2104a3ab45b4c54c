"""What is told of the template wherever a job is told in few words: its size, or that the tool takes none."""

from __future__ import annotations

from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.named import tool_named
from hatchwright.layout.sizes import is_round, size_of
from hatchwright.making.template.flat_size import flat_size
from hatchwright.said import Said, inch, said
from hatchwright.workflow.examine import Examination


def template_said(examination: Examination) -> Said | None:
    """The size of the template that guides the cutter, as it is made flat, or that a hand tool takes none; None where
    the job has neither, or its template can't be made.

    Returns:
        Said: such as ``Template window 5.277 x 4.277, corners R .8885.``; a round one, or one with sharp corners or
            none, by its size alone.
    """
    if tool := examination.job.hand_tool:
        id = "template.round_hole" if tool.what.round_holes else "template.by_hand"
        return said(id, tool=tool_named(tool))
    making = examination.making
    if making is None:
        return None
    width_in, height_in = flat_size(making)
    corner, bounds = making.chain.machinable_corner, (0.0, 0.0, width_in, height_in)
    of = "window" if making.is_window else "plug"
    if corner is None or corner.radius_in < FLOAT_NOISE or is_round(bounds, corner):
        return said(f"template.size_of.{of}", size=size_of(bounds, corner))
    return said(
        f"template.size_of.{of}_corners", size=size_of(bounds), radius=inch(corner.radius_in, fine=True)
    )
