"""The stop of every operation that puts metal through the skin: how far it may reach behind, and what lies there.

Depth and reach count from the outer face of the skin. Method: docs/theory/starter.md, eq. 2.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct

from hatchwright.ground import practice
from hatchwright.job.bay import KeepOut
from hatchwright.job.parts import Cover
from hatchwright.judged import Bound, Judgement, Measure, Status, bound, lengths
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.behind_skin import (
    BEFORE_IN,
    BESIDE_IN,
    THROUGH_IN,
    behind_sheets_in,
    boxes_of,
    depth_in,
    holes_before,
    kept_beside_in,
    kept_clear,
    kept_from,
    lies_on_skin,
    skin_in,
)
from hatchwright.layout.gaps import Bounds, gap_to
from hatchwright.layout.layout import Hole, Layout, PartName
from hatchwright.said import Said, inch, said
from hatchwright.tables.rivet_part import LARGEST_RIVET_IN
from hatchwright.units import Length

STOPPED = practice("drilling in front of something; docs/theory/starter.md")


class Before(Struct, frozen=True):
    """Something that lies behind an operation.

    Args:
        depth_in: from the outer face of the skin to it, where it is nearest there [in].
        judged: the room left before it, held to what is kept from it; None while the reach is not known.
        kept_in: what is kept from it [in].
    """

    keep_out: KeepOut
    depth_in: float
    judged: Judgement | None
    kept_in: float

    @property
    def status(self) -> Status:
        """Not shown while the reach is not known."""
        return self.judged.status if self.judged else Status.UNKNOWN

    @property
    def most_in(self) -> float:
        """How far anything may reach behind the outer face of the skin, that what is kept from it is left [in]."""
        return self.depth_in - self.kept_in


class Stop(Struct, frozen=True):
    """How far one operation reaches at some holes, and what lies behind them.

    Args:
        reach_in: from the outer face of the skin to the end of the tool or part, None while nobody entered it [in].
        above_in: from the outer face of the skin out to the face on which the tool's stop stands, negative where that
            lies behind it [in].
        before: the worst of what lies behind; None where nothing was entered there.
        enter: the entry that gives the reach, "" where it follows from the sheets.
        is_from_inside: whether the drill comes out of the outer face: reach then counts outward from there, the stop
            stands on the innermost sheet, and what lies behind leaves room for the drill or does not.
    """

    reach_in: float | None
    above_in: float
    before: Before | None
    enter: str = ""
    is_from_inside: bool = False

    @property
    def setting_in(self) -> float | None:
        """Setting of the stop, from the face on which it stands to the tool's end; None while not known [in]."""
        return None if self.reach_in is None else self.above_in + self.reach_in

    @property
    def most_in(self) -> float | None:
        """The deepest setting that leaves what is kept from what lies behind; None where nothing does, or the drill
        goes outward [in]."""
        return None if self.before is None or self.is_from_inside else self.above_in + self.before.most_in

    @property
    def left_in(self) -> float | None:
        """Room left before what lies behind, negative where it is struck; None where nothing does, the reach is not
        known, or the drill goes outward [in]."""
        if self.before is None or self.reach_in is None or self.is_from_inside:
            return None
        return self.before.depth_in - self.reach_in

    @property
    def status(self) -> Status:
        """Stop where less is left than what is kept, not shown while a reach that matters is not known."""
        return self.before.status if self.before else Status.PASS


def stops_for(
    layout: Layout, holes: Sequence[Hole], through: Sequence[PartName], *, template_in: float = 0.0
) -> Stop:
    """The stop of a drill, of any size, at some holes.

    Args:
        through: the sheets that are drilled in this step.
        template_in: thickness of what lies on the skin besides, and the stop stands on [in].
    """
    reach_in = drilled_to_in(layout, through)
    found = [
        before(layout, keep_out, boxes_of(keep_out, near), reach_in)
        for keep_out in layout.job.bay.keep_outs
        if (near := holes_before(keep_out, holes))
    ]
    return Stop(reach_in, _above_in(layout, through) + template_in, worst_before(found))


