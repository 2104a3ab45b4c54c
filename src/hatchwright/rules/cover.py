"""R801 to R811: the cover, its screws, nutplates and clip nuts."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import Finding, Grade, Quantity, Source, Status, Working
from hatchwright.job.fasteners import Screws
from hatchwright.job.parts import Cover
from hatchwright.layout.gaps import gap_to_point
from hatchwright.layout.layout import Hole, Part
from hatchwright.layout.survey import Survey, points_of
from hatchwright.rules.answer import against, stated
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, shortfall_text
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import profile_of
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.tables.limits import limit
from hatchwright.tables.nutplates import ear_holes
from hatchwright.tables.rivets import parse_rivet
from hatchwright.tables.screws import screw_size, torque


def _cover(survey: Survey) -> tuple[Cover, Part, Screws | None, tuple[Hole, ...]] | None:
    job, part = survey.layout.job, survey.layout.part("cover")
    if job.cover is None or part is None:
        return None
    return job.cover, part, job.cover.screws, survey.layout.holes_of("screw")


@rule("R801", "Spacing of cover screws", "cover_screw_spacing_min", "cover_screw_spacing_max")
def screw_spacing(survey: Survey) -> Iterator[Finding]:
    """Cover screws stand one to two inches apart on light covers; common practice without a source, so it cautions."""
    found = _cover(survey)
    if found is None or len(found[3]) < 2:
        return
    holes = found[3]
    least, most = limit("cover_screw_spacing_min"), limit("cover_screw_spacing_max")
    pairs = [*pairwise(holes), (holes[-1], holes[0])]
    apart = [float(np.hypot(a.x_in - b.x_in, a.y_in - b.y_in)) for a, b in pairs]
    for name, distance_in, bound, wrong in (
        ("closest", min(apart), least, min(apart) < least.value - 1e-9),
        ("farthest", max(apart), most, max(apart) > most.value + 1e-9),
    ):
        pair = pairs[apart.index(distance_in)]
        yield against(
            "R801",
            Status.CAUTION if wrong else Status.PASS,
            f"cover screws, {name}: {holes_named(*pair)}",
            value=distance_in,
            limit=bound.value,
            unit="in",
            cited=bound,
            formula="least <= spacing <= greatest",
            values=(Quantity("spacing", distance_in, "in"),),
            advice=""
            if not wrong
            else "A stressed cover wants them closer; follow the maker's covers nearby.",
            holes=tuple(hole.number for hole in pair) if wrong else (),
            shortfall=abs(bound.value - distance_in),
        )


@rule("R802", "Length of cover screws", "thread_protrusion")
def screw_length(survey: Survey) -> Iterator[Finding]:
    """A cover screw is as long as its grip, the nut and one thread. The nut's height is its maker's; what stands out
    behind the grip is shown so that it can be compared."""
    found = _cover(survey)
    if found is None or found[2] is None or not found[3]:
        return
    screws, hole = found[2], found[3][0]
    thread = limit("thread_protrusion")
    if screws.length is None:
        yield stated(
            "R802", Status.UNKNOWN, "the length of the cover screws is not given", instruction("float_for_alignment"),
            advice="Enter the length: grip, nut and at least one thread.",
        )  # fmt: skip
        return
    thickness = {part.name: part.thickness_in for part in survey.layout.parts}
    grip_in = sum(thickness[name] for name in hole.stack)
    one_thread_in = 1.0 / screw_size(screws.size).threads_per_in
    for_nut_in = screws.length.inch - grip_in - thread.value * one_thread_in
    short = for_nut_in <= 0.0
    yield against(
        "R802",
        Status.STOP if short else Status.CAUTION,
        f"{screws.size} x {screws.length.text} through {grip_in:.3f}: {for_nut_in:.3f} left for the nut",
        value=screws.length.inch,
        limit=grip_in + one_thread_in,
        unit="in",
        cited=thread,
        formula="length >= grip + nut + one thread",
        values=(Quantity("grip", grip_in, "in"), Quantity("one thread", one_thread_in, "in")),
        advice="Too short for any nut."
        if short
        else f"The nut may be no higher than {for_nut_in:.3f}; measure it.",
        shortfall=-for_nut_in,
    )


@rule("R803", "Cover screws and what lies behind")
def screw_depth(survey: Survey) -> Iterator[Finding]:
    """A cover screw ends short of everything that lies behind it; its reach below the skin is set against the depth of
    each keep-out, and the nearest is named with the margin."""
    found = _cover(survey)
    if found is None or found[2] is None or found[2].length is None:
        return
    cover, part, screws, holes = found
    assert screws is not None  # looked at above
    assert screws.length is not None  # looked at above
    outside_in = part.thickness_in if cover.fit == "lapped" else 0.0
    reach_in = screws.length.inch - outside_in
    practice = Cited(0.0, "in", Source("PRACTICE", "screws against moving parts"), Grade.PRACTICE)
    for keep_out in survey.layout.job.bay.keep_outs:
        depth_in = keep_out.depth.inch if keep_out.depth else 0.0
        nearest = min(holes, key=lambda hole: gap_to_point(keep_out, (hole.x_in, hole.y_in)))
        beside_in = gap_to_point(keep_out, (nearest.x_in, nearest.y_in))
        margin_in = depth_in - reach_in
        over = beside_in <= nearest.diameter_in
        status = Status.STOP if over and margin_in <= 0.0 else Status.PASS
        yield against(
            "R803",
            status,
            f"{keep_out.name}: screws reach {reach_in:.3f} behind the skin, it lies {depth_in:g} deep and "
            f"{beside_in:.2f} beside {holes_named(nearest)}",
            value=margin_in,
            limit=0.0,
            unit="in",
            cited=practice,
            formula="margin = depth - reach",
            values=(Quantity("depth", depth_in, "in"), Quantity("reach", reach_in, "in")),
            advice="" if status is Status.PASS else "The screw reaches it: shorter screws, or move them.",
            holes=(nearest.number,) if status is not Status.PASS else (),
            shortfall=-margin_in,
        )


@rule("R804", "Material of the cover")
def cover_material(survey: Survey) -> Iterator[Finding]:
    """The cover is of the skin's material; on stressed skin it is of the skin's thickness too."""
    found, skin = _cover(survey), survey.layout.part("skin")
    if found is None or skin is None:
        return
    part = found[1]
    same = (part.alloy, part.temper) == (skin.alloy, skin.temper)
    thin = survey.layout.job.skin.stressed and part.thickness_in < skin.thickness_in - 1e-9
    yield stated(
        "R804",
        Status.PASS if same and not thin else Status.CAUTION,
        f"cover {part.alloy}-{part.temper} {part.thickness_in:g} in on skin {skin.alloy}-{skin.temper} "
        f"{skin.thickness_in:g} in",
        instruction("cover_material"),
        advice=""
        if same and not thin
        else "Of the skin's material and no thinner, unless the data say otherwise.",
    )


@rule("R805", "Gap of a flush cover", "cover_gap_min", "cover_gap_usual", "cover_gap_max")
def cover_gap(survey: Survey) -> Iterator[Finding]:
    """A flush cover has a gap of about a thirty-second all round, a sixteenth at most; common practice."""
    found = _cover(survey)
    if found is None or found[0].gap is None:
        return
    gap_in = found[0].gap.inch
    least, most = limit("cover_gap_min"), limit("cover_gap_max")
    bound = least if gap_in < least.value else most
    wrong = not least.value - 1e-9 <= gap_in <= most.value + 1e-9
    yield against(
        "R805",
        Status.CAUTION if wrong else Status.PASS,
        f"gap of the cover {gap_in:.3f}",
        value=gap_in,
        limit=bound.value,
        unit="in",
        cited=bound,
        formula=f"{least.value:g} <= gap <= {most.value:g} in",
        values=(Quantity("gap", gap_in, "in"),),
        advice="Paint and heat need a gap, water and noise a small one." if wrong else "",
        shortfall=abs(gap_in - bound.value),
    )


@rule("R806", "Clip nuts")
def clip_nuts(survey: Survey) -> Iterator[Finding]:
    """A clip nut sits on a straight edge, its grip takes the sheet, and its hole lies where its reach puts it; none
    sits on a corner arc."""
    found = _cover(survey)
    if found is None or found[2] is None or found[2].nut != "clip nut":
        return
    screws, holes = found[2], found[3]
    skin = survey.layout.parts[0]
    practice = Cited(0.0, "in", Source("PRACTICE", "clip nuts, as measured on the part"), Grade.PRACTICE)
    yield stated(
        "R806",
        Status.PASS if screws.straights_only else Status.STOP,
        f"{len(holes)} clip nuts, on straight edges only"
        if screws.straights_only
        else "clip nuts may fall on a corner arc",
        instruction("sheet_spring_nuts"),
        advice="" if screws.straights_only else "Write straights_only = true.",
    )
    if screws.clip_grip:
        low, high = screws.clip_grip
        fits = low.inch - 1e-9 <= skin.thickness_in <= high.inch + 1e-9
        yield against(
            "R806",
            Status.PASS if fits else Status.STOP,
            f"grip {low.text} to {high.text} on {skin.thickness_in:g} in",
            value=skin.thickness_in,
            limit=high.inch if skin.thickness_in > high.inch else low.inch,
            unit="in",
            cited=practice,
            formula="least <= sheet <= greatest",
            values=(Quantity("sheet", skin.thickness_in, "in"),),
            advice="" if fits else "Another clip nut.",
            shortfall=max(low.inch - skin.thickness_in, skin.thickness_in - high.inch),
        )
    if screws.clip_reach:
        to_edge = distances(profile_of(survey.layout.wanted), points_of(holes)).distance_in
        worst = int(np.argmax(np.abs(to_edge - screws.clip_reach.inch)))
        off_in = float(abs(to_edge[worst] - screws.clip_reach.inch))
        yield against(
            "R806",
            Status.PASS if off_in < 0.005 else Status.STOP,
            f"reach {screws.clip_reach.text}, {holes_named(holes[worst])} lies {to_edge[worst]:.3f} from the edge",
            value=float(to_edge[worst]),
            limit=screws.clip_reach.inch,
            unit="in",
            cited=practice,
            formula="hole to edge = reach",
            values=(Quantity("reach", screws.clip_reach.inch, "in"),),
            advice="" if off_in < 0.005 else "The screw would miss the nut: move the screw line.",
            shortfall=off_in,
        )
    if screws.clip_width:
        clear_in = _to_corner(survey, holes)
        fits = clear_in >= screws.clip_width.inch / 2.0 - 1e-9
        yield against(
            "R806",
            Status.PASS if fits else Status.STOP,
            f"width {screws.clip_width.text}, nearest corner arc begins {clear_in:.3f} from a screw",
            value=clear_in,
            limit=screws.clip_width.inch / 2.0,
            unit="in",
            cited=practice,
            formula="clear straight >= half the width",
            values=(Quantity("width", screws.clip_width.inch, "in"),),
            advice="" if fits else "The nut runs on to the arc: move the end screws in.",
            shortfall=screws.clip_width.inch / 2.0 - clear_in,
        )


def _to_corner(survey: Survey, holes: tuple[Hole, ...]) -> float:
    """Least distance along the edge from a screw's foot to the end of its straight side."""
    opening = survey.layout.wanted
    feet = distances(profile_of(opening), points_of(holes)).foot
    ends = np.array([end for piece in opening.pieces() for end in (piece.start, piece.end)])
    off = feet[:, None, :] - ends[None, :, :]
    return float(np.sqrt(np.einsum("nkc,nkc->nk", off, off)).min())


