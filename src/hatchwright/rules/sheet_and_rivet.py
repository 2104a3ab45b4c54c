"""R4xx: rivet diameter against the sheets, and the doubler against the skin."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, Quantity, Status, Working
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.rules.rule import rule
from hatchwright.tables.limits import limit
from hatchwright.tables.materials import nearest_gauge, next_gauge
from hatchwright.tables.rivets import next_rivet_diameter


def _one_of_each(holes: tuple[Hole, ...]) -> list[Hole]:
    """One hole for each kind of rivet and stack."""
    kinds: dict[tuple[str, tuple[str, ...]], Hole] = {}
    for hole in holes:
        kinds.setdefault((hole.fastener, hole.stack), hole)
    return list(kinds.values())


@rule(
    "R401",
    "Rivet diameter against the thickest sheet",
    "diameter_rule",
    "diameter_max_navy",
    "diameter_min_navy",
    "diameter_min_structural",
)
def rivet_against_sheet(survey: Survey) -> Iterator[Finding]:
    """The circular aims at three times the thickest sheet and takes the next standard size up; the Navy manual makes
    three times the thickest sheet the largest size and the sheet itself the smallest. They conflict, so both are shown
    and neither stops; below the structural minimum of 3/32 in the answer is a stop."""
    layout = survey.layout
    aim, largest = limit("diameter_rule"), limit("diameter_max_navy")
    smallest, structural = limit("diameter_min_navy"), limit("diameter_min_structural")
    for hole in _one_of_each(layout.holes_of("rivet")):
        thickest_in = max(part.thickness_in for part in layout.parts if part.name in hole.stack)
        diameter_in = hole.diameter_in
        aimed_in = next_rivet_diameter(aim.value * thickest_in).value
        values = (Quantity("D", diameter_in, "in"), Quantity("t", thickest_in, "in"))
        result = Quantity("D/t", diameter_in / thickest_in, "")
        readings = (
            Working(
                f"D about {aim.value:g} t, next size up = {aimed_in:g} in",
                values,
                result,
                aim.source,
                aim.grade,
            ),
            Working(f"D <= {largest.value:g} t", values, result, largest.source, largest.grade),
            Working(f"D >= {smallest.value:g} t", values, result, smallest.source, smallest.grade),
            Working(f"D >= {structural.value:g} in", values, result, structural.source, structural.grade),
        )
        too_small = diameter_in < structural.value - 1e-9 and layout.job.skin.stressed
        kept = {
            "the circular's size": abs(diameter_in - aimed_in) < 1e-9,
            "the Navy's largest": diameter_in <= largest.value * thickest_in + 1e-9,
            "the Navy's smallest": diameter_in >= smallest.value * thickest_in - 1e-9,
        }
        missed = [name for name, holds in kept.items() if not holds]
        if too_small:
            status, advice = Status.STOP, "Smaller than any rivet for structure. Take 3/32 or larger."
        elif missed:
            status = Status.CAUTION
            advice = f"Documents differ: {diameter_in:g} in does not meet {' or '.join(missed)}. "
            advice += "Follow the aircraft's own data and the rivets beside the opening."
        else:
            status, advice = Status.PASS, ""
        yield Finding(
            code="R401",
            status=status,
            subject=f"{hole.fastener} in {' + '.join(hole.stack)}, thickest {thickest_in:g} in",
            value=diameter_in,
            limit=aimed_in,
            unit="in",
            source=aim.source,
            grade=aim.grade,
            working=readings,
            advice=advice,
        )


@rule("R402", "Doubler against skin thickness", "same_type_and_thickness", "flush_patch_doubler")
def doubler_against_skin(survey: Survey) -> Iterator[Finding]:
    """The doubler is of the skin's thickness or one gauge heavier. The circular asks for the same thickness and nothing
    stiffer; Army and older manuals ask for one gauge heavier. Both are accepted; a thinner doubler stops, a heavier one
    cautions."""
    doubler, skin = survey.layout.part("doubler"), survey.layout.part("skin")
    if doubler is None or skin is None:
        return
    same, heavier = limit("same_type_and_thickness"), limit("flush_patch_doubler")
    gauge_up_in = next_gauge(skin.thickness_in).value
    values = (Quantity("t doubler", doubler.thickness_in, "in"), Quantity("t skin", skin.thickness_in, "in"))
    result = Quantity("t doubler / t skin", doubler.thickness_in / skin.thickness_in, "")
    advice = ""
    if doubler.thickness_in < skin.thickness_in - 1e-9:
        status, advice = Status.STOP, "Thinner than the skin. Take the skin's gauge or the next one up."
    elif doubler.thickness_in <= gauge_up_in + 1e-9:
        status = Status.PASS
    else:
        status = Status.CAUTION
        advice = f"More than one gauge heavier ({gauge_up_in:g} in): stiffness draws load. Ask the holder of the data."
    yield Finding(
        code="R402",
        status=status,
        subject=f"doubler {doubler.thickness_in:g} in on skin {skin.thickness_in:g} in",
        value=doubler.thickness_in,
        limit=skin.thickness_in,
        unit="in",
        source=same.source,
        grade=same.grade,
        working=(
            Working("t doubler = t skin", values, result, same.source, same.grade),
            Working(f"one gauge heavier = {gauge_up_in:g} in", values, result, heavier.source, heavier.grade),
        ),
        advice=advice,
        shortfall=max(0.0, skin.thickness_in - doubler.thickness_in),
    )


@rule("R403", "Measured skin thickness")
def measured_skin(survey: Survey) -> Iterator[Finding]:
    """The skin measured on the aircraft is of the gauge that the job says: nearest of the stock gauges."""
    skin = survey.layout.job.skin
    if skin.measured is None:
        return
    gauge = nearest_gauge(skin.measured.inch)
    agrees = abs(gauge.value - skin.thickness.inch) < 1e-9
    yield Finding(
        code="R403",
        status=Status.PASS if agrees else Status.STOP,
        subject=f"skin measured {skin.measured.text}, nearest stock gauge {gauge.value:g} in",
        value=skin.measured.inch,
        limit=skin.thickness.inch,
        unit="in",
        source=gauge.source,
        grade=gauge.grade,
        advice=""
        if agrees
        else "The skin is not what the job says. Measure again, and check that this is the right bay.",
        shortfall=0.0 if agrees else abs(skin.measured.inch - skin.thickness.inch),
    )
