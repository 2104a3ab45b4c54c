"""R303, R304, R308, R310: the room that is left for a hand, whether the doubler goes through the opening, and the way
in where what is made closes it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Measure, Status, bound
from hatchwright.layout.behind_skin import BESIDE_IN, holes_before
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import Survey
from hatchwright.layout.way_in import BOWING, YIELD_SHARE, Flat, WayIn, way_in
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import held, held_as, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.ways_in_said import ways_said
from hatchwright.said import Amount, Said, inch, said
from hatchwright.tables.allowables import SHEET_ALLOWABLES
from hatchwright.tables.cited import Cited
from hatchwright.units import MM_PER_IN
from hatchwright.workings import Grade, Quantity, Source, Working

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

_BOWING = Cited(YIELD_SHARE, "-", BOWING.source, BOWING.grade)

_NEARLY_SQUARE_DEG = 80.0
"""Tilting a sheet less than this from square saves no depth worth telling [deg]."""


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


@rule(
    "R304",
    Shelf.SETTLE,
    reads=("bay", "doubler", "loads", "mount", "opening", "parts", "skin", "wanted"),
    step="cut",
)
@judged_by(_GEOMETRY, _BOWING, SHEET_ALLOWABLES)
def doubler_through(survey: Survey) -> Iterator[Finding]:
    """R304: doubler through the opening, flat, bowed, cut, or another way."""
    layout = survey.layout
    way = way_in(layout)
    if way is None:
        return
    fails = () if way.flat.fits else (said("passage.cut_nothing"), *_how_in(layout, way))
    yield through(way.flat, *fails, *_behind(way), more=_bow_workings(way))


def through(flat: Flat, *advice: Said, more: Sequence[Working] = ()) -> Finding:
    """Whether a piece goes through an opening flat.

    Args:
        advice: what to do, as it does or does not.
        more: workings beside that of the chord.
    """
    chord_in, width_in = flat.room_in, flat.width_in
    judged = Judgement(
        Measure("least width of the doubler", width_in),
        (replace(bound(_GEOMETRY), limit=chord_in, asks="longest chord of the opening"),),
        at_least=False,
        strict=True,
        fails_as=Status.CAUTION,
        more=(
            Working.resting_on(_GEOMETRY, "longest chord of the opening", Quantity("chord", chord_in, "in")),
            *more,
        ),
    )
    return held(
        judged,
        said(
            "passage.doubler" if judged.status is Status.PASS else "passage.wont_pass",
            width=inch(width_in, beside_in=chord_in),
            chord=Amount(chord_in, "in", toward="down", beside=width_in),
            leads=said(f"passage.leads.{flat.leads}"),
        ),
        *advice,
    )


def _how_in(layout: Layout, way: WayIn) -> Iterator[Said]:
    """The way in that was entered is to be tried, for no entry gives its size; else one is to be found."""
    job = layout.job
    if job.bay.way_in:
        yield said("passage.way_in_not_judged", way=job.bay.way_in)
        yield said("passage.try_way_in", way=job.bay.way_in)
        return
    yield from ways_said(way)
    if way.cut is not None and way.halves:
        yield said("passage.way_in")
    else:
        yield said("passage.mount_way_in" if job.mount or job.patch else "passage.ring_way_in")


def _behind(way: WayIn) -> Iterator[Said]:
    """What it asks of the room behind the skin."""
    flat = way.flat
    if not flat.fits:
        return
    if flat.tilt_deg < _NEARLY_SQUARE_DEG:
        yield said("way_in.reaches", deep=inch(flat.behind_in), least=inch(flat.tilted_behind_in))
    else:
        yield said("way_in.reaches_square", deep=inch(flat.behind_in))
    for name, deep_in in way.before:
        id = "way_in.tilt_for" if deep_in > flat.tilted_behind_in else "way_in.no_room"
        yield said(id, name=name, deep=inch(deep_in))
    if way.is_rolled:
        yield said("way_in.rolled")


def _bow_workings(way: WayIn) -> tuple[Working, ...]:
    bowed = way.bowed
    if bowed is None:
        return ()
    curve, allowed = bowed.bow, bowed.allowed
    shape = Working.resting_on(
        _GEOMETRY,
        "least radius of a strip squeezed until its ends are a chord apart",
        Quantity("r", curve.least_radius_in, "in"),
        Quantity("s", curve.length_in, "in"),
        Quantity("c", curve.chord_in, "in"),
    )
    stress = Working.resting_on(
        allowed,
        "E t sharper / (2 r) < share x Fty",
        Quantity("stress", bowed.stress_psi, "psi"),
        Quantity("sharper", bowed.sharper, "-"),
        Quantity("E", max(allowed.e_psi, allowed.ec_psi), "psi"),
        Quantity("Fty", allowed.fty_psi, "psi"),
        Quantity("share", YIELD_SHARE, "-"),
    )
    return shape, stress


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