@rule("R807", "Ear holes of nutplates", "edge_min_countersunk")
def ear_holes_of_nutplates(survey: Survey) -> Iterator[Finding]:
    """The two rivets of a nutplate stand in line with its screw, along the screw line, and are rivets like any other:
    two and a half diameters, flush, from every edge of the part. Practitioners differ on whether the rule applies, and
    ear spacings are from memory unless measured, so it cautions only."""
    found = _cover(survey)
    if found is None or found[2] is None or "nutplate" not in found[2].nut or len(found[3]) < 3:
        return
    screws, holes = found[2], found[3]
    if not screws.nut_rivet:
        return
    rivet = parse_rivet(screws.nut_rivet)
    try:
        offsets_in, source, grade = _ears(screws)
    except TableError as error:
        yield stated(
            "R807",
            Status.UNKNOWN,
            error.what,
            instruction("nutplate_rivets"),
            advice="Measure the ears on the part and enter nut_rivet_spacing.",
        )
        return
    part = survey.layout.part("doubler") or survey.layout.parts[0]
    points = _ear_points(holes, offsets_in)
    least = limit("edge_min_countersunk" if rivet.is_flush else "edge_min_single_row_protruding")
    ears = Working(
        "ear holes from the screw, along the screw line",
        (Quantity("first", offsets_in[0], "in"), Quantity("second", offsets_in[1], "in")),
        Quantity("spacing", abs(offsets_in[0] - offsets_in[1]), "in"),
        source,
        grade,
    )
    for edge in part.edges:
        gaps = distances(profile_of(edge.loop), points)
        signed = np.where(gaps.inside == edge.metal_inside, gaps.distance_in, -gaps.distance_in)
        worst = int(np.argmin(signed))
        hole, value_in = holes[worst % len(holes)], float(signed[worst])
        limit_in = least.value * rivet.diameter_in
        short = value_in < limit_in - 1e-9
        yield against(
            "R807",
            Status.CAUTION if short else Status.PASS,
            f"nutplate rivets of {holes_named(hole)} to the {edge.name} ({part.name})",
            value=value_in,
            limit=limit_in,
            unit="in",
            cited=least,
            formula=f"e >= {least.value:g} D",
            values=(Quantity("D", rivet.diameter_in, "in"), Quantity("e", value_in, "in")),
            more=(ears,),
            advice=f"{shortfall_text(limit_in - value_in)}: turn the nutplate, take a one-lug one, or widen the land."
            if short
            else "",
            holes=(hole.number,) if short else (),
            place=(float(points[worst][0]), float(points[worst][1])),
            shortfall=limit_in - value_in,
        )


