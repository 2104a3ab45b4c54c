"""R5xx: rivet length for the grip."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, Quantity, Status, Working
from hatchwright.layout.layout import Hole
from hatchwright.layout.rivet_length import RivetLength, rivet_length
from hatchwright.layout.survey import Survey
from hatchwright.rules.rule import rule
from hatchwright.tables.limits import limit
from hatchwright.tables.rivets import hole_drill


def lengths_needed(survey: Survey) -> list[tuple[Hole, RivetLength]]:
    """The length for each different rivet and stack of a layout.

    Args:
        survey: of the layout.
    Returns:
        list: one hole of each kind with its length.
    """
    layout = survey.layout
    thickness = {part.name: part.thickness_in for part in layout.parts}
    kinds: dict[tuple[str, tuple[str, ...]], Hole] = {}
    for hole in layout.holes_of("rivet"):
        kinds.setdefault((hole.fastener, hole.stack), hole)
    allowance = limit("upset_allowance")
    return [
        (
            hole,
            rivet_length(
                grip_in=sum(thickness[name] for name in hole.stack),
                diameter_in=hole.diameter_in,
                hole_in=hole_drill(hole.diameter_in).diameter_in,
                allowance_ratio=allowance.value,
            ),
        )
        for hole in kinds.values()
    ]


@rule("R501", "Rivet length", "upset_allowance", "shop_head_diameter_min_design")
def length_for_grip(survey: Survey) -> Iterator[Finding]:
    """Length is grip plus one and a half diameters. Documents differ on rounding, to the nearest sixteenth or to the
    next one up, so each candidate is shown with the shop head it would make; a head under 1.3 D wide at half a diameter
    high is refused."""
    formula, least = limit("upset_allowance"), limit("shop_head_diameter_min_design")
    for hole, length in lengths_needed(survey):
        good = [head for head in length.candidates if head.diameter_in >= least.value * hole.diameter_in]
        readings = tuple(
            Working(
                f"dash -{head.dash:g} ({head.length_in:g} in): shop head by volume at 0.5 D high",
                (Quantity("protrusion", head.protrusion_in, "in"),),
                Quantity("head/D", head.diameter_in / hole.diameter_in, ""),
                least.source,
                least.grade,
            )
            for head in length.candidates
        )
        calculated = Working(
            f"L = grip + {formula.value:g} D",
            (Quantity("grip", length.grip_in, "in"), Quantity("D", hole.diameter_in, "in")),
            Quantity("L", length.calculated_in, "in"),
            formula.source,
            formula.grade,
        )
        dashes = ", ".join(
            f"-{head.dash:g} (head {head.diameter_in / hole.diameter_in:.2f}D)" for head in length.candidates
        )
        yield Finding(
            code="R501",
            status=Status.PASS if good else Status.STOP,
            subject=f"{hole.fastener} through {' + '.join(hole.stack)}: {dashes}",
            value=length.calculated_in,
            limit=None,
            unit="in",
            source=formula.source,
            grade=formula.grade,
            working=(calculated, *readings),
            advice=f"Order {', or '.join(f'{hole.fastener}-{head.dash:g}' for head in good)}; set two on scrap first."
            if good
            else "No stock length makes a shop head. Check the stack.",
        )
