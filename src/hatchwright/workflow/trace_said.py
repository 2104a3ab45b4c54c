"""What is told of a traced drawing: each edge that goes into the job, its holes, what was left out."""

from __future__ import annotations

import json
from collections.abc import Iterator

from hatchwright.said import Amount, Place, Said, inch, said
from hatchwright.workflow.trace import TracedJob
from hatchwright.workflow.traced_entry import TracedEntry


def trace_lines(found: TracedJob) -> Iterator[Said]:
    """Each sentence, the edges first."""
    for one in found.entries:
        yield _entry(one, found.within_in)
    if round(found.turned_deg, 2):
        yield said("trace.leveled", turn=Amount(round(found.turned_deg, 2), "deg"))
    if found.row:
        sizes = [hole.diameter_in for hole in found.holes]
        off_in = max(hole.departure_in for hole in found.holes)
        yield said(
            "trace.hole_set",
            n=len(found.holes),
            row=str(found.row[1]["name"]),
            least=inch(min(sizes), fine=True),
            most=inch(max(sizes), fine=True),
            off=inch(off_in, fine=True),
        )
    elif found.part.holes:
        yield said("trace.holes_left", n=len(found.part.holes))
    for x, y, size in found.part.left:
        yield said("trace.left", place=Place(x, y), size=inch(size))


def _entry(one: TracedEntry, within_in: float) -> Said:
    x_min, y_min, x_max, y_max = one.loop.bounds
    lines, arcs = one.lines_and_arcs
    told = {"width": inch(x_max - x_min, fine=True), "height": inch(y_max - y_min, fine=True)}
    return said(
        "trace.dxf" if one.file else "trace.known",
        part=said(f"trace.part.{one.field}"),
        shape=str(one.values["shape"]),
        n=lines + arcs,
        lines=lines,
        arcs=arcs,
        off=inch(one.departure_in, fine=True),
        within=inch(within_in, fine=True),
        points=one.points,
        **told,
    )


def entry_texts(found: TracedJob) -> Iterator[str]:
    """What would be written, as lines of a job file."""
    for one in found.entries:
        yield f"[{one.field}]"
        yield from (f"{name} = {_typed(value)}" for name, value in one.values.items())
    if found.row:
        yield "[[rows]]"
        yield from (f"{name} = {_typed(value)}" for name, value in found.row[1].items())
        yield from ("points = [", *(f"    {_typed(point)}," for point in found.points), "]")


def _typed(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)
