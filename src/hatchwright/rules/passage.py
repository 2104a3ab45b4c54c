"""R303, R304, R308, R310: the room that is left for a hand, whether the doubler goes through the opening, and the way
in where what is made closes it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt
from msgspec.structs import replace

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.judged import FLOAT_NOISE, Judgement, Measure, Status, bound
from hatchwright.layout.behind_skin import BESIDE_IN, holes_before
from hatchwright.layout.layout import Part
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import held, held_as, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import Said, inch, said
from hatchwright.shapes.boolean import difference
from hatchwright.shapes.profile import Arc, Loop, profile_of
from hatchwright.tables.cited import Cited
from hatchwright.units import MM_PER_IN
from hatchwright.workings import Grade, Quantity, Source, Working

_CHORD_IN = 1e-4
_GEOMETRY = Cited(0.0, "in", Source("GEOMETRY", "longest chord of the opening"), Grade.COMPUTED)

HAND_SQUARE_IN = 3.5
"""Square that passed a hand in one builder's cardboard trial [in]. Source: [BUILDER-LOGS]."""

HAND_OVAL_IN = (74.0 / MM_PER_IN, 104.0 / MM_PER_IN)
"""Least and greatest size of an oval tail hatch, 74 x 104 mm, that passed a hand [in]. Source: [BUILDER-LOGS]."""

_LOGS = Source("BUILDER-LOGS", "tail hatch and hand-hole notes")
HAND_SQUARE = Cited(HAND_SQUARE_IN, "in", _LOGS, Grade.RESTATED, "a square opening that passed a hand")
HAND_OVAL = tuple(
    Cited(size_in, "in", _LOGS, Grade.RESTATED, f"an oval opening that passed a hand, {which} size")
    for size_in, which in zip(HAND_OVAL_IN, ("least", "greatest"), strict=True)
)
_OVAL_LEAST, _OVAL_GREATEST = HAND_OVAL

CARDBOARD = said(
    "passage.try_cardboard",
    least=inch(HAND_OVAL_IN[0]),
    greatest=inch(HAND_OVAL_IN[1]),
    square=inch(HAND_SQUARE_IN),
)
"""What to do where the opening is smaller than what passed a hand."""

_FROM_INSIDE = Cited(BESIDE_IN, "in", Source("PRACTICE", "a cover drilled from inside"), Grade.PRACTICE)

Floats = npt.NDArray[np.float64]


@lru_cache(maxsize=16)  # outlines stay while rows are edited
def longest_chord(loop: Loop) -> float:
    """The longest straight line that fits across a closed outline between its points, so never too long [in]."""
    points = loop.points(_CHORD_IN)
    squares = (points**2).sum(axis=1)
    return float(np.sqrt(np.max(squares[:, None] + squares - 2.0 * points @ points.T)))


@lru_cache(maxsize=16)
def least_width(loop: Loop) -> float:
    """Least distance of two parallel lines that hold an outline: the narrowest slot that it goes through flat [in].

    The lines are tried along each side of its hull, arcs in small steps; how far the outline reaches is exact, so that
    it is never told narrower than it is.
    """
    points = _hull(loop.points(_CHORD_IN))
    side = np.roll(points, -1, axis=0) - points
    normal = np.column_stack([side[:, 1], -side[:, 0]]) / np.hypot(*side.T)[:, None]
    return float(np.min(_reach(loop, points, normal) + _reach(loop, points, -normal)))


def leads(piece: Loop) -> Said:
    """Which leg of a piece goes first, laid along the longest chord of the opening: the one that is its least width."""
    x_min, y_min, x_max, y_max = piece.bounds
    x_in, y_in = x_max - x_min, y_max - y_min
    if least_width(piece) < min(x_in, y_in) - _CHORD_IN:
        return said("passage.leads.askew")
    return said("passage.leads.any" if abs(x_in - y_in) <= _CHORD_IN else "passage.leads.short")


