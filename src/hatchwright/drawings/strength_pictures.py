"""SVG pictures of the strength analysis: stress bands with rivet arrows, free body, edge stress, buckling mode."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
from contourpy import FillType, LineType, contour_generator
from numpy.typing import NDArray

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.picture import Picture, isolines, number_rivets, ring, round_step
from hatchwright.layout.layout import Layout
from hatchwright.said import Amount, said
from hatchwright.shapes.pieces import complex_of
from hatchwright.shapes.profile import Loop
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.fields import EdgeCurve, StressField, edge_curve, farthest, stress_field
from hatchwright.strength.opening_analysis import CaseAnalysis
from hatchwright.units import Unit
from hatchwright.words.amounts import in_unit_of
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

Floats = NDArray[np.float64]

_DRAWN = 560
_KEY = 150
_EDGE_IN = 1e-3
_NUMBERED = 60.0
_PLOT = Box(60.0, 70.0, 745.0, 350.0)


class _Map:
    """A picture of what lies around the opening, or around some points, as seen from outside.

    Called with places of the job [in], it says where they are on the picture [units]. The surroundings are drawn in
    its box, which is its clip too; a key stands to the right of it, words below.
    """

    def __init__(self, layout: Layout, title: str, *, around: Floats | None = None) -> None:
        margin_ratio = 0.12 if around is None else 0.0
        if around is None:
            edges = (edge for part in layout.parts if part.name != "cover" for edge in part.edges)
            around = np.vstack([edge.loop.points(_EDGE_IN) for edge in edges])
        shown = around @ np.asarray(layout.frame.matrix).T
        low, high = shown.min(axis=0), shown.max(axis=0)
        margin = margin_ratio * (high - low).max()
        low, high = low - margin, high + margin
        self.layout, self._low, self._scale = layout, low, _DRAWN / float((high - low).max())
        width, height = ((high - low) * self._scale).tolist()
        self.picture = Picture(round(width) + _KEY + 20, round(height) + 70, title)
        self.box = Box(10.0, 50.0, 10.0 + width, 50.0 + height)
        self.clip = self.picture.window(*self.box)

    def __call__(self, places_in: Floats) -> Floats:
        flat = np.asarray(places_in, dtype=float).reshape(-1, 2) @ np.asarray(self.layout.frame.matrix).T
        moved: Floats = (flat - self._low) * self._scale + self.box[:2]
        return moved.reshape(np.shape(places_in))


def stress_picture(layout: Layout, field: StressField, found: CaseAnalysis) -> bytes:
    """Bands of equivalent stress at ultimate load, with the load of every rivet as an arrow on the doubler."""
    unit = layout.job.unit
    view = _Map(layout, tell(said("picture.stress_title", case=found.name), unit))
    picture, (scale, stress_unit) = view.picture, _stress_scale(unit)
    stress = np.ma.masked_invalid(field.stress_psi * scale)
    shown = _inside(view(field.places_in), view.box)
    top = float(stress[shown].max()) if shown.any() else float(stress.max())
    step = round_step(top)
    levels = np.arange(0.0, top + step, step)
    x, y = np.moveaxis(view(field.places_in), -1, 0)
    lines = contour_generator(x, y, stress, line_type=LineType.Separate, fill_type=FillType.OuterOffset)
    grays = [1.0 - 0.6 * k / max(len(levels) - 2, 1) for k in range(len(levels) - 1)]
    for low, high, gray in zip(levels, levels[1:], grays, strict=False):
        filled: Any = lines.filled(low, high)
        for points, starts in zip(*filled, strict=True):
            rings = [points[a:b] for a, b in itertools.pairwise(starts)]
            picture.area(rings, gray=gray, outline=0.7, clip=view.clip)
    _edges(view)
    for level in levels[1:-1]:
        runs = [np.asarray(run) for run in lines.lines(level)]
        _number_line(view, runs, f"{level:g}")
    _key_bands(view, levels, grays, _arrows(view, found))
    picture.foot(tell(said("picture.stress_foot", unit=stress_unit, case=found.name), unit))
    return picture.svg()


def mode_picture(layout: Layout, found: CaseAnalysis) -> bytes:
    """How the reinforced panel buckles: lines of equal deflection, out solid and in dashed."""
    unit, apart = layout.job.unit, found.apart
    assert apart is not None
    assert apart.mode is not None  # asked for only where something is compressed
    mesh, deflection = apart.mode.mesh, apart.mode.deflection
    title = tell(said("picture.buckling_title", case=found.name), unit)
    view = _Map(layout, title, around=mesh.points)
    picture, points, triangles = view.picture, view(mesh.points), mesh.corners
    levels = (0.2, 0.4, 0.6, 0.8, -0.2, -0.4, -0.6, -0.8)
    runs = {level: isolines(points, triangles, deflection, level) for level in levels}
    for level in levels:
        picture.lines(runs[level], dash="" if level > 0 else "6 4", clip=view.clip)
    still = isolines(points, triangles, deflection, 0.0)
    picture.lines(still, width=0.6, dash="1 4", clip=view.clip)
    _edges(view)
    hole = view(layout.opening.points(_EDGE_IN))
    opening = Loop(np.column_stack([hole, np.zeros(len(hole))])).working_form()
    for level in levels:
        seen = [run[~opening.inside(complex_of(run))] for run in runs[level]]
        _number_line(view, seen, f"{level:+.1f}")
    right, top = view.box.right + 14, view.box.top
    for row, (way, dash) in enumerate((("out", ""), ("in", "6 4"), ("at_rest", "1 4"))):
        level = top - 20 - 22 * row
        picture.line([(right, level), (right + 36, level)], dash=dash)
        picture.words((right + 42, level - 4), tell(said(f"picture.{way}")))
    factor = Amount(found.held, "", toward="down")
    told = said("picture.buckles_at", factor=factor), said("picture.times_load"), said("picture.lower_bound")
    for row, line in enumerate(told):
        picture.words((right, top - 110 - 14 * row), tell(line, unit))
    picture.foot(tell(said("picture.buckling_foot", case=found.name), unit))
    return picture.svg()


def free_body_picture(layout: Layout, found: CaseAnalysis) -> bytes:
    """The half of the doubler that gets the most: every rivet's force on it, and what it hands on across the middle of
    the opening, which is the sum of them.

    By the formula of Huth, at ultimate load.
    """
    unit = layout.job.unit
    middle = np.reshape(layout.opening.bounds, (2, 2)).mean(axis=0)
    holes = {hole.number: hole for hole in layout.holes}
    forces = np.array([(rivet.x_lbf, rivet.y_lbf) for rivet in found.rivets]).reshape(-1, 2)
    places = np.array([holes[rivet.number].place for rivet in found.rivets]).reshape(-1, 2)
    halves = [places[:, axis] > middle[axis] for axis in (0, 1)]
    axis = int(np.argmax([np.hypot(*forces[half].sum(axis=0)) for half in halves]))
    along, across = forces[halves[axis]].sum(axis=0).tolist()
    side = f"{'XY'[axis]}+"
    view = _Map(layout, tell(said("picture.free_body_title", side=side, case=found.name), unit))
    picture = view.picture
    _edges(view)
    rivets = [rivet for rivet, is_there in zip(found.rivets, halves[axis].tolist(), strict=True) if is_there]
    _arrows(view, found, rivets)
    low, high = (np.array(corner) for corner in (layout.opening.bounds[:2], layout.opening.bounds[2:]))
    ends = np.array([2 * low - middle, 2 * high - middle])
    ends[:, axis] = middle[axis]
    picture.line(view(ends), width=1.0, dash="14 4 2 4", clip=view.clip)
    handed_on = -np.array([along, across]) @ np.asarray(layout.frame.matrix).T
    if size := float(np.hypot(*handed_on)):
        start = view(middle)
        picture.arrows([(start, start + handed_on / size * 60.0)], width=2.4, head=9)
    right, top = view.box.right + 14, view.box.top
    loads = (Amount(load, "lbf") for load in (along, across))
    sums = dict(zip(("x", "y"), loads, strict=True))
    running = {
        name: Amount(one.value, "lbf/in")
        for name, one in zip(("nx", "ny", "q"), found.case.loads, strict=True)
    }
    told = (
        said("picture.free_body_rivets", n=len(rivets)),
        said("picture.free_body_x", **sums),
        said("picture.free_body_y", **sums),
        *(said(f"picture.free_body_{name}", load=load) for name, load in running.items()),
    )
    for row, line in enumerate(told):
        picture.words((right, top - 20 - 14 * row), tell(line, unit), height=7)
    picture.foot(tell(said("picture.free_body_foot", case=found.name), unit))
    return picture.svg()


def edge_picture(curve: EdgeCurve, found: CaseAnalysis, unit: Unit = "in", kind: str = "") -> bytes:
    """Stress along the edge of the opening before and after the doubler, at ultimate load; `kind` is the job's."""
    picture = Picture(760, 380, tell(said("picture.edge_title", case=found.name), unit))
    left, bottom, right, top = _PLOT
    of_stress, stress_unit = _stress_scale(unit)
    of_length, length_unit = in_unit_of(1.0, "in", unit)
    before, after = curve.before_psi * of_stress, curve.after_psi * of_stress
    along_edge, along_window = curve.way_in * of_length, curve.window_way_in * of_length
    window = curve.window_psi * of_stress
    drawn = np.concatenate([[0.0], before, after, window])
    low, most = float(drawn.min()), float(drawn.max())
    step = round_step(most - low)
    floor, ceiling = np.floor(low / step) * step, np.ceil(most / step) * step
    scale = (top - bottom) / (ceiling - floor)
    across = (right - left) / float(along_edge[-1])
    for level in np.arange(floor, ceiling + step / 2, step):
        y = bottom + (level - floor) * scale
        picture.level(y, f"{level:g}", left=left, right=right, width=1.2 if abs(level) < step / 2 else 0.3)
    for side, along in (("X+", (1, 0)), ("Y+", (0, 1)), ("X-", (-1, 0)), ("Y-", (0, -1))):
        tick = left + along_edge[farthest(curve.places_in, np.array(along, dtype=float))] * across
        picture.line([(tick, bottom), (tick, top)], width=0.8, dash="1 4")
        picture.words((tick, top + 8), side, anchor="middle")
    for way in np.arange(0.0, along_edge[-1], round_step(float(along_edge[-1]))):
        picture.tick(left + way * across, f"{way:g}", bottom=bottom)
    lines = [
        (along_edge, before, "7 4", "picture.without_doubler"),
        (along_edge, after, "", "picture.with_doubler"),
        (along_window, window, "1 3", "picture.doubler_window"),
    ]
    for way_along, values, dash, id in lines[: 3 if window.size else 2]:
        x, y = left + way_along * across, bottom + (values - floor) * scale
        picture.line(np.column_stack([x, y]), width=1.6, dash=dash)
        peak = int(np.argmax(np.abs(values)))
        anchor, shift = ("end", -6) if x[peak] > (left + right) / 2 else ("start", 6)
        told = tell(said(id, stress=f"{values[peak]:.1f}"))
        picture.words((x[peak] + shift, y[peak] - 4), told, height=9, anchor=anchor, halo=True)
    picture.words(((left + right) / 2, 38), tell(said("picture.way", unit=length_unit)), anchor="middle")
    foot = said("picture.edge_foot", unit=stress_unit, case=found.name)
    picture.foot(tell(in_words_of(kind, foot), unit))
    return picture.svg()


