"""R806, R811: clip nuts of the cover."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.job.fasteners import Screws
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least, judge_at_most
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against, in_words
from hatchwright.rules.cover import ScrewedCover, screwed_cover
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, inch, over_text, short_text
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.workings import Grade, Quantity, Source

REACH_WITHIN_IN = 0.005
"""A hole farther than this from where a clip nut's reach puts it misses the nut; common practice, no source [in]."""

_CLIPS = Cited(0.0, "in", Source("PRACTICE", "clip nuts, as measured on the part"), Grade.PRACTICE)


@rule(
    "R806",
    Shelf.SETTLE,
    rests_on=(instruction("sheet_spring_nuts"), _CLIPS),
    reads=("opening", "parts"),
    marks_holes=True,
    step="cover",
)
def clip_nuts(survey: Survey) -> Iterator[Finding]:
    """R806: clip nuts."""
    found = screwed_cover(survey)
    if found is None or found.screws.nut != "clip nut":
        return
    on_straights = found.screws.straights_only
    yield in_words(
        "R806",
        Status.PASS if on_straights else Status.STOP,
        f"{len(found.holes)} clip nuts, on straight edges only"
        if on_straights
        else "clip nuts may fall on a corner arc",
        instruction("sheet_spring_nuts"),
        advice="" if on_straights else "Write straights_only = true.",
    )
    yield from _not_entered(found.screws)
    yield from _grip(survey, found.screws)
    yield from _reach(survey, found)
    yield from _width(survey, found)


def _not_entered(screws: Screws) -> Iterator[Finding]:
    """What is not known of the clip nut, so that it cannot be shown to hold."""
    given = {"clip_grip": screws.clip_grip, "clip_reach": screws.clip_reach, "clip_width": screws.clip_width}
    missing = [field for field, value in given.items() if value is None]
    if missing:
        words = ", ".join(field.removeprefix("clip_") for field in missing)
        yield against(
            "R806",
            Status.UNKNOWN,
            f"the {words} of the clip nut {'is' if len(missing) == 1 else 'are'} not given",
            value=None,
            limit=None,
            unit="in",
            cited=_CLIPS,
            advice=f"Measure the part, and enter {', '.join(missing)}.",
        )


def _grip(survey: Survey, screws: Screws) -> Iterator[Finding]:
    if not screws.clip_grip:
        return
    sheet_in = survey.layout.parts[0].thickness_in
    low, high = screws.clip_grip
    fits = low.inch - FLOAT_NOISE <= sheet_in <= high.inch + FLOAT_NOISE
    yield against(
        "R806",
        Status.PASS if fits else Status.STOP,
        f"grip {low.text} to {high.text} on {inch(sheet_in)} in",
        value=sheet_in,
        limit=high.inch if sheet_in > high.inch else low.inch,
        unit="in",
        cited=_CLIPS,
        formula="least <= sheet <= greatest",
        values=(Quantity("sheet", sheet_in, "in"),),
        advice="" if fits else "Another clip nut.",
        shortfall=max(low.inch - sheet_in, sheet_in - high.inch),
    )


def _reach(survey: Survey, found: ScrewedCover) -> Iterator[Finding]:
    reach = found.screws.clip_reach
    if reach is None:
        return
    edge = survey.layout.parts[0].edges[0]
    gaps = distances(Profile((edge.loop,)), points_of(found.holes))
    to_edge = np.where(gaps.inside, -gaps.distance_in, gaps.distance_in)
    worst = int(np.argmax(np.abs(to_edge - reach.inch)))
    off_in, u_in = float(abs(to_edge[worst] - reach.inch)), edge.uncertainty_in
    status = judge_at_most(off_in, REACH_WITHIN_IN, uncertainty=u_in)
    fits = status is Status.PASS
    yield against(
        "R806",
        status,
        f"reach {reach.text}, {holes_named(found.holes[worst])} lies {to_edge[worst]:.3f} in from the edge",
        value=float(to_edge[worst]),
        limit=reach.inch,
        unit="in",
        cited=_CLIPS,
        formula=f"hole to edge = reach, within {inch(REACH_WITHIN_IN)} in",
        values=(Quantity("reach", reach.inch, "in"),),
        advice=""
        if fits
        else f"{over_text(off_in - REACH_WITHIN_IN, u_in)} The screw would miss the nut: move the screw line.",
        holes=() if fits else (found.holes[worst].number,),
        shortfall=off_in - REACH_WITHIN_IN,
        uncertainty=u_in,
    )


def _width(survey: Survey, found: ScrewedCover) -> Iterator[Finding]:
    width = found.screws.clip_width
    if width is None:
        return
    needed_in = width.inch / 2.0
    clear_in, hole = _to_corner(survey, found.holes)
    u_in = survey.layout.parts[0].edges[0].uncertainty_in
    status = judge_at_least(clear_in, needed_in, uncertainty=u_in)
    yield against(
        "R806",
        status,
        f"width {width.text}, the straight edge ends {clear_in:.3f} in beside {holes_named(hole)}",
        value=clear_in,
        limit=needed_in,
        unit="in",
        cited=_CLIPS,
        formula="clear straight >= half the width",
        values=(Quantity("width", width.inch, "in"),),
        advice=""
        if status is Status.PASS
        else f"{short_text(needed_in - clear_in, u_in)} The nut runs on to the arc: move the end screws in.",
        holes=() if status is Status.PASS else (hole.number,),
        shortfall=needed_in - clear_in,
        uncertainty=u_in,
    )


def _to_corner(survey: Survey, holes: tuple[Hole, ...]) -> tuple[float, Hole]:
    """Least distance along the edge from a screw's foot to the end of its straight side, and that screw."""
    opening = survey.layout.opening
    feet = distances(Profile((opening,)), points_of(holes)).foot
    off = feet[:, None, :] - opening.rows[None, :, :2]
    apart = np.hypot(off[..., 0], off[..., 1]).min(axis=1)
    at = int(np.argmin(apart))
    return float(apart[at]), holes[at]


@rule("R811", Shelf.KNOW, rests_on=(instruction("sheet_spring_nuts"),), reads=("skin",), marks_holes=True)
def clip_nuts_on_stressed(survey: Survey) -> Iterator[Finding]:
    """R811: clip nuts on stressed skin."""
    found = screwed_cover(survey)
    if found and found.screws.nut == "clip nut":
        stressed = survey.layout.job.skin.stressed
        yield in_words(
            "R811",
            Status.STOP if stressed else Status.PASS,
            f"clip nuts on {'stressed' if stressed else 'unstressed'} skin",
            instruction("sheet_spring_nuts"),
            advice="Use nutplates." if stressed else "",
        )