def _reach(loop: Loop, points: Floats, normal: Floats) -> Floats:
    """How far an outline reaches in each direction of shape (n, 2), shape (n,) [in]."""
    far: Floats = (points @ normal.T).max(axis=0)
    toward = np.arctan2(normal[:, 1], normal[:, 0])
    for arc in loop.pieces():
        if isinstance(arc, Arc) and arc.sweep_rad > 0.0:
            begin = math.atan2(arc.start[1] - arc.center[1], arc.start[0] - arc.center[0])
            is_on = np.mod(toward - begin, 2.0 * math.pi) <= arc.sweep_rad
            far = np.where(is_on, np.maximum(far, normal @ np.array(arc.center) + arc.radius_in), far)
    return far


def _hull(points: Floats) -> Floats:
    """Corners of the convex hull, counter-clockwise; those of a convex outline are its own."""
    step = np.roll(points, -1, axis=0) - points
    after = np.roll(step, -1, axis=0)
    if np.all(step[:, 0] * after[:, 1] - step[:, 1] * after[:, 0] >= -FLOAT_NOISE):
        return points
    ordered = sorted(map(tuple, points.tolist()))
    return np.array(_chain(ordered) + _chain(ordered[::-1]))


def _chain(run: list[tuple[float, ...]]) -> list[tuple[float, ...]]:
    """One half of the hull (monotone chain), its last point left to the other half."""
    out: list[tuple[float, ...]] = []
    for p in run:
        while len(out) > 1 and _turn(out[-2], out[-1], p) <= 0.0:
            out.pop()
        out.append(p)
    return out[:-1]


