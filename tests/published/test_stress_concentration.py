"""Stress concentration of rounded rectangular openings in a wide sheet.

Source of the expected values: complex potentials of Kolosov and Muskhelishvili as rational functions with poles inside
the opening, least squares on the exact outline; boundary residual under 4e-4, two discretisations within 0.3 %. It
returned 3, 2 and 4 for the circle. The values were computed independently of this project's finite elements.
Handbook fit: Peterson, chart 4.62 (Roark table 17.1), as on a public formula page, good to 2.5 %.

Tolerance 0.01: 0.3 % of the source plus 0.5 % of the grid, rounded up. Circles, ellipses and strips: test_fem_cases.py.
Not covered by a flat sheet with one opening, and so left out: rows of holes, integral rings, plate bending.
"""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.fem.analysis import analyze
from hatchwright.fem.model import OpeningModel, Sheet, wide_panel
from hatchwright.shapes.outlines import rounded_rectangle

# a/b, r/b, then the factor for: pull across the long side, pull along it, equal biaxial, shear, across with half along
CASES = [
    (1.0, 0.1, 4.6289, 4.6289, 6.7292, 10.7121, 5.3685),
    (1.0, 0.2, 3.7614, 3.7614, 4.8361, 7.8743, 4.0121),
    (1.0, 0.3, 3.3739, 3.3739, 3.9596, 6.6013, 3.4037),
    (1.0, 0.5, 3.0016, 3.0016, 3.0332, 5.3089, 2.7963),
    (1.0, 0.8, 2.8205, 2.8205, 2.3098, 4.3725, 2.4207),
    (1.5, 0.1, 5.506, 4.463, 7.483, 11.8305, 6.2455),
    (1.5, 0.2, 4.427, 3.6171, 5.4042, 8.6945, 4.6899),
    (1.5, 0.3, 3.9479, 3.2332, 4.4485, 7.2839, 3.9934),
    (1.5, 0.5, 3.4892, 2.8451, 3.4498, 5.8518, 3.3016),
    (1.5, 0.8, 3.262, 2.575, 2.7002, 4.8097, 2.8802),
    (1.5, 1.0, 3.4673, 2.4838, 2.4883, 4.3949, 2.9778),
    (2.0, 0.1, 6.2676, 4.3649, 8.1742, 12.8249, 7.009),
    (2.0, 0.2, 5.0025, 3.5364, 5.9291, 9.4367, 5.2745),
    (2.0, 0.3, 4.4413, 3.1547, 4.8991, 7.906, 4.4985),
    (2.0, 0.5, 3.9062, 2.7661, 3.8337, 6.3539, 3.732),
    (2.0, 0.8, 3.6408, 2.4832, 3.0556, 5.2219, 3.2659),
    (2.0, 1.0, 3.8645, 2.3727, 2.8972, 4.7741, 3.3809),
    (3.0, 0.1, 7.5804, 4.2547, 9.4139, 14.5656, 8.3237),
    (3.0, 0.2, 5.9857, 3.4438, 6.8569, 10.7257, 6.2795),
    (3.0, 0.3, 5.2841, 3.07, 5.697, 9.0014, 5.3609),
    (3.0, 0.5, 4.6172, 2.6845, 4.5129, 7.2448, 4.4589),
    (3.0, 0.8, 4.2818, 2.3957, 3.6949, 5.9665, 3.9157),
    (3.0, 1.0, 4.5353, 2.2818, 3.5784, 5.4504, 4.0569),
]


def edge_stress(a, r):
    """Stress round a 2a by 2 rounded rectangle, long side along x, one column each for unit Nx, Ny, q."""
    opening = rounded_rectangle(width_in=2 * a, height_in=2.0, radius_in=r)
    sheet = Sheet("sheet", outer=wide_panel(opening), inner=opening, thickness_in=1.0, modulus_psi=1e7)
    unit = analyze(OpeningModel(sheet))
    return np.stack(
        [unit.combine(nx_lbf_in=n[0], ny_lbf_in=n[1], q_lbf_in=n[2]).edge().stress_psi for n in np.eye(3)],
        axis=1,
    )


@pytest.mark.parametrize(("a", "r", "across", "along", "biaxial", "shear", "half"), CASES)
def test_rounded_rectangle(a, r, across, along, biaxial, shear, half):
    nx, ny, q = edge_stress(a, r).T
    found = [ny.max(), nx.max(), (nx + ny).max(), q.max(), (ny + nx / 2).max()]
    assert found == pytest.approx([across, along, biaxial, shear, half], rel=0.01)


@pytest.mark.parametrize(("a", "r"), [(1.0, 0.2), (1.5, 0.5), (2.0, 0.3), (3.0, 0.8)])
def test_handbook_fit_of_peterson(a, r):
    """Tolerance 0.025, the error of the fit that the source states."""
    s, ratio = np.sqrt(r), 1 / a
    c = (
        14.815 - 15.774 * s + 8.149 * r,
        -11.201 - 9.750 * s + 9.600 * r,
        0.202 + 38.622 * s - 27.374 * r,
        3.232 - 23.002 * s + 15.482 * r,
    )
    fit = sum(factor * ratio**power for power, factor in enumerate(c))
    assert edge_stress(a, r)[:, 1].max() == pytest.approx(fit, rel=0.025)