def _ears(screws: Screws) -> tuple[tuple[float, float], Source, Grade]:
    """Distances of the two ear holes from the screw: as measured by the shop, else of the tables."""
    if screws.nut_rivet_spacing and screws.nut != "one-lug nutplate":
        half_in = screws.nut_rivet_spacing.inch / 2.0
        return (half_in, -half_in), Source("PRACTICE", "measured on the part"), Grade.SHOP
    found = ear_holes(screws.nut.removesuffix(" nutplate"), screws.size)
    return found.offsets_in, found.source, found.grade


def _ear_points(holes: tuple[Hole, ...], offsets_in: tuple[float, float]) -> np.ndarray:
    """Ear holes along the run of the screws; all first ears, then all second ones, shape (2 n, 2) [in]."""
    points = points_of(holes)
    run = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    run /= np.hypot(*run.T)[:, None]
    return np.vstack([points + offset * run for offset in offsets_in])


@rule("R808", "Torque of cover screws")
def screw_torque(survey: Survey) -> Iterator[Finding]:
    """Cover screws are torqued to the maker's figure; where there is none, to the circular's table plus the friction
    drag of the nut. The table begins at No. 8, so a No. 6 screw has no figure in it."""
    found = _cover(survey)
    if found is None or found[2] is None:
        return
    screws = found[2]
    try:
        known = torque(screws.size)
    except TableError as error:
        yield stated(
            "R808",
            Status.UNKNOWN,
            error.what,
            instruction("torque_when_no_maker_value"),
            advice="Take the maker's figure; none can be read out of the circular for this size.",
        )
        return
    yield against(
        "R808",
        Status.PASS,
        f"{screws.size}: {known.least_in_lbf:g} to {known.greatest_in_lbf:g} in-lbf and the drag of the nut",
        value=known.greatest_in_lbf,
        limit=known.limit_in_lbf,
        unit="in-lbf",
        cited=Cited(known.greatest_in_lbf, "in-lbf", known.source, known.grade),
        advice="Only where the maker gives none; measured for steel bolts, not for screws in thin countersunk sheet.",
    )


