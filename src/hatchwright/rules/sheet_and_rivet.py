"""R401 to R403, R407: rivet diameter against the sheets, the doubler against the skin, and thin sheet in bearing."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Bound, Chosen, Judgement, Measure, Status, bound, lengths
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated, worse
from hatchwright.rules.made_sheets import gauge_u_in
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import part_called
from hatchwright.said import Listed, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.materials import SHEET_STOCK, nearest_gauge, next_gauge
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivets import next_rivet_diameter, rivet_diameters

DIAMETER_READINGS = ("circular", "Navy manual")
DOUBLER_READINGS = ("circular, same gauge", "Army manual, one gauge heavier")


def one_of_each(holes: tuple[Hole, ...]) -> list[Hole]:
    """One hole for each kind of rivet and stack."""
    kinds: dict[tuple[str, tuple[str, ...]], Hole] = {}
    for hole in holes:
        kinds.setdefault((hole.fastener, hole.stack), hole)
    return list(kinds.values())


@rule("R401", Shelf.KNOW, reads=("holes", "parts", "skin"), step="rivet")
@judged_by(
    limits=("diameter_rule", "diameter_max_navy", "diameter_min_navy", "diameter_min_structural"),
    readings=DIAMETER_READINGS,
)
@mended_by(Change.ROW_RIVET)
def rivet_against_sheet(survey: Survey) -> Iterator[Finding]:
    """R401: rivet diameter against the thickest sheet."""
    layout = survey.layout
    for hole in one_of_each(layout.holes_of("rivet")):
        thickest_in = max(part.thickness_in for part in layout.parts if part.name in hole.stack)
        judged = diameter_held(
            parse_rivet(hole.fastener),
            thickest_in,
            survey.limit,
            in_structure=layout.job.skin.stressed,
            chosen=survey.chosen("R401"),
        )
        yield held(
            judged,
            said(
                "R401.rivet",
                rivet=hole.fastener,
                size=inch(hole.diameter_in),
                stack=Listed(tuple(map(part_called, hole.stack))),
                thickest=inch(thickest_in),
            ),
            said("R401.too_small_for_structure", least=inch(judged.limit or 0.0))
            if judged.status is Status.STOP
            else said("R401.follow_the_aircraft"),
        )


def diameter_held(
    rivet: RivetPart,
    thickest_in: float,
    limit: Callable[[str], Cited],
    *,
    in_structure: bool,
    chosen: Chosen | None = None,
) -> Judgement:
    """Hold a rivet's diameter to its thickest sheet, and to the smallest that structure takes; the worst of them.

    Args:
        limit: one limit of the tables by its name.
        in_structure: whether the skin carries loads.
    """
    least, most = _diameter_judgements(rivet, thickest_in, limit, chosen)
    smallest = (bound(limit("diameter_min_structural")),)
    floor = Judgement(least.measure, smallest, fails_as=Status.STOP if in_structure else Status.CAUTION)
    return worse(least, most, floor)


def _diameter_judgements(
    rivet: RivetPart, thickest_in: float, limit: Callable[[str], Cited], chosen: Chosen | None
) -> tuple[Judgement, Judgement]:
    """The least and the greatest diameter, each by both documents.

    AC 43.13-1B par. 4-58g(2) takes the standard size next above 3 t and, in its own example, calls the one after that
    satisfactory too: .032 sheet, 3 t = .096, use 1/8, and 5/32 would do.
    """
    aim, largest = limit("diameter_rule"), limit("diameter_max_navy")
    smallest = limit("diameter_min_navy")
    sizes_in = [size.value for size in rivet_diameters(rivet.unit)]
    try:
        aimed_in = next_rivet_diameter(aim.value * thickest_in, rivet.unit).value
    except TableError:
        aimed_in = sizes_in[-1]
    above_in = next((size_in for size_in in sizes_in if size_in > aimed_in), aimed_in)
    circular, navy = DIAMETER_READINGS
    d = Measure("D", rivet.diameter_in, with_=lengths(t=thickest_in))
    least = (
        Bound(aimed_in, aim.source, aim.grade, "standard size at 3 t or next above", circular),
        bound(smallest, thickest_in, "t", reading=navy),
    )
    most = (
        Bound(above_in, aim.source, aim.grade, "one standard size above that", circular),
        bound(largest, thickest_in, "t", reading=navy),
    )
    return (
        Judgement(d, least, fails_as=Status.CAUTION, chosen=chosen),
        Judgement(d, most, at_least=False, fails_as=Status.CAUTION, chosen=chosen),
    )


@rule("R402", Shelf.HOLDS, reads=("parts",))
@judged_by(limits=("same_type_and_thickness", "flush_patch_doubler"), readings=DOUBLER_READINGS)
@mended_by(Change.DOUBLER_GAUGE)
def doubler_against_skin(survey: Survey) -> Iterator[Finding]:
    """R402: doubler against skin thickness; either document's gauge will do until one is chosen."""
    doubler, skin = survey.layout.part("doubler"), survey.layout.part("skin")
    if doubler is None or skin is None:
        return
    same, heavier = survey.limit("same_type_and_thickness"), survey.limit("flush_patch_doubler")
    subject = said("R402.doubler", doubler=inch(doubler.thickness_in), skin=inch(skin.thickness_in))
    measure = Measure("t doubler", doubler.thickness_in, with_=lengths(t_skin=skin.thickness_in))
    thinner = Judgement(measure, (Bound(skin.thickness_in, same.source, same.grade, "t skin"),))
    if thinner.status is not Status.PASS:
        yield held(thinner, subject, said("R402.too_thin"), ASK)
        return
    skin_gauge_in = nearest_gauge(skin.thickness_in, survey.shop).value
    gauge_up_in = next_gauge(max(skin_gauge_in, skin.thickness_in), survey.shop).value
    circular, army = DOUBLER_READINGS
    gauge = Measure("gauge of the doubler", nearest_gauge(doubler.thickness_in, survey.shop).value)
    bounds = (
        Bound(skin_gauge_in, same.source, same.grade, "gauge of the skin", circular),
        Bound(gauge_up_in, heavier.source, heavier.grade, "one gauge above that of the skin", army),
    )
    judged = worse(
        *(
            Judgement(
                gauge,
                bounds,
                at_least=at_least,
                fails_as=Status.CAUTION,
                chosen=survey.chosen("R402"),
                differ=Status.PASS,
            )
            for at_least in (True, False)
        ),
        thinner,
    )
    if judged.status is not Status.PASS and not judged.reason:
        yield held(judged, subject, said("R402.too_heavy"), ASK)
    else:
        wanted = inch(judged.limit or 0.0)
        yield held(judged, subject, said("R402.not_as_chosen", gauge=wanted))


