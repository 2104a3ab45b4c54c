"""R807, R809, R813: nutplates of the cover."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Measure, Status, bound
from hatchwright.layout.layout import points_of
from hatchwright.layout.named import nuts_named
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated
from hatchwright.rules.cover import ScrewedCover, screwed_cover
from hatchwright.rules.edge_distance import WHOLE
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import edge_named, numbered, part_named
from hatchwright.said import Said, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.tables.nutplates import NUTPLATE_EARS, NUTPLATE_THREADS, NutplateKind, nutplate_kind
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.screws import SCREW_SIZES
from hatchwright.workings import Grade, Quantity, Source, Working

_LINE_OF_SCREWS = 3
"""Screws that it takes to show which way their line runs, and the ears with it."""

Points = npt.NDArray[np.float64]


@rule("R809", Shelf.KNOW, reads=("cover", "holes", "parts"), step="cover")
@judged_by("self_locking_nut_access_panels")
def self_locking(survey: Survey) -> Iterator[Finding]:
    """R809: self-locking nuts on covers; the job's own choice, so that the instruction is told and nothing cautions."""
    found = screwed_cover(survey)
    if found is not None:
        subject = said("self_locking.nuts", nut=nuts_named(found.screws.known_nut))
        advice = (said("self_locking.not_each_flight"),) if found.screws.nutplate else ()
        yield stated(Status.PASS, subject, instruction("self_locking_nut_access_panels"), *advice)


class Ears(Struct, frozen=True):
    """The ear holes of a cover's nutplates.

    Args:
        points: all first ears, then all second ones, shape (2 n_screws, 2) [in].
        source: where the place of the ears stands.
    """

    found: ScrewedCover
    rivet: RivetPart
    points: Points
    offsets_in: tuple[float, float]
    source: Source
    grade: Grade

    @property
    def working(self) -> Working:
        """Where the ears lie, from the screw along the lugs."""
        first, second = self.offsets_in
        return Working.resting_on(
            self,
            "spacing = |first - second|",
            Quantity("spacing", abs(first - second), "in"),
            Quantity("first", first, "in"),
            Quantity("second", second, "in"),
        )

    @property
    def no_metal(self) -> Status:
        """The answer where no metal is left: geometry stops, unless where the ears lie is from memory."""
        return Status.STOP if self.grade.may_stop else Status.UNKNOWN


class NotKnown(Struct, frozen=True):
    """Why the ear holes are not known, and the entries that would tell."""

    subject: Said
    advice: Said
    enter: tuple[str, ...] = ()

    def finding(self) -> Finding:
        """The same for each rule that asks: one cause."""
        return stated(
            Status.UNKNOWN, self.subject, instruction("nutplate_rivets"), self.advice, enter=self.enter
        )


def nutplate_ears(survey: Survey) -> Ears | NotKnown | None:
    """The ears of the cover's nutplates, None without nutplates."""
    found = screwed_cover(survey)
    kind = nutplate_kind(found.screws.known_nut) if found else None
    if found is None or kind is None:
        return None
    screws = found.screws
    if not screws.nut_rivet:
        return NotKnown(
            said("nutplates.rivet_not_entered"), said("nutplates.enter_rivet"), ("cover.screws.nut_rivet",)
        )
    if len(found.holes) < _LINE_OF_SCREWS:
        return NotKnown(said("nutplates.no_line", n=len(found.holes)), said("nutplates.three_screws"))
    if screws.nut_rivet_spacing and kind.lugs == "each side":
        half_in = screws.nut_rivet_spacing.inch / 2.0
        offsets_in = (half_in, -half_in)
        source, grade = Source("PRACTICE", "measured on the part"), Grade.SHOP
    else:
        try:
            listed = NUTPLATE_EARS.one(survey.shop, kind=kind.kind, thread=screws.size)
        except TableError:
            return _not_listed(kind, screws.size)
        offsets_in, source, grade = listed.offsets_in, listed.source, listed.grade
    points = points_of(found.holes)
    way = _lug_ways(points, screws.nut_lugs)
    at = np.vstack([points + offset * way for offset in offsets_in])
    return Ears(found, parse_rivet(screws.nut_rivet), at, offsets_in, source, grade)


def _lug_ways(points: Points, lugs: str) -> Points:
    """The way of the first lug from each screw: along the run of the screws, or square to it, shape (n_screws, 2)."""
    ahead, behind = np.roll(points, -1, axis=0), np.roll(points, 1, axis=0)
    run = ahead - behind
    run /= np.maximum(np.hypot(*run.T), 1e-12)[:, None]
    if lugs == "along":
        return run
    x, y = points.T
    is_counter_clockwise = float(np.sum(x * ahead[:, 1] - ahead[:, 0] * y)) > 0.0
    right = np.column_stack((run[:, 1], -run[:, 0]))
    return right if is_counter_clockwise == (lugs == "outward") else -right


def _not_listed(kind: NutplateKind, size: str) -> NotKnown:
    """A measured spacing tells where both ears lie unless both are on one side of the screw."""
    nut = nuts_named(kind.called)
    if kind.lugs == "one side":
        return NotKnown(
            said("nutplates.ears_not_listed", nut=nut, size=size), said("nutplates.measure_one_lug")
        )
    return NotKnown(
        said("nutplates.ears_not_listed", nut=nut, size=size),
        said("nutplates.measure_spacing"),
        ("cover.screws.nut_rivet_spacing",),
    )