def stop_from_inside(layout: Layout, holes: Sequence[Hole], through: Iterable[PartName]) -> Stop:
    """The stop of a drill that goes outward, through a sheet that leads from inside.

    Nothing is entered that lies outside; nobody enters what room the drill itself takes behind the skin, so that of
    what lies there nothing is judged.

    Args:
        through: the sheets that it goes through, those that lead it among them.
    """
    thickness = {part.name: part.thickness_in for part in layout.parts} | {"skin": skin_in(layout)}
    found = [
        before(layout, keep_out, boxes_of(keep_out, near), None)
        for keep_out in layout.job.bay.keep_outs
        if (near := holes_before(keep_out, holes, BESIDE_IN))
    ]
    sheets_in = sum(thickness[name] for name in set(through))
    return Stop(THROUGH_IN, sheets_in, worst_before(found), is_from_inside=True)


def screw_stop(layout: Layout) -> Stop | None:
    """How far the cover's screws reach, as `Stop`; None without screws of a known length."""
    cover = layout.job.cover
    if cover is None or cover.screws is None or cover.screws.length is None:
        return None
    reach_in, screws = screw_reach_in(cover, cover.screws.length), layout.holes_of("screw")
    found = [
        before(layout, keep_out, boxes_of(keep_out, near), reach_in, part_kept(layout))
        for keep_out in layout.job.bay.keep_outs
        if (near := holes_before(keep_out, screws))
    ]
    return Stop(reach_in, cover.screws.length.inch - reach_in, worst_before(found))


def base_screw_stop(layout: Layout) -> Stop | None:
    """How far the screws of a mounted base reach, as `Stop`; None without them."""
    mount, screws = layout.job.mount, base_screw_holes(layout)
    if mount is None or not screws:
        return None
    reach_in = mount.screw_reach.inch if mount.screw_reach else None
    found = [
        before(layout, keep_out, boxes_of(keep_out, near), reach_in, part_kept(layout))
        for keep_out in layout.job.bay.keep_outs
        if (near := holes_before(keep_out, screws))
    ]
    return Stop(reach_in, 0.0, worst_before(found), "mount.screw_reach")


def screw_reach_in(cover: Cover, length: Length) -> float:
    """From the outer face of the skin to the end of the cover's screws; a lapped cover lies on that face [in]."""
    return length.inch - (cover.thickness.inch if cover.fit == "lapped" else 0.0)


def bar_stop(layout: Layout, rivets: Sequence[Hole]) -> Stop:
    """How far the bucking bar reaches that is held against some rivets before they are driven, as `Stop`."""
    found = [one for keep_out in layout.job.bay.keep_outs if (one := before_bar(layout, keep_out, rivets))]
    return Stop(bar_reach_in(layout, rivets), 0.0, worst_before(found), "bay.bar")


def before_bar(layout: Layout, keep_out: KeepOut, rivets: Sequence[Hole]) -> Before | None:
    """One thing behind the bar of some rivets, as it is tied back for riveting; None where it lies behind none of
    them."""
    near = holes_before(keep_out, rivets, BESIDE_IN)
    if not near:
        return None
    if keep_out.tied_back:
        tied = {
            "start": None,
            "start_depth": None,
            "end": None,
            "end_depth": None,
            "depth": keep_out.tied_back,
        }
        keep_out = keep_out.model_copy(update=tied)
    return before(layout, keep_out, boxes_of(keep_out, near, BESIDE_IN), bar_reach_in(layout, near))


def bar_reach_in(layout: Layout, rivets: Sequence[Hole]) -> float | None:
    """From the outer face of the skin to the back of the bar: sheets, shank before driving, bar; None while the bar
    was not entered [in]."""
    bar = layout.job.bay.bar
    if bar is None or not rivets:
        return None
    shank_in = layout.limit("upset_allowance").value * max(
        hole.nominal_in or LARGEST_RIVET_IN for hole in rivets
    )
    return behind_sheets_in(layout, {part for hole in rivets for part in hole.stack}) + shank_in + bar.inch