@rule("R403", Shelf.KNOW, reads=("skin",), step="measure")
@judged_by(SHEET_STOCK)
def measured_skin(survey: Survey) -> Iterator[Finding]:
    """R403: measured skin thickness."""
    skin = survey.layout.job.skin
    wanted = nearest_gauge(skin.thickness.inch, survey.shop)
    if skin.measured is None:
        subject = said("R403.not_measured", skin=inch(skin.thickness.inch))
        advice = said("R403.measure")
        enter = ("skin.measured",)
        yield stated(
            Status.CAUTION, subject, wanted, advice, limit=skin.thickness.inch, unit="in", enter=enter
        )
        return
    u_in = skin.measured_u.inch if skin.measured_u else 0.0
    found = nearest_gauge(skin.measured.inch, survey.shop)
    gauge = Measure(
        "gauge of the measured skin",
        found.value,
        gauge_u_in(survey, skin.measured.inch, u_in),
        with_=lengths(measured=skin.measured.inch, u=u_in, job=skin.thickness.inch),
    )
    asked = Bound(wanted.value, wanted.source, wanted.grade, "gauge of the job's skin")
    yield held(
        worse(*(Judgement(gauge, (asked,), at_least=at_least) for at_least in (True, False))),
        said("R403.measured", measured=inch(skin.measured.inch), gauge=inch(found.value)),
        said("R403.not_this_skin"),
    )


@rule("R407", Shelf.HOLDS, reads=("holes", "parts"))
@judged_by(limits=("t_over_d_min_for_bearing_allowables",))
@mended_by(Change.ROW_RIVET)
def thin_sheet(survey: Survey) -> Iterator[Finding]:
    """R407: thin sheet in bearing."""
    least: Cited = survey.limit("t_over_d_min_for_bearing_allowables")
    seen: set[tuple[str, str]] = set()
    for hole in one_of_each(survey.layout.holes_of("rivet")):
        for part in survey.layout.parts:
            if part.name not in hole.stack or (part.name, hole.fastener) in seen:
                continue
            seen.add((part.name, hole.fastener))
            thickness = Measure("t", part.thickness_in, per=("D", hole.diameter_in, "in"))
            judged = Judgement(thickness, (bound(least, hole.diameter_in, "D"),), fails_as=Status.UNKNOWN)
            subject = said(
                "R407.sheet",
                part=part_called(part.name),
                thickness=inch(part.thickness_in),
                rivet=hole.fastener,
            )
            yield held(judged, subject, said("R407.no_values"), ASK)
