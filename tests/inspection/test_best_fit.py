"""A small seeded sample of `studies/detection_rates.py`, and sets whose answer follows from how they were made.

Random sets are made by the study from the examples' patterns, and judged by what was done to them; no expectation
comes from the code under test.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from studies import detection_rates

from hatchwright.errors import GeometryError, JobError
from hatchwright.inspection.best_fit import best_fit
from hatchwright.inspection.named import Kind, named
from hatchwright.inspection.pattern import pattern_of
from hatchwright.inspection.readings import Reading, read_readings
from hatchwright.metrology.registration import Common
from hatchwright.words.tell import tell

U_IN = 0.004
PLACES = {
    1: (0.0, 0.0),
    2: (1.0, 0.0),
    3: (2.0, 0.1),
    4: (3.5, 0.0),
    5: (3.5, 2.0),
    6: (1.2, 2.4),
    7: (0.0, 2.0),
}
"""A pattern that covers itself in no other way."""
PATTERN = pattern_of(PLACES)
SIZES = dict.fromkeys(PLACES, 0.130)


@pytest.fixture(scope="module")
def patterns():
    return list(detection_rates.drawn_patterns())


def readings(places, numbers=None, diameters=None):
    return tuple(
        Reading(k + 1, numbers[k] if numbers else None, float(x), float(y), U_IN)
        for k, (x, y) in enumerate(places)
    )


def kinds(told):
    return [one.kind for one in told]


def set_of(change=None, *, numbers=tuple(PLACES)):
    places = np.array(list(PLACES.values()))
    return readings(places if change is None else change(places), list(numbers) if numbers else None)


def told_of(found, common=None):
    fit = best_fit(found, PATTERN, **({"common": common} if common else {}))
    return named(fit, SIZES)


@pytest.mark.parametrize("wrong", detection_rates.WRONGS)
def test_random_sets_with_numbers(patterns, wrong):
    rng = np.random.default_rng([1, len(wrong)])
    for drawn in patterns:
        one = detection_rates.made(rng, drawn, wrong, numbered=True)
        found = detection_rates.is_found(wrong, one, detection_rates.told_of(drawn, one), numbered=True)
        assert found is (wrong != "clean"), drawn.name


@pytest.mark.parametrize("wrong", ["clean", "turned", "double", "extra", "missing"])
def test_random_sets_without_numbers(patterns, wrong):
    rng = np.random.default_rng([2, len(wrong)])
    for drawn in (one for one in patterns if one.name in ("cypress", "dogwood")):
        one = detection_rates.made(rng, drawn, wrong, numbered=False)
        found = detection_rates.is_found(wrong, one, detection_rates.told_of(drawn, one), numbered=False)
        assert found is (wrong != "clean"), drawn.name


def test_what_is_template_and_what_is_drilling_add_up_to_what_was_measured():
    rng = np.random.default_rng(3)
    fit = best_fit(
        set_of(lambda p: p @ [[1, 0.01], [-0.01, 1]] + 0.02 + 0.003 * rng.normal(size=p.shape)), PATTERN
    )
    for one in fit.holes:
        assert np.add(one.template_in, one.drilling_in) == pytest.approx(one.off_in, abs=1e-12)
        assert one.drilling_u_in > one.u_in
    assert fit.fit.turn_rad == pytest.approx(0.01, abs=0.002)


def test_a_set_without_symmetry_is_told_mirrored_without_numbers():
    told = told_of(set_of(lambda p: p * [-1, 1] + 3.0, numbers=None))
    (one,) = (one for one in told if one.is_doubtful)
    assert one.kind is Kind.MIRRORED
    assert "mirror image" in tell(one.told)


@pytest.mark.parametrize(("quarter", "degrees"), [(1, "90"), (2, "180"), (3, "270")])
@pytest.mark.parametrize("numbers", [tuple(PLACES), None])
def test_a_turned_set_is_told_by_its_quarter(quarter, degrees, numbers):
    c, s = round(math.cos(quarter * math.pi / 2)), round(math.sin(quarter * math.pi / 2))
    told = told_of(set_of(lambda p: p @ np.array([[c, s], [-s, c]]) + [1, -1], numbers=numbers))
    (one,) = (one for one in told if one.is_doubtful)
    assert one.kind is Kind.TURNED
    assert f"Turned {degrees} deg" in tell(one.told)


def test_two_swapped_numbers_are_named():
    told = told_of(set_of(numbers=(1, 2, 5, 4, 3, 6, 7)))
    assert [(one.kind, one.holes) for one in told] == [(Kind.SWAPPED, (3, 5))]


def test_numbers_moved_on_by_one_fit_nowhere():
    told = told_of(set_of(numbers=(2, 3, 4, 5, 6, 7, 1)))
    assert kinds(told) == [Kind.NUMBERS]


def test_one_wrong_number_is_named_with_its_hole():
    places = list(PLACES.values())
    told = told_of(readings([*places[:5], places[6]], [1, 2, 3, 4, 5, 6]))
    assert [(one.kind, one.holes) for one in told] == [(Kind.RENUMBERED, (6, 7)), (Kind.MISSING, (6,))]


@pytest.mark.parametrize(
    ("off", "kind", "words"),
    [
        (0.003, Kind.READ_TWICE, "read twice or drilled twice"),
        (0.06, Kind.DOUBLE, "drilled twice"),
        (0.1299, Kind.DOUBLE, "drilled twice"),
        (0.1301, Kind.EXTRA, "does not have"),
    ],
)
def test_a_second_hole_within_a_hole_is_double_to_its_diameter(off, kind, words):
    """Two holes of .130 touch when their centers are .130 apart."""
    places = [*PLACES.values(), (3.5 + off, 2.0)]
    (one,) = told_of(readings(places, [*PLACES, None]))
    assert one.kind is kind
    assert words in tell(one.told)
    assert 8 in one.rows


def test_an_error_that_all_share_hides_a_shift():
    moved = set_of(lambda p: np.add(p, [0.02, 0.0]))
    assert kinds(told_of(moved)) == [Kind.SHIFTED]
    assert kinds(told_of(moved, Common(place_in=0.01))) == []


def test_a_pattern_that_was_printed_too_large_is_told_and_not_fitted_away():
    rng = np.random.default_rng(4)
    told = told_of(set_of(lambda p: p * 1.02 + 0.0005 * rng.normal(size=p.shape)))
    assert Kind.STRETCHED in kinds(told)
    text = next(tell(one.told) for one in told if one.kind is Kind.STRETCHED)
    assert "larger than drawn" in text


@pytest.mark.parametrize(
    ("factor", "unit"), [(25.4, "millimeters read as inches"), (1 / 25.4, "inches read as")]
)
def test_the_other_unit_is_refused(factor, unit):
    with pytest.raises(GeometryError, match=unit):
        told_of(set_of(lambda p: p * factor))


def test_one_reading_is_too_few():
    with pytest.raises(GeometryError, match="too few"):
        best_fit(set_of()[:1], PATTERN)


def test_a_few_readings_of_many_holes_are_laid_on_by_their_numbers():
    assert kinds(told_of(set_of()[2:6])) == [Kind.MISSING]


def test_readings_in_a_line_can_not_show_a_mirror_image():
    told = told_of(set_of()[:2])
    assert kinds(told) == [Kind.MISSING, Kind.ALIKE]
    assert "on both sides" in tell(told[1].told)


def test_places_of_a_symmetric_pattern_without_numbers_say_what_they_can_not_show():
    square = pattern_of(dict(enumerate([(0, 0), (2, 0), (2, 1), (0, 1)], start=1)))
    told = named(best_fit(readings([(0, 0), (2, 0), (2, 1), (0, 1)]), square), {})
    assert kinds(told) == [Kind.ALIKE]
    assert "turned 180 deg or mirrored" in tell(told[0].told)


@pytest.mark.parametrize("name", ["alder", "dogwood", "juniper"])
def test_a_row_measured_by_itself_without_numbers_is_where_it_lies(patterns, name):
    """Three holes or more of a row, as drawn: neither shifted along it, nor turned."""
    pattern = next(one.pattern for one in patterns if one.name == name)
    rng = np.random.default_rng(6)
    few = max(3, len(pattern.numbers) // 6)
    told = named(best_fit(readings(pattern.places_in[:few] + 0.003 * rng.normal(size=(few, 2))), pattern), {})
    assert {one.kind for one in told} <= {Kind.MISSING, Kind.ALIKE}


def test_readings_of_another_job_are_refused(patterns):
    alder, heron = (next(one.pattern for one in patterns if one.name == name) for name in ("alder", "heron"))
    with pytest.raises(GeometryError, match="fit the drawing in no place"):
        best_fit(readings(heron.places_in), alder)


@pytest.mark.parametrize("typed", [(-6.5, 2.0), (40.0, 24.0), (0.35, 2.2)])
@pytest.mark.parametrize("wrong", range(len(PLACES)))
def test_one_slip_of_the_pen_is_that_reading_alone(typed, wrong):
    """The other six lie where they were drawn, so a fit over them neither shifts nor turns."""

    def slipped(places):
        places[wrong] += typed
        return places

    fit = best_fit(set_of(slipped), PATTERN)
    assert [one.number for one in fit.holes if one.is_apart] == [wrong + 1]
    assert fit.fit.turn_rad == pytest.approx(0.0, abs=1e-9)
    assert fit.fit.shift_in == pytest.approx((0.0, 0.0), abs=1e-9)


def test_a_set_whose_readings_all_name_their_own_uncertainty_needs_no_common_one():
    table = "number, x, y, diameter, u\n1, 0, 0, , .003\n2, 1, 0, , .004"
    told = {"unit": "in", "job_unit": "in", "known": PLACES, "center_in": (0.0, 0.0)}
    assert [one.u_in for one in read_readings(table, u_in=None, **told).all] == [0.003, 0.004]
    with pytest.raises(JobError, match="nothing says how far off"):
        read_readings(table.replace(", .004", ""), u_in=None, **told)
