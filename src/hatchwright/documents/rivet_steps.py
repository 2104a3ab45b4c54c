"""Steps at length for the rivets: which lengths, in which order, and what each shop head must measure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hatchwright.documents.made_lines import held_lines
from hatchwright.documents.rivet_lengths import first_lengths
from hatchwright.documents.step import PRACTICE, Line, Step, Tellers, Work, asked, line
from hatchwright.documents.stop_lines import stop_lines
from hatchwright.errors import EntryError, TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.layout import Hole
from hatchwright.layout.rivet_length import HEAD_HEIGHT_RATIO, ShopHead
from hatchwright.recipe.fastener_choice import unlisted_rivets
from hatchwright.recipe.riveting import rivet_orders
from hatchwright.recipe.stops import bar_stop
from hatchwright.recipe.task import Task
from hatchwright.said import Amount, Listed, Said, inch, missing, room, said
from hatchwright.tables.driven_heads import DrivenHead, driven_head_limits
from hatchwright.tables.instructions import instruction
from hatchwright.tables.rivet_guns import gun_pressure
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.table import ShopTables
from hatchwright.words.readings import reading_called


def _rivet(task: Task, work: Work) -> Step:
    """Part numbers with every length that documents would choose, and the order of riveting."""
    layout = work.layout
    formula, choice = layout.limit("upset_allowance"), layout.job.choice("R501")
    lines: list[Line] = []
    for one in first_lengths(layout):
        hole, length, head = one.hole, one.length, one.head
        grip, calculated = inch(length.grip_in), inch(length.calculated_in)
        lines.append(line(said("card.rivet.grip", grip=grip, calculated=calculated), rests_on=(formula,)))
        first = started_with(str(head.rivet), hole.diameter_in, head)
        if choice and one.is_chosen:
            reason = choice.reason.rstrip(".")
            told = said("card.rivet.chosen", reading=reading_called(choice.reading), reason=reason)
            lines.append(line(told, first))
        else:
            limited = () if head == length.next_half else one.asks
            lines.append(line(first, rests_on=(instruction("rivet_length_rounding"), *limited)))
        lines.append(line(said("card.rivet.set_two"), said("card.rivet.comes_short")))
        lines += _gun(hole, layout.shop)
    for rivets in unlisted_rivets(layout):
        lines.append(line(said("card.rivet.not_known", rivet=rivets.name, grip=inch(rivets.grip_in))))
    if work.recipe.task("bring_in"):
        lines.append(line(said("card.rivet.back_in")))
    lines += stop_lines(bar_stop(layout, layout.holes_of("rivet")), "bar")
    way = layout.job.bay.way_in
    bucked = (said("card.rivet.bucked_through", way=way),) if way else ()
    lines.append(line(said("card.rivet.heads"), *bucked, rests_on=(PRACTICE,)))
    lines.append(line(said("card.rivet.order"), rests_on=(PRACTICE,)))
    lines += held_lines(task)
    for order in rivet_orders(layout):
        lines.append(line(said("card.rivet.first", numbers=_in_turn(order.first))))
        if order.last:
            lines.append(line(said("card.rivet.last", numbers=_in_turn(order.last))))
    lines.append(asked("rivet_set_cup"))
    blanks = said("card.rivet.length_chosen"), said("card.rivet.lot")
    return Step(said("card.rivet.title"), tuple(lines), blanks)


def started_with(rivet: str, diameter_in: float, head: ShopHead) -> Said:
    """One rivet to start with, and the shop head that it makes.

    Args:
        rivet: with its length.
        diameter_in: of its shank [in].
    """
    ratio = Amount(head.diameter_in / diameter_in, "D")
    wide, high = inch(head.diameter_in), inch(HEAD_HEIGHT_RATIO * diameter_in)
    return said("card.rivet.start", rivet=rivet, diameter=wide, height=high, ratio=ratio)


def _gun(hole: Hole, shop: ShopTables | None) -> Iterator[Line]:
    """The pressure to begin with, where one is listed for the size."""
    try:
        found = gun_pressure(hole.diameter_in, shop)
    except TableError:
        return
    size = inch(hole.diameter_in)
    yield line(said("card.rivet.gun", size=size, pressure=Amount(found.value, "psi")), rests_on=(found,))


def _in_turn(numbers: tuple[int, ...]) -> Listed:
    return Listed(numbers, ",")


def _inspect(task: Task, work: Work) -> Step:
    """Shop heads, as each document limits them."""
    layout = work.layout
    lines: list[Line] = []
    kinds = {(hole.fastener, hole.nominal_in or 0.0) for hole in layout.holes_of("rivet")}
    for part, size_in in sorted(kinds):
        try:
            heads = driven_head_limits(size_in, letters=parse_rivet(part).letters, shop=layout.shop)
        except (EntryError, TableError):
            lines.append(line(said("card.inspect.unlisted", rivet=part)))
            continue
        lines += shop_head_lines(part, heads)
    feeler, gap = layout.limit("head_gap_feeler"), layout.limit("rivet_head_gap")
    lines.append(asked("no_cracks_in_driven_rivet"))
    lines.append(line(said("card.inspect.seated", feeler=inch(feeler.value)), rests_on=(gap, feeler)))
    share = layout.limit("oversize_repair_limit_fraction")
    count = Amount(layout.limit("oversize_repair_limit_count").value, "")
    beside = Amount(layout.limit("oversize_adjacent_limit").value, "")
    percent = Amount(100.0 * share.value, "")
    most = said("card.inspect.next_size", share=percent, count=count, adjacent=beside)
    lines.append(asked("rivet_removal"))
    lines.append(line(said("card.inspect.drill_out"), most, rests_on=(share,)))
    return Step(said("card.inspect.title"), tuple(lines), (said("card.inspect.replaced"),))


def shop_head_lines(rivet: str, heads: Sequence[DrivenHead]) -> Iterator[Line]:
    """The limits that hold in every document; each document's own where no head can be within all of them."""
    tightest = shop_head_limits(heads)
    if tightest is not None:
        asks = Listed(tuple(tightest), ",")
        yield line(said("card.inspect.head", rivet=rivet, limits=asks), rests_on=heads)
        return
    for head in heads:
        asks = Listed(tuple(shop_head_limits([head]) or ()), ",")
        yield line(
            said("card.inspect.head_by", rivet=rivet, document=head.document, limits=asks), rests_on=(head,)
        )


def shop_head_limits(heads: Sequence[DrivenHead]) -> list[Said] | None:
    """The narrowest limits of some documents, never rounded in the passing direction; where none gives any, what they
    aim at; None where they leave nothing between them."""
    told: list[Said] = []
    for of, name in (("diameter", "head"), ("height", "height")):
        aim, least, most = (
            [size_in for head in heads if (size_in := getattr(head, f"{name}_{end}_in")) is not None]
            for end in ("aim", "min", "max")
        )
        if least and most and max(least) > min(most) + FLOAT_NOISE:
            return None
        told += [said(f"card.head.{of}_min", size=missing(max(least)))] if least else []
        told += [said(f"card.head.{of}_max", size=room(min(most)))] if most else []
        told += [said(f"card.head.{of}_target", size=inch(aim[0]))] if aim and not least + most else []
    return told


RIVETS: Tellers = {"rivet": _rivet, "inspect": _inspect}