@rule("R809", "Self-locking nuts on covers")
def self_locking(survey: Survey) -> Iterator[Finding]:
    """The circular says that self-locking nuts should not hold doors opened routinely, and nearly every cover uses
    them: follow the maker's practice, and mind covers that come off before every flight."""
    found = _cover(survey)
    if found and found[2] and "nutplate" in found[2].nut:
        yield stated(
            "R809",
            Status.CAUTION,
            f"{found[2].nut}s on the cover",
            instruction("self_locking_nut_access_panels"),
            advice="For a cover opened at inspections follow the maker's practice; not for one opened at each flight.",
        )


@rule("R810", "Screws in primary structure", "primary_structure_screw_min")
def primary_screws(survey: Survey) -> Iterator[Finding]:
    """Where the cover carries load in primary structure its screws are no smaller than No. 10."""
    found = _cover(survey)
    if found is None or found[2] is None or not survey.layout.job.skin.stressed:
        return
    least = limit("primary_structure_screw_min")
    size = screw_size(found[2].size)
    small = size.major_diameter_in < least.value - 1e-9
    yield against(
        "R810",
        Status.CAUTION if small else Status.PASS,
        f"{size.thread} screws in a cover on stressed skin",
        value=size.major_diameter_in,
        limit=least.value,
        unit="in",
        cited=least,
        formula="major diameter >= limit",
        values=(Quantity("major diameter", size.major_diameter_in, "in"),),
        advice="Let the doubler carry the load and the cover none, or use No. 10 screws." if small else "",
        shortfall=least.value - size.major_diameter_in,
    )


