"""Drills: the sizes as restated from [ASME-B94.11M], fractions exact, and the nearest drill to a diameter."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.errors import TableError
from hatchwright.tables.drills import drill, drill_sizes, nearest_drill
from hatchwright.units import parse_length
from hatchwright.workings import Grade


def test_every_number_and_letter_drill_is_there() -> None:
    names = {str(number) for number in range(1, 81)} | set("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    assert set(drill_sizes()) == names


def test_number_drills_fall_and_letter_drills_rise() -> None:
    numbers = [drill_sizes()[str(number)] for number in range(1, 81)]
    letters = [drill_sizes()[letter] for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"]
    assert numbers == sorted(numbers, reverse=True)
    assert len(set(numbers)) == 80
    assert letters == sorted(letters)
    assert letters[0] > numbers[0]


@pytest.mark.parametrize(
    ("name", "diameter_in"),
    [  # [TRADE-2001], drills of the rivet hole table; the ends of both series
        ("40", 0.098),
        ("30", 0.1285),
        ("21", 0.159),
        ("20", 0.161),
        ("11", 0.191),
        ("10", 0.1935),
        ("F", 0.257),
        ("80", 0.0135),
        ("1", 0.228),
        ("Z", 0.413),
    ],
)
def test_known_drills(name: str, diameter_in: float) -> None:
    assert drill(name).diameter_in == diameter_in
    assert drill(f"#{name}") == drill(name)


def test_three_fourth_decimals_rest_on_memory() -> None:
    remembered = {name for name in drill_sizes() if drill(name).grade is Grade.MEMORY}
    assert remembered == {"5", "18", "28"}


def test_fractions_are_exact() -> None:
    for count in range(1, 64):
        fraction = Fraction(count, 64)
        assert drill(str(fraction)).diameter_in == float(fraction)


def test_nearest_drill() -> None:
    assert nearest_drill(0.1285).name == "30"
    assert nearest_drill(0.1875).name == "3/16"
    assert nearest_drill(0.2495).name == "1/4"
    assert nearest_drill(0.105).name == "37"


def test_of_two_equally_near_the_smaller_is_taken() -> None:
    assert nearest_drill((0.0250 + 0.0260) / 2).name == "72"


@pytest.mark.parametrize("diameter_in", [0.0, 0.013, 0.99, float("nan")])
def test_outside_the_drills_it_says_what_there_is(diameter_in: float) -> None:
    with pytest.raises(TableError, match=r"\.0135 to \.9844 in"):
        nearest_drill(diameter_in)


@pytest.mark.parametrize("name", ["0", "81", "AA", "", "3/65", "65/64"])
def test_no_such_drill(name: str) -> None:
    with pytest.raises(TableError, match="1 to 80"):
        drill(name)


def test_the_sizes_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        drill_sizes()["30"] = 0.5  # type: ignore[index]


def test_lengths_read_drill_names() -> None:
    assert parse_length("#30", drills=drill_sizes()).inch == 0.1285
    assert parse_length("F", drills=drill_sizes()).inch == 0.257


@pytest.mark.property
@settings(deadline=None)
@given(st.floats(min_value=0.0135, max_value=0.984))
def test_nothing_is_nearer_than_the_nearest(diameter_in: float) -> None:
    nearest = abs(nearest_drill(diameter_in).diameter_in - diameter_in)
    noise = 1e-9
    assert all(nearest <= abs(size_in - diameter_in) + noise for size_in in drill_sizes().values())
    assert all(nearest <= abs(count / 64 - diameter_in) + noise for count in range(1, 64))


def test_a_metric_drill_is_named_in_metric_jobs_only() -> None:
    """3.3 mm is .1299 in, between No. 30 (.1285) and No. 29 (.136): arithmetic."""
    assert drill("3.3 mm").diameter_in == pytest.approx(3.3 / 25.4)
    assert nearest_drill(3.3 / 25.4).name == "30"
    assert nearest_drill(3.3 / 25.4, "mm").name == "3.3 mm"
    assert nearest_drill(0.1285, "mm").name == "3.3 mm"
    with pytest.raises(TableError):
        drill("4.35 mm")
