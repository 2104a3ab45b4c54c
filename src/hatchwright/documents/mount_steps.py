"""Steps at length for a mounted part: its bracket, its screw holes, fitting it, and proving that it holds."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.closing_steps import torque_lines
from hatchwright.documents.made_lines import held_lines
from hatchwright.documents.step import PRACTICE, Step, Tellers, Work, asked, line
from hatchwright.documents.stop_lines import stop_lines
from hatchwright.drawings.parts_table import sheet_of
from hatchwright.job.mount import Mount
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.bracket import bracket_flat
from hatchwright.layout.mount_loads import MountLoad, drag_load, static_loads
from hatchwright.recipe.base_holes import base_drill
from hatchwright.recipe.hole_drills import drill_said
from hatchwright.recipe.stops import base_screw_stop
from hatchwright.recipe.task import Task
from hatchwright.said import Amount, Listed, Place, Said, Value, inch, said
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables

SCREWS = 4
"""A base has one screw at each corner of its pattern."""


def _bracket(task: Task, work: Work) -> Step:
    """How the bracket of the mount is laid out and bent."""
    layout, mount = work.layout, work.layout.job.mount
    bracket = mount.bracket if mount else None
    assert bracket is not None  # the task is of the recipe only then
    flat = bracket_flat(bracket, layout.shop)
    bend, flats = said("card.bracket.bend"), [inch(one) for one in flat.flats_in]
    between = Listed((flats[0], *(piece for one in flats[1:] for piece in (bend, one))), "+")
    sheet = sheet_of(bracket.alloy, bracket.temper, bracket.thickness.inch, clad=bracket.clad)
    radius, angle = inch(bracket.radius.inch), Amount(bracket.angle, "")
    setback = said("card.bracket.setback", setback=inch(flat.setback.value), formula=flat.setback.note)
    told = said("card.bracket.sheet", sheet=sheet, radius=radius, angle=angle)
    lines = [line(told, setback, rests_on=(flat.setback,)), line(said("card.bracket.flats", flats=between))]
    for one, developed_in in zip(flat.allowances, flat.developed_in, strict=True):
        allowance, blank = inch(one.value), inch(developed_in)
        told = said("card.bracket.allowance", allowance=allowance, formula=one.note, blank=blank)
        lines.append(line(told, rests_on=(one,)))
    lines += [asked("bend_across_grain"), line(said("card.bracket.trial"))]
    blanks = tuple(said("card.bracket.leg", leg=inch(leg.inch)) for leg in bracket.legs)
    return Step(said("card.bracket.title"), tuple(lines), blanks)


def _drill_base(task: Task, work: Work) -> Step:
    """The screw holes of the base, through skin and doubler, with the base as their guide."""
    layout, mount = work.layout, work.layout.job.mount
    assert mount is not None  # the task is of the recipe only then
    places = Listed(tuple(Place(*hole.place) for hole in base_screw_holes(layout)), ";")
    marks = (
        said("card.drill_base.mark", places=places) if places.items else said("card.drill_base.mark_center")
    )
    lines = [
        line(marks, rests_on=(PRACTICE,)),
        line(said("card.drill_base.guide"), said("card.drill_base.square"), rests_on=(PRACTICE,)),
    ]
    if mount.screw_pattern is None or not mount.screw_size:
        lines.append(line(said("card.drill_base.not_entered")))
    else:
        x, y = (inch(length.inch) for length in mount.screw_pattern)
        lines.append(line(said("card.drill_base.pattern", count=SCREWS, size=mount.screw_size, x=x, y=y)))
    if drill := base_drill(layout):
        lines.append(line(said("card.drill_base.drill", drill=drill_said(drill)), rests_on=(drill,)))
    elif mount.screw_size:
        lines.append(line(said("card.drill_base.no_drill", size=mount.screw_size)))
    lines += held_lines(task)
    lines += stop_lines(task.stop)
    lines.append(line(said("card.drill_base.deburr")))
    return Step(said("card.drill_base.title"), tuple(lines), (said("card.pilot.off_place"),))


def _fit_mount(task: Task, work: Work) -> Step:
    """The part on its base: connector, bond and screws, and the seal around it once the bond is measured."""
    mount = work.layout.job.mount
    assert mount is not None  # the task is of the recipe only then
    through = "antenna" if mount.kind == "antenna" else "camera" if mount.kind == "camera" else "other"
    lines = [
        line(said(f"card.fit_mount.through.{through}")),
        line(said(f"card.fit_mount.bond.{answered(mount.bonded)}")),
    ]
    if mount.screw_size:
        lines.append(line(said("card.fit_mount.screws", count=SCREWS, size=mount.screw_size)))
        lines += stop_lines(base_screw_stop(work.layout), "base_screw")
        lines += torque_lines(mount.screw_size, work.layout.shop)
    lines.append(line(said(f"card.fit_mount.seal.{answered(mount.sealed)}")))
    bond = (said("card.fit_mount.bond_measured"),) if mount.bonded else ()
    blanks = (*bond, said("card.cover.running_torque"), said("card.cover.torque_set"))
    return Step(said("card.fit_mount.title"), tuple(lines), blanks)


def answered(answer: bool | None) -> str:
    """What was answered, for the names of sentences."""
    return "not_known" if answer is None else "yes" if answer else "no"


def _mount(task: Task, work: Work) -> Step:
    """What the mounted part is shown to hold, as far as its weight, area and speed are given."""
    layout, mount = work.layout, work.layout.job.mount
    assert mount is not None  # the task is of the recipe only then
    drag = drag_load(mount, layout.shop) if mount.kind == "antenna" else None
    static = static_loads(mount, layout.shop)
    lines, blanks = [], list[Value]()
    if not static and drag is None:
        lines.append(line(said("card.mount.nothing_entered")))
    for load in static:
        where, (factor, weight) = _where_and_what(load), load.working.values
        times, of = Amount(factor.value, ""), Amount(weight.value, weight.unit)
        told = said("card.mount.static", **where, factor=times, weight=of)
        lines.append(line(told, rests_on=(load.working,)))
        blanks.append(said("card.mount.held", **where))
    if drag is not None:
        safety, (area, speed) = limit("factor_of_safety", layout.shop), drag.working.values
        told = said(
            "card.mount.drag",
            **_where_and_what(drag),
            safety=Amount(safety.value, ""),
            coefficient=f"{drag.working.result.value / (area.value * speed.value**2):.4g}",
            area=Amount(area.value, area.unit),
            speed=Amount(speed.value, speed.unit),
        )
        lines.append(line(told, rests_on=(drag.working, safety)))
        blanks.append(said("card.mount.held", **_where_and_what(drag)))
    lines.append(line(said("card.mount.how"), rests_on=(PRACTICE,)))
    return Step(said("card.mount.title"), tuple(lines), tuple(blanks))


def loads_to_hold(mount: Mount, shop: ShopTables | None) -> Iterator[tuple[str, Amount]]:
    """The direction of each load that the part is shown to hold, and the load; none while nothing was entered."""
    drag = drag_load(mount, shop) if mount.kind == "antenna" else None
    for load in (*static_loads(mount, shop), *((drag,) if drag else ())):
        yield load.direction, Amount(load.load_lbf, "lbf", toward="up")


def _where_and_what(load: MountLoad) -> dict[str, Said | Amount]:
    """Its direction, and the load as the rule that asks for it tells it, never rounded down."""
    direction, held = said(f"card.direction.{load.direction}"), Amount(load.load_lbf, "lbf", toward="up")
    return {"direction": direction, "load": held}


MOUNT: Tellers = {
    "bracket": _bracket,
    "drill_base": _drill_base,
    "fit_mount": _fit_mount,
    "mount": _mount,
}
