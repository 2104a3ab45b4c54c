"""R802, R803, R808, R810, R912: length, reach, torque, size and metal of the cover's screws."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec.structs import replace

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.job.bay import KeepOut
from hatchwright.judged import Bound, Judgement, Measure, Status, bound
from hatchwright.layout.behind_skin import boxes_of, holes_before
from hatchwright.layout.gaps import gaps_to_points
from hatchwright.layout.layout import points_of
from hatchwright.layout.survey import Survey
from hatchwright.recipe.sheet_work import hole_work
from hatchwright.recipe.stops import before, moving_advice, moving_entries, part_kept, screw_reach_in
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated
from hatchwright.rules.cover import ScrewedCover, screwed_cover
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import Amount, Value, inch, missing, room, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.tables.limits import limit
from hatchwright.tables.screws import AC43_TABLE_7_1, SCREW_SIZES, screw_size, torque
from hatchwright.tables.table import ShopTables
from hatchwright.units import Length
from hatchwright.workings import Grade, Quantity, Source, Working

Part = tuple[str, float, str]
"""Something that a screw goes through: its name, size and unit."""

_GRIP = Cited(0.0, "in", Source("GEOMETRY", "sheets that a screw goes through"), Grade.COMPUTED)
_BEHIND = Cited(0.0, "in", Source("PRACTICE", "screws against moving parts"), Grade.PRACTICE)
_BESIDE = Cited(1.0, "D", Source("PRACTICE", "screws against moving parts"), Grade.PRACTICE)


@rule("R802", Shelf.SETTLE, reads=("cover", "holes", "parts"), step="cover")
@judged_by(_GRIP, SCREW_SIZES, limits=("thread_protrusion",))
@mended_by(Change.SCREW_LENGTH)
def screw_length(survey: Survey) -> Iterator[Finding]:
    """R802: length of cover screws."""
    found = screwed_cover(survey)
    if found is None:
        return
    grip_in = sum(layer.thickness_in for layer in hole_work(found.holes[0], survey.layout))
    screws, shop = found.screws, survey.shop
    yield length_judged(screws.size, screws.length, grip_in=grip_in, nut=screws.nut_height, shop=shop)


def length_judged(
    size: str, length: Length | None, *, grip_in: float, nut: Length | None, shop: ShopTables | None
) -> Finding:
    """Judge the length of a screw: through its sheets, through its nut, and a thread beyond.

    Args:
        size: its thread.
        length: None while it is not entered.
        grip_in: thickness of all that it goes through before the nut [in].
        nut: height of that, None while it is not entered.
    Raises:
        TableError: no table lists the thread.
    """
    thread = limit("thread_protrusion", shop)
    one_thread_in = thread.value * screw_size(size, shop).one_thread_in
    if length is None:
        needed_in = grip_in + one_thread_in + (nut.inch if nut else 0.0)
        ask = "screw_length.enter" if nut else "screw_length.enter_with_nut"
        subject = said("screw_length.not_entered", size=size)
        advice = said(ask, needed=missing(needed_in))
        enter = ("cover.screws.length",) if nut else ("cover.screws.length", "cover.screws.nut_height")
        return stated(Status.UNKNOWN, subject, _GRIP, advice, limit=needed_in, unit="in", enter=enter)
    names: dict[str, Value] = {"size": size, "length": length.text, "grip": inch(grip_in)}
    parts: tuple[Part, ...] = (("grip", grip_in, "in"), ("one thread", one_thread_in, "in"))
    if nut is None:
        return _no_nut(length.inch, parts, names, thread)
    return _through_the_nut(length.inch, (parts[0], ("nut", nut.inch, "in"), parts[1]), names, thread)


def _on_grip(*parts: Part) -> Bound:
    """That a screw is as long as some parts together."""
    asks = " + ".join(name for name, _, _ in parts)
    return Bound(sum(size_in for _, size_in, _ in parts), _GRIP.source, _GRIP.grade, asks)


def _no_nut(length_in: float, parts: tuple[Part, ...], names: dict[str, Value], thread: Cited) -> Finding:
    """What is left of the screw for a nut whose height is not entered; there is nothing to hold it against yet."""
    for_any = Judgement(Measure("length", length_in, with_=parts), (_on_grip(*parts),), strict=True)
    if for_any.status is not Status.PASS:
        return held(for_any, said("screw_length.one", **names), said("screw_length.too_short"), ASK)
    room_in = length_in - parts[0][1] - parts[1][1]
    put_in = tuple(Quantity(*part) for part in (("length", length_in, "in"), *parts))
    left = Quantity("left for the nut", room_in, "in")
    subject = said("screw_length.room_for_nut", **names, room=room(room_in))
    advice = said("screw_length.measure_nut", room=room(room_in))
    working = (Working.resting_on(thread, "length - grip - one thread", left, *put_in),)
    enter = ("cover.screws.nut_height",)
    return stated(
        Status.CAUTION, subject, thread, advice, value=room_in, unit="in", working=working, enter=enter
    )


def _through_the_nut(
    length_in: float, parts: tuple[Part, ...], names: dict[str, Value], thread: Cited
) -> Finding:
    """A screw that ends inside the nut stops, and so does one without a thread beyond it."""
    length, needed = Measure("length", length_in, with_=parts), _on_grip(*parts)
    through = Judgement(length, (_on_grip(*parts[:2]),))
    stands_out = Judgement(length, (replace(needed, source=thread.source, grade=thread.grade),))
    ends_inside = through.status is not Status.PASS
    advice = said("screw_length.ends_in_nut" if ends_inside else "screw_length.one_thread")
    return held(through if ends_inside else stands_out, said("screw_length.one", **names), advice, ASK)


@rule("R803", Shelf.BEHIND, reads=("bay", "cover", "holes", "parts", "skin"), marks_holes=True)
@judged_by(_BEHIND, _BESIDE, limits=("clearance_to_adjacent_structure",))
@mended_by(Change.SCREW_LENGTH, Change.SCREW_NUMBER, Change.SCREW_INSET)
def screw_depth(survey: Survey) -> Iterator[Finding]:
    """R803: cover screws and what lies behind; depth and reach both count from the outer face of the skin."""
    found = screwed_cover(survey)
    if found is None or found.screws.length is None:
        return
    reach_in = screw_reach_in(found.cover, found.screws.length)
    for keep_out in survey.layout.job.bay.keep_outs:
        yield _clear_of(survey, found, keep_out, reach_in)


def _clear_of(survey: Survey, found: ScrewedCover, keep_out: KeepOut, reach_in: float) -> Finding:
    """A screw is clear of what ends deeper than it reaches, by what is kept from it, and of what lies more than its
    diameter beside it."""
    layout, off = survey.layout, gaps_to_points(keep_out, points_of(found.holes))
    at = int(np.argmin(off))
    nearest, beside_in = found.holes[at], float(off[at])
    near = holes_before(keep_out, found.holes)
    one = before(layout, keep_out, boxes_of(keep_out, near or (nearest,)), reach_in, part_kept(layout))
    assert one.judged is not None  # its reach is known
    judged, advice = one.judged, [said("screw_end.too_near", kept=inch(one.kept_in)), ASK]
    touches = Judgement(judged.measure, (bound(_BEHIND),), strict=True)
    is_clear = judged.status is Status.PASS
    if not near and not is_clear:
        measure = Measure("beside", beside_in, per=("D", nearest.diameter_in, "in"))
        limit = bound(_BESIDE, nearest.diameter_in, "D")
        judged, is_clear = Judgement(measure, (limit,), strict=True, more=judged.working), True
    elif touches.status is not Status.PASS:
        judged, advice = touches, [said("screw_end.strikes"), ASK]
    elif judged.status is Status.UNKNOWN:
        advice = [moving_advice(one)]
    is_entered = keep_out.depth is not None or keep_out.start_depth is not None
    subject = said(
        "screw_end.to_keep_out" if is_entered else "screw_end.to_keep_out_without_depth",
        screw=numbered(nearest),
        name=keep_out.name,
        reach=inch(reach_in),
        depth=inch(one.depth_in, beside_in=reach_in),
        beside=inch(beside_in, beside_in=nearest.diameter_in),
    )
    advice = advice if is_entered else [said("screw_end.measure_depth")]
    numbers = () if is_clear else (nearest.number,)
    enter = () if is_clear else moving_entries(one)
    return held(
        judged, subject, *advice, holes=numbers, place=nearest.place, cause=keep_out.name, enter=enter
    )


@rule("R808", Shelf.SETTLE, reads=("cover", "holes", "parts"), step="cover")
@judged_by(AC43_TABLE_7_1, "torque_when_no_maker_value")
def screw_torque(survey: Survey) -> Iterator[Finding]:
    """R808: torque of cover screws; a figure that is told, against which nothing entered is held."""
    found = screwed_cover(survey)
    if found is None:
        return
    yield torque_told(found.screws.size, survey.shop)


def torque_told(size: str, shop: ShopTables | None) -> Finding:
    """The torque of a thread, or that no table lists it."""
    try:
        known = torque(size, shop=shop)
    except TableError:
        subject = said("screw_torque.not_listed", size=size)
        advice = said("screw_torque.take_manufacturers")
        return stated(Status.UNKNOWN, subject, instruction("torque_when_no_maker_value"), advice)
    least, greatest = known.least_in_lbf, known.greatest_in_lbf
    put_in = (Quantity("least", least, "in-lbf"), Quantity("greatest", greatest, "in-lbf"))
    result = Quantity("greatest", greatest, "in-lbf")
    return stated(
        Status.PASS,
        said(
            "screw_torque.one",
            size=size,
            least=Amount(least, "in-lbf"),
            greatest=Amount(greatest, "in-lbf"),
        ),
        known,
        said("screw_torque.where_none_is_given"),
        value=greatest,
        limit=known.limit_in_lbf,
        unit="in-lbf",
        working=(Working.resting_on(known, "table torque + running torque <= limit", result, *put_in),),
    )


@rule("R810", Shelf.HOLDS, reads=("cover", "holes", "loads", "parts", "skin"))
@judged_by(SCREW_SIZES, limits=("primary_structure_screw_min",))
def primary_screws(survey: Survey) -> Iterator[Finding]:
    """R810: screws in primary structure, asked only where the cover carries load."""
    found, job = screwed_cover(survey), survey.layout.job
    if found is None or not job.skin.stressed or job.loads.cover.carries == "nothing":
        return
    size = screw_size(found.screws.size, survey.shop)
    bounds = (bound(survey.limit("primary_structure_screw_min")),)
    judged = Judgement(Measure("major diameter", size.major_diameter_in), bounds, fails_as=Status.CAUTION)
    yield held(judged, said("primary_screws.one", size=size.thread), ASK)


@rule("R912", Shelf.KNOW, reads=("cover",), step="prime")
@judged_by("corrosion_step_5")
def dissimilar_metals(survey: Survey) -> Iterator[Finding]:
    """R912: dissimilar metals; what is done about them is an instruction of its step, so that nothing cautions."""
    cover = survey.layout.job.cover
    if cover and cover.screws:
        is_steel = cover.screws.steel
        subject = said("steel_screws.in_aluminum" if is_steel else "steel_screws.none")
        advice = (said("steel_screws.install_wet"),) if is_steel else ()
        yield stated(Status.PASS, subject, instruction("corrosion_step_5"), *advice)
