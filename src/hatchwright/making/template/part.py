"""The template as a part, lying face up: its edges, its key, its pilot holes, on a page or on a machine.

A rounded window in the middle of a plate, or a rounded plug, is its own mirror image. The plate therefore has one
corner cut off, twice as far along the aircraft as across it, and the plug a key hole off both its center lines,
twice as far along it as across, so that neither can be laid on its mirror image by turning it.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from hatchwright.job.frame import Frame
from hatchwright.layout.flat_pattern import Stretch, template_stretch
from hatchwright.making.making import Making, once
from hatchwright.making.template.holes import WALL_IN, TemplateHole, template_holes
from hatchwright.making.template.stroke_letters import Mark
from hatchwright.shapes.distance import distances
from hatchwright.shapes.outlines import circle
from hatchwright.shapes.profile import Loop, Profile, profile_of

KEY_HOLE_WALL_IN = 0.25
"""Least material round the key hole of a plug [in]. Common practice, no source."""

KEY_HOLE = "key hole"
"""Name of the key hole among the holes of a plug."""

_LONGEST_LEG_IN = 1.0
_KEY_RATIOS = ((0.36, 0.18), (0.30, 0.15))

Bounds = tuple[float, float, float, float]


class PartHole(Struct, frozen=True):
    """A hole of the template: what it is for, its center (x, y) [in] and its diameter [in]."""

    name: str
    center: tuple[float, float]
    diameter_in: float


class TemplatePart(Struct, frozen=True):
    """A template seen on the face that lies away from the skin, the origin of the job at the origin.

    Args:
        material: the plate with its window, or the plug, without its holes [in].
        guide_edges: the edges that the cutter's guide runs along, counter-clockwise [in].
        plate_edge: outer edge of a window's plate; None for a plug, whose guide edge is its outer edge [in].
        holes: pilot holes in the order of their numbers, then the key hole of a plug.
    """

    material: Profile
    guide_edges: tuple[Loop, ...]
    plate_edge: Loop | None
    holes: tuple[PartHole, ...]
    marks: tuple[Mark, ...] = ()

    @property
    def pilots(self) -> tuple[PartHole, ...]:
        """The pilot holes, without the key hole."""
        return tuple(hole for hole in self.holes if hole.name != KEY_HOLE)

    @property
    def drilled(self) -> Profile:
        """The material with all of its holes [in]."""
        holes = (circle(diameter_in=hole.diameter_in, center=hole.center).reversed() for hole in self.holes)
        return Profile((*self.material.loops, *holes))


@once
def template_part(making: Making) -> TemplatePart:
    """Lay a job's template face up, flat as it is made, with the pilot holes that keep material enough round
    them; stretched along the curved axis when it is bent onto the skin afterwards."""
    return _part(making, template_stretch(making.layout))


@once
def drilled_through(making: Making) -> tuple[TemplateHole, ...]:
    """The holes of the job that the template really has, in the order of their numbers, without its key hole."""
    names = {hole.name for hole in template_part(making).holes if hole.name != KEY_HOLE}
    return tuple(one for one in template_holes(making) if f"{one.hole.kind} {one.hole.number}" in names)


@once
def part_on_skin(making: Making) -> TemplatePart:
    """Lay a job's template face up, as it lies on the skin: lengths along a curved skin are those on its
    outer face."""
    return _part(making, None)


def _part(making: Making, stretch: Stretch | None) -> TemplatePart:
    frame, chain = making.layout.frame, making.chain
    made = (
        Profile(tuple(stretch.loop(loop) for loop in chain.machinable.loops)) if stretch else chain.machinable
    )
    edges = made.transformed(frame.matrix)
    plate: Loop | None = None
    key: PartHole | None = None
    if making.is_window:
        x_min, y_min, x_max, y_max = edges.bounds
        border_in = making.template.border.inch
        bounds = (x_min - border_in, y_min - border_in, x_max + border_in, y_max + border_in)
        plate = plate_edge(bounds, border_in=border_in, frame=frame)
        material = profile_of(plate, *edges.loops)
    else:
        key, material = key_hole(edges, chain.guide.end_mill_in, frame), edges
    holes = _pilots(making, material, stretch)
    if key:
        holes = [*(pilot for pilot in holes if _are_apart(pilot, key)), key]
    return TemplatePart(material, edges.loops, plate, tuple(holes))


def plate_edge(bounds: Bounds, *, border_in: float, frame: Frame) -> Loop:
    """The edge of a window's plate face up, counter-clockwise, with the corner cut off that lies towards both
    direction arrows; it leaves most of the border."""
    leg_in = min(border_in, _LONGEST_LEG_IN)
    level_in, upright_in = (leg_in, 0.5 * leg_in) if _first_is_level(frame) else (0.5 * leg_in, leg_in)
    x_min, y_min, x_max, y_max = bounds
    x, y = 0.5 * (x_max - x_min), 0.5 * (y_max - y_min)
    corners = ((-x, -y), (x, -y), (x, y - upright_in), (x - level_in, y), (-x, y))
    edge = Loop(np.array([(*corner, 0.0) for corner in corners]))
    right, up = key_quarter(frame)
    return edge.transformed(((right, 0.0), (0.0, up)), (0.5 * (x_min + x_max), 0.5 * (y_min + y_max)))


def key_hole(plug: Profile, diameter_in: float, frame: Frame) -> PartHole | None:
    """The key hole of a plug, off both its center lines, towards both direction arrows; None in too small a plug."""
    x_min, y_min, x_max, y_max = plug.bounds
    width, height = x_max - x_min, y_max - y_min
    right, up = key_quarter(frame)
    need_in = 0.5 * diameter_in + KEY_HOLE_WALL_IN
    is_level = width > height or (width == height and _first_is_level(frame))
    for long, short in _KEY_RATIOS:
        level, upright = (long, short) if is_level else (short, long)
        center = (
            0.5 * (x_min + x_max) + right * level * width,
            0.5 * (y_min + y_max) + up * upright * height,
        )
        if distances(plug, [center]).inward_in[0] >= need_in:
            return PartHole(KEY_HOLE, center, diameter_in)
    return None


def key_quarter(frame: Frame) -> tuple[float, float]:
    """The quarter of the template that lies towards both direction arrows, such as FWD and OUTBD: 1 or -1 to
    the right, 1 or -1 up."""
    (_, first), (_, second) = frame.directions()
    return first[0] + second[0], first[1] + second[1]


def _first_is_level(frame: Frame) -> bool:
    (_, first), _ = frame.directions()
    return first[0] != 0.0


def _pilots(making: Making, material: Profile, stretch: Stretch | None) -> list[PartHole]:
    found = template_holes(making)
    if not found:
        return []
    places = [(one.hole.x_in, one.hole.y_in) for one in found]
    if stretch:
        places = [stretch.place(*place) for place in places]
    centers = [making.layout.frame.to_page(*place) for place in places]
    inward_in = distances(material, centers).inward_in
    return [
        PartHole(f"{one.hole.kind} {one.hole.number}", center, one.pilot_in)
        for one, center, wall_in in zip(found, centers, inward_in, strict=True)
        if wall_in >= one.pilot_in / 2.0 + WALL_IN
    ]


def _are_apart(pilot: PartHole, key: PartHole) -> bool:
    off_in = float(np.hypot(*np.subtract(pilot.center, key.center)))
    return off_in >= 0.5 * (pilot.diameter_in + key.diameter_in) + WALL_IN
