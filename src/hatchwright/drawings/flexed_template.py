"""What is said of a template that is made flat and bent onto a curved skin: how to bend it, and both its sizes."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.table import Table
from hatchwright.layout.curved import curved_skin
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Making
from hatchwright.making.template.flat_size import flat_size
from hatchwright.making.template.holes import TemplateHole
from hatchwright.said import Amount, Numbered, Said, inch, said
from hatchwright.units import figure
from hatchwright.words.tell import tell


def bending_said(layout: Layout) -> Said | None:
    """Along which axis and to which radius a template is bent; None for one that stays flat."""
    stretch, curvature = template_stretch(layout), layout.job.skin.curvature
    if stretch is None or curvature is None:
        return None
    skin = curved_skin(curvature, thickness_in=layout.job.skin.thickness.inch, unit=layout.job.unit)
    return said("engraved.bend", along=stretch.along.upper(), radius=inch(skin.radius_in))


def flexed_notes(layout: Layout) -> Iterator[Said]:
    """How a template that is bent onto the skin is to be used."""
    if stretch := template_stretch(layout):
        ratio = Amount(stretch.ratio, "times")
        yield said("flexed.never_mark_from_it", along=stretch.along.upper(), ratio=ratio)
        yield said("flexed.hold_down")


def flexed_tables(making: Making, holes: tuple[TemplateHole, ...]) -> tuple[Table, ...]:
    """Sizes and drilled holes of a template flat, and bent onto the skin; no table for one that stays flat."""
    stretch, unit = template_stretch(making.layout), making.unit
    if stretch is None:
        return ()
    x_min, y_min, x_max, y_max = making.chain.machinable.bounds
    edge = said("flexed.window") if making.is_window else said("flexed.plug")
    sizes = ((tell(edge), flat_size(making), (x_max - x_min, y_max - y_min)),)
    places = (
        (tell(Numbered(one.hole.kind, (one.hole.number,))), stretch.place(*at), at)
        for one in holes
        for at in ((one.hole.x_in, one.hole.y_in),)
    )
    rows = (
        (name, *(figure(value, unit) for value in (*flat, *bent))) for name, flat, bent in (*sizes, *places)
    )
    table = Table(
        tell(said("flexed.table", unit=unit)),
        ("", *(tell(said(f"flexed.{name}")) for name in ("flat_x", "flat_y", "bent_x", "bent_y"))),
        tuple(rows),
    )
    return (table,)
