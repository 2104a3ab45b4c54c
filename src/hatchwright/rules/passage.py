"""R303, R304: the room that is left for a hand, and whether the doubler goes through the opening."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.shapes.profile import Loop
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Quantity, Source

_CHORD_IN = 1e-4
_GEOMETRY = Cited(0.0, "in", Source("GEOMETRY", "longest chord of the opening"), Grade.COMPUTED)

HAND_IN = 3.5
"""Square that passed a hand in one builder's cardboard trial [in]. Source: [BUILDER-LOGS]."""

_HAND = Cited(HAND_IN, "in", Source("BUILDER-LOGS", "tail hatch and hand-hole notes"), Grade.RESTATED)

Floats = npt.NDArray[np.float64]


def longest_chord(loop: Loop) -> float:
    """The longest straight line that fits across a closed outline, end to end.

    Args:
        loop: the outline [in].
    Returns:
        float: taken between points of the outline, so never too long [in].
    """
    points = loop.points(_CHORD_IN)
    x, y = points[:, 0], points[:, 1]
    return float(np.sqrt(np.max((x[:, None] - x) ** 2 + (y[:, None] - y) ** 2)))


def least_width(loop: Loop) -> float:
    """The narrowest slot, with straight parallel sides, that an outline goes through lying flat.

    Args:
        loop: the outline [in].
    Returns:
        float: least distance between two parallel lines that hold it [in].
    """
    points = _hull(loop.points(_CHORD_IN))
    side = np.roll(points, -1, axis=0) - points
    normal = np.column_stack([-side[:, 1], side[:, 0]]) / np.hypot(*side.T)[:, None]
    height = points @ normal.T
    return float(np.min(height.max(axis=0) - height.min(axis=0)))


def _hull(points: Floats) -> Floats:
    """Corners of the convex hull, counter-clockwise; those of a convex outline are its own."""
    step = np.roll(points, -1, axis=0) - points
    after = np.roll(step, -1, axis=0)
    if np.all(step[:, 0] * after[:, 1] - step[:, 1] * after[:, 0] >= -FLOAT_NOISE):
        return points
    ordered = sorted(map(tuple, points.tolist()))
    return np.array(_chain(ordered) + _chain(ordered[::-1]))


def _chain(run: list[tuple[float, ...]]) -> list[tuple[float, ...]]:
    """One half of the hull (monotone chain), its last point left to the other half."""
    out: list[tuple[float, ...]] = []
    for p in run:
        while len(out) > 1 and _turn(out[-2], out[-1], p) <= 0.0:
            out.pop()
        out.append(p)
    return out[:-1]


def _turn(a: tuple[float, ...], b: tuple[float, ...], c: tuple[float, ...]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


@rule("R303", Shelf.SETTLE, rests_on=(_HAND,), reads=("mount", "opening", "parts"), step="doubler")
def hand_room(survey: Survey) -> Iterator[Finding]:
    """R303: clear opening inside the land."""
    layout = survey.layout
    if layout.job.mount is not None:
        return
    doubler = layout.part("doubler")
    loop = doubler.edges[1].loop if doubler else layout.opening
    x_min, y_min, x_max, y_max = loop.bounds
    least_in = min(x_max - x_min, y_max - y_min)
    status = judge_at_least(least_in, HAND_IN, short=Status.CAUTION)
    yield against(
        "R303",
        status,
        f"clear opening {x_max - x_min:.2f} x {y_max - y_min:.2f}{' inside the land' if doubler else ''}",
        value=least_in,
        limit=HAND_IN,
        unit="in",
        cited=_HAND,
        formula="least clear size >= what passed one hand",
        values=(Quantity("along X", x_max - x_min, "in"), Quantity("along Y", y_max - y_min, "in")),
        advice=""
        if status is Status.PASS
        else "Smaller than the 3.5 square that passed one hand: try it in cardboard with the tool before cutting.",
        shortfall=HAND_IN - least_in,
    )


@rule(
    "R304", Shelf.SETTLE, rests_on=(_GEOMETRY,), reads=("doubler", "mount", "parts", "wanted"), step="doubler"
)
def doubler_through(survey: Survey) -> Iterator[Finding]:
    """R304: doubler through the opening."""
    layout = survey.layout
    doubler = layout.part("doubler")
    if doubler is None or layout.job.doubler is None or layout.job.doubler.face == "outside":
        return
    chord_in, width_in = longest_chord(layout.wanted), least_width(doubler.edges[0].loop)
    passes = width_in < chord_in
    if passes:
        advice = ""
    elif layout.job.mount:
        advice = (
            "It cannot come in by this opening: find another way in, or split it; before anything is cut."
        )
    else:
        advice = (
            "It does not go straight through. Show on a cardboard ring that it threads in by one limb, ask for a split "
            "ring, or find another way in; before anything is cut."
        )
    yield against(
        "R304",
        Status.PASS if passes else Status.CAUTION,
        f"doubler at least {width_in:.2f} wide, longest chord of the opening {chord_in:.2f}",
        value=width_in,
        limit=chord_in,
        unit="in",
        cited=_GEOMETRY,
        formula="least width of the doubler < longest chord of the opening",
        values=(Quantity("width", width_in, "in"), Quantity("chord", chord_in, "in")),
        advice=advice,
        shortfall=width_in - chord_in,
    )
