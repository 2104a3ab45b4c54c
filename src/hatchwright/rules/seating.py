"""R215, R929: whether a lapped cover or a mounted base lies flat: on no heads, and over its opening."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.job.mount import Mount
from hatchwright.judged import Bound, Judgement, Measure, Status, bound, lengths
from hatchwright.layout.layout import Layout, points_of
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held
from hatchwright.rules.heads_and_edges import HEAD_RATIO
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import edge_named, is_flush
from hatchwright.said import Numbered, Said, inch, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

_CHORD_IN = 1e-4
_NAMED_HOLES = 6
_SEAT = Cited(0.0, "in", Source("GEOMETRY", "a base over its opening"), Grade.COMPUTED)


def base_outline(mount: Mount, layout: Layout) -> Loop:
    """The outline of a mounted base, square to the axes about the opening's center, counter-clockwise [in]."""
    (x_in, y_in), (width, height) = layout.center_in, mount.base
    half = np.array([width.inch / 2.0, height.inch / 2.0])
    corners = np.array([x_in, y_in]) + half * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    return Loop(np.column_stack((corners, np.zeros(4))))


def _laid_on_skin(layout: Layout) -> Iterator[tuple[Said, Loop]]:
    """What lies on the outer face: a lapped cover and a mounted base."""
    job, cover = layout.job, layout.part("cover")
    if cover and job.cover and job.cover.fit == "lapped":
        yield said("seating.lapped_cover"), cover.edges[0].loop
    if job.mount:
        yield said("seating.mounted_base"), base_outline(job.mount, layout)


@rule("R215", Shelf.HOLDS, reads=("cover", "holes", "mount", "opening", "parts"), marks_holes=True)
@judged_by(HEAD_RATIO)
@mended_by(Change.ROW_DISTANCE, Change.ROW_PLACE, Change.COVER_SIZE)
def heads_under(survey: Survey) -> Iterator[Finding]:
    """R215: new heads under a cover or base."""
    rivets = tuple(hole for hole in survey.layout.holes_of("rivet") if not is_flush(hole))
    if not rivets:
        return
    diameter_in = np.array([hole.diameter_in for hole in rivets])
    for part, loop in _laid_on_skin(survey.layout):
        gap_in = -distances(Profile((loop,)), points_of(rivets)).inward_in
        clear = Measure(
            "gap - head / 2",
            gap_in - HEAD_RATIO.value / 2.0 * diameter_in,
            np.array([hole.uncertainty_in for hole in rivets]),
            with_=lengths(gap=gap_in, head=HEAD_RATIO.value * diameter_in),
        )
        judged = Judgement(clear, (Bound(0.0, HEAD_RATIO.source, HEAD_RATIO.grade),), fails_as=Status.UNKNOWN)
        under = tuple(rivets[k] for k in np.flatnonzero(judged.ranks()).tolist())
        i = judged.worst()
        subject = _lies_on(part, tuple(hole.number for hole in under))
        numbers = tuple(hole.number for hole in under)
        yield held(judged.at(i), subject, ASK, holes=numbers, place=rivets[i].place)


def _lies_on(part: Said, under: tuple[int, ...]) -> Said:
    if not under:
        return said("seating.on_no_heads", part=part)
    if len(under) > _NAMED_HOLES:
        return said("seating.on_many_heads", part=part, n=len(under))
    return said("seating.on_heads", part=part, rivets=Numbered("rivet", under))


@rule("R929", Shelf.HOLDS, reads=("doubler", "mount", "opening", "parts"))
@judged_by(_SEAT)
@mended_by(Change.OPENING_SIZE, Change.LAND_SIZE)
def base_over_opening(survey: Survey) -> Iterator[Finding]:
    """R929: base over the opening, or over the hole in a land that it sits on."""
    layout, mount = survey.layout, survey.layout.job.mount
    if mount is None:
        return
    doubler, base = layout.part("doubler"), Profile((base_outline(mount, layout),))
    laps = [
        (float(distances(base, edge.loop.points(_CHORD_IN)).inward_in.min()), edge)
        for edge in (layout.parts[0].edges[0], *(doubler.edges[1:] if doubler else ()))
    ]
    lap_in, edge = max(laps, key=lambda one: one[0])
    judged = Judgement(
        Measure("lap", lap_in, edge.uncertainty_in),
        (bound(_SEAT),),
        strict=True,
        fails_as=Status.STOP if mount.kind == "antenna" else Status.UNKNOWN,
    )
    width, height = mount.base
    subject = said("seating.base", width=inch(width.inch), height=inch(height.inch), edge=edge_named(edge))
    yield held(judged, subject, said("seating.does_not_cover"), ASK)
