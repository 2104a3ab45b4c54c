"""The outlines of a job: opening as drawn and as it stands, rough cut, doubler, cover and plug."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.job.job import Job
from hatchwright.job.outline import Outline, loop_about, own_center
from hatchwright.said import said
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Loop, Profile, profile_of


class Outlines(Struct, frozen=True):
    """Every outline of a job, counter-clockwise, in the job's frame [in].

    Args:
        doubler_inner: None without a doubler, and where it closes the cut-out of a patch.
        split: the strip between the two pieces of a split doubler, across all of it.
    """

    center_in: tuple[float, float]
    wanted: Loop
    opening: Loop
    rough_cut: Profile | None
    doubler_outer: Loop | None
    doubler_inner: Loop | None
    cover: Loop | None
    plug: Loop | None = None
    split: Loop | None = None


def derive_outlines(job: Job) -> Outlines:
    """Draw every outline of a job.

    Raises:
        GeometryError: an allowance or gap leaves nothing.
    """
    wanted, center_in = _opening(job.opening)
    made = job.as_made
    opening = loop_about(made.opening, center_in) if made and made.opening else wanted
    outer = inner = None
    if job.doubler:
        outline = made.doubler_outer if made and made.doubler_outer else job.doubler.outer
        outer = loop_about(outline, center_in)
        own = made.doubler_inner if made and made.doubler_inner else job.doubler.inner
        inner = None if job.patch else loop_about(own, center_in) if own else opening
    rough = erode(profile_of(wanted), job.cutter.filing_allowance.inch) if job.cutter else None
    if rough is not None and rough.is_empty:
        raise GeometryError.saying("error.no_cut", where="cutter.filing_allowance")
    cover, plug = _cover(job, wanted, center_in), _plug(job, wanted)
    return Outlines(center_in, wanted, opening, rough, outer, inner, cover, plug, _split(job, outer))


def _opening(outline: Outline) -> tuple[Loop, tuple[float, float]]:
    center_in = own_center(outline)
    if center_in is not None:
        return outline.loop(center_in), center_in
    loop = outline.loop((0.0, 0.0))
    x_min, y_min, x_max, y_max = loop.bounds
    return loop, ((x_min + x_max) / 2.0, (y_min + y_max) / 2.0)


def _cover(job: Job, wanted: Loop, center_in: tuple[float, float]) -> Loop | None:
    cover = job.cover
    if cover is None:
        return None
    if cover.outline:
        return loop_about(cover.outline, center_in)
    if cover.gap is not None:
        return single(erode(profile_of(wanted), cover.gap.inch), where="cover.gap")
    assert cover.lap is not None  # Cover settles that one of the three is given
    return single(grow(profile_of(wanted), cover.lap.inch), where="cover.lap")


def _plug(job: Job, wanted: Loop) -> Loop | None:
    if job.patch is None:
        return None
    return single(erode(profile_of(wanted), job.patch.plug.gap.inch), where="patch.plug.gap")


def _split(job: Job, outer: Loop | None) -> Loop | None:
    split = job.patch.split if job.patch else None
    if split is None or outer is None:
        return None
    (x_min, y_min, x_max, y_max), (low, high) = outer.bounds, split.sides_in
    left, bottom, right, top = (low, y_min, high, y_max) if split.axis == 0 else (x_min, low, x_max, high)
    return rounded_rectangle(
        width_in=right - left,
        height_in=top - bottom,
        radius_in=0.0,
        center=((left + right) / 2.0, (bottom + top) / 2.0),
    )


def single(profile: Profile, *, where: str) -> Loop:
    """The one loop of an offset that must stay in one piece.

    Args:
        where: field to name when it did not.
    Raises:
        GeometryError: nothing is left, or it fell apart.
    """
    if len(profile.loops) != 1:
        nothing = said("error.nothing_left")
        what = nothing if profile.is_empty else said("error.falls_apart", loops=len(profile.loops))
        raise GeometryError(what, where=where, remedy=said("error.smaller_distance"))
    return profile.loops[0]
