"""What is said of a template that is made flat and bent onto a curved skin: how to bend it, and both its sizes."""

from __future__ import annotations

from hatchwright.drawings.figures import figure, unit_of
from hatchwright.drawings.sheet import Table
from hatchwright.layout.curved import curved_skin
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Making
from hatchwright.making.template.flat_size import flat_size
from hatchwright.making.template.holes import TemplateHole


def bending_words(layout: Layout) -> str:
    """What is lettered on a template that is bent onto the skin.

    Returns:
        str: along which axis, over which face and radius; "" for a template that stays flat.
    """
    stretch, curvature = template_stretch(layout), layout.job.skin.curvature
    if stretch is None or curvature is None:
        return ""
    skin = curved_skin(curvature, thickness_in=layout.job.skin.thickness.inch, unit=layout.job.unit)
    return (
        f"DRAWN FLAT: BEND ALONG {stretch.along.upper()} ONTO THE OUTER FACE, RADIUS "
        f"{figure(skin.radius_in, unit_of(layout.job))}"
    )


def flexed_notes(layout: Layout) -> tuple[str, ...]:
    """How a template that is bent onto the skin is to be used.

    Returns:
        tuple[str, ...]: none for a template that stays flat.
    """
    stretch = template_stretch(layout)
    if stretch is None:
        return ()
    return (
        f"LENGTHS ALONG {stretch.along.upper()} ARE THOSE ON THE SKIN TIMES "
        f"{stretch.ratio:.5f} FROM THE CENTRE LINE OF THE OPENING: NEVER MARK OR DRILL THE SKIN FROM THE FLAT SHEET, "
        "NEVER USE IT FLAT. MEASURE SQUARE, CHECK LENGTH AND FLAT SIZES BEFORE IT IS BENT.",
        "HOLD IT DOWN UNTIL IT TOUCHES THE SKIN ALL OVER, HOLD THE TOOL SQUARE TO THE SKIN, AND LET THE GUIDE REACH "
        "DOWN TO THE SKIN: THE EDGE STANDS OPEN LIKE A FAN AND IS TRUE AT ITS FOOT ONLY.",
    )


def flexed_tables(making: Making, holes: tuple[TemplateHole, ...]) -> tuple[Table, ...]:
    """Sizes and holes of a template flat, and bent onto the skin.

    Args:
        holes: that are drilled through it.
    Returns:
        tuple[Table, ...]: one table, none for a template that stays flat.
    """
    stretch, unit = template_stretch(making.layout), unit_of(making.layout.job)
    if stretch is None:
        return ()
    x_min, y_min, x_max, y_max = making.chain.machinable.bounds
    word = "window" if making.chain.guide.kind == "female" else "plug"
    sizes = ((f"{word}, size", flat_size(making), (x_max - x_min, y_max - y_min)),)
    places = (
        (f"{one.hole.kind} {one.hole.number}", stretch.place(*at), at)
        for one in holes
        for at in ((one.hole.x_in, one.hole.y_in),)
    )
    rows = tuple(
        (name, *(figure(value, unit) for value in (*flat, *bent))) for name, flat, bent in (*sizes, *places)
    )
    return (
        Table(
            f"THE TEMPLATE FLAT, AND BENT ONTO THE SKIN, {unit}",
            ("", "FLAT X", "FLAT Y", "BENT X", "BENT Y"),
            rows,
        ),
    )
