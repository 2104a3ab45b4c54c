"""Every way to a corner that the cutter in hand does not give, each worked out for this opening, with its sizes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from msgspec.structs import replace

from hatchwright.errors import GeometryError
from hatchwright.making.making import Making
from hatchwright.making.template.flat_size import room_for, template_outline
from hatchwright.making.template.guide_template import corner_drills, guide_chain
from hatchwright.said import Said, inch, said
from hatchwright.units import nearest_64th

_SAME_IN = 1e-6


def corner_remedies(making: Making, *, wanted_in: float, made_in: float) -> tuple[Said, ...]:
    """What is wrong with the sharpest corner that is cut beside the wanted one [in], and what would give it."""
    sizes_in = {"made": made_in, "wanted": wanted_in, "left": making.chain.deviation.under_cut.depth_in}
    is_wrong = said("T102.is", **{name: inch(size_in, fine=True) for name, size_in in sizes_in.items()})
    return (is_wrong, said("T102.ways"), *_ways(making, wanted_in))


def _ways(making: Making, wanted_in: float) -> Iterator[Said]:
    chain, guide = making.chain, making.chain.guide
    if not making.is_window:
        yield from _window(making, wanted_in)
        if 2.0 * wanted_in - guide.cut_in >= guide.cut_in:
            yield said("T102.smaller_guide", guide=inch(2.0 * wanted_in - guide.cut_in, fine=True))
    elif guide.cut_in / 2.0 > wanted_in + _SAME_IN:
        if wanted_in > 0.0:
            yield said("T102.smaller_cutter", cut=inch(2.0 * wanted_in, fine=True))
    else:
        yield said("T102.smaller_end_mill", mill=inch(2.0 * (wanted_in + guide.offset_in), fine=True))
    are_apart = all(
        math.dist(one.center, other.center) >= one.radius_in + other.radius_in
        for one, other in combinations(corner_drills(chain.wanted), 2)
    )
    if wanted_in > 0.0 and are_apart:
        yield _corner_holes(making, 2.0 * wanted_in)
    yield said("T102.file")


def _corner_holes(making: Making, drill_in: float) -> Said:
    drill, is_64th = inch(drill_in, fine=True), abs(64.0 * drill_in - round(64.0 * drill_in)) < _SAME_IN
    what = "corner_holes" if making.is_window else "corner_holes_before_plug"
    if making.unit == "in" and is_64th:
        return said(f"T102.{what}_64ths", drill=drill, fraction=nearest_64th(drill_in))
    return said(f"T102.{what}", drill=drill)


def _window(making: Making, wanted_in: float) -> Iterator[Said]:
    """A window for the same cutter, when it gives the corner, and how it lies in the machine."""
    try:
        window = guide_chain(making.chain.wanted, replace(making.chain.guide, kind="female"))
    except GeometryError:
        return
    made, corner = window.predicted_corner, window.machinable_corner
    if made is None or corner is None or made.radius_in > wanted_in + _SAME_IN:
        return
    x_min, y_min, x_max, y_max = window.machinable.bounds
    width, height, radius = inch(x_max - x_min), inch(y_max - y_min), inch(corner.radius_in, fine=True)
    yield said("T102.window", width=width, height=height, radius=radius)
    envelope = making.template.envelope
    if envelope:
        outline_in = template_outline(replace(making, chain=window))
        yield said("T102.window_border", width=inch(outline_in[0]), height=inch(outline_in[1]))
        yield room_for(outline_in, (envelope[0].inch, envelope[1].inch)).words
