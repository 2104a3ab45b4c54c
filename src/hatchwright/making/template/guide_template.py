"""The guide template for the cutter in hand, and the cut that it will really give.

The cutter's guide runs along the template, its center stays half the guide's width from that edge, and the
cut reaches half the cut width beyond the center. Each step is an exact offset.
Method: docs/theory/guide_template.md.
"""

from __future__ import annotations

from functools import cached_property

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import GeometryError
from hatchwright.job.cutter import Cutter, Template
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout
from hatchwright.said import inch, said
from hatchwright.shapes.corners import Corner, corners, smallest_corner
from hatchwright.shapes.deviation import Deviation, deviation
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.profile import Profile
from hatchwright.units import Unit

WIDEST_GUIDE_RATIO = 8.0
"""A collar or bush is no wider than this many cuts, unless the opening is [-]. Common practice, no source."""


class Guide(Struct, frozen=True):
    """What of a cutter decides the offset.

    Args:
        kind: "female", guided inside a window, or "male", round a plug.
        stretch_ratio: of the flat pattern of a template that is bent onto the skin, whose corners must still let
            the end mill in when they are stretched [-].
    """

    cut_in: float
    guide_in: float
    end_mill_in: float
    kind: str
    stretch_ratio: float = 1.0

    @property
    def is_window(self) -> bool:
        """Whether the cutter is guided inside a window; round a plug otherwise."""
        return self.kind == "female"

    @property
    def offset_in(self) -> float:
        """Distance from the edge of the cut to the template's edge, out for a window, in for a plug [in]."""
        sign = -1.0 if self.kind == "female" else 1.0
        return (self.guide_in + sign * self.cut_in) / 2.0


class GuideChain(Struct, frozen=True, dict=True):
    """The template and everything on the way to the predicted cut.

    Args:
        wanted: the cut that is wanted, the rough line [in].
        path: the cutter's center when it cuts the wanted line [in].
        needed: template edge that would guide it there [in].
        machinable: the same as the template's end mill can make it [in].
        reached: the cutter's center as that template guides it [in].
        predicted: the cut that it gives [in].
    """

    guide: Guide
    wanted: Profile
    path: Profile
    needed: Profile
    machinable: Profile
    reached: Profile
    predicted: Profile
    deviation: Deviation

    @cached_property
    def wanted_corner(self) -> Corner | None:
        """The smallest inside corner of the wanted cut, None where it has none."""
        return smallest_corner(*self.wanted.loops, reentrant=False)

    @cached_property
    def machinable_corner(self) -> Corner | None:
        """That of the template as it can be made."""
        return smallest_corner(*self.machinable.loops, reentrant=False)

    @cached_property
    def reached_corner(self) -> Corner | None:
        """That of the cutter's path."""
        return smallest_corner(*self.reached.loops, reentrant=False)

    @cached_property
    def predicted_corner(self) -> Corner | None:
        """That of the cut that it gives."""
        return smallest_corner(*self.predicted.loops, reentrant=False)


def guide_chain(wanted: Profile, guide: Guide, *, unit: Unit = "in") -> GuideChain:
    """Work from the wanted cut to the template and on to the cut that it gives; GeometryError where the guide
    is smaller than the cut, or one of them does not fit the opening at all."""
    if guide.guide_in < guide.cut_in:
        sizes = {"guide": inch(guide.guide_in), "cut": inch(guide.cut_in)}
        raise GeometryError.saying("guide.too_small", where="cutter.guide", unit=unit, **sizes)
    cut, reach = guide.cut_in / 2.0, guide.guide_in / 2.0
    mill = guide.stretch_ratio * guide.end_mill_in / 2.0
    path = _some(erode(wanted, cut), "cutter.cut_width", "guide.cut_too_wide")
    if guide.kind == "female":
        needed = grow(path, reach)
        mill_path = _some(erode(needed, mill), "template.end_mill", "guide.mill_too_wide")
        machinable = grow(mill_path, mill)
        reached = _some(erode(machinable, reach), "cutter.guide", "guide.no_room")
    else:
        needed = _some(erode(path, reach), "cutter.guide", "guide.no_plug")
        machinable = erode(grow(needed, mill), mill)
        reached = grow(machinable, reach)
    predicted = grow(reached, cut)
    return GuideChain(
        guide, wanted, path, needed, machinable, reached, predicted, deviation(predicted, wanted)
    )


def _some(profile: Profile, where: str, what: str) -> Profile:
    if profile.is_empty:
        raise GeometryError(said(what), where=where, remedy=said("guide.smaller"))
    return profile


def guide_of(cutter: Cutter, template: Template) -> Guide:
    """The sizes that decide the offset."""
    return Guide(
        cut_in=cutter.cut_width.inch,
        guide_in=cutter.guide.inch,
        end_mill_in=template.end_mill.inch,
        kind=cutter.template,
    )


def job_chain(layout: Layout) -> GuideChain | None:
    """The template of a job; None when it has no cutter or no template, GeometryError where the cutter or the
    guide does not fit the opening, or the guide is as wide as in a wrong unit."""
    job = layout.job
    if job.cutter is None or job.template is None or layout.rough_cut is None:
        return None
    guide = guide_of(job.cutter, job.template)
    if stretch := template_stretch(layout):
        guide = replace(guide, stretch_ratio=stretch.ratio)
    return chain_for(layout.rough_cut, guide, unit=job.unit)


def chain_for(rough_cut: Profile, guide: Guide, *, unit: Unit = "in") -> GuideChain:
    """The template for a rough cut; GeometryError where the guide is as wide as in a wrong unit, or as `guide_chain`
    raises it."""
    x_min, y_min, x_max, y_max = rough_cut.bounds
    width_in, height_in = x_max - x_min, y_max - y_min
    if guide.guide_in > max(width_in, height_in, WIDEST_GUIDE_RATIO * guide.cut_in):
        raise GeometryError.saying(
            "guide.too_wide",
            where="cutter.guide",
            unit=unit,
            guide=inch(guide.guide_in),
            width=inch(width_in),
            height=inch(height_in),
            times=round(guide.guide_in / guide.cut_in),
        )
    return guide_chain(rough_cut, guide, unit=unit)


def corner_drills(rough_cut: Profile) -> tuple[Corner, ...]:
    """The corners of a rough cut that a hole of their radius and center makes before the straight cuts: each
    rounded one that bulges out of the opening; none of a round opening, which is one hole itself.

    Method: a hole of twice the corner radius at the center of its arc is tangent to both sides.
    """
    return tuple(
        corner
        for loop in rough_cut.loops
        if not loop.working_form().is_arc.all()
        for corner in corners(loop)
        if not corner.is_reentrant and corner.radius_in > 0.0
    )
