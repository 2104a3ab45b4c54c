"""Flexibility of fasteners and the load that each row takes, against a public review with worked numbers.

Source: a public review article on the flexibility formula of Huth (ASTM STP 927, 1986), sections 7 and 8,
which also works Swift (ASTM STP 486, 1971). The article prints three or four figures; the tolerance is half
of the last one, 0.3 percent for flexibilities and .001 of the load for shares unless a case says otherwise.
"""

from __future__ import annotations

import pytest

from hatchwright.fem.flexibility import huth_in_per_lbf, swift_in_per_lbf
from hatchwright.strength.load_sharing import Strip, flexibility, peak_factor, shares


def share_of(ratio: float, rows: int = 3) -> tuple[float, ...]:
    """Equal rows and plates with k_f / (EA/p) = ratio."""
    return shares(
        flexibilities_in_per_lbf=[1.0 / ratio] * rows,
        gaps_in=[1.0] * (rows - 1),
        giving_lbf=1.0,
        taking_lbf=1.0,
    )


def test_single_shear_bolt_of_steel() -> None:
    """6.35 mm, plates of 3 and 4 mm: 1.928e-5 mm/N, 51,900 N/mm. The formula holds in any consistent units."""
    found = huth_in_per_lbf(
        thickness_in=(3.0, 4.0),
        modulus_psi=(72e3, 72e3),
        diameter_in=6.35,
        fastener_modulus_psi=200e3,
        kind="bolt",
    )
    assert found == pytest.approx(1.928e-5, rel=3e-3)
    assert 1 / found == pytest.approx(51_900, rel=3e-3)


def test_double_shear_bolt_of_steel() -> None:
    """8 mm, middle plate 6 mm, straps 3 mm: 5.584e-6 mm/N."""
    found = huth_in_per_lbf(
        thickness_in=(6.0, 3.0),
        modulus_psi=(72e3, 72e3),
        diameter_in=8.0,
        fastener_modulus_psi=200e3,
        kind="bolt",
        shears=2,
    )
    assert found == pytest.approx(5.584e-6, rel=3e-3)


def test_aluminium_rivet_in_two_sheets() -> None:
    """5/32 in two .063 sheets: 6.987e-6 in/lbf, 143,100 lbf/in; here through the working."""
    strip = Strip(0.063, 1.0, 10.5e6)
    found = flexibility("huth", strip, strip, diameter_in=0.156, fastener_modulus_psi=10.3e6)
    assert found.value == pytest.approx(6.987e-6, rel=3e-3)
    assert 1 / found.value == pytest.approx(143_100, rel=3e-3)


def test_swift_on_the_bolt() -> None:
    """The article prints 1.04e-5 mm/N, three figures."""
    found = swift_in_per_lbf(
        thickness_in=(3.0, 4.0), modulus_psi=(72e3, 72e3), diameter_in=6.35, fastener_modulus_psi=200e3
    )
    assert found == pytest.approx(1.04e-5, rel=5e-3)


@pytest.mark.parametrize(
    ("ratio", "end", "middle"),
    [
        (0.1, 0.344, 0.312),
        (0.3, 0.361, 0.278),
        (1.0, 0.400, 0.200),
        (3.0, 0.444, 0.111),
        (10.0, 0.478, 0.043),
        (30.0, 0.492, 0.016),
    ],
)
def test_three_equal_rows(ratio: float, end: float, middle: float) -> None:
    assert share_of(ratio) == pytest.approx((end, middle, end), abs=1e-3)


def test_rigid_fasteners_leave_the_middle_row_idle() -> None:
    """Printed 50 / 0 / 50 percent; rigid is played by a thousand times the plates' stiffness, hence .01."""
    assert share_of(1000.0) == pytest.approx((0.5, 0.0, 0.5), abs=0.01)


def test_three_rows_of_bolts_in_equal_plates() -> None:
    """3 mm plates, strip and pitch 25 mm, C = 1.988e-5 mm/N: printed 35.6 / 28.9 / 35.6 percent."""
    found = shares(
        flexibilities_in_per_lbf=[1.988e-5] * 3, gaps_in=[25.0] * 2, giving_lbf=5.4e6, taking_lbf=5.4e6
    )
    assert found == pytest.approx((0.356, 0.289, 0.356), abs=1e-3)


@pytest.mark.parametrize(
    ("slide", "printed", "tolerance"),
    [(1.954e-5, (0.31, 0.30, 0.40), 0.006), (1e-12, (0.33, 0.0, 0.67), 0.005)],
)
def test_three_rows_in_unequal_plates(slide: float, printed: tuple[float, ...], tolerance: float) -> None:
    """The loaded plate 6 mm, the other 3 mm; printed to whole percents, once with bolts and once rigid."""
    found = shares(
        flexibilities_in_per_lbf=[slide] * 3, gaps_in=[25.0] * 2, giving_lbf=10.8e6, taking_lbf=5.4e6
    )
    assert found == pytest.approx(printed, abs=tolerance)


@pytest.mark.parametrize(
    ("rows", "printed"),
    [
        (2, (0.5, 0.5)),
        (3, (0.3579, 0.2842, 0.3579)),
        (5, (0.2763, 0.1601, 0.1271, 0.1601, 0.2763)),
        (9, (0.2545, 0.1270, 0.0655, 0.0380, 0.0301, 0.0380, 0.0655, 0.1270, 0.2545)),
    ],
)
def test_skin_and_doubler_of_032(rows: int, printed: tuple[float, ...]) -> None:
    """1/8 AD, two .032 sheets, pitch and strip .5 in. Computed beforehand by another program with the article's method,
    not printed: an independent run of the same equations."""
    strip = Strip(0.032, 0.5, 10.5e6)
    slide = flexibility("huth", strip, strip, diameter_in=0.125, fastener_modulus_psi=10.3e6)
    found = shares(
        flexibilities_in_per_lbf=[slide.value] * rows,
        gaps_in=[0.5] * (rows - 1),
        giving_lbf=strip.stiffness_lbf,
        taking_lbf=strip.stiffness_lbf,
    )
    assert found == pytest.approx(printed, abs=1e-3)
    assert peak_factor(found, slide).value == pytest.approx(max(printed) * rows, abs=5e-3)
