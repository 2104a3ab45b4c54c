"""Holes that are made alike: one fastener, the same work on each sheet, each sheet led in the same way."""

from __future__ import annotations

from collections.abc import Collection
from typing import Literal

from msgspec import Struct

from hatchwright.layout.layout import Hole, Layout, PartName
from hatchwright.recipe.sheet_work import LayerWork, hole_work

Lead = Literal["template", "marks", "skin", "doubler", "cover", "plug"]
"""What gives a hole its place in a sheet: the template, pencil marks from both datums, or a sheet drilled before."""


class MadeAlike(Struct, frozen=True):
    """Holes made alike.

    Args:
        holes: by number.
        layers: the work on each sheet, from outside, and on a strap behind them.
        leads: what leads each of these.
    """

    holes: tuple[Hole, ...]
    layers: tuple[LayerWork, ...]
    leads: tuple[Lead, ...]

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers of its holes."""
        return tuple(hole.number for hole in self.holes)

    @property
    def is_listed(self) -> bool:
        """Whether the tables list its fastener, so that its drills can be named."""
        return self.holes[0].nominal_in is not None and not any(layer.is_unlisted for layer in self.layers)


def made_alike(layout: Layout, led: Collection[int] = ()) -> tuple[MadeAlike, ...]:
    """The holes of a layout in groups that are made alike, in the order of their first numbers.

    Args:
        led: numbers of the holes that are drilled through the guide template.
    """
    groups: dict[tuple[str, tuple[LayerWork, ...], tuple[Lead, ...]], list[Hole]] = {}
    for hole in layout.holes:
        layers = hole_work(hole, layout)
        leads = leads_of(hole, layout, is_led=hole.number in led)
        leads = (
            *leads,
            *(hole.stack[-1] for _ in layers[len(leads) :]),
        )  # a strap lies on the innermost sheet
        groups.setdefault((hole.fastener, layers, leads), []).append(hole)
    return tuple(MadeAlike(tuple(holes), layers, leads) for (_, layers, leads), holes in groups.items())


def leads_of(hole: Hole, layout: Layout, *, is_led: bool) -> tuple[Lead, ...]:
    """What gives a hole its place in each of its sheets, from outside.

    The skin is drilled first, by the template or else from pencil marks, and leads what lies on it: a doubler can be
    remade, a skin can't. A flush cover has no skin under it: it lies in the opening and leads the doubler. A lapped
    cover is drilled on the bench through the same template, or else leads the skin where it lies. A cover that is
    drilled from inside leads nothing: what lies under it is drilled before, and leads it.
    """
    cover = layout.job.cover
    placed: Lead = "template" if is_led else "marks"
    alone: set[PartName] = {"plug"} if cover and cover.holes_from == "inside" else {"plug", "cover"}
    first = _first(hole, layout, () if is_led else alone)
    return tuple(placed if name == first or (is_led and name in alone) else first for name in hole.stack)


def _first(hole: Hole, layout: Layout, before: Collection[PartName]) -> PartName:
    """The sheet that is drilled before the others: one of those that lie before the skin, where they lead."""
    if outermost := next((name for name in hole.stack if name in before), None):
        return outermost
    job = layout.job
    if "doubler" in hole.stack and job.doubler is not None and job.doubler.holes_from == "doubler":
        return "doubler"
    return "skin" if "skin" in hole.stack else hole.stack[-1]
