"""R501: rivet length for the grip."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Status, judge_at_least
from hatchwright.layout.layout import Hole
from hatchwright.layout.rivet_length import RivetLength, ShopHead, rivet_length
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.readings import Reading, by_readings, choose, reading
from hatchwright.rules.rule import rule
from hatchwright.rules.sheet_and_rivet import one_of_each
from hatchwright.tables.rivets import hole_drill
from hatchwright.workings import Quantity, Working

LENGTH_READINGS = ("nearest sixteenth", "next half sixteenth", "next sixteenth")


def lengths_needed(survey: Survey) -> list[tuple[Hole, RivetLength]]:
    """The length for each different rivet and stack of a layout.

    Returns:
        list: one hole of each kind with its length.
    """
    thickness = {part.name: part.thickness_in for part in survey.layout.parts}
    return [
        (
            hole,
            rivet_length(
                grip_in=sum(thickness[name] for name in hole.stack),
                diameter_in=hole.diameter_in,
                hole_in=_hole_in(hole, survey),
                allowance_ratio=survey.limit("upset_allowance").value,
            ),
        )
        for hole in one_of_each(survey.layout.holes_of("rivet"))
    ]


def heads_by_reading(length: RivetLength) -> dict[str, ShopHead]:
    """The shop head that each reading would make.

    Args:
        length: for one rivet and stack.
    Returns:
        dict: name of the reading to its head, the default first.
    """
    return dict(zip(LENGTH_READINGS, (length.nearest, length.next_half, length.next_up), strict=True))


def _hole_in(hole: Hole, survey: Survey) -> float:
    """The usual drill, or the rivet's own diameter where none is listed [in]."""
    try:
        return hole_drill(hole.diameter_in, shop=survey.shop).diameter_in
    except TableError:
        return hole.diameter_in


@rule(
    "R501",
    Shelf.SETTLE,
    limits=("upset_allowance", "shop_head_diameter_min_design"),
    readings=LENGTH_READINGS,
    reads=("holes", "parts"),
    step="rivet",
)
def length_for_grip(survey: Survey) -> Iterator[Finding]:
    """R501: rivet length."""
    formula, least = survey.limit("upset_allowance"), survey.limit("shop_head_diameter_min_design")
    for hole, length in lengths_needed(survey):
        heads = heads_by_reading(length)
        readings = [
            reading(
                name,
                head.length_in,
                f"-{head.dash:g}, shop head by volume at 0.5 D high >= {least.value:g} D",
                (
                    Quantity("length", head.length_in, "in"),
                    Quantity("protrusion", head.protrusion_in, "in"),
                ),
                Quantity("head/D", head.diameter_in / hole.diameter_in, ""),
                least.source,
                least.grade,
            )
            for name, head in heads.items()
        ]

        def answer(head: ShopHead, diameter_in: float = hole.diameter_in) -> Status:
            return judge_at_least(head.diameter_in, least.value * diameter_in)

        def judge(one: Reading, heads: dict[str, ShopHead] = heads, hole: Hole = hole) -> Status:
            return answer(heads[one.name], hole.diameter_in)

        judged = choose(survey.layout.job, "R501", readings, judge, differ=Status.PASS)
        wanted = (heads[judged.by.name],) if judged.reason else length.candidates
        good = [head for head in wanted if answer(head, hole.diameter_in) is Status.PASS]
        dashes = ", ".join(
            f"-{head.dash:g} (head {head.diameter_in / hole.diameter_in:.2f}D)" for head in length.candidates
        )
        calculated = Working(
            f"L = grip + {formula.value:g} D",
            (Quantity("grip", length.grip_in, "in"), Quantity("D", hole.diameter_in, "in")),
            Quantity("L", length.calculated_in, "in"),
            formula.source,
            formula.grade,
        )
        yield by_readings(
            "R501",
            f"{hole.fastener} through {' + '.join(hole.stack)}: {dashes}",
            judged,
            value=length.calculated_in,
            unit="in",
            more=(calculated,),
            advice=f"Order {', or '.join(f'{hole.fastener}-{head.dash:g}' for head in good)}; set two on scrap first."
            if good
            else "This length makes no shop head: choose a longer one, or check the stack.",
        )
