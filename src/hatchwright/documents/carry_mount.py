"""Carried steps of a mounted part and of a plain hole: bracket, base holes, fitting, proof, grommet and wires."""

from __future__ import annotations

from hatchwright.documents.carry_closing import torque_checks
from hatchwright.documents.carry_lines import by_hand, carried, drilling, off_place, stop_told
from hatchwright.documents.mount_steps import SCREWS, answered, loads_to_hold
from hatchwright.documents.step import Carried, Carriers, Check, Work
from hatchwright.drawings.parts_table import sheet_of
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.bracket import bracket_flat
from hatchwright.recipe.base_holes import base_drill
from hatchwright.recipe.hole_drills import drill_named
from hatchwright.recipe.stops import base_screw_stop
from hatchwright.recipe.task import Task
from hatchwright.said import Amount, Listed, Place, Said, inch, said
from hatchwright.tables.wiring import wire_clearances


def _bracket(task: Task, work: Work) -> Carried:
    layout, mount = work.layout, work.layout.job.mount
    bracket = mount.bracket if mount else None
    assert bracket is not None  # the task is of the recipe only then
    flat = bracket_flat(bracket, layout.shop)
    sheet = sheet_of(bracket.alloy, bracket.temper, bracket.thickness.inch, clad=bracket.clad)
    blanks = Listed(tuple(inch(by_hand(one, layout)) for one in flat.developed_in), "or")
    told = (
        said(
            "carry.bracket.sheet",
            sheet=sheet,
            radius=inch(bracket.radius.inch),
            angle=Amount(bracket.angle, ""),
        ),
        said("carry.bracket.blank", blank=blanks),
        said("carry.bracket.grain"),
    )
    legs = (Check("reading", said("carry.bracket.leg"), inch(leg.inch)) for leg in bracket.legs)
    return carried(said("card.bracket.title"), told, checks=legs)


def _drill_base(task: Task, work: Work) -> Carried:
    """Through the base's own holes, set on its marks."""
    layout, mount = work.layout, work.layout.job.mount
    assert mount is not None  # the task is of the recipe only then
    places = Listed(tuple(Place(*hole.place) for hole in base_screw_holes(layout)), ";")
    told = [said("carry.drill_base.mark" if places.items else "carry.drill_base.mark_center", places=places)]
    told.append(said("carry.drill_base.guide"))
    if mount.screw_pattern is None or not mount.screw_size:
        told.append(said("card.drill_base.not_entered"))
    if drill := base_drill(layout):
        told.append(
            said("carry.drill_base.drill", drill=drill_named(drill), count=SCREWS, size=mount.screw_size)
        )
    elif mount.screw_size:
        told.append(said("card.drill_base.no_drill", size=mount.screw_size))
    return carried(said("card.drill_base.title"), told, drilling(task, layout), checks=(off_place(),))


def _fit_mount(task: Task, work: Work) -> Carried:
    """Connector, bond and screws, and the seal around it once the bond is measured."""
    mount = work.layout.job.mount
    assert mount is not None  # the task is of the recipe only then
    through = mount.kind if mount.kind in ("antenna", "camera") else "other"
    told = [
        said(f"carry.fit_mount.through.{through}"),
        said(f"carry.fit_mount.bond.{answered(mount.bonded)}"),
    ]
    checks = [Check("reading", said("card.fit_mount.bond_measured"))] if mount.bonded else []
    if mount.screw_size:
        told.append(said("carry.fit_mount.screws", count=SCREWS, size=mount.screw_size))
        told += stop_told(base_screw_stop(work.layout), "base_screw")[0]
        checks += torque_checks(mount.screw_size, work.layout.shop)
    told.append(said(f"carry.fit_mount.seal.{answered(mount.sealed)}"))
    return carried(said("card.fit_mount.title"), told, checks=checks)


def _mount(task: Task, work: Work) -> Carried:
    """Each load that it is shown to hold, as far as it is known."""
    layout, mount = work.layout, work.layout.job.mount
    assert mount is not None  # the task is of the recipe only then
    loads = tuple(loads_to_hold(mount, layout.shop))
    told: list[Said] = [said("carry.mount.how")] if loads else [said("card.mount.nothing_entered")]
    held = (
        Check(
            "tick",
            said("carry.mount.held", direction=said(f"card.direction.{direction}")),
            said("carry.amount", amount=load),
        )
        for direction, load in loads
    )
    return carried(said("card.mount.title"), told, checks=held)


def _hole_edge(task: Task, work: Work) -> Carried:
    layout, hole = work.layout, work.layout.job.plain_hole
    assert hole is not None  # the task is of the recipe only then
    asks, has_grommet = wire_clearances(layout.shop), hole.edge == "grommet"
    told, checks = list[Said](), list[Check]()
    if has_grommet:
        checks.append(_groove(work))
        told.append(said("carry.hole_edge.fit"))
    if hole.wires:
        told.append(said("carry.hole_edge.tie", apart=Amount(asks.support_ft.value, "ft")))
        if not has_grommet:
            checks.append(Check("reading", said("carry.hole_edge.clear"), inch(asks.hole_edge_in.value)))
    title = said("card.hole_edge.grommet_title" if has_grommet else "card.hole_edge.wires_title")
    return carried(title, told, checks=checks)


def _groove(work: Work) -> Check:
    """What the groove of the grommet takes; where the doubler has a window of its own, the sheet that shows decides."""
    skin_in, doubler = work.layout.parts[0].thickness_in, work.layout.part("doubler")
    if doubler is None:
        return Check("tick", said("carry.hole_edge.groove"), inch(skin_in))
    if doubler.edges[-1].loop != work.layout.opening:
        return Check("reading", said("carry.hole_edge.groove_open"))
    return Check("tick", said("carry.hole_edge.groove"), inch(skin_in + doubler.thickness_in))


CARRIED_MOUNT: Carriers = {
    "bracket": _bracket,
    "drill_base": _drill_base,
    "fit_mount": _fit_mount,
    "mount": _mount,
    "hole_edge": _hole_edge,
}