def _turn(a: tuple[float, ...], b: tuple[float, ...], c: tuple[float, ...]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


@rule("R303", Shelf.SETTLE, reads=("mount", "opening", "parts", "patch", "plain_hole"), step="cut")
@judged_by(_OVAL_LEAST, _OVAL_GREATEST, HAND_SQUARE)
def hand_room(survey: Survey) -> Iterator[Finding]:
    """R303: clear opening inside the land; what passes a hand is as large as the oval or the square that did."""
    layout = survey.layout
    job = layout.job
    if job.mount is not None or job.patch is not None or job.plain_hole is not None:
        return
    doubler = layout.part("doubler")
    loop = doubler.edges[1].loop if doubler else layout.opening
    x_min, y_min, x_max, y_max = loop.bounds
    judged = hand_held(x_max - x_min, y_max - y_min)
    subject = said(
        "passage.inside_land" if doubler else "passage.clear_opening",
        x=inch(x_max - x_min),
        y=inch(y_max - y_min),
    )
    yield held(judged, subject, CARDBOARD)


def hand_held(x_in: float, y_in: float) -> Judgement:
    """Hold a clear opening to what passed a hand: the oval, or the square where the opening is as large as that.

    Args:
        x_in, y_in: size along X and Y [in].
    """
    along = (("along X", x_in, "in"), ("along Y", y_in, "in"))
    size_in = sorted((x_in, y_in))
    least, greatest, square = (
        Judgement(measure, (bound(passed),), fails_as=Status.CAUTION)
        for measure, passed in (
            (Measure("least size", size_in[0], with_=along), _OVAL_LEAST),
            (Measure("greatest size", size_in[1], with_=along), _OVAL_GREATEST),
            (Measure("least size", size_in[0], with_=along), HAND_SQUARE),
        )
    )
    judged, others = least, (greatest, square)
    if square.status is Status.PASS:
        judged, others = square, (least, greatest)
    elif least.status is Status.PASS is not greatest.status:
        judged, others = greatest, (least, square)
    return replace(judged, beside=tuple(others))


def doubler_pieces(doubler: Part) -> tuple[Loop, ...]:
    """The outlines that go in one by one: the whole doubler's, or those of the two pieces of a split one [in]."""
    outer, cut = doubler.edges[0].loop, doubler.edges[-1]
    if not cut.is_split:
        return (outer,)
    return difference(profile_of(outer), profile_of(cut.loop)).loops


@rule("R304", Shelf.SETTLE, reads=("bay", "doubler", "mount", "parts", "wanted"), step="cut")
@judged_by(_GEOMETRY)
def doubler_through(survey: Survey) -> Iterator[Finding]:
    """R304: doubler through the opening."""
    layout = survey.layout
    doubler = layout.part("doubler")
    if doubler is None or layout.job.doubler is None or layout.job.doubler.face == "outside":
        return
    yield through(layout.wanted, doubler_pieces(doubler), *_how_in(layout.job))


def through(opening: Loop, pieces: Sequence[Loop], *how_in: Said) -> Finding:
    """Whether a doubler goes through an opening flat.

    Args:
        opening: its outline [in].
        pieces: the outlines that go in one by one [in].
        how_in: what to do where the widest of them does not.
    """
    widest = max(pieces, key=least_width)
    chord_in, width_in = longest_chord(opening), least_width(widest)
    judged = Judgement(
        Measure("least width of the doubler", width_in),
        (replace(bound(_GEOMETRY), limit=chord_in, asks="longest chord of the opening"),),
        at_least=False,
        strict=True,
        fails_as=Status.CAUTION,
        more=(
            Working.resting_on(_GEOMETRY, "longest chord of the opening", Quantity("chord", chord_in, "in")),
        ),
    )
    return held(
        judged,
        said(
            "passage.doubler" if judged.status is Status.PASS else "passage.wont_pass",
            width=inch(width_in, beside_in=chord_in),
            chord=inch(chord_in, beside_in=width_in),
            leads=leads(widest),
        ),
        said("passage.cut_nothing"),
        *how_in,
    )


def _how_in(job: Job) -> Iterator[Said]:
    """The way in that was entered is to be tried, for no entry gives its size; else one is to be found."""
    if job.bay.way_in:
        yield said("passage.way_in_not_judged", way=job.bay.way_in)
        yield said("passage.try_way_in", way=job.bay.way_in)
    else:
        yield said("passage.mount_way_in" if job.mount else "passage.way_in")


@rule(
    "R308",
    Shelf.SETTLE,
    reads=("bay", "doubler", "holes", "mount", "parts", "patch", "plain_hole"),
    step="cut",
)
@judged_by(_OVAL_LEAST)
def bucked_from_behind(survey: Survey) -> Iterator[Finding]:
    """R308: how the rivets are bucked where no opening is left for a hand; of an inspection opening R303 asks it."""
    layout = survey.layout
    job, doubler = layout.job, layout.part("doubler")
    is_for_hands = job.mount is None and job.patch is None and job.plain_hole is None
    if doubler is None or job.doubler is None or is_for_hands or not layout.holes_of("rivet"):
        return
    windows = [edge.loop.bounds for edge in doubler.edges if not edge.metal_inside and not edge.is_split]
    widest_in = max(
        (min(x_max - x_min, y_max - y_min) for x_min, y_min, x_max, y_max in windows), default=0.0
    )
    judged = Judgement(
        Measure("least size left open", widest_in), (bound(_OVAL_LEAST),), fails_as=Status.UNKNOWN
    )
    if job.bay.way_in:
        yield held_as(judged, Status.PASS, said("passage.bucked_through", way=job.bay.way_in))
    elif judged.status is Status.PASS:
        yield held(judged, said("passage.bucked_in_window"))
    else:
        subject = (
            said("passage.closed_off", left=inch(widest_in)) if windows else said("passage.closed_off_whole")
        )
        yield held(judged, subject, said("passage.enter_way_in"), enter=("bay.way_in",))


@rule("R310", Shelf.SETTLE, reads=("bay", "cover", "holes", "parts"), marks_holes=True, step="cut")
@judged_by(_FROM_INSIDE)
def cover_from_inside(survey: Survey) -> Iterator[Finding]:
    """R310: a cover that is drilled from inside closes its own opening: by which way a drill gets behind it, and what
    lies where that drill works."""
    layout = survey.layout
    cover, screws, way = layout.job.cover, layout.holes_of("screw"), layout.job.bay.way_in
    if cover is None or cover.holes_from != "inside" or not screws:
        return
    if way:
        yield stated(Status.PASS, said("R310.through", way=way), _FROM_INSIDE)
    else:
        subject, do = said("R310.closed_off"), said("R310.enter_way_in")
        yield stated(Status.UNKNOWN, subject, _FROM_INSIDE, do, enter=("bay.way_in",))
    for keep_out in layout.job.bay.keep_outs:
        if near := holes_before(keep_out, screws, BESIDE_IN):
            subject, numbers = said("R310.behind", name=keep_out.name), tuple(hole.number for hole in near)
            yield stated(Status.UNKNOWN, subject, _FROM_INSIDE, said("R310.no_room"), ASK, holes=numbers)
