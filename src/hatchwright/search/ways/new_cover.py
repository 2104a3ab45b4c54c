"""A flush cover made anew to an opening that was filed too far: given sizes, the same gap all round."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.job.as_typed import typed_length
from hatchwright.job.outline import FiledEdges
from hatchwright.remedy import PartChange
from hatchwright.said import inch, said
from hatchwright.search.candidate import Candidate, Concern


def new_cover(concern: Concern) -> Iterator[Candidate]:
    """The cover as large as the opening that was measured leaves it with the gap that is drawn."""
    job = concern.job
    made = job.as_made.opening if job.as_made else None
    if job.cover is None or job.cover.gap is None or not isinstance(made, FiledEdges):
        return
    left, bottom, right, top = made.loop(concern.layout.center_in).bounds
    gap_in, unit = job.cover.gap.inch, concern.unit
    size_in = right - left - 2.0 * gap_in, top - bottom - 2.0 * gap_in
    middle_in = (left + right) / 2.0, (bottom + top) / 2.0
    outline = {
        "shape": "rounded rectangle",
        "width": typed_length(size_in[0], unit),
        "height": typed_length(size_in[1], unit),
        "radius": typed_length(max(made.radius.inch - gap_in, 0.0), unit),
        "center": [typed_length(one, unit) for one in middle_in],
    }
    what = said("way.new_cover", width=inch(size_in[0]), height=inch(size_in[1]), gap=inch(gap_in))
    yield Candidate((), what, (PartChange("cover.gap", None), PartChange("cover.outline", outline)))
