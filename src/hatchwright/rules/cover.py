"""R801, R804, R805, R812: the cover, its screw spacing, gap and lap."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from hatchwright.finding import Finding
from hatchwright.job.fasteners import Screws
from hatchwright.job.parts import Cover
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least, judge_at_most
from hatchwright.layout.layout import Hole, Part
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against, in_words
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, inch, over_text, short_text
from hatchwright.shapes.corners import corners
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction, instruction
from hatchwright.tables.screws import screw_size
from hatchwright.workings import Grade, Quantity, Source

_CHORD_IN = 1e-4


@dataclass(frozen=True, slots=True)
class ScrewedCover:
    """A cover with the screws that hold it."""

    cover: Cover
    part: Part
    screws: Screws
    holes: tuple[Hole, ...]


def screwed_cover(survey: Survey) -> ScrewedCover | None:
    """The cover of a job with its screws.

    Returns:
        ScrewedCover: None when there is no cover, or no screw in it.
    """
    job, part, holes = survey.layout.job, survey.layout.part("cover"), survey.layout.holes_of("screw")
    if job.cover is None or part is None or job.cover.screws is None or not holes:
        return None
    return ScrewedCover(job.cover, part, job.cover.screws, holes)


_SAME_GAP_IN = 5e-4
_GOES_IN = Cited(0.0, "in", Source("GEOMETRY", "a flush cover inside its opening"), Grade.COMPUTED)
_LAP = Cited(4.0, "D", Source("PRACTICE", "two diameters on each side of the screw"), Grade.PRACTICE)


@rule(
    "R801",
    Shelf.KNOW,
    limits=("cover_screw_spacing_min", "cover_screw_spacing_max"),
    reads=("cover", "holes", "parts", "skin"),
    marks_holes=True,
)
def screw_spacing(survey: Survey) -> Iterator[Finding]:
    """R801: spacing of cover screws."""
    if survey.layout.job.cover is None:
        return
    found = screwed_cover(survey)
    if found is None or len(found.holes) < 2:
        count = len(found.holes) if found else 0
        yield against(
            "R801",
            Status.UNKNOWN,
            f"{'one screw' if count else 'no screw'} is entered to hold the cover",
            value=float(count),
            limit=None,
            unit="screws",
            cited=survey.limit("cover_screw_spacing_max"),
            advice="Enter the screws of the cover, or ask for data on what holds it.",
        )
        return
    least, most = survey.limit("cover_screw_spacing_min"), survey.limit("cover_screw_spacing_max")
    pairs = [*pairwise(found.holes), (found.holes[-1], found.holes[0])]
    apart = [float(np.hypot(a.x_in - b.x_in, a.y_in - b.y_in)) for a, b in pairs]
    closest, farthest = min(apart), max(apart)
    may_be_close = survey.layout.job.skin.stressed
    too_close = (
        judge_at_least(closest, least.value, short=Status.CAUTION) is not Status.PASS and not may_be_close
    )
    too_far = judge_at_most(farthest, most.value, over=Status.CAUTION) is not Status.PASS
    close_advice = (
        f"{short_text(least.value - closest)} Fewer would do on a light cover, and edges stay stronger."
    )
    far_advice = f"{over_text(farthest - most.value)} The edge may gape between them; follow the maker's covers nearby."
    for name, distance_in, bound, wrong, advice, miss_in in (
        ("closest", closest, least, too_close, close_advice, least.value - closest),
        ("farthest apart", farthest, most, too_far, far_advice, farthest - most.value),
    ):
        pair = pairs[apart.index(distance_in)]
        yield against(
            "R801",
            Status.CAUTION if wrong else Status.PASS,
            f"cover screws {name}: {holes_named(*pair)}",
            value=distance_in,
            limit=bound.value,
            unit="in",
            cited=bound,
            formula=f"{inch(least.value)} <= spacing <= {inch(most.value)} in",
            values=(Quantity("spacing", distance_in, "in"),),
            advice=advice if wrong else "",
            holes=tuple(hole.number for hole in pair) if wrong else (),
            shortfall=miss_in,
        )


@rule(
    "R804", Shelf.KNOW, rests_on=(instruction("cover_material"),), reads=("parts", "skin"), marks_holes=True
)
def cover_material(survey: Survey) -> Iterator[Finding]:
    """R804: material of the cover."""
    cover, skin = survey.layout.part("cover"), survey.layout.part("skin")
    if cover is None or skin is None:
        return
    same = (cover.alloy, cover.temper) == (skin.alloy, skin.temper)
    thin = survey.layout.job.skin.stressed and cover.thickness_in < skin.thickness_in - FLOAT_NOISE
    fits = same and not thin
    yield in_words(
        "R804",
        Status.PASS if fits else Status.CAUTION,
        f"cover {cover.alloy}-{cover.temper} {inch(cover.thickness_in)} in on skin {skin.alloy}-{skin.temper} "
        f"{inch(skin.thickness_in)} in",
        instruction("cover_material"),
        advice="" if fits else "Of the skin's material and no thinner, unless the data say otherwise.",
    )


@rule(
    "R805",
    Shelf.SETTLE,
    limits=("cover_gap_min", "cover_gap_usual", "cover_gap_max"),
    rests_on=(_GOES_IN,),
    reads=("cover", "doubler", "opening", "parts"),
    marks_holes=True,
    step="cover",
)
def cover_gap(survey: Survey) -> Iterator[Finding]:
    """R805: gap of a flush cover."""
    cover, part = survey.layout.job.cover, survey.layout.part("cover")
    if cover is None or part is None or cover.fit != "flush":
        return
    u_in = survey.layout.parts[0].edges[0].uncertainty_in
    doubler = survey.layout.job.doubler
    if doubler is not None and doubler.face == "outside":
        yield in_words(
            "R805",
            Status.STOP,
            "a flush cover in an opening whose doubler lies outside",
            Instruction(_GOES_IN.source.place, _GOES_IN.source, _GOES_IN.grade),
            advice="It has no land to seat on: put the doubler inside (doubler.face), or make the cover lapped.",
        )
        return
    narrowest_in, widest_in = gaps_all_round(part.edges[0].loop, survey.layout.opening)
    goes_in = judge_at_least(narrowest_in, 0.0, uncertainty=u_in)
    least, most = survey.limit("cover_gap_min"), survey.limit("cover_gap_max")
    bound, gap_in, miss_in = least, narrowest_in, least.value - narrowest_in
    status = judge_at_least(narrowest_in, least.value, uncertainty=u_in, short=Status.CAUTION)
    if goes_in is not Status.PASS:
        bound, status, miss_in = _GOES_IN, goes_in, -narrowest_in
    elif status is Status.PASS:
        bound, gap_in, miss_in = most, widest_in, widest_in - most.value
        status = judge_at_most(widest_in, most.value, uncertainty=u_in, over=Status.CAUTION)
    said = inch(narrowest_in)
    if widest_in - narrowest_in > _SAME_GAP_IN:
        said += f" to {inch(widest_in)}"
    yield against(
        "R805",
        status,
        f"gap of the cover {said} in",
        value=gap_in,
        limit=bound.value,
        unit="in",
        cited=bound,
        formula=f"{inch(least.value)} <= gap <= {inch(most.value)} in",
        values=(Quantity("least gap", narrowest_in, "in"), Quantity("greatest gap", widest_in, "in")),
        advice=""
        if status is Status.PASS
        else f"{over_text(miss_in, u_in) if bound is most else short_text(miss_in, u_in)} "
        + (
            "The cover does not go into the opening: finish the opening, or make the cover to it as it stands."
            if bound is _GOES_IN
            else f"About {inch(survey.limit('cover_gap_usual').value)} in all round is usual: paint and heat need a "
            "gap, water and noise a small one."
        ),
        shortfall=miss_in,
        uncertainty=u_in,
    )


def gaps_all_round(cover: Loop, opening: Loop) -> tuple[float, float]:
    """The least and the greatest gap between a flush cover and its opening.

    Args:
        cover: edge of the cover [in].
        opening: edge of the opening [in].
    Returns:
        tuple: both, negative where the cover reaches over the edge [in].
    """
    inward, outward = Profile((opening,)), Profile((cover,))
    here = distances(inward, cover.points(_CHORD_IN))
    there = distances(outward, opening.points(_CHORD_IN))
    gaps = np.concatenate(
        [
            np.where(here.inside, here.distance_in, -here.distance_in),
            np.where(there.inside, -there.distance_in, there.distance_in),
        ]
    )
    return float(gaps.min()), float(gaps.max())


@rule("R812", Shelf.HOLDS, rests_on=(_LAP,), reads=("cover", "opening", "parts"), marks_holes=True)
def cover_lap(survey: Survey) -> Iterator[Finding]:
    """R812: lap of the cover."""
    layout = survey.layout
    cover = layout.part("cover")
    if layout.job.cover is None or cover is None or layout.job.cover.fit != "lapped":
        return
    screws = layout.job.cover.screws
    diameter_in = screw_size(screws.size, survey.shop).major_diameter_in if screws else 0.0
    edge = Profile((cover.edges[0].loop,))
    at_corners = np.array([corner.place for corner in corners(layout.opening)]).reshape(-1, 2)
    laps = [("least lap of the cover", layout.opening.points(_CHORD_IN))]
    if len(at_corners):
        laps.append(("least lap at the corners of the opening", at_corners))
    practice = replace(_LAP, value=_LAP.value * diameter_in)
    for name, points in laps:
        gaps = distances(edge, points)
        lap_in = float(np.where(gaps.inside, gaps.distance_in, -gaps.distance_in).min())
        status = judge_at_least(lap_in, practice.value, short=Status.CAUTION)
        if lap_in <= 0.0:
            status = Status.STOP
        yield against(
            "R812",
            status,
            f"{name} {inch(lap_in)} in",
            value=lap_in,
            limit=practice.value,
            unit="in",
            cited=practice,
            formula="lap >= 4 x screw diameter",
            values=(Quantity("lap", lap_in, "in"), Quantity("D", diameter_in, "in")),
            advice=""
            if status is Status.PASS
            else f"{short_text(practice.value - lap_in)} A wider cover, or smaller screws.",
            shortfall=practice.value - lap_in,
        )
