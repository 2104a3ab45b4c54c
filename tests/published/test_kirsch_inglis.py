"""Stress round a circle in a wide sheet, against the closed form.

Source: Kirsch, 1898, as restated on a public benchmark page (uniaxial 3, and 4 in pure shear); superposition
gives 2 for equal tension both ways and 2.5 for two to one. One public page prints 4 for equal tension: that
is pure shear, and wrong there. Exact, so the tolerance is rounding.
"""

from __future__ import annotations

import pytest

from hatchwright.shapes.outlines import circle
from hatchwright.strength.stress_concentration import peak_edge_load, rounded_box

CIRCLE = rounded_box(circle(diameter_in=4.6, center=(1.0, 2.0)))


@pytest.mark.parametrize(
    ("nx", "ny", "q", "kt"),
    [
        (1, 0, 0, 3.0),
        (0, 1, 0, 3.0),
        (0, 0, 1, 4.0),
        (1, 1, 0, 2.0),
        (1, 0.5, 0, 2.5),
        (1, -0.5, 0, 3.5),
        (1, -1, 0, 4.0),
    ],
)
def test_circle(nx: float, ny: float, q: float, kt: float) -> None:
    assert peak_edge_load(CIRCLE, nx_lbf_in=nx, ny_lbf_in=ny, q_lbf_in=q).value == pytest.approx(
        kt, rel=1e-12
    )
