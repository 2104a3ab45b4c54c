"""Steps of the work card that protect the parts, put the cover on and close up."""

from __future__ import annotations

from hatchwright.documents.step import PRACTICE, Line, Step, Tellers, Work, asked, line
from hatchwright.errors import TableError
from hatchwright.job.fasteners import Screws, cover_nuts
from hatchwright.layout.named import head_named, nut_named
from hatchwright.recipe.task import Task
from hatchwright.said import Amount, Said, Value, inch, said
from hatchwright.tables.instructions import instruction
from hatchwright.tables.screws import torque
from hatchwright.tables.table import ShopTables


def _protection(task: Task, work: Work) -> Step:
    job = work.layout.job
    outside = job.doubler is not None and job.doubler.face == "outside"
    has_steel = job.cover is not None and job.cover.screws is not None and job.cover.screws.steel
    steel = (asked("corrosion_step_5"), line(said("steel_screws.install_wet"))) if has_steel else ()
    before = map(asked, ("corrosion_step_1", "corrosion_step_2", "corrosion_step_3"))
    # documents differ on how many coats, and the card names one number, the greater, that meets both
    coats, both = said("card.prime.two_coats"), map(instruction, ("corrosion_step_4", "corrosion_step_7"))
    primed = line(coats, said("card.prime.one_coat_elsewhere"), rests_on=both)
    sealed = (asked("corrosion_step_8"),) if outside else ()
    lines = (*before, primed, *sealed, *steel, asked("rivets_not_watertight"))
    blanks = said("card.protection.primer"), said("card.protection.sealant")
    return Step(said("card.protection.title"), lines, blanks)


def _cover(task: Task, work: Work) -> Step:
    layout, cover = work.layout, work.layout.job.cover
    assert cover is not None  # the task is of the recipe only then
    screws = cover.screws
    lines: list[Line] = []
    if cover.gap is not None:
        lines.append(line(said("card.cover.gap", gap=inch(cover.gap.inch))))
    if screws is not None:
        count = len(layout.holes_of("screw"))
        lines.append(line(_screws(screws, count), said("card.cover.start_by_hand")))
        if screws.nut == "clip nut":
            lines.append(line(said("card.cover.clip_nuts", count=count)))
        lines.append(_torque(screws, layout.shop))
        keys = ("torque_when_no_maker_value", "torque_clean_dry", "torque_wrench_calibration", "lock_washers")
        lines += [asked(key) for key in keys]
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


def _torque(screws: Screws, shop: ShopTables | None) -> Line:
    try:
        found = torque(screws.size, shop=shop)
    except TableError:
        return line(said("card.cover.no_torque", size=screws.size))
    least, most = Amount(found.least_in_lbf, "in-lb"), Amount(found.greatest_in_lbf, "in-lb")
    return line(said("card.cover.torque", least=least, most=most), rests_on=(found,))


def _close(task: Task, work: Work) -> Step:
    look, count_out = line(said("card.close.look")), line(said("card.close.count_out"), rests_on=(PRACTICE,))
    blanks = said("card.close.counted_out"), said("card.close.second_person")
    return Step(said("card.close.title"), (look, count_out, asked("inspect_adjacent_rivets")), blanks)


CLOSING: Tellers = {"protection": _protection, "cover": _cover, "close": _close}
