"""The first row as a fatigue screen: bypass, bearing and bending at one hole, by hand, and what can be seen of it.

By hand: one row hands over all of its load: K = 3.25 (1 - 1 + .5) + 1.5 x 1 x p / D; the curve of unnotched bare
2024-T3 has no failure up to 15.8 ksi, halved for clad sheet (docs/theory/first_row.md).
"""

from __future__ import annotations

import pytest

from hatchwright.judged import Status
from hatchwright.search.strength_answer import answer_of
from hatchwright.strength.first_row import asked_nothing, local_stress, peak_of_side
from hatchwright.strength.site import site_of
from hatchwright.words.tell import tell_all
from strength.jobs import ANSWERED, COVER, RESTORE, SQUARE, SYMMETRIC, layout_of, running
from told import advice_of

ONE_ROW = SQUARE[: SQUARE.index('[[rows]]\nname = "outer"')]


def site(*parts, base=SQUARE):
    return site_of(layout_of(*parts, base=base))


def screened(*parts, base=SQUARE):
    report = answer_of(layout_of(ANSWERED, *parts, base=base), None).report
    return [one for one in report.findings if one.code == "S702"]


def test_one_row_bears_all_of_its_load():
    where = site(base=ONE_ROW)
    side = where.sides[0]
    pitch_in = side.rows[-1].longest_in
    assert peak_of_side(where, side).value == pytest.approx(3.25 * 0.5 + 1.5 * pitch_in / 0.125)


def test_two_rows_share_it():
    """The harder of two rows takes between a half and all; bypass grows by what bearing loses."""
    where = site(base=SYMMETRIC)
    side = where.sides[0]
    working = peak_of_side(where, side).working[-1]
    put_in = {value.symbol: value.value for value in working.values}
    assert 0.5 <= put_in["s"] < 0.6
    assert working.result.value == pytest.approx(
        3.25 * (1.5 - put_in["s"]) + 1.5 * put_in["s"] * put_in["p"] / 0.125
    )


def test_the_curve_nearest_to_a_hole_counts():
    """2024-T3 at Kt 2: no failure up to 12.3 ksi net, so 24.6 at the notch; a notch starts through the cladding."""
    for base in (SQUARE, SQUARE.replace("clad = true", "clad = false")):
        where = site(base=base)
        assert local_stress(where.skin, where, load_ratio=0.0).value == pytest.approx(24_600.0)


def test_load_that_turns_round_is_worth_less():
    """(1 + 1)^.68 = 1.602 at R -1."""
    where = site()
    still, turned = (local_stress(where.skin, where, load_ratio=ratio).value for ratio in (0.0, -1.0))
    assert still / turned == pytest.approx(2.0**0.68)


def test_it_is_far_harder_than_a_share_of_yield_on_the_gross_section():
    """P10: .6 Fty / 1.5 allowed 15.6 ksi; no job is screened more mildly than that."""
    for base in (SQUARE, SYMMETRIC, ONE_ROW, SQUARE.replace("clad = true", "clad = false")):
        assert asked_nothing(site(base=base), load_ratio=0.0).value < 15_600.0 / 3.0


@pytest.mark.parametrize(("nx", "status"), [(20.0, Status.PASS), (200.0, Status.CAUTION)])
def test_the_screen_cautions_and_gives_the_stress(nx, status):
    (found,) = screened(running({"nx": nx}))
    assert found.status is status
    assert found.value == pytest.approx(nx / 0.032 / 1.5)
    if status is Status.CAUTION:
        assert "the screen asks nothing more" in advice_of(found)
        assert "not a life" in advice_of(found)


def test_shear_counts_by_its_principal_tension_and_as_turned_round():
    (found,) = screened(running({"q": 60.0}))
    assert found.value == pytest.approx(60.0 / 0.032 / 1.5)
    assert found.limit == pytest.approx(asked_nothing(site(), load_ratio=-1.0).value)


def test_the_lowest_load_of_all_cases_is_the_other_end_of_each():
    pulled, pressed = {"nx": 100.0}, {"nx": -50.0}
    (found,) = screened(running(pulled, pressed))
    assert found.limit == pytest.approx(asked_nothing(site(), load_ratio=-0.5).value)


def test_a_sheet_without_a_curve_is_never_a_pass():
    bare = SQUARE.replace(
        'alloy = "2024"\ntemper = "T3"\nclad = true', 'alloy = "6061"\ntemper = "T6"\nclad = false'
    )
    (found,) = screened(running({"nx": 5.0}), base=bare)
    assert found.status is Status.CAUTION
    assert "No stress-life curve" in advice_of(found)


@pytest.mark.parametrize(
    ("face", "hidden"),
    [("inside", "shows only once it is through"), ("outside", "Look from inside")],
)
def test_the_note_says_what_is_hidden_and_sets_nothing(face, hidden):
    base = SQUARE.replace("[doubler]\n", f'[doubler]\nface = "{face}"\n')
    report = answer_of(layout_of(ANSWERED, RESTORE, COVER, base=base), None).report
    told = tell_all(report.inspection)
    assert hidden in told
    assert "sets the repair category and the inspection intervals" in told
    assert "For the ICA" in told
    assert "open the cover to look" in told
    assert "in the skin at limit load nothing more is asked" in told


def test_without_loads_no_note():
    assert answer_of(layout_of(ANSWERED), None).report.inspection == ()