def tool_stop(layout: Layout) -> Stop:
    """How far the tool reaches that cuts the opening where no cutter was entered, as `Stop`."""
    found = [one for keep_out in layout.job.bay.keep_outs if (one := before_tool(layout, keep_out))]
    return Stop(_tool_reach_in(layout), 0.0, worst_before(found), "bay.tool")


def before_tool(layout: Layout, keep_out: KeepOut) -> Before | None:
    """One thing behind the opening or beside its line; None where it lies behind neither, or on the skin itself."""
    beside_in = kept_beside_in(keep_out, BESIDE_IN)
    if lies_on_skin(keep_out, layout) or gap_to(layout.opening, keep_out)[0] > beside_in:
        return None
    x_min, y_min, x_max, y_max = layout.opening.bounds
    within = (x_min - beside_in, y_min - beside_in, x_max + beside_in, y_max + beside_in)
    return before(layout, keep_out, (within,), _tool_reach_in(layout))


def _tool_reach_in(layout: Layout) -> float | None:
    tool = layout.job.bay.tool
    return tool.inch if tool else None


def part_kept(layout: Layout) -> Bound:
    """What is kept between a part that stays and what lies behind, where no more was entered."""
    return bound(layout.limit("clearance_to_adjacent_structure"))


def drilled_to_in(layout: Layout, through: Iterable[PartName]) -> float:
    """How far a drill on its stop reaches, from the outer face of the skin: the sheets and its point through [in]."""
    return behind_sheets_in(layout, through) + THROUGH_IN


def before(
    layout: Layout,
    keep_out: KeepOut,
    within: Iterable[Bounds],
    reach_in: float | None,
    usual: Bound | None = None,
) -> Before:
    """Hold what reaches behind the skin against one thing that lies there.

    Args:
        within: the boxes in which it is in front of it.
        reach_in: how far it reaches, None while nobody entered it [in].
        usual: what is kept where no more was entered, None for that of a tool.
    """
    usual = usual or STOPPED.bound(BEFORE_IN)
    from_face_in, kept_in = depth_in(keep_out, layout, within), float(kept_from(keep_out, usual).limit)
    if reach_in is None:
        return Before(keep_out, from_face_in, None, kept_in)
    put_in = lengths(depth=from_face_in, reach=reach_in)
    room = Measure("depth - reach", from_face_in - reach_in, with_=put_in)
    return Before(keep_out, from_face_in, kept_clear(keep_out, room, usual), kept_in)


def worst_before(found: Iterable[Before]) -> Before | None:
    """Of what lies behind, that which leaves the least; None of none."""
    return min(found, key=lambda one: (one.status.severity, one.most_in), default=None)


def moving_entries(one: Before) -> tuple[str, ...]:
    """The entries that something lacks which moves, where it can't be shown to be clear of it."""
    return ("bay.keep_outs",) if one.status is Status.UNKNOWN else ()


def moving_advice(one: Before) -> Said:
    """What to enter of something that moves."""
    return said("behind.moves", name=one.keep_out.name, least=inch(one.kept_in))


def _above_in(layout: Layout, through: Sequence[PartName]) -> float:
    """From the outer face of the skin out to that of the first sheet drilled, negative for one behind the skin [in]."""
    job, thickness = layout.job, {part.name: part.thickness_in for part in layout.parts}
    outside: list[PartName] = []
    if job.doubler and job.doubler.face == "outside":
        outside.append("doubler")
    if job.cover and job.cover.fit == "lapped":
        outside.append("cover")
    above_in = sum(thickness[name] for name in outside if name in through)
    is_behind = above_in == 0.0 and not {"skin", "cover", "plug"} & set(through)
    return -(behind_sheets_in(layout, ())) if is_behind else above_in
