"""R305 to R307, R420, R603, R932: a flush patch: its damage, its plug and a doubler that is split."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from hatchwright.finding import Finding
from hatchwright.job.patch import Patch
from hatchwright.judged import FLOAT_NOISE, Judgement, Measure, Status, bound
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, held_as, stated
from hatchwright.rules.cover import gaps_all_round
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import Said, inch, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction, practised
from hatchwright.workings import Grade, Source

Floats = npt.NDArray[np.float64]

_BETWEEN = 33
"""Places looked at along each straight between two points of the damage, its ends included [-]."""

_CUT_OUT = Cited(0.0, "in", Source("GEOMETRY", "damage inside its cutout"), Grade.COMPUTED)


@rule("R305", Shelf.HOLDS, reads=("parts", "patch"))
@judged_by(_CUT_OUT, limits=("damage_inside_cut_out",))
@mended_by(Change.OPENING_SIZE)
def damage_cut_out(survey: Survey) -> Iterator[Finding]:
    """R305: the cutout takes in the whole damage; what may be left in the skin stops, measured ends with their u."""
    patch = survey.layout.job.patch
    if patch is None:
        return
    edge = survey.layout.parts[0].edges[0]
    places, u_in, ends = damage_places(patch)
    found = distances(Profile((edge.loop,)), places)
    inward_in, u_in = found.inward_in, u_in + edge.u_at(found.foot)
    i = int(np.argmin(inward_in - u_in))
    sure_in, place = float(inward_in[i] - u_in[i]), (float(places[i, 0]), float(places[i, 1]))
    inside = Measure("inside", float(inward_in[i]), float(u_in[i]))
    all_out = Judgement(inside, (bound(_CUT_OUT),), strict=True)
    subject = _damage_said(patch, int(ends[i]), float(inward_in[i]), float(u_in[i]))
    if sure_in > FLOAT_NOISE:
        least = survey.limit("damage_inside_cut_out")
        clear = Judgement(inside, (bound(least),), fails_as=Status.CAUTION)
        yield held(clear, subject, said("R305.close", least=inch(least.value)), ASK, place=place)
        return
    advice = said("R305.runs_on" if patch.damage == "crack" else "R305.left_in")
    yield held_as(all_out, Status.STOP, subject, advice, ASK, place=place)


def damage_places(patch: Patch) -> tuple[Floats, Floats, npt.NDArray[np.intp]]:
    """The places of the damage that must be cut out: its points, and the straights between neighbors.

    A crack runs from point to point; the boundary of other damage is closed.

    Returns:
        tuple: places, shape (n, 2) [in]; uncertainty of each, the larger of its two points, shape (n,) [in]; number of
            the nearer point, counted from 0, shape (n,).
    """
    points = np.array([(point.at[0].inch, point.at[1].inch) for point in patch.extent])
    u_in = np.array([point.uncertainty.inch for point in patch.extent])
    order = list(range(len(points)))
    steps = list(pairwise(order if patch.damage == "crack" else [*order, 0]))
    share = np.linspace(0.0, 1.0, _BETWEEN)[:, None]
    places = np.vstack([points[a] + share * (points[b] - points[a]) for a, b in steps])
    larger_in = np.concatenate([np.full(_BETWEEN, max(u_in[a], u_in[b])) for a, b in steps])
    nearer = np.concatenate([np.where(share[:, 0] < 0.5, a, b) for a, b in steps])
    return places, larger_in, nearer


def _damage_said(patch: Patch, point: int, inside_in: float, u_in: float) -> Said:
    what = "end" if patch.damage == "crack" else "boundary"
    where = "outside" if inside_in < 0.0 else "inside"
    return said(f"R305.{what}_{where}", number=point + 1, by=inch(abs(inside_in)), u=inch(u_in))


@rule("R306", Shelf.SETTLE, reads=("opening", "parts"), step="cut")
@judged_by(_CUT_OUT, limits=("plug_gap_min", "plug_gap_usual", "plug_gap_max"))
def plug_gap(survey: Survey) -> Iterator[Finding]:
    """R306: gap between plug and cutout; whether the plug goes in at all comes before how it looks."""
    layout, plug = survey.layout, survey.layout.part("plug")
    if plug is None:
        return
    u_in = layout.parts[0].edges[0].uncertainty_in
    narrowest_in, widest_in = gaps_all_round(plug.edges[0].loop, layout.opening)
    usual = inch(survey.limit("plug_gap_usual").value)
    narrow, wide = Measure("least gap", narrowest_in, u_in), Measure("greatest gap", widest_in, u_in)
    goes_in = Judgement(narrow, (bound(_CUT_OUT),))
    tight = Judgement(narrow, (bound(survey.limit("plug_gap_min")),), fails_as=Status.CAUTION)
    loose = Judgement(wide, (bound(survey.limit("plug_gap_max")),), at_least=False, fails_as=Status.CAUTION)
    judged = next((one for one in (goes_in, tight) if one.status is not Status.PASS), loose)
    if judged is goes_in:
        yield held(judged, said("R306.least", gap=inch(narrowest_in)), said("R306.will_not_go_in"))
        return
    subject = said("R306.greatest" if judged is loose else "R306.least", gap=inch(judged.value or 0.0))
    yield held(judged, subject, said("R306.usual", gap=usual))


@rule("R307", Shelf.HOLDS, reads=("parts", "patch"))
@judged_by("split_doubler")
def split_doubler(survey: Survey) -> Iterator[Finding]:
    """R307: a split doubler; nothing gets across its split but what the structure in it carries."""
    patch, doubler = survey.layout.job.patch, survey.layout.part("doubler")
    if patch is None or doubler is None:
        return
    if patch.split is None:
        yield stated(Status.PASS, said("R307.solid"), instruction("split_doubler"))
        return
    subject = said("R307.split", along=patch.split.along.upper(), gap=inch(patch.split.gap.inch))
    advice = said("R307.carries_nothing", across="XY"[patch.split.axis])
    filler = said("R307.filler", thickness=inch(doubler.thickness_in))
    yield stated(Status.CAUTION, subject, instruction("split_doubler"), advice, filler, ASK)


@rule("R420", Shelf.HOLDS, reads=("parts",))
@judged_by("flush_patch_filler")
def plug_sheet(survey: Survey) -> Iterator[Finding]:
    """R420: sheet of the plug; of the skin's own material and gauge it lies flush."""
    plug, skin = survey.layout.part("plug"), survey.layout.part("skin")
    if plug is None or skin is None:
        return
    advice: list[Said] = []
    if abs(plug.thickness_in - skin.thickness_in) > FLOAT_NOISE:
        advice.append(
            said(
                "R420.proud" if plug.thickness_in > skin.thickness_in else "R420.low",
                skin=inch(skin.thickness_in),
            )
        )
    if (plug.alloy, plug.temper, plug.clad) != (skin.alloy, skin.temper, skin.clad):
        advice.append(said("R420.other_material"))
    subject = said("R420.plug", alloy=plug.alloy, temper=plug.temper, thickness=inch(plug.thickness_in))
    asks = (*advice, ASK) if advice else ()
    yield stated(Status.CAUTION if advice else Status.PASS, subject, instruction("flush_patch_filler"), *asks)


