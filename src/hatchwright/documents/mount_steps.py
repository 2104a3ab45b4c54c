"""Steps of the work card for a mounted part: forming its bracket, and proving that it holds."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.documents.step import PRACTICE, Step, asked, line
from hatchwright.drawings.parts_table import sheet_of
from hatchwright.layout.bracket import bracket_flat
from hatchwright.layout.layout import Layout
from hatchwright.layout.mount_loads import MountLoad, drag_load, static_loads
from hatchwright.said import Amount, Listed, Said, inch, said
from hatchwright.tables.limits import limit


def form_bracket(layout: Layout) -> Iterator[Step]:
    """How the bracket of the mount is laid out and bent; nothing without one."""
    mount = layout.job.mount
    bracket = mount.bracket if mount else None
    if bracket is None:
        return
    flat = bracket_flat(bracket, layout.shop)
    bend, flats = said("card.bracket.bend"), [inch(one) for one in flat.flats_in]
    between = Listed((flats[0], *(piece for one in flats[1:] for piece in (bend, one))), "+")
    sheet = sheet_of(bracket.alloy, bracket.temper, bracket.thickness.inch, clad=bracket.clad)
    radius, angle = inch(bracket.radius.inch), Amount(bracket.angle, "")
    setback = said("card.bracket.setback", setback=inch(flat.setback.value), formula=flat.setback.note)
    yield Step(
        said("card.bracket.title"),
        (
            line(
                said("card.bracket.sheet", sheet=sheet, radius=radius, angle=angle),
                setback,
                rests_on=(flat.setback,),
            ),
            line(said("card.bracket.flats", flats=between)),
            *(
                line(
                    said(
                        "card.bracket.allowance",
                        allowance=inch(one.value),
                        formula=one.note,
                        blank=inch(developed_in),
                    ),
                    rests_on=(one,),
                )
                for one, developed_in in zip(flat.allowances, flat.developed_in, strict=True)
            ),
            asked("bend_across_grain"),
            line(said("card.bracket.trial")),
        ),
        tuple(said("card.bracket.leg", leg=inch(leg.inch)) for leg in bracket.legs),
    )


def prove_mount(layout: Layout) -> Iterator[Step]:
    """What the mounted part is shown to hold; nothing while its weight, area and speed are not given."""
    mount = layout.job.mount
    if mount is None:
        return
    drag = drag_load(mount, layout.shop) if mount.kind == "antenna" else None
    static = static_loads(mount, layout.shop)
    if not static and drag is None:
        return
    lines = [line(_static(load), rests_on=(load.working,)) for load in static]
    if drag is not None:
        safety = limit("factor_of_safety", layout.shop)
        lines.append(line(_drag(drag, safety.value), rests_on=(drag.working, safety)))
    loads = (*static, *((drag,) if drag else ()))
    how = line(said("card.mount.how"), rests_on=(PRACTICE,))
    yield Step(
        said("card.mount.title"),
        (*lines, how),
        tuple(said("card.mount.held", direction=_direction(load), load=_to_a_tenth(load)) for load in loads),
    )


def _direction(load: MountLoad) -> Said:
    return said(f"card.direction.{load.direction}")


def _to_a_tenth(load: MountLoad) -> Amount:
    """The load, never rounded down."""
    return Amount(math.ceil(10.0 * load.load_lbf - 1e-6) / 10.0, "lbf", toward="up")


def _static(load: MountLoad) -> Said:
    factor, weight = load.working.values
    return said(
        "card.mount.static",
        direction=_direction(load),
        load=_to_a_tenth(load),
        factor=Amount(factor.value, ""),
        weight=Amount(weight.value, weight.unit),
    )


def _drag(load: MountLoad, safety: float) -> Said:
    area, speed = load.working.values
    return said(
        "card.mount.drag",
        direction=_direction(load),
        load=_to_a_tenth(load),
        safety=Amount(safety, ""),
        coefficient=f"{load.working.result.value / (area.value * speed.value**2):.4g}",
        area=Amount(area.value, area.unit),
        speed=Amount(speed.value, speed.unit),
    )
