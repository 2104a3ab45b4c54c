"""R215, R929: whether a lapped cover or a mounted base lies flat: on no heads, and over its opening."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.job.mount import Mount
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, is_flush
from hatchwright.shapes.distance import distances
from hatchwright.shapes.outlines import polygon
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Quantity, Source

_CHORD_IN = 1e-4
_NAMED_HOLES = 6
_HEAD_RATIO = Cited(
    2.0, "D", Source("PRACTICE", "universal heads are about two diameters across"), Grade.PRACTICE
)
_SEAT = Cited(0.0, "in", Source("GEOMETRY", "a base over its opening"), Grade.COMPUTED)


def base_outline(mount: Mount, layout: Layout) -> Loop:
    """The outline of a mounted base, square to the axes about the opening's centre.

    Returns:
        Loop: counter-clockwise [in].
    """
    (x_in, y_in), (width, height) = layout.center_in, mount.base
    half = np.array([width.inch / 2.0, height.inch / 2.0])
    return polygon(np.array([x_in, y_in]) + half * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]))


def _laid_on_skin(layout: Layout) -> Iterator[tuple[str, Loop]]:
    """What lies on the outer face: a lapped cover and a mounted base."""
    job, cover = layout.job, layout.part("cover")
    if cover and job.cover and job.cover.fit == "lapped":
        yield "lapped cover", cover.edges[0].loop
    if job.mount:
        yield "mounted base", base_outline(job.mount, layout)


@rule(
    "R215", Shelf.HOLDS, rests_on=(_HEAD_RATIO,), reads=("cover", "holes", "mount", "parts"), marks_holes=True
)
def heads_under(survey: Survey) -> Iterator[Finding]:
    """R215: new heads under a cover or base."""
    rivets = tuple(hole for hole in survey.layout.holes_of("rivet") if not is_flush(hole))
    if not rivets:
        return
    for name, loop in _laid_on_skin(survey.layout):
        gaps = distances(Profile((loop,)), points_of(rivets))
        outside_in = np.where(gaps.inside, -gaps.distance_in, gaps.distance_in)
        heads_in = _HEAD_RATIO.value / 2.0 * np.array([hole.diameter_in for hole in rivets])
        sure_in = outside_in - heads_in - np.array([hole.uncertainty_in for hole in rivets])
        under = tuple(rivets[k] for k in np.flatnonzero(sure_in < -FLOAT_NOISE).tolist())
        worst = int(np.argmin(sure_in))
        hole, clear_in = rivets[worst], float(outside_in[worst] - heads_in[worst])
        named = holes_named(*under) if 0 < len(under) <= _NAMED_HOLES else f"{len(under)} rivets"
        yield against(
            "R215",
            Status.UNKNOWN if under else Status.PASS,
            f"the {name} lies on the heads of {named}" if under else f"the {name} lies on no new heads",
            value=clear_in,
            limit=0.0,
            unit="in",
            cited=_HEAD_RATIO,
            formula="clear = gap from edge to centre - half the head, about 2 D across",
            values=(Quantity("D", hole.diameter_in, "in"), Quantity("clear", clear_in, "in")),
            advice="Use flush rivets there, move the row out, or say on the drawing how it is seated."
            if under
            else "",
            holes=tuple(hole.number for hole in under),
            place=(hole.x_in, hole.y_in),
            shortfall=-clear_in,
            uncertainty=hole.uncertainty_in,
        )


@rule("R929", Shelf.HOLDS, rests_on=(_SEAT,), reads=("mount", "parts"))
def base_over_opening(survey: Survey) -> Iterator[Finding]:
    """R929: base over the opening."""
    layout, mount = survey.layout, survey.layout.job.mount
    if mount is None:
        return
    doubler, base = layout.part("doubler"), Profile((base_outline(mount, layout),))
    edges = [layout.parts[0].edges[0], *(doubler.edges[1:] if doubler else ())]
    covered: list[tuple[float, float, str]] = []
    for edge in edges:
        gaps = distances(base, edge.loop.points(_CHORD_IN))
        lap_in = float(np.where(gaps.inside, gaps.distance_in, -gaps.distance_in).min())
        covered.append((lap_in, edge.uncertainty_in, edge.name))
    lap_in, u_in, name = max(covered)
    short = Status.STOP if mount.kind == "antenna" else Status.UNKNOWN
    status = judge_at_least(lap_in, 0.0, uncertainty=u_in, short=short)
    if lap_in <= FLOAT_NOISE and status is Status.PASS:
        status = short
    yield against(
        "R929",
        status,
        f"base {mount.base[0].text} x {mount.base[1].text} over the {name}, least lap",
        value=lap_in,
        limit=0.0,
        unit="in",
        cited=_SEAT,
        formula="lap > 0",
        values=(Quantity("lap", lap_in, "in"),),
        advice=""
        if status is Status.PASS
        else "The base does not cover the hole: a smaller opening, a plate, or show what holds it.",
        shortfall=-lap_in,
        uncertainty=u_in,
    )
