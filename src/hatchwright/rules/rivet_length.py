"""R501: rivet length for the grip."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Bound, Chosen, Judgement, Measure, Status, judge, lengths
from hatchwright.layout.layout import Hole
from hatchwright.layout.rivet_length import RivetLength, ShopHead, rivet_length
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.sheet_and_rivet import one_of_each
from hatchwright.rules.spoilt_holes import usual_hole_in
from hatchwright.rules.wording import part_called
from hatchwright.said import Amount, Listed, Said, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.workings import Quantity, Working

LENGTH_READINGS = ("nearest sixteenth", "next half sixteenth", "next sixteenth")


def lengths_needed(survey: Survey) -> list[tuple[Hole, RivetLength]]:
    """The length for each different rivet and stack of a layout, beside one hole of its kind."""
    thickness = {part.name: part.thickness_in for part in survey.layout.parts}
    return [
        (
            hole,
            rivet_length(
                parse_rivet(hole.fastener),
                grip_in=sum(thickness[name] for name in hole.stack),
                hole_in=usual_hole_in(hole.diameter_in, survey.shop),
                allowance_ratio=survey.limit("upset_allowance").value,
            ),
        )
        for hole in one_of_each(survey.layout.holes_of("rivet"))
    ]


def heads_by_reading(length: RivetLength) -> dict[str, ShopHead]:
    """The shop head that each reading would make, by its name, the default first."""
    return dict(zip(LENGTH_READINGS, (length.nearest, length.next_half, length.next_up), strict=True))


@rule("R501", Shelf.SETTLE, reads=("holes", "parts"), step="rivet")
@judged_by(
    "rivet_length_rounding",
    limits=("upset_allowance", "shop_head_diameter_min_design"),
    readings=LENGTH_READINGS,
)
def length_for_grip(survey: Survey) -> Iterator[Finding]:
    """R501: rivet length."""
    for hole, length in lengths_needed(survey):
        hole_in = usual_hole_in(hole.diameter_in, survey.shop)
        chosen = survey.chosen("R501")
        judged = length_held(length, hole.diameter_in, hole_in, survey.limit, chosen=chosen)
        wanted = (heads_by_reading(length)[judged.by.reading],) if judged.reason else length.candidates
        least = survey.limit("shop_head_diameter_min_design").value * hole.diameter_in
        good = [head for head in wanted if not judge(head.diameter_in, least)]
        heads = tuple(
            said(
                "R501.head",
                length=head.rivet.length_called,
                head=Amount(head.diameter_in / hole.diameter_in, "D"),
            )
            for head in length.candidates
        )
        subject = said(
            "R501.rivet",
            rivet=hole.fastener,
            stack=Listed(tuple(map(part_called, hole.stack))),
            length=inch(length.calculated_in, fine=True),
            heads=Listed(heads, ","),
        )
        # What to order is told whatever the answer, so that it stands beside the rivet where it is looked for.
        yield Finding("", judged, subject, _advice(good))


def _advice(good: list[ShopHead]) -> tuple[Said, ...]:
    if not good:
        return (said("R501.no_head"), ASK)
    parts = Listed(tuple(str(head.rivet) for head in good), "or")
    return (said("R501.order", parts=parts), said("R501.set_two"))


def length_held(
    length: RivetLength,
    diameter_in: float,
    hole_in: float,
    limit: Callable[[str], Cited],
    *,
    chosen: Chosen | None = None,
) -> Judgement:
    """The shortest length that makes a shop head, held to the length that each reading takes.

    Args:
        diameter_in: of the rivet [in].
        hole_in: that it fills [in].
        limit: one limit of the tables by its name.
    Method: volume of the shank that stands out less what fills the hole = a flat round head half a diameter high, as in
    `layout.rivet_length.shop_head`, solved for the length.
    """
    allowance, least = limit("upset_allowance"), limit("shop_head_diameter_min_design")
    grip_in = length.grip_in
    head = (least.value * diameter_in) ** 2 * 0.5 * diameter_in
    shortest_in = grip_in + (head + (hole_in**2 - diameter_in**2) * grip_in) / diameter_in**2
    heads = heads_by_reading(length)
    measure = Measure("L least", shortest_in, with_=lengths(grip=grip_in, D=diameter_in, hole=hole_in))
    return Judgement(
        measure,
        tuple(
            Bound(one.length_in, least.source, least.grade, one.rivet.length_called, name)
            for name, one in heads.items()
        ),
        at_least=False,
        chosen=chosen,
        differ=Status.PASS,
        more=(
            *(_head_working(name, one, diameter_in, least) for name, one in heads.items()),
            _formula(length, diameter_in, allowance),
        ),
    )


def _head_working(name: str, head: ShopHead, diameter_in: float, least: Cited) -> Working:
    return Working.resting_on(
        least,
        f"{name}: {head.rivet.length_called}, shop head by volume at 0.5 D high >= {least.value:g} D",
        Quantity("head/D", head.diameter_in / diameter_in, ""),
        Quantity("length", head.length_in, "in"),
        Quantity("protrusion", head.protrusion_in, "in"),
    )


def _formula(length: RivetLength, diameter_in: float, allowance: Cited) -> Working:
    return Working.resting_on(
        allowance,
        f"L = grip + {allowance.value:g} D",
        Quantity("L", length.calculated_in, "in"),
        Quantity("grip", length.grip_in, "in"),
        Quantity("D", diameter_in, "in"),
    )
