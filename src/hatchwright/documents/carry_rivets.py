"""Carried steps of the rivets: one length to start with, how they are driven, and one least shop head."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from hatchwright.documents.carry_lines import carried, held_told, stop_told
from hatchwright.documents.rivet_lengths import first_ear_length, first_lengths
from hatchwright.documents.rivet_steps import shop_head_limits
from hatchwright.documents.step import Carried, Carriers, Check, Work
from hatchwright.errors import EntryError, TableError
from hatchwright.recipe.cover_hardware import cover_hardware
from hatchwright.recipe.fastener_choice import heads_asked, unlisted_rivets
from hatchwright.recipe.riveting import rivet_orders
from hatchwright.recipe.stops import bar_stop
from hatchwright.recipe.task import Task
from hatchwright.said import Amount, Listed, Said, Value, inch, missing, said
from hatchwright.tables.driven_heads import DrivenHead, driven_head_limits
from hatchwright.tables.rivet_guns import gun_pressure
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.table import ShopTables


def _nutplates(task: Task, work: Work) -> Carried:
    layout, cover = work.layout, cover_hardware(work.layout)
    assert cover is not None  # the task is of the recipe only with nutplates
    assert cover.rivets is not None
    choice, nuts = cover.rivets.choice, cover.nuts
    told: list[Value] = []
    if cover.rivets.seat.unlisted:
        told.append(said("card.ears.not_shown", lack=cover.rivets.seat.unlisted))
    elif choice is None:
        told.append(said("card.nutplate.no_rivet"))
    else:
        if (head := first_ear_length(choice)) is not None:
            told.append(_started_with(str(head.rivet), heads_asked(choice.part, layout.shop)))
        told.append(said("carry.nutplates.ear", ear=inch(cover.rivets.seat.ear_in)))
    told.append(said("carry.nutplates.heads"))
    checks = (
        Check("reading", said("carry.rivet.length")),
        Check("tick", said("carry.nutplates.run"), str(nuts.count)),
    )
    return carried(said("card.nutplate.title"), told, checks=checks)


def _started_with(rivet: str, asks: Sequence[DrivenHead]) -> Said:
    """One length, and when to take one longer."""
    least = _least(asks, "head_min_in")
    if least is None:
        return said("carry.rivet.start_alone", rivet=rivet)
    return said("carry.rivet.start", rivet=rivet, least=least)


def _least(asks: Sequence[DrivenHead], what: str) -> Amount | None:
    """The strictest least of some documents, rounded up; None where none gives one [in]."""
    found = [size_in for one in asks if (size_in := getattr(one, what)) is not None]
    return missing(max(found)) if found else None


def _rivet(task: Task, work: Work) -> Carried:
    layout = work.layout
    rivets = layout.holes_of("rivet")
    told: list[Value] = []
    told += [_started_with(str(one.head.rivet), one.asks) for one in first_lengths(layout)]
    told += [
        said("carry.rivet.not_known", rivet=one.name, grip=inch(one.grip_in))
        for one in unlisted_rivets(layout)
    ]
    listed = [hole for hole in rivets if hole.nominal_in is not None]
    told += _gun(dict.fromkeys(hole.diameter_in for hole in listed), layout.shop)
    if any(not parse_rivet(hole.fastener).is_flush for hole in listed):
        told.append(said("carry.rivet.set"))
    told.append(said("carry.rivet.heads"))
    if way := layout.job.bay.way_in:
        told.append(said("card.rivet.bucked_through", way=way))
    reach, _ = stop_told(bar_stop(layout, rivets), "bar")
    told += [*reach, *held_told(task), said("carry.rivet.order")]
    told += [said("carry.rivet.from", numbers=Listed(order.first[:4], ",")) for order in rivet_orders(layout)]
    checks = Check("reading", said("carry.rivet.length")), Check("reading", said("card.rivet.lot"))
    return carried(said("carry.rivet"), told, checks=checks)


def _gun(sizes_in: Iterable[float], shop: ShopTables | None) -> Iterator[Said]:
    """The pressure to begin with, where one is listed for the size."""
    for size_in in sizes_in:
        try:
            found = gun_pressure(size_in, shop)
        except TableError:
            continue
        yield said("carry.rivet.gun", pressure=Amount(found.value, "psi"))


def _inspect(task: Task, work: Work) -> Carried:
    """One least diameter and one least height, the strictest of the documents, for each kind of rivet."""
    layout = work.layout
    told, checks = list[Value](), list[Check]()
    kinds = sorted({(hole.fastener, hole.nominal_in or 0.0) for hole in layout.holes_of("rivet")})
    for part, size_in in kinds:
        try:
            heads = driven_head_limits(size_in, letters=parse_rivet(part).letters, shop=layout.shop)
        except (EntryError, TableError):
            told.append(said("card.inspect.unlisted", rivet=part))
            continue
        if shop_head_limits(heads) is None:
            told.append(said("carry.inspect.differ", rivet=part))
            continue
        checks += _head_checks(part if len(kinds) > 1 else "", heads)
    feeler = inch(layout.limit("head_gap_feeler").value)
    checks.append(Check("tick", said("carry.inspect.seated"), feeler))
    checks.append(Check("reading", said("carry.inspect.replaced")))
    told.append(said("carry.inspect.bad"))
    return carried(said("card.inspect.title"), told, checks=checks)


def _head_checks(rivet: str, heads: Sequence[DrivenHead]) -> Iterator[Check]:
    """The least that a gauge lets pass; what the documents aim at where they give no least."""
    of = "_of" if rivet else ""
    for name, which in (("diameter", "head"), ("height", "height")):
        if least := _least(heads, f"{which}_min_in"):
            yield Check("tick", said(f"carry.inspect.{name}{of}", rivet=rivet), least)
        elif aims := [aim for one in heads if (aim := getattr(one, f"{which}_aim_in")) is not None]:
            yield Check("tick", said(f"carry.inspect.{name}_target{of}", rivet=rivet), inch(aims[0]))


CARRIED_RIVETS: Carriers = {"nutplates": _nutplates, "rivet": _rivet, "inspect": _inspect}
