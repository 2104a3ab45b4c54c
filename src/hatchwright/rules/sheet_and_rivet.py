"""R401 to R403, R407: rivet diameter against the sheets, the doubler against the skin, and thin sheet in bearing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least, judge_at_most
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.readings import Reading, by_readings, choose, reading
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import inch
from hatchwright.tables.catalog import SHEET_STOCK
from hatchwright.tables.materials import nearest_gauge, next_gauge
from hatchwright.tables.rivets import next_rivet_diameter, rivet_diameters
from hatchwright.workings import Quantity

DIAMETER_READINGS = ("circular", "Navy manual")
DOUBLER_READINGS = ("circular, same gauge", "Army manual, one gauge heavier")


def one_of_each(holes: tuple[Hole, ...]) -> list[Hole]:
    """One hole for each kind of rivet and stack.

    Returns:
        list: the first of each kind.
    """
    kinds: dict[tuple[str, tuple[str, ...]], Hole] = {}
    for hole in holes:
        kinds.setdefault((hole.fastener, hole.stack), hole)
    return list(kinds.values())


@rule(
    "R401",
    Shelf.KNOW,
    limits=("diameter_rule", "diameter_max_navy", "diameter_min_navy", "diameter_min_structural"),
    readings=DIAMETER_READINGS,
    reads=("holes", "parts", "skin"),
    step="rivet",
)
def rivet_against_sheet(survey: Survey) -> Iterator[Finding]:
    """R401: rivet diameter against the thickest sheet."""
    layout = survey.layout
    for hole in one_of_each(layout.holes_of("rivet")):
        thickest_in = max(part.thickness_in for part in layout.parts if part.name in hole.stack)
        readings = _diameter_readings(survey, hole.diameter_in, thickest_in)
        least_in = survey.limit("diameter_min_navy").value * thickest_in

        def judge(one: Reading, diameter_in: float = hole.diameter_in, least_in: float = least_in) -> Status:
            if one.name == DIAMETER_READINGS[0]:
                return Status.PASS if abs(diameter_in - one.limit) < FLOAT_NOISE else Status.CAUTION
            within = judge_at_most(diameter_in, one.limit, over=Status.CAUTION)
            least = judge_at_least(diameter_in, least_in, short=Status.CAUTION)
            return min(within, least, key=lambda status: status.severity)

        judged = choose(layout.job, "R401", readings, judge, differ=Status.CAUTION)
        missed = [one for one in readings if judge(one) is not Status.PASS]
        if missed and not judged.reason and judged.by not in missed:
            judged = replace(judged, by=missed[0])
        structural = survey.limit("diameter_min_structural")
        floor = reading(
            "", structural.value, f"D >= {inch(structural.value)} in in structure", readings[0].working.values,
            Quantity("D", hole.diameter_in, "in"), structural.source, structural.grade,
        )  # fmt: skip
        if hole.diameter_in < structural.value - FLOAT_NOISE and layout.job.skin.stressed:
            judged = replace(judged, by=floor, status=Status.STOP, reason="", differ=False)
            advice = "Smaller than any rivet for structure. Take 3/32 or larger."
        elif judged.status is Status.PASS:
            advice = ""
        else:
            names = " or the ".join(one.name for one in missed)
            advice = (
                f"{inch(hole.diameter_in)} in does not meet the {names}: follow the aircraft's own data and the rivets "
                "beside the opening."
            )
        yield by_readings(
            "R401",
            f"{hole.fastener} in {' + '.join(hole.stack)}, thickest {inch(thickest_in)} in",
            judged,
            value=hole.diameter_in,
            unit="in",
            more=(floor.working,),
            advice=advice,
        )


def _diameter_readings(survey: Survey, diameter_in: float, thickest_in: float) -> list[Reading]:
    aim, largest = survey.limit("diameter_rule"), survey.limit("diameter_max_navy")
    smallest = survey.limit("diameter_min_navy")
    try:
        aimed_in = next_rivet_diameter(aim.value * thickest_in).value
        said = f"D about {aim.value:g} t, next size up = {inch(aimed_in)} in"
    except TableError:
        aimed_in = rivet_diameters()[-1].value
        said = f"D about {aim.value:g} t, above the largest standard rivet of {inch(aimed_in)} in"
    values = (Quantity("D", diameter_in, "in"), Quantity("t", thickest_in, "in"))
    result = Quantity("D/t", diameter_in / thickest_in, "")
    circular, navy = DIAMETER_READINGS
    said_navy = f"{smallest.value:g} t <= D <= {largest.value:g} t"
    least_in, most_in = smallest.value * thickest_in, largest.value * thickest_in
    nearer_in, cited = (least_in, smallest) if diameter_in < least_in - FLOAT_NOISE else (most_in, largest)
    return [
        reading(circular, aimed_in, said, values, result, aim.source, aim.grade),
        reading(navy, nearer_in, said_navy, values, result, cited.source, cited.grade),
    ]


@rule(
    "R402",
    Shelf.HOLDS,
    limits=("same_type_and_thickness", "flush_patch_doubler"),
    readings=DOUBLER_READINGS,
    reads=("parts",),
)
def doubler_against_skin(survey: Survey) -> Iterator[Finding]:
    """R402: doubler against skin thickness."""
    doubler, skin = survey.layout.part("doubler"), survey.layout.part("skin")
    if doubler is None or skin is None:
        return
    same, heavier = survey.limit("same_type_and_thickness"), survey.limit("flush_patch_doubler")
    skin_gauge_in = nearest_gauge(skin.thickness_in, survey.shop).value
    gauge_up_in = next_gauge(max(skin_gauge_in, skin.thickness_in), survey.shop).value
    doubler_gauge_in = nearest_gauge(doubler.thickness_in, survey.shop).value
    values = (Quantity("t doubler", doubler.thickness_in, "in"), Quantity("t skin", skin.thickness_in, "in"))
    result = Quantity("t doubler / t skin", doubler.thickness_in / skin.thickness_in, "")
    circular, army = DOUBLER_READINGS
    readings = (
        reading(circular, skin_gauge_in, "t doubler = t skin", values, result, same.source, same.grade),
        reading(
            army,
            gauge_up_in,
            f"one gauge heavier = {inch(gauge_up_in)} in",
            values,
            result,
            heavier.source,
            heavier.grade,
        ),
    )

    def judge(one: Reading) -> Status:
        if doubler.thickness_in < skin.thickness_in - FLOAT_NOISE:
            return Status.STOP
        return Status.PASS if abs(doubler_gauge_in - one.limit) < FLOAT_NOISE else Status.CAUTION

    judged = choose(survey.layout.job, "R402", readings, judge, differ=Status.PASS)
    if judged.status is Status.STOP:
        advice = "Thinner than the skin. Take the skin's gauge or the next one up."
    elif judged.status is Status.PASS:
        advice = ""
    elif doubler_gauge_in > gauge_up_in + FLOAT_NOISE:
        advice = "More than one gauge heavier: stiffness draws load. Ask the holder of the data."
    else:
        advice = f"Not the {inch(judged.by.limit)} in of the reading chosen."
    yield by_readings(
        "R402",
        f"doubler {inch(doubler.thickness_in)} in on skin {inch(skin.thickness_in)} in",
        judged,
        value=doubler.thickness_in,
        unit="in",
        advice=advice,
        shortfall=abs(judged.by.limit - doubler.thickness_in),
    )


@rule("R403", Shelf.KNOW, rests_on=(SHEET_STOCK,), reads=("skin",), step="measure")
def measured_skin(survey: Survey) -> Iterator[Finding]:
    """R403: measured skin thickness."""
    skin = survey.layout.job.skin
    if skin.measured is None:
        yield against(
            "R403",
            Status.CAUTION,
            f"the skin was not measured; {skin.thickness.text} is what the job says",
            value=None,
            limit=skin.thickness.inch,
            unit="in",
            cited=nearest_gauge(skin.thickness.inch, survey.shop),
            advice="Measure it at an edge or a hole, or through the skin, and enter skin.measured.",
        )
        return
    gauge = nearest_gauge(skin.measured.inch, survey.shop)
    wanted = nearest_gauge(skin.thickness.inch, survey.shop)
    agrees = abs(gauge.value - wanted.value) < FLOAT_NOISE
    yield against(
        "R403",
        Status.PASS if agrees else Status.STOP,
        f"skin measured {skin.measured.text}, nearest stock gauge {inch(gauge.value)} in",
        value=skin.measured.inch,
        limit=skin.thickness.inch,
        unit="in",
        cited=gauge,
        formula="stock gauge nearest to the measured thickness = that nearest to the job's",
        values=(
            Quantity("measured", skin.measured.inch, "in"),
            Quantity("nearest gauge", gauge.value, "in"),
            Quantity("job", skin.thickness.inch, "in"),
        ),
        advice=""
        if agrees
        else "The skin is not what the job says. Measure again, and check that this is the right bay.",
        shortfall=abs(skin.measured.inch - skin.thickness.inch),
    )


@rule("R407", Shelf.HOLDS, limits=("t_over_d_min_for_bearing_allowables",), reads=("holes", "parts"))
def thin_sheet(survey: Survey) -> Iterator[Finding]:
    """R407: thin sheet in bearing."""
    least = survey.limit("t_over_d_min_for_bearing_allowables")
    seen: set[tuple[str, str]] = set()
    for hole in one_of_each(survey.layout.holes_of("rivet")):
        for part in survey.layout.parts:
            if part.name not in hole.stack or (part.name, hole.fastener) in seen:
                continue
            seen.add((part.name, hole.fastener))
            ratio = part.thickness_in / hole.diameter_in
            status = judge_at_least(ratio, least.value, short=Status.UNKNOWN)
            yield against(
                "R407",
                status,
                f"{part.name} {inch(part.thickness_in)} in with {hole.fastener}",
                value=ratio,
                limit=least.value,
                unit="t/D",
                cited=least,
                formula=f"t/D >= {least.value:g}",
                values=(Quantity("t", part.thickness_in, "in"), Quantity("D", hole.diameter_in, "in")),
                advice=""
                if status is Status.PASS
                else "Handbook bearing values end here: smaller rivets, or tests.",
                shortfall=least.value - ratio,
            )
