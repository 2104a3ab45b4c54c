"""The risk of a job in words: what a person reads of it on the command line and on the page."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.layout.layout import Hole
from hatchwright.rules.wording import edge_named, numbered, part_named
from hatchwright.said import Amount, Listed, Said, Value, inch, missing, said
from hatchwright.search.risk.errors import Culprit, Errors
from hatchwright.search.risk.gaps import Between
from hatchwright.search.risk.own_scatter import Found
from hatchwright.search.risk.scatter_findings import lacking_said
from hatchwright.search.risk.simulate import Estimate, Simulated
from hatchwright.search.risk.values import HoleChance, OrderChance, Risk, RuleChance
from hatchwright.workflow.risk import RiskReport

_LEAST_SHOWN = 0.001
"""Smaller chances are told as less than this, or than one in a million: nobody reads more of them [-]."""

WORTH_A_LINE = _LEAST_SHOWN
"""Holes with a smaller chance that pass as they stand are told together [-]."""

NOTHING = 1e-6
"""What is told as under one in a million [-]."""

_LEAST_COUNT = 0.01

_WORTH_TIGHTENING = 0.02
"""What saves a smaller part of the short holes is told together [-]. Own choice, no source."""

_SIZES = {
    "square_in": "culprit.drilling",
    "place_in": "lack.place",
    "turn_rad": "lack.turn",
    "offset_in": "culprit.offset",
    "filing_in": "culprit.filing",
    "ring_place_in": "lack.ring_place",
    "ring_turn_rad": "lack.ring_turn",
}
"""What readings may leave uncertain, and what each is called."""

WHAT_TO_MEASURE = tuple(
    said(f"risk.measure.{one}")
    for one in ("drill", "offset", "filing", "place", "ring", "edge", "measuring", "from")
)
"""What the shop measures, and how, where no scatter is entered."""


def chance_said(chance: float) -> Said:
    """A chance, never rounded down."""
    if chance < NOTHING:
        return said("risk.one_in_a_million")
    if chance < _LEAST_SHOWN:
        return said("risk.under", most=Amount(100.0 * _LEAST_SHOWN, "%"))
    return said("risk.of", chance=Amount(min(100.0, 100.0 * chance), "%", toward="up"))


def count_said(per_hundred: float) -> Value:
    """So many holes in a hundred jobs, never rounded down."""
    if per_hundred < _LEAST_COUNT:
        return said("risk.fewer", most=Amount(_LEAST_COUNT, ""))
    return Amount(_two_places_up(per_hundred), "")


def _two_places_up(value: float) -> float:
    """To a tenth, and to hundredths under one, the last place rounded up."""
    places = 100.0 if value < 1.0 else 10.0
    return math.ceil(value * places - 1e-9) / places


def head_said(risk: Risk) -> Iterator[Said]:
    """What it comes to, and what it is not."""
    if not risk.holes:
        if not risk.unlisted:
            yield said("risk.nothing_counts")
        yield from _lacking_said(risk)
        return
    id = "risk.job_lacking" if risk.missing else "risk.job_at_most" if risk.is_bound else "risk.job"
    yield said(id, chance=chance_said(risk.job), short=count_said(risk.spoilt_per_hundred))
    if risk.up_to:
        short, chance = count_said(risk.up_to.spoilt_per_hundred), chance_said(risk.up_to.job)
        which = Listed(tuple(_raised(risk.errors, risk.up_to.errors)), ";")
        yield said("risk.up_to", which=which, short=short, chance=chance)
    if risk.held:
        yield said("risk.held", n=risk.held)
    yield said("risk.no_permission")
    yield from _lacking_said(risk)


def _lacking_said(risk: Risk) -> Iterator[Said]:
    """What is not in the figures, and who else is."""
    if risk.missing:
        yield lacking_said(risk.missing)
    if risk.unlisted:
        yield said("risk.unlisted", n=risk.unlisted)
    if risk.is_one_of_two:
        yield said("risk.one_of_two")


def beside_said(report: RiskReport) -> Iterator[Said]:
    """What is told beside the figures: the proof by lot, what is judged by measuring, how sure the scatter is."""
    risk = report.risk
    if risk is None:
        return
    if report.simulated:
        yield simulated_said(report.simulated)
    if risk.errors.measuring_in > 0.0:
        short, not_shown = map(count_said, risk.judged_per_hundred)
        u = inch(2.0 * risk.errors.measuring_in)
        yield said("risk.judged", u=u, short=short, not_shown=not_shown)
    yield from _from_pins(risk.errors)
    if risk.left_out.distances:
        yield said("risk.left_out", n=risk.left_out.distances, bound=chance_said(risk.left_out.bound))
    yield said("risk.not_in_it")


def _raised(errors: Errors, larger: Errors) -> Iterator[Said]:
    """Which scatter may really be as large as what."""
    for field, what in _SIZES.items():
        size = getattr(larger, field)
        if size > getattr(errors, field):
            shown = Amount(math.degrees(size), "deg") if field.endswith("rad") else missing(size)
            yield said("risk.may_be", what=said(f"risk.{what}"), size=shown)


def _from_pins(errors: Errors) -> Iterator[Said]:
    place, turn = inch(errors.place_in, fine=True), Amount(math.degrees(errors.turn_rad), "deg")
    if errors.place_from_pins and errors.turn_from_pins:
        yield said("risk.from_pins", place=place, turn=turn)
    elif errors.place_from_pins:
        yield said("risk.place_from_pins", place=place)
    elif errors.turn_from_pins:
        yield said("risk.turn_from_pins", turn=turn)


def simulated_said(found: Simulated) -> Said:
    """The figures by lot, each with its standard error."""
    trials = Amount(float(found.trials), "")
    if not found.spoilt_per_hundred.value:
        return said("risk.simulated_none", trials=trials, seed=found.seed)
    return said(
        "risk.simulated",
        trials=trials,
        seed=found.seed,
        chance=_estimate(found.job, 100.0, "%"),
        short=_estimate(found.spoilt_per_hundred, 1.0, ""),
    )


def _estimate(one: Estimate, scale: float, unit: str) -> Said:
    digits = 2
    value, standard = round(one.value * scale, digits), one.standard * scale
    named = {"value": f"{value:.{digits}f}{unit}", "u": f"{_two_places_up(standard):.{digits}f}{unit}"}
    return said("risk.estimate", **named)


def culprit_said(culprit: Culprit) -> Said:
    """A tolerance in the trade's words."""
    return said(f"risk.culprit.{culprit.value}")


