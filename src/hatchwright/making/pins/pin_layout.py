"""The pins of a job's template: where they can stand, the plan for them, and what to do when there is none."""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.errors import Fault, GeometryError, JobError
from hatchwright.making.making import Making, once
from hatchwright.making.pins.plan import PinPlan, pin_plan, with_few_pins
from hatchwright.making.template.holes import template_holes
from hatchwright.making.template.part import KEY_HOLE, part_on_skin
from hatchwright.said import said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.pieces import joined
from hatchwright.shapes.profile import Profile

SPARE_IN = 0.0625
"""What is to stay between the tool's body and a fastener's [in]. Common practice, no source."""

_CLEAR_IN = 1e-6
"""What is added to the reach so that rounding does not block a pin that stands just out of it [in]."""


class Pin(Struct, frozen=True):
    """A place for a temporary fastener, or for a clamp on the border of a window.

    Args:
        hole: number of the job's hole that it stands in, None for an extra one.
        is_clamp: whether it holds by its grip on the border, in no hole.
    """

    place: tuple[float, float]
    hole: int | None
    is_clamp: bool = False


class PinLayout(Struct, frozen=True):
    """How a template is held while its edge is cut.

    Args:
        pins: the holes of the job under the template, then the extra ones and the clamps that the plan needs.
        reach_in: how near the middle of the tool may come to a pin [in].
        clear_in: distance from the rough line from which on no pin or clamp is in the way [in].
        border_in: border of a window that takes clamps; None for a plug, which has none [in].
    """

    pins: tuple[Pin, ...]
    reach_in: float
    plan: PinPlan | None
    clear_in: float
    border_in: float | None

    @property
    def clamps(self) -> tuple[Pin, ...]:
        """The clamps that hold in some stage of the plan."""
        held = {index for stage in (self.plan.stages if self.plan else ()) for index in stage.pins}
        return tuple(pin for index, pin in enumerate(self.pins) if pin.is_clamp and index in held)


def pin_layout(making: Making) -> PinLayout:
    """Plan the pins of a job.

    When the job's own holes give no plan, a plug gets extra pins in the waste under it. A window has no waste under
    it; it gets clamps on its border, beyond the tool's reach, where the border is wide enough.

    Raises:
        JobError: a size of the tool or of the temporary fasteners is missing.
        GeometryError: the cut falls into several runs.
    """
    chain, (tool_in, pin_in) = making.chain, _bodies_in(making)
    if len(chain.reached.loops) != 1:
        raise GeometryError.saying("pins.several_runs", where="template", runs=len(chain.reached.loops))
    reach_in = _reach_in(tool_in, pin_in)
    pins, plan = _planned(making, reach_in, pin_in)
    if plan is not None:
        plan = with_few_pins(plan, chain.reached.loops[0], [pin.place for pin in pins])
    border_in = reach_in - chain.guide.guide_in / 2.0 + pin_in / 2.0 if making.is_window else None
    return PinLayout(tuple(pins), reach_in, plan, reach_in - chain.guide.cut_in / 2.0, border_in)


def widest_body_in(making: Making) -> float | None:
    """The widest body of a tool past which the template of a job can be held, for a cut of one run that has
    the sizes but no plan: to 1/64 in, less than that of the tool in hand; None when none narrower than its
    guide or its cut would do [in]."""
    tool_in, pin_in = _bodies_in(making)
    low, high = int(64.0 * making.chain.guide.cut_in) + 1, int(64.0 * tool_in)
    best: float | None = None
    while low <= high:
        tried = (low + high) // 2
        _, plan = _planned(making, _reach_in(tried / 64.0, pin_in), pin_in)
        if plan is None:
            high = tried - 1
        else:
            low, best = tried + 1, tried / 64.0
    return best


def _reach_in(tool_in: float, pin_in: float) -> float:
    return (tool_in + pin_in) / 2.0 + SPARE_IN