def _edges(view: _Map) -> None:
    """The opening thick and white inside, the doubler dashed because it lies behind the skin, and a frame."""
    picture, layout, clip = view.picture, view.layout, view.clip
    opening = view(layout.opening.points(_EDGE_IN))
    picture.area([opening], gray=1.0, clip=clip)
    picture.line(opening, width=2.4, clip=clip, closed=True)
    doubler = layout.part("doubler")
    for edge in doubler.edges if doubler else ():
        picture.line(view(edge.loop.points(_EDGE_IN)), width=1.2, dash="8 4", clip=clip, closed=True)
    for word, along in layout.frame.directions():
        start = opening.mean(axis=0) + np.array(along) * 12
        picture.arrows([(start, start + np.array(along) * 34)], width=1.2)
        at = start + np.array(along) * 44
        anchor = "middle" if abs(along[0]) < 0.5 else "start" if along[0] > 0 else "end"
        picture.words((at[0], at[1] - 4), word, anchor=anchor)


def _arrows(view: _Map, found: CaseAnalysis, rivets: Sequence[FastenerLoad] = ()) -> tuple[float, float]:
    """Arrows of the forces of rivets, or of all, on the doubler; returns length in units and load of the longest."""
    rivets = rivets or found.rivets
    picture, layout = view.picture, view.layout
    holes = {hole.number: hole for hole in layout.holes}
    turn = np.asarray(layout.frame.matrix)
    most = max((rivet.huth_lbf for rivet in rivets), default=0.0)
    longest = 46.0
    hardest = sorted(rivets, key=lambda rivet: -rivet.huth_lbf)[:4]
    places = view(np.array([(holes[rivet.number].x_in, holes[rivet.number].y_in) for rivet in rivets]))
    picture.lines([at + 3.0 * ring(12) for at in places], width=0.8, closed=True)
    tips = places
    if most > 0:
        forces = np.array([(rivet.x_lbf, rivet.y_lbf) for rivet in rivets]) @ turn.T / most
        tips = places + forces * longest
        picture.arrows(zip(places, tips, strict=True), width=1.3, head=7)
    scale, _ = in_unit_of(1.0, "lbf", layout.job.unit)
    labels = {
        row: f"{rivet.number}: {rivet.huth_lbf * scale:.0f}"
        for row, rivet in enumerate(rivets)
        if rivet in hardest
    }
    number_rivets(picture, places, tips, labels)
    return longest, most


