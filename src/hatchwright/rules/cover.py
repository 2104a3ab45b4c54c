"""R801, R804, R805, R812, R814: the cover, its screw spacing, gap and lap, and structure beneath it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

import numpy as np
from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.job.fasteners import Screws
from hatchwright.job.parts import Cover
from hatchwright.judged import FLOAT_NOISE, OFF, Judgement, Measure, Status, bound
from hatchwright.layout.gaps import gap_to
from hatchwright.layout.layout import Hole, Part, points_of
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.scope import MEMBERS
from hatchwright.rules.wording import numbered
from hatchwright.said import Said, inch, said
from hatchwright.shapes.corners import corners
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.tables.screws import screw_size
from hatchwright.workings import Grade, Source

_CHORD_IN = 1e-4


class ScrewedCover(Struct, frozen=True):
    """A cover with the screws that hold it."""

    cover: Cover
    part: Part
    screws: Screws
    holes: tuple[Hole, ...]


def screwed_cover(survey: Survey) -> ScrewedCover | None:
    """The cover of a job with its screws, None when there is no cover or no screw in it."""
    job, part, holes = survey.layout.job, survey.layout.part("cover"), survey.layout.holes_of("screw")
    if job.cover is None or part is None or job.cover.screws is None or not holes:
        return None
    return ScrewedCover(job.cover, part, job.cover.screws, holes)


_SAME_GAP_IN = 5e-4
_GOES_IN = Cited(0.0, "in", Source("GEOMETRY", "a flush cover inside its opening"), Grade.COMPUTED)
_COVERS = Cited(0.0, "in", Source("GEOMETRY", "a lapped cover over its opening"), Grade.COMPUTED)
_LAP = Cited(4.0, "D", Source("PRACTICE", "two diameters on each side of the screw"), Grade.PRACTICE)


@rule("R801", Shelf.HOLDS, reads=("cover", "holes", "parts", "skin"), marks_holes=True)
@judged_by(limits=("cover_screw_spacing_min", "cover_screw_spacing_max"))
@mended_by(Change.SCREW_NUMBER)
def screw_spacing(survey: Survey) -> Iterator[Finding]:
    """R801: spacing of cover screws; on stressed skin nothing is asked of the closest pair."""
    if survey.layout.job.cover is None:
        return
    found = screwed_cover(survey)
    least, most = survey.limit("cover_screw_spacing_min"), survey.limit("cover_screw_spacing_max")
    if found is None or len(found.holes) < 2:
        yield _too_few(found, most)
        return
    pairs = [*pairwise(found.holes), (found.holes[-1], found.holes[0])]
    spacing = Measure("s", np.array([np.hypot(a.x_in - b.x_in, a.y_in - b.y_in) for a, b in pairs]))
    closest = Judgement(spacing, (bound(least),), fails_as=Status.CAUTION)
    farthest = Judgement(spacing, (bound(most),), at_least=False, fails_as=Status.CAUTION)
    i, j = closest.worst(), farthest.worst()
    if survey.layout.job.skin.stressed:
        subject = said("cover_screws.closest", screws=numbered(*pairs[i]))
        yield stated(Status.PASS, subject, least, value=closest.at(i).value, unit="in")
    else:
        yield _of_pair("closest", "cover_screws.fewer", closest.at(i), pairs[i])
    yield _of_pair("farthest", "cover_screws.gapes", farthest.at(j), pairs[j])


def _too_few(found: ScrewedCover | None, most: Cited) -> Finding:
    return stated(
        Status.UNKNOWN,
        said("cover_screws.only_one" if found else "cover_screws.none"),
        most,
        said("cover_screws.enter"),
        value=float(len(found.holes)) if found else 0.0,
        unit="screws",
        enter=("cover.screws",),
    )


def _of_pair(which: str, advice: str, judged: Judgement, pair: tuple[Hole, Hole]) -> Finding:
    subject = said(f"cover_screws.{which}", screws=numbered(*pair))
    numbers = () if judged.status is Status.PASS else tuple(hole.number for hole in pair)
    return held(judged, subject, said(advice), ASK, holes=numbers, cause=which)


@rule("R804", Shelf.HOLDS, reads=("parts", "skin"))
@judged_by("cover_material")
def cover_material(survey: Survey) -> Iterator[Finding]:
    """R804: material of the cover."""
    cover, skin = survey.layout.part("cover"), survey.layout.part("skin")
    if cover is None or skin is None:
        return
    advice: list[Said] = []
    if survey.layout.job.skin.stressed and cover.thickness_in < skin.thickness_in - FLOAT_NOISE:
        advice.append(said("cover_sheet.thinner"))
    if (cover.alloy, cover.temper) != (skin.alloy, skin.temper):
        advice.append(said("cover_sheet.other_material"))
    if advice:
        advice.append(ASK)
    subject = said("cover_sheet.on_skin", cover=_sheet(cover), skin=_sheet(skin))
    yield stated(
        Status.CAUTION if advice else Status.PASS, subject, instruction("cover_material"), *tuple(advice)
    )


def _sheet(part: Part) -> Said:
    return said("cover_sheet.one", alloy=part.alloy, temper=part.temper, thickness=inch(part.thickness_in))


@rule("R805", Shelf.SETTLE, reads=("cover", "doubler", "opening", "parts"), step="cover")
@judged_by(_GOES_IN, limits=("cover_gap_min", "cover_gap_usual", "cover_gap_max"))
@mended_by(Change.COVER_SIZE, Change.NEW_COVER)
def cover_gap(survey: Survey) -> Iterator[Finding]:
    """R805: gap of a flush cover; whether it goes in at all comes before how it looks."""
    cover, part = survey.layout.job.cover, survey.layout.part("cover")
    if cover is None or part is None or cover.fit != "flush":
        return
    doubler = survey.layout.job.doubler
    if doubler is not None and doubler.face == "outside":
        yield stated(Status.STOP, said("cover_gap.no_land"), _GOES_IN, said("cover_gap.no_seat"), ASK)
        return
    u_in = survey.layout.parts[0].edges[0].uncertainty_in
    narrowest_in, widest_in = gaps_all_round(part.edges[0].loop, survey.layout.opening)
    least, most = survey.limit("cover_gap_min"), survey.limit("cover_gap_max")
    both = (("least gap", narrowest_in, "in"), ("greatest gap", widest_in, "in"))
    narrow = Measure("least gap", narrowest_in, u_in, with_=both[1:])
    wide = Measure("greatest gap", widest_in, u_in, with_=both[:1])
    goes_in = Judgement(narrow, (bound(_GOES_IN),))
    tight = Judgement(narrow, (bound(least),), fails_as=Status.CAUTION)
    loose = Judgement(wide, (bound(most),), at_least=False, fails_as=Status.CAUTION)
    judged = next((one for one in (goes_in, tight) if one.status is not Status.PASS), loose)
    narrowest = inch(narrowest_in, beside_in=least.value)
    widest = inch(widest_in, beside_in=most.value)
    alike = widest_in - narrowest_in <= _SAME_GAP_IN
    usual = inch(survey.limit("cover_gap_usual").value)
    yield held(
        judged,
        said("cover_gap.even", gap=widest if judged is loose else narrowest)
        if alike
        else said("cover_gap.from_to", least=narrowest, greatest=widest),
        said("cover_gap.usual", gap=usual)
        if judged is not goes_in
        else said(f"cover_gap.{'will' if goes_in.status is Status.STOP else 'may'}_not_go_in"),
        ASK,
    )


@lru_cache(maxsize=16)  # both outlines stay while rows are edited
def gaps_all_round(cover: Loop, opening: Loop) -> tuple[float, float]:
    """The least and the greatest gap between a flush cover and its opening, negative where it reaches over [in]."""
    here = distances(Profile((opening,)), cover.points(_CHORD_IN)).inward_in
    there = -distances(Profile((cover,)), opening.points(_CHORD_IN)).inward_in
    gaps = np.concatenate([here, there])
    return float(gaps.min()), float(gaps.max())


@rule("R812", Shelf.HOLDS, reads=("cover", "opening", "parts"))
@judged_by(_LAP, _COVERS)
@mended_by(Change.COVER_SIZE, Change.OPENING_SIZE)
def cover_lap(survey: Survey) -> Iterator[Finding]:
    """R812: lap of the cover; one that does not reach over the opening stops, a narrow one cautions."""
    layout = survey.layout
    cover = layout.part("cover")
    if layout.job.cover is None or cover is None or layout.job.cover.fit != "lapped":
        return
    screws = layout.job.cover.screws
    diameter_in = screw_size(screws.size, survey.shop).major_diameter_in if screws else None
    edge = Profile((cover.edges[0].loop,))
    at_corners = np.array([corner.place for corner in corners(layout.opening)]).reshape(-1, 2)
    laps = [("cover_lap.sides", layout.opening.points(_CHORD_IN))]
    if len(at_corners):
        laps.append(("cover_lap.corners", at_corners))
    for subject, points in laps:
        lap_in = float(distances(edge, points).inward_in.min())
        judged = Judgement(Measure("lap", lap_in), (bound(_COVERS),), strict=True)
        covers = judged.status is Status.PASS
        if covers and diameter_in:
            lap = Measure("lap", lap_in, per=("D", diameter_in, "in"))
            judged = Judgement(lap, (bound(_LAP, diameter_in, "D"),), fails_as=Status.CAUTION)
        yield held(judged, said(subject), *(() if covers else (said("cover_lap.does_not_cover"),)), ASK)


_ON_THE_ROW = Cited(1.0, "D", Source("PRACTICE", "screws on a member's row"), Grade.PRACTICE)


@rule("R814", Shelf.HOLDS, reads=("bay", "cover", "holes", "parts"), marks_holes=True)
@judged_by("door_over_structure", _ON_THE_ROW)
def cover_over_structure(survey: Survey) -> Iterator[Finding]:
    """R814: cover over structure; of each member's row the nearest screw speaks."""
    found = screwed_cover(survey)
    if found is None:
        return
    asked = instruction("door_over_structure")
    for row in survey.layout.job.bay.rows:
        if row.member not in MEMBERS or gap_to(found.part.edges[0].loop, row)[0] > 0.0:
            continue
        off_in = np.abs(points_of(found.holes)[:, row.axis] - row.at_in)
        nearest = found.holes[int(np.argmin(off_in))]
        measure = Measure(OFF, float(off_in.min()), per=("D", nearest.diameter_in, "in"))
        bounds = (bound(_ON_THE_ROW, nearest.diameter_in, "D"),)
        judged = Judgement(measure, bounds, at_least=False, fails_as=Status.CAUTION)
        subject = said("cover_over.row", row=row.name, screw=numbered(nearest))
        advice = said("cover_over.screws_into_member", source=str(asked.source), grade=asked.grade)
        numbers = () if judged.status is Status.PASS else (nearest.number,)
        yield held(judged, subject, advice, holes=numbers, place=nearest.place, cause=row.name)
