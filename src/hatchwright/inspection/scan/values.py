"""What a scan says: values with their uncertainty, shapes, holes."""

from __future__ import annotations

import math

from msgspec import Struct

from hatchwright.inspection.outline.fitting import ShapeKind
from hatchwright.metrology.budget import Component, budget
from hatchwright.metrology.real_offset import coverage_factor
from hatchwright.shapes.pieces import Floats


class Value(Struct, frozen=True):
    """A measured value.

    Args:
        value_in: the estimate [in], of a turn [deg].
        u_in: standard uncertainty by the budget [same unit].
        parts: names of what it is put together from, and how much each adds [same unit].
    """

    value_in: float
    u_in: float
    parts: tuple[tuple[str, float], ...] = ()

    @property
    def expanded_in(self) -> float:
        """Half width of the interval that holds it at the level of 95 % [same unit]."""
        return coverage_factor(math.inf) * self.u_in


def value_of(value_in: float, **parts: float) -> Value:
    """A value with the budget of what is uncertain in it: by name the standard uncertainty that each source adds [in].

    Args:
        value_in: the estimate [in].
    """
    told = tuple((name, part) for name, part in parts.items() if part > 0.0)
    combined = budget(Component(name, part) for name, part in told)
    return Value(value_in, combined.standard, told)


class Shape(Struct, frozen=True):
    """A known shape as measured, in the frame's coordinates.

    Args:
        turn_deg: from the frame's x to the side along which the width is taken, counterclockwise [deg].
        radius: mean of the corners; half the diameter of a circle.
        edge_u_in: of the place of its edge all round, which is in width and height twice and in both alike [in].
        corners: each by itself, from the one at +x +y counterclockwise; only a rounded rectangle has them.
    """

    kind: ShapeKind
    center: tuple[Value, Value]
    turn_deg: Value
    width: Value
    height: Value
    radius: Value
    edge_u_in: float
    corners: tuple[Value, ...] = ()


class Scallops(Struct, frozen=True):
    """The bites along a nibbled edge; the line through their roots is the shape of the edge itself.

    Args:
        crest: line of the crests between the bites: what a caliper or a gauge pin touches.
        advance_in: mean distance from bite to bite where the edge is straight [in].
        height_in: from crest to root line [in].
        scatter_in: standard deviation of single roots about their line [in].
        deepest_in: how far the deepest root lies beyond the line; it decides whether the edge cleans up [in].
    """

    crest: Shape
    bites: int
    advance_in: float
    height_in: float
    scatter_in: float
    deepest_in: float


class Traced(Struct, frozen=True):
    """One closed edge of the part.

    Args:
        points: measured points of the edge in its order, shape (n, 2) [in].
        shape: as fitted, on a scalloped edge to its roots; None for one of lines and arcs.
        scallops: None on a smooth edge.
        profile: corners of lines and arcs: x, y [in] and bulge [-]; empty where a shape was fitted.
        spread_in: of the points about the shape, or of the roots about their line, as a standard deviation [in].
        deviation_in: farthest that the edge lies from what was fitted, single glints left out [in].
    """

    points: Floats
    shape: Shape | None
    scallops: Scallops | None
    profile: tuple[tuple[float, float, float], ...]
    spread_in: float
    deviation_in: float


class ScannedHole(Struct, frozen=True):
    """A round hole.

    Args:
        x, y: of its center in the frame's coordinates; known so well among the other holes [in].
        from_edge: x and y of its center from the middle of the opening, or of the outline of a part without one, level
            with it [in].
    """

    x: Value
    y: Value
    diameter: Value
    from_edge: tuple[Value, Value]

    @property
    def place_u_in(self) -> float:
        """Half width of the interval that holds either coordinate from the edge at the level of 95 % [in]."""
        return max(one.expanded_in for one in self.from_edge)


class Scan(Struct, frozen=True):
    """Everything that was measured from one scan.

    Args:
        window: the frame's, such as ``5x5``.
        card: number of the card, None where its mark was not in the picture.
        dpi: as the card gives it along columns and along lines [1/in].
        turned_deg: how far the card lay askew [deg].
        residual_in: what the calibration leaves of the dots' places, robust [in].
        blur_in: of the part's edges, one standard deviation [in].
        opening: the largest edge within the part, None without one an inch across.
        odd: x, y and size of dark spots in the part, as large as a hole, that are no round holes [in].
    """

    window: str
    card: int | None
    dpi: tuple[float, float]
    turned_deg: float
    residual_in: float
    blur_in: float
    outline: Traced
    opening: Traced | None
    holes: tuple[ScannedHole, ...]
    odd: tuple[tuple[float, float, float], ...]