def _key_bands(view: _Map, levels: Floats, grays: Sequence[float], arrow: tuple[float, float]) -> None:
    """What each gray stands for, and below them how much the longest arrow."""
    picture, unit, right = view.picture, view.layout.job.unit, view.box.right + 14
    _, stress_unit = _stress_scale(unit)
    for row, (low, high, gray) in enumerate(zip(levels, levels[1:], grays, strict=False)):
        level = view.box.top - 18 * (row + 1)
        patch = _box(right, level, right + 26, level + 14)
        picture.area([patch], gray=gray)
        picture.line(patch, width=0.6, closed=True)
        told = tell(said("picture.band", low=f"{low:g}", high=f"{high:g}", unit=stress_unit))
        picture.words((right + 32, level + 3), told)
    level = view.box.top - 18 * (len(levels) + 1)
    length, load = arrow
    picture.arrows([(np.array([right, level]), np.array([right + length, level]))], width=1.3, head=7)
    told = tell(said("picture.on_doubler", load=Amount(load, "lbf")), unit)
    picture.words((right, level - 16), told, height=7)
    force_unit = in_unit_of(1.0, "lbf", unit)[1]
    picture.words((right, level - 30), tell(said("picture.numbers", unit=force_unit)), height=7)


def _number_line(view: _Map, runs: Sequence[Floats], words: str) -> None:
    """Put a number on the longest run that shows, at its middle."""
    visible = [run[_inside(run, view.box.grown(-16.0))] for run in runs]
    longest = max(visible, key=len, default=np.empty((0, 2)))
    if len(longest) > 2 and np.ptp(longest, axis=0).max() > _NUMBERED:
        x, y = longest[len(longest) // 2]
        view.picture.words((float(x), float(y) - 3), words, height=7, anchor="middle", halo=True)


def _inside(points: Floats, box: Box) -> NDArray[np.bool_]:
    return np.asarray(((points >= box[:2]) & (points <= box[2:])).all(axis=-1))


def _stress_scale(unit: Unit) -> tuple[float, str]:
    """From psi to what a picture of stress is lettered in, and its name."""
    return (1e-3, "ksi") if unit == "in" else in_unit_of(1.0, "psi", unit)


def _box(left: float, bottom: float, right: float, top: float) -> Floats:
    return np.array(Box(left, bottom, right, top).corners[:-1])


def pictures_of(layout: Layout, found: CaseAnalysis) -> Iterator[tuple[str, bytes]]:
    """All pictures of one case by name."""
    yield "STRESS", stress_picture(layout, stress_field(found), found)
    yield "FREE_BODY", free_body_picture(layout, found)
    yield "EDGE", edge_picture(edge_curve(found), found, layout.job.unit, layout.job.kind)
    if found.apart and found.apart.mode:
        yield "BUCKLING", mode_picture(layout, found)
