"""Peak stress at the edge of the bare opening, by its shape and by how the skin is loaded."""

from __future__ import annotations

import math

from msgspec import Struct

from hatchwright.ground import Ground
from hatchwright.said import said
from hatchwright.shapes.profile import Arc, Loop
from hatchwright.strength.family import Refusal
from hatchwright.strength.worked import Worked, work_out
from hatchwright.tables.strength_values import opening_concentration
from hatchwright.workings import Quantity, Source

_SAME_IN = 1e-6


class RoundedBox(Struct, frozen=True):
    """A rectangle along the axes with the same radius at each corner; a circle and an obround are such.

    Args:
        width_in: along X [in].
        height_in: along Y [in].
        radius_in: of each corner [in].
    """

    width_in: float
    height_in: float
    radius_in: float


def rounded_box(loop: Loop) -> RoundedBox:
    """Read an opening as a rounded box.

    Args:
        loop: edge of the opening [in].
    Raises:
        Refusal: it is another shape, which only the finite elements cover.
    """
    arcs = [piece for piece in loop.pieces() if isinstance(piece, Arc)]
    x_min, y_min, x_max, y_max = loop.bounds
    box = RoundedBox(x_max - x_min, y_max - y_min, min((arc.radius_in for arc in arcs), default=0.0))
    corner = (4 - math.pi) * box.radius_in**2
    same_radius = all(abs(arc.radius_in - box.radius_in) < _SAME_IN for arc in arcs)
    if (
        not arcs
        or not same_radius
        or abs(abs(loop.area_sq_in) - (box.width_in * box.height_in - corner)) > 1e-4
    ):
        raise Refusal(said("S701.not_in_the_charts"), where=said("strength.of_stress_concentration"))
    return box


def peak_edge_load(box: RoundedBox, *, nx_lbf_in: float, ny_lbf_in: float, q_lbf_in: float) -> Worked:
    """Peak running load along the edge of the bare opening in a wide skin.

    Args:
        nx_lbf_in: running load along X far away [lbf/in].
        ny_lbf_in: running load along Y [lbf/in].
        q_lbf_in: shear flow [lbf/in].
    Returns:
        Worked: greatest edge stress times thickness; exact for a circle, for other shapes the sum of the three peaks,
            which is never too low [lbf/in].
    Raises:
        TableError: the shape is outside the charts.
    Method: docs/theory/stress_concentration.md, eq. 1 and 2.
    """
    loads = (
        Quantity("Nx", nx_lbf_in, "lbf/in"),
        Quantity("Ny", ny_lbf_in, "lbf/in"),
        Quantity("q", q_lbf_in, "lbf/in"),
    )
    short_in, long_in = sorted((box.width_in, box.height_in))
    if long_in - short_in < _SAME_IN and box.radius_in > box.width_in / 2 - _SAME_IN:
        mean, radius = (nx_lbf_in + ny_lbf_in) / 2, math.hypot((nx_lbf_in - ny_lbf_in) / 2, q_lbf_in)
        high, low = mean + radius, mean - radius
        equation = (
            "N peak = max(|3 N1 - N2|, |3 N2 - N1|); "
            "N1, N2 = (Nx + Ny)/2 +- sqrt(((Nx - Ny)/2)^2 + q^2) [lbf/in]"
        )
        basis = Ground(Source("KIRSCH-INGLIS", "circle"))
        return work_out(max(abs(3 * high - low), abs(3 * low - high)), equation, *loads, by=basis)
    long_is_x = box.width_in >= box.height_in
    names = ("along long side", "across long side") if long_is_x else ("across long side", "along long side")
    side_ratio, radius_ratio = long_in / short_in, min(box.radius_in / (short_in / 2), 1.0)
    shape = (Quantity("a/b", side_ratio, ""), Quantity("r/b", radius_ratio, ""))
    factors = []
    for symbol, name in (("Kx", names[0]), ("Ky", names[1]), ("Kq", "shear")):
        found = opening_concentration(name, side_ratio=side_ratio, radius_ratio=radius_ratio)
        factors.append(
            work_out(
                found.value,
                f"{symbol} = {symbol}(a/b, r/b)",
                *shape,
                by=found,
                note=said(f"chart.{name.replace(' ', '_')}"),
            )
        )
    peak = sum(factor.value * abs(load.value) for factor, load in zip(factors, loads, strict=True))
    return work_out(peak, "N peak = Kx |Nx| + Ky |Ny| + Kq |q| [lbf/in]", *factors, *loads)
