"""Closed forms and independent solutions for sheets with openings and for riveted laps.

Sources, one a test:

- Kirsch, G. (1898), closed form for a circle; as cited in Peterson, Stress Concentration Factors.
- Inglis, C. E. (1913), closed form for an ellipse: 1 + 2 a/b, 1 + 2 b/a, and (a + b)^2 / (a b) in shear.
- Howland, R. C. J. (1930), strip with a central hole: 3.03 3.14 3.36 3.74 4.32 (from memory, unverified); and an
  independent least-squares collocation of complex potentials, boundary residual 6e-5 or less.
- Roark's Formulas, table 17.1, fit for the same strip on the net section, read on a public formula page.
- Muskhelishvili's method for hypotrochoid openings (cf. Savin, Stress Distribution around Holes): the equal biaxial
  value is 2 (1 + 3 |m|) / (1 - 3 |m|); the others by collocation with a residual of 5e-13.
- Huth (1984, 1986) and Swift (1971), flexibility of fasteners, as collected in a public review.
- Lap joints: independent solution of springs in series.

Tolerance 0.005: what the grid is meant to reach at its usual fineness. The published values with two decimals get
0.012, their rounding and the 0.4 to 0.8 % by which the strip solutions of this list differ among themselves.
"""

from __future__ import annotations

import numpy as np
import pytest

from fem.laps import lap_shares
from fem.outlines import ellipse, hypotrochoid
from hatchwright.fem.analysis import analyze
from hatchwright.fem.flexibility import huth_in_per_lbf, swift_in_per_lbf
from hatchwright.fem.model import OpeningModel, Sheet, wide_panel
from hatchwright.shapes.outlines import circle, rounded_rectangle

NX, NY, Q = np.eye(3)
BIAXIAL = NX + NY


def edge_stress(opening, panel=None):
    """Stress round the edge over the unit stress far away, one column each for Nx, Ny, q."""
    sheet = Sheet(
        "sheet", outer=panel or wide_panel(opening), inner=opening, thickness_in=1.0, modulus_psi=1e7
    )
    unit = analyze(OpeningModel(sheet))
    loads = np.eye(3)
    return np.stack(
        [unit.combine(nx_lbf_in=n[0], ny_lbf_in=n[1], q_lbf_in=n[2]).edge().stress_psi for n in loads], axis=1
    )


@pytest.fixture(scope="module")
def round_hole():
    return edge_stress(circle(diameter_in=4.0))


@pytest.mark.parametrize(
    ("load", "highest", "lowest"),
    [
        (NX, 3.0, -1.0),
        (NY, 3.0, -1.0),
        (Q, 4.0, -4.0),
        (BIAXIAL, 2.0, 2.0),
        (NX + NY / 2, 2.5, 0.5),
        (NX - NY / 2, 3.5, -2.5),
    ],
)
def test_circle_of_kirsch(round_hole, load, highest, lowest):
    stress = round_hole @ load
    assert stress.max() == pytest.approx(highest, rel=0.002)
    assert stress.min() == pytest.approx(lowest, rel=0.002)


@pytest.mark.parametrize("ratio", [1.5, 2.0, 3.0])
def test_ellipse_of_inglis(ratio):
    stress = edge_stress(ellipse(a=ratio, b=1.0))
    assert (stress @ NY).max() == pytest.approx(1 + 2 * ratio, rel=0.005)
    assert (stress @ NX).max() == pytest.approx(1 + 2 / ratio, rel=0.005)
    assert (stress @ Q).max() == pytest.approx((ratio + 1) ** 2 / ratio, rel=0.005)
    assert (stress @ BIAXIAL).max() == pytest.approx(2 * ratio, rel=0.005)


@pytest.mark.parametrize(
    ("ratio", "collocated", "published"),
    [
        (0.1, 3.03613, 3.03),
        (0.2, 3.15257, 3.14),
        (0.3, 3.37439, 3.36),
        (0.4, 3.74719, 3.74),
        (0.5, 4.34764, 4.32),
    ],
)
def test_strip_with_a_hole_of_howland(ratio, collocated, published):
    strip = rounded_rectangle(width_in=3.0, height_in=1.0, radius_in=0.0)
    peak = (edge_stress(circle(diameter_in=ratio), strip) @ NX).max()
    assert peak == pytest.approx(collocated, rel=0.005)
    assert peak == pytest.approx(published, rel=0.012)


def test_strip_with_a_hole_of_roark():
    x = 0.3
    strip = rounded_rectangle(width_in=3.0, height_in=1.0, radius_in=0.0)
    net = 3 - 3.13 * x + 3.66 * x**2 - 1.53 * x**3
    assert (edge_stress(circle(diameter_in=x), strip) @ NX).max() == pytest.approx(net / (1 - x), rel=0.012)