def gains_said(risk: Risk) -> Iterator[Said]:
    """Which tolerance to tighten for which gain, the greatest first; those that gain next to nothing in one line."""
    least = max(_LEAST_COUNT, _WORTH_TIGHTENING * risk.spoilt_per_hundred)
    for one in risk.gains:
        if one.gain > least:
            share = Amount(100.0 * one.share, "%")
            yield said("risk.gain", what=culprit_said(one.culprit), gain=count_said(one.gain), share=share)
    if rest := [one for one in risk.gains if one.gain <= least]:
        named = Listed(tuple(culprit_said(one.culprit) for one in rest), ";")
        most = count_said(max(one.gain for one in rest))
        yield said("risk.gain_rest", what=named, most=most, n=len(rest))


def orders_said(risk: Risk) -> tuple[Said, ...]:
    """What each lead comes to; one sentence where that is the same."""
    sizes = [(count_said(one.spoilt_per_hundred), chance_said(one.job)) for one in risk.orders]
    if len(sizes) > 1 and all(one == sizes[0] for one in sizes):
        return (said("risk.orders_alike"),)
    return tuple(map(_order_said, risk.orders))


def _order_said(one: OrderChance) -> Said:
    lead = said(f"risk.order.{one.order.value}")
    return said(
        "risk.order", lead=lead, short=count_said(one.spoilt_per_hundred), chance=chance_said(one.job)
    )


def between_said(one: Between, hole: Hole) -> Said:
    """What a gap of a hole is measured to."""
    if one.other is not None:
        other = one.hole if hole.number == one.other.number else one.other
        return said("risk.to_hole", other=numbered(other))
    if one.other_row:
        return said("risk.to_row", row=one.other_row)
    assert one.edge is not None  # of a hole and an edge
    assert one.part is not None
    if one.across is not None:
        return said("risk.across", edge=edge_named(one.edge), other=edge_named(one.across))
    return said("risk.to_edge", edge=edge_named(one.edge), part=part_named(one.part))


HOLE_HEADS = tuple(said(f"risk.head.{one}") for one in ("hole", "chance", "gap", "against"))
RULE_HEADS = tuple(said(f"risk.head.{one}") for one in ("rule", "chance", "short", "distances", "asks"))


def hole_cells(one: HoleChance) -> tuple[Value, ...]:
    """A row of the table of holes."""
    against = said("risk.by_rule", what=between_said(one.likeliest, one.hole), code=one.likeliest.code)
    chance = chance_said(one.chance.short)
    told = said("risk.held_hole", chance=chance) if one.is_held else chance
    return str(one.hole.number), told, inch(one.gap_in), against


def holes_shown(risk: Risk) -> list[HoleChance]:
    """The holes that have a line of their own."""
    return [one for one in risk.holes if one.is_held or one.chance.short >= WORTH_A_LINE]


def others_said(risk: Risk) -> Said | None:
    """What is told of the holes that have no line of their own, None where all have."""
    others = [one.chance.short for one in risk.holes if not one.is_held and one.chance.short < WORTH_A_LINE]
    if not others:
        return None
    id = "risk.others" if len(others) < len(risk.holes) else "risk.every_hole"
    return said(id, n=len(others), chance=chance_said(max(others)))


def rule_cells(one: RuleChance) -> tuple[Value, ...]:
    """A row of the table of rules."""
    id = "risk.rule" if one.holds_back else "risk.rule_cautions"
    asks = said(id, title=said(f"{one.code}.title"))
    chance = chance_said(one.chance)
    told = said("risk.held_rule", n=one.held, chance=chance) if one.held else chance
    return one.code, told, count_said(one.spoilt_per_hundred), one.distances, asks


def rules_shown(risk: Risk) -> tuple[RuleChance, ...]:
    """The rules that have a line of their own."""
    return tuple(one for one in risk.rules if one.held or one.chance >= NOTHING)


def other_rules_said(risk: Risk) -> Said | None:
    """What is told of the rules that have no line of their own, None where all have."""
    others = [one for one in risk.rules if not one.held and one.chance < NOTHING]
    if not others:
        return None
    codes = tuple(dict.fromkeys(one.code for one in others))
    most = chance_said(max(one.chance for one in others))
    return said("risk.other_rules", codes=Listed(codes, ","), chance=most)


def found_said(one: Found) -> Said:
    """What readings say of one scatter."""
    what = said(f"entry.Scatter.{one.entry}.label")
    size = inch(one.deviation_in, fine=True)
    return said("risk.found", what=what, size=size, readings=one.readings, n=one.freedom)
