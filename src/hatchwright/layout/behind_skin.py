"""How far things lie and reach behind the skin: one datum for all of them, its outer face.

What slopes has a depth at every place between its two ends, in a line, and beyond them that of the nearer end. What
moves is taken where its travel brings it nearest: less deep by its swing, and wider by its swing sideways.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from hatchwright.ground import practice
from hatchwright.job.bay import KeepOut
from hatchwright.judged import FLOAT_NOISE, Bound, Judgement, Measure, Status
from hatchwright.layout.gaps import Bounds, gaps_to_points
from hatchwright.layout.layout import Hole, Layout, PartName, points_of
from hatchwright.tables.rivet_part import LARGEST_RIVET_IN
from hatchwright.workings import Grade, Source

THROUGH_IN = 0.125
"""How far a drill's point may come out behind the last sheet: the stop's setting [in]. Common practice, no source."""

BEFORE_IN = 0.125
"""What is to stay between a tool or its point and what lies behind [in]. Common practice, no source."""

BESIDE_IN = 0.25
"""What is to stay between a tool and what lies behind, seen from outside [in]. Common practice, no source."""

MOVING_IN = 0.5
"""What is kept from a part that moves while nobody has entered its swing and clearance [in]. Common practice, no
source: no document gives it for structure."""

_MOVING = practice("clearance to a part that moves")
_ENTERED = Source("PRACTICE", "the clearance entered for what lies behind")


def skin_in(layout: Layout) -> float:
    """From the outer to the inner face of the skin: as entered or as measured, the thicker of the two [in]."""
    skin = layout.job.skin
    return max(skin.thickness.inch, skin.measured.inch if skin.measured else 0.0)


def lies_on_skin(keep_out: KeepOut, layout: Layout) -> bool:
    """Whether something lies, or comes, against the inner face of the skin; so does what was entered without depth."""
    return depth_in(keep_out, layout) <= skin_in(layout) + FLOAT_NOISE


def depth_in(keep_out: KeepOut, layout: Layout, within: Iterable[Bounds] = ()) -> float:
    """From the outer face of the skin to the nearest that something behind it comes; at least the skin is between.

    Args:
        within: boxes of which it is asked how deep it lies there; none for its whole length.
    Returns:
        float: [in].
    """
    boxes = tuple(within)
    at_rest_in = min((_rest_in(keep_out, box) for box in boxes), default=_rest_in(keep_out))
    swing_in = keep_out.swing.inch if keep_out.swing else 0.0
    return max(at_rest_in - swing_in, skin_in(layout))


def _rest_in(keep_out: KeepOut, box: Bounds = (-math.inf, -math.inf, math.inf, math.inf)) -> float:
    """Least depth at rest of what lies in a box, or nearest to it; 0 where none was entered [in]."""
    if not (keep_out.start and keep_out.start_depth and keep_out.end and keep_out.end_depth):
        return keep_out.depth.inch if keep_out.depth else 0.0
    x_from, y_from, x_to, y_to = keep_out.bounds_in
    reaches = (_overlap((x_from, x_to), (box[0], box[2])), _overlap((y_from, y_to), (box[1], box[3])))
    along = [end.inch - begin.inch for begin, end in zip(keep_out.start, keep_out.end, strict=True)]
    length_sq = sum(step * step for step in along)
    shares = [0.0, 0.0]  # the least and the greatest share of the way from start to end in the box
    for begin, step, reach in zip(keep_out.start, along, reaches, strict=True):
        if step:
            ends = sorted(step * (at - begin.inch) / length_sq for at in reach)
            shares = [share + end for share, end in zip(shares, ends, strict=True)]
    first_in, last_in = keep_out.start_depth.inch, keep_out.end_depth.inch
    return min(first_in + min(max(share, 0.0), 1.0) * (last_in - first_in) for share in shares)


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> tuple[float, float]:
    """What two ranges have in common, else the end of the first that is nearest to the other."""
    low, high = max(one[0], other[0]), min(one[1], other[1])
    if low <= high:
        return low, high
    nearest = one[0] if other[1] < one[0] else one[1]
    return nearest, nearest


def box_of(place: tuple[float, float], reach_in: float) -> Bounds:
    """The box round a circle [in]."""
    x, y = place
    return x - reach_in, y - reach_in, x + reach_in, y + reach_in


def kept_beside_in(keep_out: KeepOut, usual_in: float) -> float:
    """How far beside something a thing is still taken to be in front of it: never less than its own clearance [in]."""
    own_in = keep_out.clearance.inch if keep_out.clearance else 0.0
    return max(usual_in, own_in, MOVING_IN if _is_open(keep_out) else 0.0)


def holes_before(keep_out: KeepOut, holes: Sequence[Hole], beside_in: float = 0.0) -> tuple[Hole, ...]:
    """The holes within a diameter of something behind the skin, as near as they may lie.

    A hole whose fastener no table lists counts as the largest rivet: a size not known hides nothing behind it.

    Args:
        beside_in: how far round each hole at least, as for a tool that is wider [in].
    """
    off = gaps_to_points(keep_out, points_of(holes)).tolist()
    return tuple(
        hole
        for hole, off_in in zip(holes, off, strict=True)
        if off_in <= _reach_in(keep_out, hole, beside_in)
    )


def boxes_of(keep_out: KeepOut, holes: Iterable[Hole], beside_in: float = 0.0) -> tuple[Bounds, ...]:
    """Where what lies behind some holes is asked for its depth, as far round them as in `holes_before` [in]."""
    return tuple(box_of(hole.place, _reach_in(keep_out, hole, beside_in)) for hole in holes)


def _reach_in(keep_out: KeepOut, hole: Hole, beside_in: float) -> float:
    usual_in = max(hole.nominal_in or LARGEST_RIVET_IN, beside_in)
    return kept_beside_in(keep_out, usual_in) + hole.uncertainty_in


def behind_sheets_in(layout: Layout, through: Iterable[PartName]) -> float:
    """From the outer face of the skin to the back of the last sheet that some holes go through [in]."""
    inside = layout.job.doubler is not None and layout.job.doubler.face == "inside"
    doubler = layout.part("doubler") if inside and "doubler" in set(through) else None
    return skin_in(layout) + (doubler.thickness_in if doubler else 0.0)


def kept_from(keep_out: KeepOut, usual: Bound) -> Bound:
    """What is kept from something: the usual figure, or more where more was entered; half an inch from a part that
    moves until its swing and its clearance are both entered."""
    firm = _firm(keep_out, usual)
    return _MOVING.bound(MOVING_IN) if _is_open(keep_out) and firm.limit < MOVING_IN else firm


def kept_clear(keep_out: KeepOut, room: Measure, usual: Bound) -> Judgement:
    """Hold the room before or beside something to what is kept from it.

    Less than was entered, or than is usual, stops; a part that moves and of which nobody entered how far can't be
    shown to be clear by less than half an inch.
    """
    firm, kept = _firm(keep_out, usual), kept_from(keep_out, usual)
    judged = Judgement(room, (firm,))
    if kept == firm or judged.status is not Status.PASS:
        return judged
    return Judgement(room, (kept,), fails_as=Status.UNKNOWN, more=judged.working)


def _firm(keep_out: KeepOut, usual: Bound) -> Bound:
    own = keep_out.clearance
    return Bound(own.inch, _ENTERED, Grade.SHOP) if own and own.inch > usual.limit else usual


def _is_open(keep_out: KeepOut) -> bool:
    """Whether it moves, and how far or what is kept from it was not entered."""
    return keep_out.is_moving and (keep_out.swing is None or keep_out.clearance is None)
