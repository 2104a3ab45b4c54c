"""Steps at length that protect the parts, put the cover on and close up."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.step import PRACTICE, Line, Step, Tellers, Work, asked, line
from hatchwright.documents.stop_lines import stop_lines
from hatchwright.errors import TableError
from hatchwright.job.fasteners import Screws, cover_nuts
from hatchwright.job.finish import Finish
from hatchwright.layout.named import head_named, nut_named
from hatchwright.recipe.stops import screw_stop
from hatchwright.recipe.task import Task
from hatchwright.said import Amount, Said, Value, inch, said
from hatchwright.tables.instructions import instruction
from hatchwright.tables.screws import torque
from hatchwright.tables.sealants import sealant, sealant_class, sealing
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Rests


def _protection(task: Task, work: Work) -> Step:
    job, finish = work.layout.job, work.layout.job.finish
    outside = job.doubler is not None and job.doubler.face == "outside"
    has_steel = job.cover is not None and job.cover.screws is not None and job.cover.screws.steel
    lines = [asked("corrosion_step_1"), *_treated(finish), asked("corrosion_step_3"), *_primed(finish)]
    lines += _sealed(finish, work.layout.shop)
    lines += [asked("corrosion_step_8")] if outside else []
    lines += [asked("corrosion_step_5"), line(said("card.protection.wet"))] if has_steel else []
    batches = ("primer",) if finish.unsealed else ("primer", "sealant")
    blanks = tuple(said(f"card.protection.{batch}") for batch in batches)
    return Step(said("card.protection.title"), tuple(lines), blanks)


def _treated(finish: Finish) -> Iterator[Line]:
    if finish.treatment:
        yield line(said("card.protection.treatment", treatment=finish.treatment))
    else:
        yield asked("corrosion_step_2")


def _primed(finish: Finish) -> Iterator[Line]:
    """The shop's primer; until one is chosen what the documents ask, the greater of two counts of coats."""
    both = tuple(map(instruction, ("corrosion_step_4", "corrosion_step_7")))
    if not finish.primer:
        coats = said("card.prime.two_coats"), said("card.prime.one_coat_elsewhere")
        yield line(*coats, rests_on=both)
    elif finish.coats is None:
        yield line(said("card.prime.chosen", primer=finish.primer), rests_on=both)
    else:
        yield line(said("card.prime.chosen_coats", primer=finish.primer, n=finish.coats), rests_on=both)


def _sealed(finish: Finish, shop: ShopTables | None) -> Iterator[Line]:
    """The shop's sealant with its times, where a source gives them; what is asked until one is chosen."""
    if finish.unsealed:
        yield Line((said("card.seal.none"), *asked("rivets_not_watertight").words))
        return
    asks = sealing(shop)
    if not (finish.sealant or finish.dash):
        yield line(said("card.seal.open"), rests_on=(instruction("corrosion_step_6"), asks.faying))
        return
    told = [said("card.seal.chosen", sealant=" ".join(filter(None, (finish.sealant, finish.dash))))]
    rests: list[Rests] = [asks.faying, asks.wet_rivets]
    try:
        found = sealant(finish.dash, shop)
    except TableError:
        told.append(said("card.seal.times_not_known"))
    else:
        laid, driven = Amount(found.application_h, ""), Amount(found.to_drive_h, "")
        warm = Amount(asks.metal_degf.value, "")
        told += [said("card.seal.times", laid=laid, driven=driven), said("card.seal.warm", warm=warm)]
        rests += [found, asks.in_time, asks.metal_degf]
        of_class = sealant_class(found.sealant_class, shop)
        how = said(
            "card.seal.how",
            sealant_class=of_class.sealant_class,
            use=of_class.use,
            at_once=Amount(asks.fillet_ft.value, "ft"),
        )
        yield line(how, rests_on=(of_class, asks.fillet_ft))
    yield line(*told, rests_on=rests)
    around, cure = inch(asks.overcoat_in.value), Amount(asks.cure_h.value, "")
    yield line(said("card.seal.after", around=around, cure=cure), rests_on=(asks.overcoat_in, asks.cure_h))


def _cover(task: Task, work: Work) -> Step:
    layout, cover = work.layout, work.layout.job.cover
    assert cover is not None  # the task is of the recipe only then
    screws = cover.screws
    lines: list[Line] = []
    if cover.gap is not None:
        lines.append(line(said("card.cover.gap", gap=inch(cover.gap.inch))))
    if screws is not None:
        count = len(layout.holes_of("screw"))
        if screws.nut == "clip nut":
            lines.append(line(said("card.cover.clip_nuts", count=count)))
        lines.append(line(_screws(screws, count), said("card.cover.start_by_hand")))
        lines += stop_lines(screw_stop(layout), "screw")
        lines += torque_lines(screws.size, layout.shop)
        lines += [asked("lock_washers")] if _takes_lock_washer(screws) else []
        if screws.nut not in cover_nuts():
            lines.append(line(said("card.ears.not_shown", lack=said("unlisted.nut", name=screws.nut))))
        if screws.nutplate:
            lines.append(line(said("self_locking.not_each_flight")))
    blanks = (said("card.cover.running_torque"), said("card.cover.torque_set"), said("card.cover.flat"))
    return Step(said("card.cover.title"), tuple(lines), blanks)


def _screws(screws: Screws, count: int) -> Said:
    names: dict[str, Value] = {"size": screws.size, "head": head_named(screws), "nut": nut_named(screws)}
    if screws.length is None:
        return said("card.cover.screws", count=count, **names)
    return said("card.cover.screws_of_length", count=count, length=inch(screws.length.inch), **names)


def _takes_lock_washer(screws: Screws) -> bool:
    """Whether one may be put under the head or nut: a flush or washer head takes none, a nutplate locks by itself."""
    return screws.nutplate is None and screws.head not in ("100 degree flush", "washer")


def torque_lines(size: str, shop: ShopTables | None) -> Iterator[Line]:
    """Torque of a screw over its running torque, where a table lists one, and what that holds for."""
    try:
        found = torque(size, shop=shop)
    except TableError:
        yield line(said("card.cover.no_torque", size=size))
        yield asked("torque_clean_dry")
        return
    least, most = Amount(found.least_in_lbf, "in-lb"), Amount(found.greatest_in_lbf, "in-lb")
    yield line(said("card.cover.torque", least=least, most=most), rests_on=(found,))
    yield from map(asked, ("torque_when_no_maker_value", "torque_clean_dry", "torque_wrench_calibration"))


def _close(task: Task, work: Work) -> Step:
    look, count_out = line(said("card.close.look")), line(said("card.close.count_out"), rests_on=(PRACTICE,))
    blanks = said("card.close.counted_out"), said("card.close.second_person")
    moving = any(one.is_moving for one in work.layout.job.bay.keep_outs)
    runs = (asked("cable_run_inspection"), asked("wire_near_controls")) if moving else ()
    return Step(said("card.close.title"), (look, *runs, count_out, asked("inspect_adjacent_rivets")), blanks)


CLOSING: Tellers = {"protection": _protection, "cover": _cover, "close": _close}
