"""Charts for strength: against closed forms and published formulas, between and outside their rows."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.errors import TableError
from hatchwright.tables.strength_values import (
    OPENING_STRESS_CONCENTRATION,
    inter_rivet_end,
    opening_concentration,
    shear_buckling_coefficient,
    strength_value,
)
from hatchwright.workings import Grade


def galerkin_shear(side_ratio: float, terms: int = 14) -> float:
    """Double sine series for a simply supported plate in shear (Timoshenko and Gere, Theory of Elastic Stability, art.
    9.7): an upper bound that converges on the exact coefficient."""
    m, n = (part.ravel() for part in np.meshgrid(np.arange(1, terms + 1), np.arange(1, terms + 1)))
    bending = (m**2 / side_ratio**2 + n**2) ** 2 * np.pi**2 * side_ratio / 4
    odd = ((m[:, None] + m) % 2 == 1) & ((n[:, None] + n) % 2 == 1)
    with np.errstate(divide="ignore", invalid="ignore"):
        part = m[:, None] * m * n[:, None] * n / ((m[:, None] ** 2 - m**2) * (n**2 - n[:, None] ** 2))
    work = np.where(odd, 8 * part, 0.0)
    scaled = work / np.sqrt(bending[:, None] * bending)
    return float(1 / np.abs(np.linalg.eigvalsh((scaled + scaled.T) / 2)).max())


@pytest.mark.parametrize("side_ratio", [1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0])
def test_shear_coefficients_agree_with_a_double_sine_series(side_ratio: float) -> None:
    """0.5 percent: the series of 14 x 14 terms still lies a little above the exact value on long plates."""
    assert shear_buckling_coefficient(side_ratio=side_ratio).value == pytest.approx(
        galerkin_shear(side_ratio), rel=5e-3
    )


def test_shear_coefficients_run_smoothly_to_the_endless_plate() -> None:
    ratios = np.linspace(1.0, 30.0, 200)
    found = [shear_buckling_coefficient(side_ratio=ratio).value for ratio in ratios]
    assert np.all(np.diff(found) < 0)
    assert shear_buckling_coefficient(side_ratio=1e6).value == 5.34


def test_a_plate_is_never_shorter_than_wide() -> None:
    with pytest.raises(TableError, match=r"side ratio 0\.9\. Listed: 1 to 100\. Don't read beyond it"):
        shear_buckling_coefficient(side_ratio=0.9)


def peterson(a_over_b: float, r_over_b: float) -> float:
    """Rounded rectangle, tension across the long side: Peterson's chart 4.62 as the polynomial of Roark's
    table 17.1, with 38.622 where a public page prints 38.662 (only 38.622 gives 3.00 for the circle)."""
    q, b = np.sqrt(r_over_b), 1 / a_over_b
    c1 = 14.815 - 15.774 * q + 8.149 * q**2
    c2 = -11.201 - 9.750 * q + 9.600 * q**2
    c3 = 0.202 + 38.622 * q - 27.374 * q**2
    c4 = 3.232 - 23.002 * q + 15.482 * q**2
    return float(c1 + c2 * b + c3 * b**2 + c4 * b**3)


@pytest.mark.parametrize("a_over_b", [1.0, 1.5, 2.0, 3.0])
@pytest.mark.parametrize("r_over_b", [0.2, 0.3, 0.5, 0.8, 1.0])
def test_rounded_rectangles_agree_with_the_published_polynomial(a_over_b: float, r_over_b: float) -> None:
    """2.5 percent: how far the polynomial, itself a fit to a chart, lies from a boundary solution."""
    found = opening_concentration("across long side", side_ratio=a_over_b, radius_ratio=r_over_b)
    assert found.value == pytest.approx(peterson(a_over_b, r_over_b), rel=0.025)


@pytest.mark.parametrize(
    ("load", "kt"), [("across long side", 3.0), ("shear", 4.0), ("equal biaxial", 2.0), ("two to one", 2.5)]
)
def test_the_circle_has_kirschs_values(load: str, kt: float) -> None:
    assert opening_concentration(load, side_ratio=1.0, radius_ratio=1.0).value == kt


def test_uniaxial_values_never_add_up_to_less_than_the_biaxial_one() -> None:
    """Peaks of two loads at one place cannot exceed the sum of both peaks: a bound that the table must obey."""
    rows = OPENING_STRESS_CONCENTRATION.rows()
    kt = {
        (r.cells["load"], r.number("side_ratio"), r.number("radius_ratio")): r.number("kt_ratio")
        for r in rows
    }
    for (load, side, radius), value in kt.items():
        if load == "equal biaxial":
            assert (
                value <= kt["across long side", side, radius] + kt["along long side", side, radius] + 1e-3
            ), (side, radius)


def test_outside_the_table_nothing_is_read() -> None:
    with pytest.raises(TableError, match=r"radius ratio 0\.05\. Listed: 0\.1 to 1\."):
        opening_concentration("shear", side_ratio=1.0, radius_ratio=0.05)
    with pytest.raises(TableError, match=r"load bending\. Listed by load: across long side, "):
        opening_concentration("bending", side_ratio=1.0, radius_ratio=0.5)


def test_flush_heads_hold_the_sheet_less_than_protruding_ones() -> None:
    assert inter_rivet_end(is_flush=True).value < inter_rivet_end(is_flush=False).value


def test_a_value_says_how_far_it_is_to_be_trusted() -> None:
    assert strength_value("rivet_shear_thin_sheet_slope").grade is Grade.MEMORY
    with pytest.raises(TableError, match="no value is listed for 'x'"):
        strength_value("x")