_HELD = practised("a plug is riveted to the doubler all around its edge", "rivets of a plug")


@rule("R603", Shelf.HOLDS, reads=("holes", "parts"), marks_holes=True)
@judged_by(_HELD)
def plug_rivets(survey: Survey) -> Iterator[Finding]:
    """R603: rivets that hold the plug to the doubler; on each side of its middle there is one at least."""
    plug = survey.layout.part("plug")
    if plug is None:
        return
    holes = tuple(hole for hole in survey.layout.holes if "plug" in hole.stack)
    if not holes:
        yield stated(Status.STOP, said("R603.none"), _HELD, said("R603.enter"), value=0.0, unit="rivets")
        return
    x_min, y_min, x_max, y_max = plug.edges[0].loop.bounds
    off = np.array([(h.x_in - (x_min + x_max) / 2.0, h.y_in - (y_min + y_max) / 2.0) for h in holes])
    bare = [
        side
        for side, there in zip(
            ("X-", "X+", "Y-", "Y+"),
            ((off < 0).T[0], (off > 0).T[0], (off < 0).T[1], (off > 0).T[1]),
            strict=True,
        )
        if not there.any()
    ]
    if bare:
        subject = said("R603.bare", side=bare[0], n=len(holes))
        yield stated(Status.STOP, subject, _HELD, said("R603.enter"), value=float(len(holes)), unit="rivets")
        return
    subject = said(
        "R603.held", rivets=numbered(*holes) if len(holes) == 1 else said("kind.rivet.counted", n=len(holes))
    )
    yield stated(Status.PASS, subject, _HELD, value=float(len(holes)), unit="rivets")


_CAUSE = practised("damage is patched after what caused it is found and cured", "cause of the damage")
_ENDS = practised("the ends of a crack are found by penetrant or eddy current, not by eye", "ends of a crack")


@rule("R932", Shelf.PLACE, reads=("patch",))
@judged_by(_CAUSE, _ENDS)
def cause_of_damage(survey: Survey) -> Iterator[Finding]:
    """R932: what caused the damage, and how the ends of a crack were found; both are asked, neither is guessed."""
    patch = survey.layout.job.patch
    if patch is None:
        return
    if patch.cause.strip():
        yield stated(Status.PASS, said("R932.cause", cause=patch.cause), _CAUSE, cause="cause")
    else:
        subject = said(f"R932.no_cause.{patch.damage}")
        yield stated(
            Status.UNKNOWN, subject, _CAUSE, said("R932.find_cause"), cause="cause", enter=("patch.cause",)
        )
    if patch.damage != "crack":
        return
    if patch.inspected_by.strip():
        yield stated(Status.PASS, said("R932.inspected", by=patch.inspected_by), _ENDS, cause="ends")
    else:
        advice, enter = said("R932.inspect"), ("patch.inspected_by",)
        yield stated(Status.UNKNOWN, said("R932.not_inspected"), _ENDS, advice, cause="ends", enter=enter)
