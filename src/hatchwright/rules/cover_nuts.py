"""R807, R809, R813: nutplates of the cover."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from hatchwright.errors import HatchwrightError, TableError
from hatchwright.finding import Finding
from hatchwright.job.fasteners import Screws
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against, in_words
from hatchwright.rules.cover import ScrewedCover, screwed_cover
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, short_text
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.catalog import NUTPLATE_EARS, NUTPLATE_THREADS, SCREW_SIZES
from hatchwright.tables.instructions import instruction
from hatchwright.tables.nutplates import ear_holes
from hatchwright.tables.rivets import RivetPart, parse_rivet
from hatchwright.tables.table import ShopTables
from hatchwright.words.tell import tell
from hatchwright.workings import Grade, Quantity, Source, Working

_ASK = "Measure the ears on the part, and enter cover.screws.nut_rivet and cover.screws.nut_rivet_spacing."

Points = npt.NDArray[np.float64]


@rule(
    "R809",
    Shelf.KNOW,
    rests_on=(instruction("self_locking_nut_access_panels"),),
    marks_holes=True,
    step="cover",
)
def self_locking(survey: Survey) -> Iterator[Finding]:
    """R809: self-locking nuts on covers."""
    found = screwed_cover(survey)
    if found is None:
        return
    locking = "nutplate" in found.screws.nut
    yield in_words(
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
    Shelf.SETTLE,
    limits=("edge_min_countersunk", "edge_min_single_row_protruding"),
    rests_on=(instruction("nutplate_rivets"), NUTPLATE_EARS, NUTPLATE_THREADS, SCREW_SIZES),
    reads=("parts",),
    marks_holes=True,
    step="nutplates",
    cause="nutplates",
)
def ear_holes_of_nutplates(survey: Survey) -> Iterator[Finding]:
    """R807: ear holes of nutplates."""
    try:
        known = _nutplate_ears(survey)
    except HatchwrightError as error:
        yield in_words(
            "R807",
            Status.UNKNOWN,
            tell(error.what),
            instruction("nutplate_rivets"),
            advice=_ASK,
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
    Shelf.SETTLE,
    limits=("new_to_existing_spacing",),
    rests_on=(instruction("nutplate_rivets"), NUTPLATE_EARS, SCREW_SIZES),
    reads=("holes",),
    marks_holes=True,
    step="nutplates",
    cause="nutplates",
)
def ears_beside_rivets(survey: Survey) -> Iterator[Finding]:
    """R813: nutplate rivets beside other rivets."""
    rivets = survey.layout.holes_of("rivet")
    try:
        known = _nutplate_ears(survey)
    except HatchwrightError as error:
        if rivets:
            yield in_words(
                "R813", Status.UNKNOWN, tell(error.what), instruction("nutplate_rivets"), advice=_ASK
            )
        return
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
