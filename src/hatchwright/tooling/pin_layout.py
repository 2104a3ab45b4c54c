"""The pins of a job's template: where they can stand, the plan for them, and what to do when there is none."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchwright.errors import Fault, GeometryError, JobError
from hatchwright.job.cutter import Cutter, Template
from hatchwright.layout.layout import Layout
from hatchwright.shapes.distance import distances
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.profile import Profile
from hatchwright.tooling.few_pins import with_few_pins
from hatchwright.tooling.guide_template import GuideChain
from hatchwright.tooling.pin_plan import PinPlan, pin_plan
from hatchwright.tooling.template_holes import template_holes
from hatchwright.tooling.template_part import part_on_skin

SPARE_IN = 0.0625
"""What is to stay between the tool's body and a fastener's [in]. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Pin:
    """A place for a temporary fastener.

    Args:
        place: (x, y) [in].
        hole: number of the job's hole that it stands in, None for an extra one.
    """

    place: tuple[float, float]
    hole: int | None


@dataclass(frozen=True, slots=True)
class PinLayout:
    """How a template is held while its edge is cut.

    Args:
        pins: the holes of the job under the template, then the extra ones that the plan needs.
        reach_in: how near the middle of the tool may come to a pin [in].
        plan: None when there is none.
        clear_in: distance from the rough line from which on no pin or clamp is in the way [in].
        clamps: four places at that distance, for clamps where there is no plan (x, y) [in].
    """

    pins: tuple[Pin, ...]
    reach_in: float
    plan: PinPlan | None
    clear_in: float
    clamps: tuple[tuple[float, float], ...]


def pin_layout(layout: Layout, chain: GuideChain) -> PinLayout:
    """Plan the pins of a job.

    A plug gets extra pins in the waste under it when the job's own holes give no plan; a window has no waste under
    it, so that only clamps beyond the tool's reach are left.

    Args:
        layout: as derived.
        chain: its template.
    Returns:
        PinLayout: with its plan, or without one and with places for clamps.
    Raises:
        JobError: a size of the tool or of the temporary fasteners is missing.
        GeometryError: the cut falls into several runs.
    """
    cutter, template = _sizes_of(layout)
    if len(chain.reached.loops) != 1:
        raise GeometryError(
            f"the cut falls into {len(chain.reached.loops)} runs; pins are planned for one",
            where="template",
            remedy="Settle T103 first",
        )
    assert cutter.body is not None
    assert template.pin_body is not None
    body_in = template.pin_body.inch
    reach_in = (cutter.body.inch + body_in) / 2.0 + SPARE_IN
    path = chain.reached.loops[0]
    pins = _own(layout, chain, body_in)
    plan = pin_plan(path, [pin.place for pin in pins], reach_in)
    if plan is None and chain.guide.kind == "male":
        pins += _in_waste(chain, max(reach_in - chain.guide.guide_in / 2.0, body_in / 2.0))
        plan = pin_plan(path, [pin.place for pin in pins], reach_in)
    if plan is not None:
        plan = with_few_pins(plan, path, [pin.place for pin in pins])
    out = grow(Profile((path,)), reach_in + 1e-6)
    return PinLayout(
        pins=tuple(pins),
        reach_in=reach_in,
        plan=plan,
        clear_in=reach_in - chain.guide.cut_in / 2.0,
        clamps=_spread(out) if plan is None else (),
    )


def planned_pins(layout: Layout, chain: GuideChain) -> PinLayout | None:
    """Plan the pins of a job once the sizes that a plan needs are entered and the cut is one run.

    Args:
        layout: as derived.
        chain: its template.
    Returns:
        PinLayout: None while something is missing.
    """
    cutter, template = layout.job.cutter, layout.job.template
    has_sizes = cutter and cutter.body and template and template.pin_body
    return pin_layout(layout, chain) if has_sizes and len(chain.reached.loops) == 1 else None


def _sizes_of(layout: Layout) -> tuple[Cutter, Template]:
    cutter, template = layout.job.cutter, layout.job.template
    faults = [
        Fault(field, "pins cannot be planned without it", remedy=remedy)
        for field, there, remedy in (
            (
                "cutter.body",
                cutter and cutter.body,
                "Give the diameter of the tool's body or foot on the skin.",
            ),
            (
                "template.pin_body",
                template and template.pin_body,
                "Give the diameter of a temporary fastener's body.",
            ),
        )
        if not there
    ]
    if faults or cutter is None or template is None:
        raise JobError(tuple(faults))
    return cutter, template


def _own(layout: Layout, chain: GuideChain, body_in: float) -> list[Pin]:
    """Holes of the job in which a fastener's body stands on the template with its whole foot."""
    holes = [one.hole for one in template_holes(layout, chain)]
    if not holes:
        return []
    material = part_on_skin(layout, chain).material
    found = distances(material, [layout.frame.to_page(hole.x_in, hole.y_in) for hole in holes])
    return [
        Pin((hole.x_in, hole.y_in), hole.number)
        for hole, is_on, edge_in in zip(holes, found.inside, found.distance_in, strict=True)
        if is_on and edge_in >= body_in / 2.0
    ]


def _in_waste(chain: GuideChain, inset_in: float) -> list[Pin]:
    """Four pins in the corners of the plug, as far out as the tool lets them stand."""
    room = erode(chain.machinable, inset_in)
    return [] if room.is_empty else [Pin(place, None) for place in _spread(room)]


def _spread(profile: Profile) -> tuple[tuple[float, float], ...]:
    """The four places of an edge that lie farthest out between the axes."""
    points: Floats = np.vstack([loop.points(1e-3) for loop in profile.loops])
    found = (
        points[int((points @ towards).argmax())] for towards in np.array([[1, 1], [-1, 1], [-1, -1], [1, -1]])
    )
    return tuple(dict.fromkeys((float(x), float(y)) for x, y in found))