@pytest.mark.parametrize(
    ("m", "nx", "shear"), [(-1 / 9, 2.85202, 6.75), (-1 / 6, 3.85714, 9.6)], ids=["flat sides", "sixth"]
)
def test_hypotrochoid_of_muskhelishvili(m, nx, shear):
    stress = edge_stress(hypotrochoid(m=m))
    assert (stress @ NX).max() == pytest.approx(nx, rel=0.005)
    assert (stress @ Q).max() == pytest.approx(shear, rel=0.005)
    assert (stress @ BIAXIAL).max() == pytest.approx(2 * (1 + 3 * abs(m)) / (1 - 3 * abs(m)), rel=0.005)


def test_rounded_square_computed_independently():
    """r/b 0.2: boundary collocation 3.7614 and 7.8743; converged finite elements 3.770 and 7.882, +-0.3 %."""
    stress = edge_stress(rounded_rectangle(width_in=2.0, height_in=2.0, radius_in=0.2))
    assert (stress @ NX).max() == pytest.approx(3.77, rel=0.005)
    assert (stress @ Q).max() == pytest.approx(7.882, rel=0.005)


def test_flexibility_of_huth_and_swift():
    """1e-5 is the rounding of the printed values (mm/N)."""
    rivet = {"thickness_in": (1.02, 1.27), "modulus_psi": (72400.0, 72400.0), "diameter_in": 3.97}
    assert huth_in_per_lbf(**rivet, fastener_modulus_psi=72400.0) == pytest.approx(4.90019e-5, rel=1e-5)
    assert swift_in_per_lbf(**rivet, fastener_modulus_psi=72400.0) == pytest.approx(3.692929e-5, rel=1e-5)
    bolt = {"thickness_in": (1.27, 1.02), "modulus_psi": (72400.0, 72400.0), "diameter_in": 4.83}
    found = huth_in_per_lbf(**bolt, fastener_modulus_psi=207000.0, kind="bolt")
    assert found == pytest.approx(3.296449e-5, rel=1e-5)


@pytest.mark.parametrize(
    ("formula", "given", "printed", "tolerance"),
    [
        ("huth", {"t": (3, 4), "d": 6.35, "e": 72000.0, "ef": 200000.0, "kind": "bolt"}, 1.928e-5, 0.002),
        (
            "huth",
            {"t": (6, 3), "d": 8.0, "e": 72000.0, "ef": 200000.0, "kind": "bolt", "shears": 2},
            5.584e-6,
            0.002,
        ),
        ("huth", {"t": (0.063, 0.063), "d": 0.156, "e": 10.5e6, "ef": 10.3e6}, 6.987e-6, 0.002),
        ("swift", {"t": (3, 4), "d": 6.35, "e": 72000.0, "ef": 200000.0}, 1.04e-5, 0.005),
    ],
)
def test_flexibility_worked_in_a_public_review(formula, given, printed, tolerance):
    """Worked numbers of a public review article on fastener flexibility; tolerance from their printed digits."""
    compute = {"huth": huth_in_per_lbf, "swift": swift_in_per_lbf}[formula]
    extra = {key: given[key] for key in ("kind", "shears") if key in given}
    found = compute(
        thickness_in=given["t"],
        modulus_psi=(given["e"],) * 2,
        diameter_in=given["d"],
        fastener_modulus_psi=given["ef"],
        **extra,
    )
    assert found == pytest.approx(printed, rel=tolerance)


@pytest.mark.parametrize(
    ("rows", "pitch", "thickness", "flexibility", "shares"),
    [
        (3, 19.85, (1.02, 1.27), 4.90019e-5, [0.37161, 0.29036, 0.33804]),
        (5, 19.85, (1.02, 1.02), 5.189542e-5, [0.27027, 0.16343, 0.1326, 0.16343, 0.27027]),
        (4, 15.88, (1.6, 1.02), 4.696224e-5, [0.25008, 0.20322, 0.22476, 0.32194]),
    ],
    ids=["three rows", "five equal rows", "four rows of unequal sheets"],
)
def test_lap_joints_solved_as_springs_in_series(rows, pitch, thickness, flexibility, shares):
    """One column of a lap 19.85 wide (mm, N); tolerance 0.001 of the load, the accuracy asked of the discs."""
    found = lap_shares(
        rows=rows,
        pitch=pitch,
        width=19.85,
        thickness=thickness,
        modulus=72400.0,
        poisson_ratio=0.33,
        flexibility=flexibility,
        patch=3.0 * 3.97,
    )
    assert found == pytest.approx(np.array(shares), abs=0.001)
