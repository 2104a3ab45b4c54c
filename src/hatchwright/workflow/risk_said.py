"""The risk of a job in words: what a person reads of it on the command line and on the page."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.layout.layout import Hole
from hatchwright.rules.wording import edge_named, numbered, part_named
from hatchwright.said import Amount, Listed, Said, Value, inch, missing, said
from hatchwright.search.risk.errors import Culprit
from hatchwright.search.risk.gaps import Between
from hatchwright.search.risk.own_scatter import Found
from hatchwright.search.risk.simulate import Estimate, Simulated
from hatchwright.search.risk.values import HoleChance, OrderChance, Risk, RuleChance
from hatchwright.workflow.risk import RiskReport

_LEAST_SHOWN = 0.001
"""Smaller chances are told as less than this, or than one in a million: nobody reads more of them [-]."""

WORTH_A_LINE = _LEAST_SHOWN
"""Holes with a smaller chance are told together [-]."""

NOTHING = 1e-6
"""What is told as under one in a million [-]."""

_LEAST_COUNT = 0.01

WHAT_TO_MEASURE = tuple(
    said(f"risk.measure.{one}") for one in ("drill", "offset", "filing", "place", "ring", "measuring", "from")
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
    id = "risk.job_lacking" if risk.missing else "risk.job_at_most" if risk.is_bound else "risk.job"
    yield said(id, chance=chance_said(risk.job), short=count_said(risk.spoilt_per_hundred))
    yield said("risk.no_permission")
    if risk.missing:
        lacking = Listed(tuple(map(culprit_said, risk.missing)), ";")
        yield said("risk.missing", what=lacking, n=len(risk.missing))
    if risk.errors.from_pins:
        turn = Amount(math.degrees(risk.errors.turn_rad), "deg")
        yield said("risk.from_pins", place=inch(risk.errors.place_in, fine=True), turn=turn)
    if risk.short_as_drawn:
        yield said("risk.short_as_drawn", n=risk.short_as_drawn)


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
    if risk.up_to:
        short, chance = count_said(risk.up_to.spoilt_per_hundred), chance_said(risk.up_to.job)
        yield said("risk.up_to", drill=missing(risk.up_to.errors.square_in), short=short, chance=chance)
    if risk.left_out.distances:
        yield said("risk.left_out", n=risk.left_out.distances, bound=chance_said(risk.left_out.bound))
    yield said("risk.not_in_it")


def simulated_said(found: Simulated) -> Said:
    """The figures by lot, each with its standard error."""
    return said(
        "risk.simulated",
        trials=Amount(float(found.trials), ""),
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
    """Which tolerance to tighten for which gain, the greatest first."""
    for one in risk.gains:
        share = Amount(100.0 * one.share, "%")
        yield said("risk.gain", what=culprit_said(one.culprit), gain=count_said(one.gain), share=share)


def order_said(one: OrderChance) -> Said:
    """What another lead comes to."""
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
    return str(one.hole.number), chance_said(one.chance.short), inch(one.gap_in), against


def others_said(risk: Risk) -> Said | None:
    """What is told of the holes that have no line of their own, None where all have."""
    others = [one.chance.short for one in risk.holes if one.chance.short < WORTH_A_LINE]
    return said("risk.others", n=len(others), chance=chance_said(max(others))) if others else None


def rule_cells(one: RuleChance) -> tuple[Value, ...]:
    """A row of the table of rules."""
    id = "risk.rule" if one.holds_back else "risk.rule_cautions"
    asks = said(id, title=said(f"{one.code}.title"))
    return one.code, chance_said(one.chance), count_said(one.spoilt_per_hundred), one.distances, asks


def found_said(one: Found) -> Said:
    """What readings say of one scatter."""
    what = said(f"entry.Scatter.{one.entry}.label")
    size = inch(one.deviation_in, fine=True)
    return said("risk.found", what=what, size=size, readings=one.readings, n=one.freedom)