def _planned(making: Making, reach_in: float, body_in: float) -> tuple[list[Pin], PinPlan | None]:
    """Pins and their plan, with extra pins or clamps where the job's own holes give none."""
    path, holes = making.chain.reached.loops[0], [one.hole for one in template_holes(making)]
    own = [Pin((hole.x_in, hole.y_in), hole.number) for hole in holes]
    pins = _standing(making, own, body_in / 2.0)  # on the template with the whole foot
    plan = pin_plan(path, [pin.place for pin in pins], reach_in)
    if plan is None:
        pins += (_on_border if making.is_window else _in_waste)(making, reach_in, body_in)
        plan = pin_plan(path, [pin.place for pin in pins], reach_in)
    return pins, plan


@once
def planned_pins(making: Making) -> PinLayout | None:
    """Plan the pins of a job; None while a size for a plan is missing or the cut is not one run."""
    has_sizes = making.cutter.body and making.template.pin_body
    return pin_layout(making) if has_sizes and len(making.chain.reached.loops) == 1 else None


def _bodies_in(making: Making) -> tuple[float, float]:
    """Width of the tool's body and of a temporary fastener's, which a plan needs [in]."""
    tool, pin = making.cutter.body, making.template.pin_body
    faults = [
        Fault(field, said("pins.size_missing"), remedy=said(f"pins.enter.{field}"))
        for field, there in (("cutter.body", tool), ("template.pin_body", pin))
        if not there
    ]
    if tool is None or pin is None:
        raise JobError(tuple(faults))
    return tool.inch, pin.inch


def _standing(making: Making, pins: list[Pin], inset_in: float) -> list[Pin]:
    """Those that stand on the template's material, as far as that from its edges [in]."""
    if not pins:
        return []
    places = [making.layout.frame.to_page(*pin.place) for pin in pins]
    inward_in = distances(part_on_skin(making).material, places).inward_in
    return [pin for pin, edge_in in zip(pins, inward_in, strict=True) if edge_in >= inset_in]


def _in_waste(making: Making, reach_in: float, body_in: float) -> list[Pin]:
    """Four pins in the corners of the plug, as far out as the tool lets them stand; none over its key hole."""
    inset_in = max(reach_in - making.chain.guide.guide_in / 2.0 + _CLEAR_IN, body_in / 2.0)
    to_page, room = making.layout.frame.to_page, erode(making.chain.machinable, inset_in)
    if room.is_empty:
        return []
    key = next((hole for hole in part_on_skin(making).holes if hole.name == KEY_HOLE), None)
    return [
        Pin(place, None)
        for place in _spread(room)
        if not key or math.dist(to_page(*place), key.center) >= (body_in + key.diameter_in) / 2.0
    ]


def _on_border(making: Making, reach_in: float, foot_in: float) -> list[Pin]:
    """Clamps in the corners of a window's border, as far from the tool's reach as from the outer edge."""
    chain = making.chain
    nearest_in = reach_in + _CLEAR_IN
    farthest_in = making.template.border.inch + (chain.guide.guide_in - foot_in) / 2.0
    if farthest_in < nearest_in:
        return []
    places = _spread(grow(chain.reached, (nearest_in + farthest_in) / 2.0))
    return _standing(making, [Pin(place, None, is_clamp=True) for place in places], foot_in / 2.0 - _CLEAR_IN)


def _spread(profile: Profile) -> tuple[tuple[float, float], ...]:
    """The four places of an edge that lie farthest out between the axes, on its vertices or on its arcs."""
    parts = joined(loop.working_form() for loop in profile.loops)
    center, arm = parts.center[parts.is_arc], (parts.start - parts.center)[parts.is_arc]
    sweep_rad = parts.sweep_rad[parts.is_arc]
    found = []
    for towards in np.exp(1j * np.pi * (0.25 + 0.5 * np.arange(4))):
        turned_rad = np.mod(np.angle(towards * arm.conj()) * np.sign(sweep_rad), 2.0 * np.pi)
        on_arcs = (center + parts.radius[parts.is_arc] * towards)[turned_rad <= np.abs(sweep_rad)]
        places = np.concatenate([parts.start, on_arcs])
        found.append(places[int((places * towards.conj()).real.argmax())])
    return tuple(dict.fromkeys((float(z.real), float(z.imag)) for z in found))
