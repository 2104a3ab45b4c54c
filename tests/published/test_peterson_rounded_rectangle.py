"""Stress concentration of rounded squares and rectangles, against the published polynomial.

Source: Peterson, Stress Concentration Factors, chart 4.62, as the polynomial of Roark's Formulas for Stress
and Strain, table 17.1, read on a public formula page with one figure put right (38.622 for 38.662: only that
gives 3.00 for the circle). Printed examples: Kt 3.79 and 2.974 for a square with r/b 0.2 and 0.5. Tolerance 1
percent: the polynomial is a fit.
"""

from __future__ import annotations

import pytest

from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.strength.stress_concentration import peak_edge_load, rounded_box


@pytest.mark.parametrize(("radius_in", "printed"), [(0.2, 3.79), (0.5, 2.974)])
def test_rounded_square_in_tension(radius_in: float, printed: float) -> None:
    box = rounded_box(rounded_rectangle(width_in=2.0, height_in=2.0, radius_in=radius_in, center=(0.0, 0.0)))
    along_x = peak_edge_load(box, nx_lbf_in=1.0, ny_lbf_in=0.0, q_lbf_in=0.0)
    along_y = peak_edge_load(box, nx_lbf_in=0.0, ny_lbf_in=1.0, q_lbf_in=0.0)
    assert along_x.value == pytest.approx(printed, rel=0.01)
    assert along_y.value == pytest.approx(along_x.value, rel=1e-9)
