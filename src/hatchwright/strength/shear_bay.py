"""A framed opening in a sheared bay: shear flow by equilibrium of its nine cells, and webs that buckled in shear."""

from __future__ import annotations

import math

from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.ground import Ground
from hatchwright.strength.worked import Worked, inputs, work_out
from hatchwright.tables.strength_values import strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Quantity, Source


class BayCells(Struct, frozen=True):
    """The bay cut by the opening into three columns and three rows.

    Args:
        columns_in: left of the opening, the opening, right of it, along X [in].
        rows_in: below the opening, the opening, above it, along Y [in].
    """

    columns_in: tuple[float, float, float]
    rows_in: tuple[float, float, float]

    def __post_init__(self) -> None:
        if min(*self.columns_in, *self.rows_in) <= 0.0:
            raise GeometryError.saying("strength.bay_skin", where="bay")

    @property
    def width_in(self) -> float:
        """Of the bay along X [in]."""
        return sum(self.columns_in)

    @property
    def height_in(self) -> float:
        """Of the bay along Y [in]."""
        return sum(self.rows_in)


class CellFlows(Struct, frozen=True):
    """Shear flows of the cells round the opening.

    Args:
        beside: in the cells left and right of the opening [lbf/in].
        over: in the cells above and below it [lbf/in].
        corner: in the four corner cells [lbf/in].
        frame_x: greatest end load of a framing member along X [lbf].
        frame_y: greatest end load of a framing member along Y [lbf].
    """

    beside: Worked
    over: Worked
    corner: Worked
    frame_x: Worked
    frame_y: Worked


def cell_flows(cells: BayCells, *, shear_lbf_in: float) -> CellFlows:
    """Shear flows round an opening that is framed on all sides.

    Args:
        shear_lbf_in: shear flow of the bay before it was opened [lbf/in].
    Returns:
        CellFlows: they assume members along every edge of the opening, from edge to edge of the bay.
    Method: docs/theory/shear_bay.md, eq. 1 to 4.

    >>> flows = cell_flows(BayCells((6.0, 5.0, 6.0), (4.0, 5.0, 4.0)), shear_lbf_in=100.0)
    >>> round(flows.beside.value, 2), round(flows.over.value, 2), round(flows.corner.value, 2)
    (141.67, 162.5, 73.96)
    """
    d1, d2, d3 = cells.columns_in
    h1, h2, h3 = cells.rows_in
    q0 = Quantity("q0", shear_lbf_in, "lbf/in")
    columns = tuple(Quantity(f"d{k}", d, "in") for k, d in enumerate(cells.columns_in, start=1))
    rows = tuple(Quantity(f"h{k}", h, "in") for k, h in enumerate(cells.rows_in, start=1))
    along, across = d2 / (d1 + d3), h2 / (h1 + h3)
    beside = work_out(shear_lbf_in * (1 + along), "q beside = q0 (1 + d2/(d1+d3)) [lbf/in]", q0, *columns)
    over = work_out(shear_lbf_in * (1 + across), "q over = q0 (1 + h2/(h1+h3)) [lbf/in]", q0, *rows)
    equation = "q corner = q0 (1 - d2/(d1+d3) h2/(h1+h3)) [lbf/in]"
    corner = work_out(shear_lbf_in * (1 - along * across), equation, q0, *columns, *rows)
    return CellFlows(
        beside,
        over,
        corner,
        _end_load("x", beside, corner, max(d1, d3)),
        _end_load("y", over, corner, max(h1, h3)),
    )


def _end_load(axis: str, beyond: Worked, corner: Worked, length_in: float) -> Worked:
    """A member along the opening's edge gathers the difference of the flows on its two sides over the corner
    cell.
    """
    load_lbf = abs(beyond.value - corner.value) * length_in
    equation = f"P frame {axis} = |{beyond.symbol} - q corner| L [lbf]"
    return work_out(load_lbf, equation, beyond, corner, *inputs("in", L=length_in))


def tension_factor(*, stress_psi: float, critical_psi: float) -> Worked:
    """How far a web has gone from shear to diagonal tension.

    Args:
        stress_psi: nominal shear stress [psi].
        critical_psi: shear stress at which it buckles [psi].
    Returns:
        Worked: k, 0 for a web that does not buckle, 1 for pure diagonal tension [-].
    Method: docs/theory/diagonal_tension.md, eq. 1.   Source: [NACA-TN-2661], eq. 27.

    >>> tension_factor(stress_psi=2000.0, critical_psi=2500.0).value
    0.0
    """
    ratio = abs(stress_psi) / critical_psi
    return work_out(
        math.tanh(0.5 * math.log10(ratio)) if ratio > 1.0 else 0.0,
        "k = tanh(0.5 log10(max(tau / tau cr, 1)))",
        *inputs("psi", tau=abs(stress_psi), tau_cr=critical_psi),
        by=Ground(Source("NACA-TN-2661", "eq. 27"), Grade.RESTATED),
    )


def edge_rivet_load(*, shear_lbf_in: float, factor: Worked, shop: ShopTables | None = None) -> Worked:
    """Running load on the rivets along the edges of a buckled web [lbf/in].

    Method: docs/theory/diagonal_tension.md, eq. 2.
    """
    part = strength_value("tension_field_flange_rivets", shop)
    return work_out(
        abs(shear_lbf_in) * (1 + part.value * factor.value),
        f"R = q (1 + {part.value:g} k) [lbf/in]",
        Quantity("q", abs(shear_lbf_in), "lbf/in"),
        factor,
        by=Ground(part.source, part.grade if factor.value > 0 else Grade.COMPUTED),
    )


def flange_bending(*, length_in: float, thickness_in: float, depth_in: float, bends_in4: float) -> Worked:
    """How far a flange gives between the ends that hold it, against the folds of its web.

    Args:
        length_in: of the flange between its ends [in].
        thickness_in: of the web [in].
        depth_in: of the web, square to the flange [in].
        bends_in4: second moment of area of both flanges together, in the plane of the web [in^4].
    Returns:
        Worked: wd [-].
    Method: docs/theory/diagonal_tension.md, eq. 3.   Source: [NACA-TN-2661], eq. 19a.
    """
    return work_out(
        0.7 * length_in * (thickness_in / (bends_in4 * depth_in)) ** 0.25,
        "wd = 0.7 d (t / (I he))^(1/4)",
        *inputs("in", d=length_in, t=thickness_in, he=depth_in),
        *inputs("in^4", I=bends_in4),
        by=Ground(Source("NACA-TN-2661", "eq. 19a"), Grade.RESTATED),
    )


def flange_stress_factor(wd: Worked) -> Worked:
    """By how much the folds of a web pull harder at the ends of its flange than on average, as it bends between.

    Returns:
        Worked: C2, 0 for a stiff flange [-].
    Method: docs/theory/diagonal_tension.md, eq. 4.   Source: a beam on the web as its bed; read off in figure 18 of
        [NACA-TN-2661].

    >>> round(flange_stress_factor(work_out(1.2, "wd")).value, 4)
    0.0115
    """
    x = wd.value
    # A beam much longer than its bed needs is in the same ratio to its length; the series saves small ones from noise.
    if x < 0.1:
        value = x**4 / 180.0
    elif x > 30.0:
        value = x / 2.0 - 1.0
    else:
        value = x / 2.0 * (math.sinh(x) + math.sin(x)) / (math.cosh(x) - math.cos(x)) - 1.0
    equation = "C2 = wd/2 (sinh wd + sin wd) / (cosh wd - cos wd) - 1"
    return work_out(value, equation, wd, by=Ground(Source("ELASTICITY", "clamped beam on an elastic bed")))
