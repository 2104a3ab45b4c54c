"""Every way to a corner that the cutter in hand does not give, each with its sizes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from hatchwright.errors import GeometryError
from hatchwright.layout.layout import Layout
from hatchwright.making.answer import size_words
from hatchwright.making.template.guide_template import (
    CornerDrill,
    GuideChain,
    corner_drills,
    guide_chain,
    template_outline,
)
from hatchwright.making.template.machine_room import room_for
from hatchwright.units import length_words, nearest_64th

_SAME_IN = 1e-6


def corner_remedies(layout: Layout, chain: GuideChain, *, wanted_in: float, made_in: float) -> str:
    """Say what is wrong with the sharpest corner and what would do.

    Args:
        wanted_in: sharpest corner of the rough line [in].
        made_in: sharpest corner of the predicted cut [in].
    Returns:
        str: whole sentences.
    """
    left = chain.deviation.under_cut
    said = [
        f"The corner will be {_fine(made_in, layout)}, not {_fine(wanted_in, layout)}: wrong by "
        f"{_fine(made_in - wanted_in, layout)}, {_fine(left.depth_in, layout)} of metal left in the corner."
    ]
    said += [
        f"Or {way}." if number else f"{way[0].upper()}{way[1:]}."
        for number, way in enumerate(_ways(layout, chain, wanted_in))
    ]
    return " ".join(said)


def _fine(value_in: float, layout: Layout) -> str:
    return length_words(value_in, layout.job.unit, fine=True)


def _ways(layout: Layout, chain: GuideChain, wanted_in: float) -> Iterator[str]:
    guide = chain.guide
    if guide.kind == "male":
        yield from _window(layout, chain, wanted_in)
        if 2.0 * wanted_in - guide.cut_in >= guide.cut_in:
            yield (
                f"a guide of at most {_fine(2.0 * wanted_in - guide.cut_in, layout)} "
                "and a plug made for it, (guide + cut) / 2 being the corner"
            )
    elif guide.cut_in / 2.0 > wanted_in + _SAME_IN:
        if wanted_in > 0.0:
            yield f"a cutter of at most {_fine(2.0 * wanted_in, layout)} cut width"
    else:
        largest_in = 2.0 * (wanted_in + guide.offset_in)
        yield f"an end mill of at most {_fine(largest_in, layout)} for the template"
    if wanted_in > 0.0 and _are_apart(corner_drills(chain.wanted)):
        drill_in = 2.0 * wanted_in
        is_64th = abs(64.0 * drill_in - round(64.0 * drill_in)) < _SAME_IN
        near = f" ({nearest_64th(drill_in)} in)" if layout.job.unit == "in" and is_64th else ""
        before = (
            ", drilled before the plug is laid on, which may cover a part of them"
            if guide.kind == "male"
            else ""
        )
        yield (
            f"corner holes of {_fine(drill_in, layout)}{near} diameter at the arc centres{before}, then straight cuts "
            "between them"
        )
    yield "file the corners by hand to a radius gauge"


def _are_apart(drills: tuple[CornerDrill, ...]) -> bool:
    """Whether no two holes overlap."""
    return all(
        math.dist(one.center, other.center) >= one.radius_in + other.radius_in
        for one, other in combinations(drills, 2)
    )


def _window(layout: Layout, chain: GuideChain, wanted_in: float) -> Iterator[str]:
    """A female template for the same cutter, when it gives the corner, and how it lies in the machine."""
    try:
        window = guide_chain(chain.wanted, replace(chain.guide, kind="female"))
    except GeometryError:
        return
    made, corner = window.predicted_corner, window.machinable_corner
    if made is None or corner is None or made.radius_in > wanted_in + _SAME_IN:
        return
    x_min, y_min, x_max, y_max = window.machinable.bounds
    unit = layout.job.unit
    said = (
        f"a female template {size_words((x_max - x_min, y_max - y_min), unit)}, corner "
        f"{_fine(corner.radius_in, layout)}, for the same cutter"
    )
    template = layout.job.template
    if template and template.envelope:
        outline = template_outline(layout, window)
        room = room_for(outline, (template.envelope[0].inch, template.envelope[1].inch))
        said += f" (with its border {size_words(outline, unit)}; in the machine's travel {room.words(unit)})"
    yield said