@rule("R811", "Clip nuts on stressed skin")
def clip_nuts_on_stressed(survey: Survey) -> Iterator[Finding]:
    """Sheet spring nuts are not structural; a cover on stressed skin is not held by them."""
    found = _cover(survey)
    if found and found[2] and found[2].nut == "clip nut":
        stressed = survey.layout.job.skin.stressed
        yield stated(
            "R811",
            Status.STOP if stressed else Status.PASS,
            f"clip nuts on {'stressed' if stressed else 'unstressed'} skin",
            instruction("sheet_spring_nuts"),
            advice="Use nutplates." if stressed else "",
        )


@rule("R812", "Lap of the cover")
def cover_lap(survey: Survey) -> Iterator[Finding]:
    """A lapped cover covers the opening all round, at its corners too, and no screw stands on a corner arc of clip
    nuts; the least lap is shown."""
    found = _cover(survey)
    if found is None or found[0].fit != "lapped":
        return
    cover, opening = found[1].edges[0].loop, survey.layout.opening
    gaps = distances(profile_of(cover), opening.points(1e-4))
    signed = np.where(gaps.inside, gaps.distance_in, -gaps.distance_in)
    least_in = float(signed.min())
    size = screw_size(found[2].size) if found[2] else None
    needed_in = 4.0 * size.major_diameter_in if size else 0.0
    practice = Cited(
        needed_in, "in", Source("PRACTICE", "two diameters on each side of the screw"), Grade.PRACTICE
    )
    short = least_in < needed_in - 1e-9
    yield against(
        "R812",
        Status.STOP if least_in <= 0.0 else Status.CAUTION if short else Status.PASS,
        f"least lap of the cover {least_in:.3f}",
        value=least_in,
        limit=needed_in,
        unit="in",
        cited=practice,
        formula="lap >= 4 x screw diameter",
        values=(Quantity("lap", least_in, "in"),),
        advice="" if not short else "A wider cover, or smaller screws.",
        shortfall=needed_in - least_in,
    )
