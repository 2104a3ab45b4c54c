"""R806, R807, R809, R811, R813: clip nuts and nutplates of the cover."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from hatchwright.errors import HatchwrightError, TableError
from hatchwright.finding import (
    FLOAT_NOISE,
    Finding,
    Grade,
    Quantity,
    Source,
    Status,
    Working,
    judge_at_least,
    judge_at_most,
)
from hatchwright.job.fasteners import Screws
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey, points_of
from hatchwright.rules.answer import against, stated
from hatchwright.rules.cover import ScrewedCover, screwed_cover
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, inch, over_text, short_text
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.catalog import NUTPLATE_EARS, NUTPLATE_THREADS, SCREW_SIZES
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.tables.nutplates import ear_holes
from hatchwright.tables.rivets import RivetPart, parse_rivet
from hatchwright.tables.table import ShopTables

REACH_WITHIN_IN = 0.005
"""A hole farther than this from where a clip nut's reach puts it misses the nut; common practice, no source [in]."""

_CLIPS = Cited(0.0, "in", Source("PRACTICE", "clip nuts, as measured on the part"), Grade.PRACTICE)

Points = npt.NDArray[np.float64]


@rule(
    "R806",
    "Clip nuts",
    rests_on=(
        instruction("sheet_spring_nuts"),
        _CLIPS,
    ),
)
def clip_nuts(survey: Survey) -> Iterator[Finding]:
    """A clip nut sits on a straight edge, its grip takes the sheet, and its hole lies where its reach puts it, from the
    edge as filed when it was measured; none sits on a corner arc. What is not known of the part cannot be judged."""
    found = screwed_cover(survey)
    if found is None or found.screws.nut != "clip nut":
        return
    on_straights = found.screws.straights_only
    yield stated(
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


@rule("R811", "Clip nuts on stressed skin", rests_on=(instruction("sheet_spring_nuts"),))
def clip_nuts_on_stressed(survey: Survey) -> Iterator[Finding]:
    """Sheet spring nuts are not structural; a cover on stressed skin is not held by them."""
    found = screwed_cover(survey)
    if found and found.screws.nut == "clip nut":
        stressed = survey.layout.job.skin.stressed
        yield stated(
            "R811",
            Status.STOP if stressed else Status.PASS,
            f"clip nuts on {'stressed' if stressed else 'unstressed'} skin",
            instruction("sheet_spring_nuts"),
            advice="Use nutplates." if stressed else "",
        )


@rule("R809", "Self-locking nuts on covers", rests_on=(instruction("self_locking_nut_access_panels"),))
def self_locking(survey: Survey) -> Iterator[Finding]:
    """The circular says that self-locking nuts should not hold doors opened routinely, and nearly every cover uses
    them: follow the maker's practice, and mind covers that come off before every flight."""
    found = screwed_cover(survey)
    if found is None:
        return
    locking = "nutplate" in found.screws.nut
    yield stated(
        "R809",
        Status.CAUTION if locking else Status.PASS,
        f"{found.screws.nut}s on the cover",
        instruction("self_locking_nut_access_panels"),
        advice="For a cover opened at inspections follow the maker's practice; not for one opened at each flight."
        if locking
        else "",
    )


def _nutplate_ears(survey: Survey) -> tuple[ScrewedCover, RivetPart, Points, Working] | None:
    """The cover, the rivet of its nutplates, and their ear holes along the run of the screws: all first ears, then all
    second ones. None without nutplates.

    Raises:
        HatchwrightError: the ears or the rivet are not known.
    """
    found = screwed_cover(survey)
    if found is None or "nutplate" not in found.screws.nut:
        return None
    if not found.screws.nut_rivet:
        raise TableError("the rivet of the nutplates is not given", where="cover.screws.nut_rivet")
    if len(found.holes) < 3:
        raise TableError(f"{len(found.holes)} screws show no line for the ears", where="cover.screws")
    rivet = parse_rivet(found.screws.nut_rivet)
    offsets_in, source, grade = _ears(found.screws, survey.shop)
    points = points_of(found.holes)
    run = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    run /= np.maximum(np.hypot(*run.T), 1e-12)[:, None]
    ears = Working(
        "ear holes from the screw, along the screw line",
        (Quantity("first", offsets_in[0], "in"), Quantity("second", offsets_in[1], "in")),
        Quantity("spacing", abs(offsets_in[0] - offsets_in[1]), "in"),
        source,
        grade,
    )
    return found, rivet, np.vstack([points + offset * run for offset in offsets_in]), ears


def _ears(screws: Screws, shop: ShopTables | None) -> tuple[tuple[float, float], Source, Grade]:
    """Distances of the two ear holes from the screw: as measured by the shop, else of the tables."""
    if screws.nut_rivet_spacing and screws.nut != "one-lug nutplate":
        half_in = screws.nut_rivet_spacing.inch / 2.0
        return (half_in, -half_in), Source("PRACTICE", "measured on the part"), Grade.SHOP
    found = ear_holes(screws.nut.removesuffix(" nutplate"), screws.size, shop)
    return found.offsets_in, found.source, found.grade


def _no_metal(ears: Working) -> Status:
    """The answer where no metal is left: geometry stops, unless where the ears lie is from memory."""
    return Status.STOP if ears.grade.may_stop else Status.UNKNOWN


@rule(
    "R807",
    "Ear holes of nutplates",
    "edge_min_countersunk",
    "edge_min_single_row_protruding",
    rests_on=(
        instruction("nutplate_rivets"),
        NUTPLATE_EARS,
        NUTPLATE_THREADS,
        SCREW_SIZES,
    ),
)
def ear_holes_of_nutplates(survey: Survey) -> Iterator[Finding]:
    """The two rivets of a nutplate stand in line with its screw, along the screw line, and are rivets like any other:
    two diameters, or two and a half flush, from every edge of the part. Practitioners differ on whether the rule
    applies, and ear spacings are from memory unless measured, so it cautions; a hole that breaks out through the edge
    stops, or by ears from memory is left open."""
    try:
        known = _nutplate_ears(survey)
    except HatchwrightError as error:
        yield stated(
            "R807",
            Status.UNKNOWN,
            error.what,
            instruction("nutplate_rivets"),
            advice="Measure the ears on the part, and enter nut_rivet and nut_rivet_spacing.",
        )
        return
    if known is None:
        return
    found, rivet, points, ears = known
    part = survey.layout.part("doubler") or survey.layout.parts[0]
    least = survey.limit("edge_min_countersunk" if rivet.is_flush else "edge_min_single_row_protruding")
    limit_in = least.value * rivet.diameter_in
    for edge in part.edges:
        gaps = distances(Profile((edge.loop,)), points)
        signed = np.where(gaps.inside == edge.metal_inside, gaps.distance_in, -gaps.distance_in)
        worst = int(np.argmin(signed))
        hole, value_in = found.holes[worst % len(found.holes)], float(signed[worst])
        status = judge_at_least(value_in, limit_in, short=Status.CAUTION)
        if value_in < rivet.diameter_in / 2.0 - FLOAT_NOISE:
            status = _no_metal(ears)
        fits = status is Status.PASS
        yield against(
            "R807",
            status,
            f"nutplate rivets of {holes_named(hole)} to the {edge.name} ({part.name})",
            value=value_in,
            limit=limit_in,
            unit="in",
            cited=least,
            formula=f"e >= {least.value:g} D",
            values=(Quantity("D", rivet.diameter_in, "in"), Quantity("e", value_in, "in")),
            more=(ears,),
            advice=""
            if fits
            else f"{short_text(limit_in - value_in)} Turn the nutplate, take a one-lug one, or widen the land.",
            holes=() if fits else (hole.number,),
            place=(float(points[worst][0]), float(points[worst][1])),
            shortfall=limit_in - value_in,
        )


@rule(
    "R813",
    "Nutplate rivets beside other rivets",
    "new_to_existing_spacing",
    rests_on=(
        NUTPLATE_EARS,
        SCREW_SIZES,
    ),
)
def ears_beside_rivets(survey: Survey) -> Iterator[Finding]:
    """The rivets of a nutplate keep three diameters of the larger from every rivet of the doubler; common practice, so
    it cautions. Holes that run into each other stop, or by ears from memory are left open."""
    try:
        known = _nutplate_ears(survey)
    except HatchwrightError:
        return  # R807 says so
    rivets = survey.layout.holes_of("rivet")
    if known is None or not rivets:
        return
    found, rivet, points, ears = known
    least = survey.limit("new_to_existing_spacing")
    off = points[:, None, :] - points_of(rivets)[None, :, :]
    larger_in = np.maximum([hole.diameter_in for hole in rivets], rivet.diameter_in)
    margin = np.hypot(off[..., 0], off[..., 1]) - least.value * larger_in
    ear, at = np.unravel_index(int(np.argmin(margin)), margin.shape)
    screw, hole = found.holes[int(ear) % len(found.holes)], rivets[int(at)]
    limit_in = least.value * float(larger_in[at])
    apart_in = float(margin[ear, at]) + limit_in
    status = judge_at_least(apart_in, limit_in, short=Status.CAUTION)
    if apart_in < (hole.diameter_in + rivet.diameter_in) / 2.0 - FLOAT_NOISE:
        status = _no_metal(ears)
    fits = status is Status.PASS
    yield against(
        "R813",
        status,
        f"nutplate rivets of {holes_named(screw)} to {holes_named(hole)}",
        value=apart_in,
        limit=limit_in,
        unit="in",
        cited=least,
        formula=f"p >= {least.value:g} D of the larger",
        values=(Quantity("D", float(larger_in[at]), "in"), Quantity("p", apart_in, "in")),
        more=(ears,),
        advice="" if fits else f"{short_text(limit_in - apart_in)} Turn the nutplate, or shift the screws.",
        holes=() if fits else (screw.number, hole.number),
        place=(float(points[ear][0]), float(points[ear][1])),
        shortfall=limit_in - apart_in,
    )
