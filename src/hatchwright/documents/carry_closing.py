"""Carried steps that protect the parts, put the cover on and close up, with the holds before both."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.carry_lines import carried, stop_told
from hatchwright.documents.step import Carried, Carriers, Check, Work
from hatchwright.errors import TableError
from hatchwright.job.fasteners import Screws, cover_nuts
from hatchwright.job.finish import Finish
from hatchwright.layout.mass import WeightChange, weight_change
from hatchwright.layout.named import head_named
from hatchwright.recipe.stops import screw_stop
from hatchwright.recipe.task import Task
from hatchwright.said import Amount, Said, Value, inch, said
from hatchwright.tables.screws import torque
from hatchwright.tables.sealants import sealant
from hatchwright.tables.table import ShopTables


def _protection(task: Task, work: Work) -> Carried:
    job, finish = work.layout.job, work.layout.job.finish
    told = [
        said("carry.protection.treat", treatment=finish.treatment)
        if finish.treatment
        else said("carry.protection.treat_usual")
    ]
    told.append(_primed(finish))
    told += _sealed(finish, work.layout.shop)
    if job.cover is not None and job.cover.screws is not None and job.cover.screws.steel:
        told.append(said("carry.protection.dissimilar"))
    batches = ("primer",) if finish.unsealed else ("primer", "sealant")
    checks = [Check("reading", said(f"carry.protection.{batch}")) for batch in batches]
    checks.append(Check("hold", said("carry.hold.faying")))
    return carried(said("card.protection.title"), told, checks=checks)


def _primed(finish: Finish) -> Said:
    """The shop's primer; until one is chosen, the greater of two counts of coats."""
    if not finish.primer:
        return said("carry.prime.two_coats")
    if finish.coats is None:
        return said("card.prime.chosen", primer=finish.primer)
    return said("card.prime.chosen_coats", primer=finish.primer, n=finish.coats)


def _sealed(finish: Finish, shop: ShopTables | None) -> Iterator[Said]:
    if finish.unsealed:
        yield said("card.seal.none")
        return
    if not (finish.sealant or finish.dash):
        yield said("carry.seal.open")
        return
    yield said("card.seal.chosen", sealant=" ".join(filter(None, (finish.sealant, finish.dash))))
    try:
        found = sealant(finish.dash, shop)
    except TableError:
        yield said("card.seal.times_not_known")
    else:
        yield said("carry.seal.times", driven=Amount(found.to_drive_h, ""))


def _cover(task: Task, work: Work) -> Carried:
    layout, cover = work.layout, work.layout.job.cover
    assert cover is not None  # the task is of the recipe only then
    screws, told, checks = cover.screws, list[Value](), list[Check]()
    if cover.gap is not None:
        checks.append(Check("tick", said("carry.gap_all"), inch(cover.gap.inch)))
    if screws is not None:
        count = len(layout.holes_of("screw"))
        told.append(
            said("carry.cover.clip_nuts", count=count)
            if screws.nut == "clip nut"
            else said("carry.cover.start")
        )
        told += stop_told(screw_stop(layout), "screw")[0]
        if screws.nut not in cover_nuts():
            told.append(said("card.ears.not_shown", lack=said("unlisted.nut", name=screws.nut)))
        checks += torque_checks(screws.size, layout.shop)
        what = _screws(screws, count)
    else:
        what = said("card.cover.title")
    checks.append(Check("tick", said("carry.flat")))
    return carried(what, told, checks=checks)


def _screws(screws: Screws, count: int) -> Said:
    names: dict[str, Value] = {"count": count, "size": screws.size, "head": head_named(screws)}
    if screws.length is None:
        return said("carry.cover.screws", **names)
    return said("carry.cover.screws_of_length", length=screws.length.text, **names)


def torque_checks(size: str, shop: ShopTables | None) -> Iterator[Check]:
    """The running torque as measured, and what is set over it where a table lists it."""
    yield Check("reading", said("carry.torque.running"))
    try:
        found = torque(size, shop=shop)
    except TableError:
        yield Check("reading", said("carry.torque.by_manual"))
        return
    least, most = Amount(found.least_in_lbf, "in-lb"), Amount(found.greatest_in_lbf, "in-lb")
    yield Check("tick", said("carry.torque.over"), said("carry.torque.range", least=least, most=most))


def _close(task: Task, work: Work) -> Carried:
    told = [said("carry.close.look")]
    told += [said("carry.close.runs")] if any(one.is_moving for one in work.layout.job.bay.keep_outs) else []
    told.append(_weight(weight_change(work.layout)))
    checks = (
        Check("initials", said("carry.close.counted_out")),
        Check("initials", said("carry.close.weight")),
        Check("hold", said("carry.hold.close")),
    )
    return carried(said("carry.close"), told, checks=checks)


def _weight(change: WeightChange) -> Said:
    """What goes into the weight and balance record."""
    way = "adds" if change.total_lb >= 0.0 else "takes_off"
    out, total = Amount(change.uncertainty_lb, "lb", toward="up"), Amount(abs(change.total_lb), "lb")
    id = f"carry.weight.{way}" + ("_without" if change.not_weighed else "")
    return said(id, total=total, out=out)


CARRIED_CLOSING: Carriers = {"protection": _protection, "cover": _cover, "close": _close}