def ear_edge_least(survey: Survey, ears: Ears) -> Cited:
    """Least distance of a nutplate rivet to an edge, by its head [D]."""
    return survey.limit("edge_min_countersunk" if ears.rivet.is_flush else "edge_min_single_row_protruding")


@rule(
    "R807",
    Shelf.SETTLE,
    reads=("cover", "doubler", "holes", "parts"),
    marks_holes=True,
    step="nutplates",
    cause="nutplates",
)
@judged_by(
    WHOLE,
    "nutplate_rivets",
    NUTPLATE_EARS,
    NUTPLATE_THREADS,
    SCREW_SIZES,
    limits=("edge_min_countersunk", "edge_min_single_row_protruding"),
)
@mended_by(Change.SCREW_INSET, Change.LAND_SIZE, Change.SCREW_NUMBER)
def ear_holes_of_nutplates(survey: Survey) -> Iterator[Finding]:
    """R807: ear holes of nutplates."""
    ears = nutplate_ears(survey)
    if isinstance(ears, NotKnown):
        yield ears.finding()
    if not isinstance(ears, Ears):
        return
    part = survey.layout.part("doubler") or survey.layout.parts[0]
    least = ear_edge_least(survey, ears)
    d_in = ears.rivet.diameter_in
    for edge in part.edges:
        gaps = distances(Profile((edge.loop,)), ears.points)
        signed = gaps.inward_in if edge.metal_inside else -gaps.inward_in
        e = Measure("e", signed, per=("D", d_in, "in"))
        asked = Judgement(e, (bound(least, d_in, "D"),), fails_as=Status.CAUTION, more=(ears.working,))
        i = asked.worst()
        hole = ears.found.holes[i % len(ears.found.holes)]
        judged = asked.at(i)
        metal = replace(judged, bounds=(bound(WHOLE, d_in, "D"),), fails_as=ears.no_metal)
        judged = judged if metal.status is Status.PASS else metal
        yield held(
            judged,
            said("nutplates.to_edge", screw=numbered(hole), edge=edge_named(edge), part=part_named(part)),
            *((said("nutplates.no_metal_at_edge", edge=edge_named(edge)),) if judged is metal else ()),
            ASK,
            holes=() if judged.status is Status.PASS else (hole.number,),
            place=(float(ears.points[i][0]), float(ears.points[i][1])),
        )


@rule(
    "R813",
    Shelf.SETTLE,
    reads=("cover", "holes", "parts"),
    marks_holes=True,
    step="nutplates",
    cause="nutplates",
)
@judged_by(WHOLE, "nutplate_rivets", NUTPLATE_EARS, SCREW_SIZES, limits=("new_to_existing_spacing",))
@mended_by(Change.SCREW_NUMBER, Change.SCREW_INSET)
def ears_beside_rivets(survey: Survey) -> Iterator[Finding]:
    """R813: nutplate rivets beside other rivets."""
    ears, rivets = nutplate_ears(survey), survey.layout.holes_of("rivet")
    if isinstance(ears, NotKnown) and rivets:
        yield ears.finding()
    if not isinstance(ears, Ears) or not rivets:
        return
    ear_x, ear_y = ears.points.T
    rivet_x, rivet_y = points_of(rivets).T
    apart_in = np.hypot(np.subtract.outer(ear_x, rivet_x), np.subtract.outer(ear_y, rivet_y))
    # Beside each rivet the nearest ear is the worst one: the others need no judging.
    nearest = np.flatnonzero(apart_in == apart_in.min(axis=0))
    rivet_in = np.array([hole.diameter_in for hole in rivets])
    larger_in = np.maximum(rivet_in, ears.rivet.diameter_in)[nearest % len(rivets)]
    p = Measure("p", apart_in.ravel()[nearest], per=("D", larger_in, "in"))
    least = survey.limit("new_to_existing_spacing")
    asked = Judgement(p, (bound(least, larger_in, "D"),), fails_as=Status.CAUTION, more=(ears.working,))
    k = asked.worst()
    ear, at = divmod(int(nearest[k]), len(rivets))
    screw, hole = ears.found.holes[ear % len(ears.found.holes)], rivets[at]
    # Two holes run into each other where their centers are nearer than both radii together.
    both_in = hole.diameter_in + ears.rivet.diameter_in
    judged = asked.at(k)
    metal = replace(
        judged, bounds=(replace(bound(WHOLE, both_in), asks="(D1 + D2) / 2"),), fails_as=ears.no_metal
    )
    judged = judged if metal.status is Status.PASS else metal
    subject = said("nutplates.to_rivet", screw=numbered(screw), rivet=numbered(hole))
    advice = (said("nutplates.no_metal_at_rivet", rivet=numbered(hole)),) if judged is metal else ()
    numbers = () if judged.status is Status.PASS else (screw.number, hole.number)
    place = (float(ears.points[ear][0]), float(ears.points[ear][1]))
    yield held(judged, subject, *advice, ASK, holes=numbers, place=place)
