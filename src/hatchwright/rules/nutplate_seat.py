"""R816, R817: whether the nutplates of a cover, and their ears, can sit on what they lie on."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Measure, Status, bound, lengths
from hatchwright.layout.survey import Survey
from hatchwright.recipe.nutplate_seat import NutplateSeat, nutplate_seat
from hatchwright.recipe.sheet_work import LayerWork
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated, worse
from hatchwright.rules.countersunk import metal_left
from hatchwright.rules.cover import screwed_cover
from hatchwright.rules.flush_heads import screw_countersink
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.said import Said, Value, inch, said
from hatchwright.tables.countersink import COUNTERSINK_THRESHOLDS, countersink_minimum
from hatchwright.tables.instructions import instruction
from hatchwright.tables.nutplates import NUTPLATE_KINDS
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivets import RIVET_HEAD_SIZES, HeadSize, head_size
from hatchwright.tables.screws import SCREW_FLUSH_HEADS

_ASKED = "flush_nut_plate_thin_frame"


@rule("R816", Shelf.SETTLE, reads=("cover", "doubler", "holes", "parts", "skin"), step="nutplates")
@judged_by(
    _ASKED,
    NUTPLATE_KINDS,
    SCREW_FLUSH_HEADS,
    limits=("flush_screw_countersink_min", "dimple_then_csk_extra_depth"),
)
@mended_by(Change.NUTPLATE_KIND, Change.NUTPLATE_STRAP)
def nutplates_seat(survey: Survey) -> Iterator[Finding]:
    """R816: nutplates on what they lie on."""
    seat = _seat(survey)
    if seat is None:
        return
    yield _seated(seat, survey)
    if seat.under.part == "strap" and seat.under.preparation == "countersink":
        yield _strap(seat, survey)


@rule("R817", Shelf.SETTLE, reads=("cover", "doubler", "holes", "parts", "skin"), step="nutplates")
@judged_by(
    "dimple_all_sheets_or_csk_under",
    "rule_head_vs_sheet",
    COUNTERSINK_THRESHOLDS,
    RIVET_HEAD_SIZES,
    limits=(
        "machine_countersink_land_min",
        "machine_countersink_depth_max",
        "dimple_best_max_thickness",
        "flush_screw_countersink_min",
    ),
)
@mended_by(Change.NUTPLATE_EARS)
def nutplate_ears_seat(survey: Survey) -> Iterator[Finding]:
    """R817: nutplate ears on their sheet, with the heads of their rivets."""
    seat = _seat(survey)
    if seat and seat.screws.nut_rivet:
        yield from _ears(seat, parse_rivet(seat.screws.nut_rivet), survey)


def _seat(survey: Survey) -> NutplateSeat | None:
    """How the nutplates sit, None without nutplates.

    Raises:
        UnlistedError: the shape of the nuts is not known.
    """
    found = screwed_cover(survey)
    return nutplate_seat(survey.layout) if found and found.screws.known_nut else None


def _seated(seat: NutplateSeat, survey: Survey) -> Finding:
    least = inch(survey.limit("flush_screw_countersink_min").value)
    advice: dict[str, tuple[Said, ...]] = {
        "stands_off": (said("nutplate_seat.ways_out", least=least), ASK),
        "hollow": (said("nutplate_seat.hollow_do"), ASK),
        "unknown": (said("nutplate_seat.enter"),),
    }
    enter = ("cover.screws.preparation",) if seat.fit == "unknown" else ()
    if seat.fit == "unknown":
        assert seat.screws.known_head  # of another the shape is not known, which is told by its name
    status = {True: Status.PASS, False: Status.STOP, None: Status.UNKNOWN}[seat.seats]
    return stated(status, seat.told, instruction(_ASKED), *advice.get(seat.fit, ()), enter=enter)


def _strap(seat: NutplateSeat, survey: Survey) -> Finding:
    """The strap takes the dimples of the sheet on it."""
    subject = said(
        "nutplate_seat.strap",
        thickness=inch(seat.under.thickness_in),
        part=said(f"part.{seat.sheet.name}"),
    )
    try:
        judged = screw_countersink(
            seat.screws.size, seat.under.thickness_in, top_in=seat.sheet.thickness_in, survey=survey
        )
    except TableError:
        return stated(Status.UNKNOWN, subject, instruction(_ASKED), ASK)
    return held(judged, subject, said("nutplate_seat.strap_thin"), ASK)


def _ears(seat: NutplateSeat, rivet: RivetPart, survey: Survey) -> Iterator[Finding]:
    asked = instruction("dimple_all_sheets_or_csk_under")
    if seat.ears_fit == "proud":
        yield stated(Status.STOP, seat.ears_told, asked, said("nutplate_ears.proud_do"), ASK)
        return
    if seat.ears_fit in ("undimpled", "unknown"):
        advice, enter = said("nutplate_ears.undimpled_do"), ("cover.screws.nut_ears",)
        yield stated(Status.UNKNOWN, seat.ears_told, asked, advice, enter=enter)
        return
    sheet, *strap, _ = seat.ear_layers
    for layer in (sheet, *strap):
        if layer.preparation == "dimple":
            t, most = Measure("t", layer.thickness_in), survey.limit("dimple_best_max_thickness")
            judged = Judgement(t, (bound(most),), at_least=False, fails_as=Status.UNKNOWN)
            yield held(judged, seat.ears_told, said("nutplate_ears.too_thick"), ASK)
        elif layer.preparation == "countersink":
            yield _countersunk(rivet, layer, survey)


def _countersunk(rivet: RivetPart, layer: LayerWork, survey: Survey) -> Finding:
    """A strap is held to what is published of straps. In a sheet a head that a document or the shop tells is held to
    the metal that it leaves; one from memory or not listed to the thinnest sheet for its diameter too."""
    part, thickness = said(f"part.{layer.part}"), inch(layer.thickness_in)
    sheet: dict[str, Value] = {"rivet": str(rivet), "part": part, "thickness": thickness}
    if layer.part == "strap":
        t, least = Measure("t", layer.thickness_in), survey.limit("flush_screw_countersink_min")
        judged = Judgement(t, (bound(least),))
        return held(judged, said("nutplate_ears.flat", **sheet), said("nutplate_seat.strap_thin"), ASK)
    head, by_table = _head(rivet, survey), _by_table(rivet, layer.thickness_in, survey)
    if head:
        left, _ = metal_left(head, head.height_in, layer.thickness_in, survey.limit)
        judged = left if by_table is None or head.grade.may_stop else worse(by_table, left)
    elif by_table and by_table.status is Status.PASS:
        judged = by_table
    else:
        told, advice = said("nutplate_ears.head_not_listed", **sheet), said("nutplate_ears.measure_head")
        return stated(Status.UNKNOWN, told, instruction("rule_head_vs_sheet"), advice)
    ways_out = (said("nutplate_ears.too_thin"), ASK) if judged.shortfall > 0.0 else ()
    return held(judged, said("nutplate_ears.flat", **sheet), *ways_out)


def _head(rivet: RivetPart, survey: Survey) -> HeadSize | None:
    try:
        return head_size(rivet, survey.shop)
    except TableError:
        return None


def _by_table(rivet: RivetPart, thickness_in: float, survey: Survey) -> Judgement | None:
    t = Measure("t", thickness_in, with_=lengths(D=rivet.diameter_in))
    try:
        return Judgement(t, (bound(countersink_minimum(rivet.diameter_in, survey.shop)),))
    except TableError:
        return None
