"""Load sharing of rows: equilibrium, symmetry and the ends of stiffness."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.errors import SolveError
from hatchwright.strength.load_sharing import Strip, flexibility, shares

SOFT = st.floats(1e-7, 1e-4)
STIFF = st.floats(1e4, 1e6)


@pytest.mark.property
@given(data=st.data(), rows=st.integers(1, 8), giving=STIFF, taking=STIFF)
def test_shares_add_up_and_turn_round(data: st.DataObject, rows: int, giving: float, taking: float) -> None:
    slides = data.draw(st.lists(SOFT, min_size=rows, max_size=rows))
    gaps = data.draw(st.lists(st.floats(0.1, 2.0), min_size=rows - 1, max_size=rows - 1))
    there = shares(flexibilities_in_per_lbf=slides, gaps_in=gaps, giving_lbf=giving, taking_lbf=taking)
    back = shares(
        flexibilities_in_per_lbf=slides[::-1], gaps_in=gaps[::-1], giving_lbf=taking, taking_lbf=giving
    )
    assert sum(there) == pytest.approx(1.0, abs=1e-9)
    assert there == pytest.approx(back[::-1], abs=1e-7)


def test_soft_fasteners_share_equally() -> None:
    found = shares(flexibilities_in_per_lbf=[1.0] * 5, gaps_in=[0.5] * 4, giving_lbf=1e6, taking_lbf=1e6)
    assert found == pytest.approx([0.2] * 5, abs=1e-5)


def test_a_stiffer_taking_sheet_loads_the_row_where_the_giving_sheet_ends_less() -> None:
    thin, thick = (
        shares(flexibilities_in_per_lbf=[1e-5] * 3, gaps_in=[0.5] * 2, giving_lbf=1.6e5, taking_lbf=taking)
        for taking in (1.6e5, 4.8e5)
    )
    assert thick[0] > thin[0]
    assert thick[-1] < thin[-1]


def test_swift_is_stiffer_than_huth_on_a_skin() -> None:
    strip = Strip(0.032, 0.5, 10.5e6)
    huth, swift = (
        flexibility(formula, strip, strip, diameter_in=0.125, fastener_modulus_psi=10.3e6).value
        for formula in ("huth", "swift")
    )
    assert swift < huth


@pytest.mark.parametrize(
    ("slides", "gaps", "giving"), [([], [], 1.0), ([1.0, 1.0], [], 1.0), ([1.0], [], 0.0), ([-1.0], [], 1.0)]
)
def test_what_is_no_joint_is_refused(slides: list[float], gaps: list[float], giving: float) -> None:
    with pytest.raises(SolveError):
        shares(flexibilities_in_per_lbf=slides, gaps_in=gaps, giving_lbf=giving, taking_lbf=1.0)


def test_rigid_rows_on_top_of_each_other_have_no_answer() -> None:
    with pytest.raises(SolveError, match="no one answer"):
        shares(flexibilities_in_per_lbf=[0.0, 0.0], gaps_in=[0.0], giving_lbf=1.0, taking_lbf=1.0)
