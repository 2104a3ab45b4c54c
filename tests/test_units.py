"""The one reader of lengths."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.errors import EntryError
from hatchwright.tables.drills import drill_sizes
from hatchwright.units import decimal_inch, figure, nearest_64th, parse_length, places_to_tell
from tests.told import remedy_of

DRILLS = drill_sizes()


@pytest.mark.parametrize(
    ("text", "inch"),
    [
        ("1 3/8", "11/8"),
        ("1-3/8", "11/8"),
        ("3/32", "3/32"),
        (".032", "4/125"),
        ("1.375 in", "11/8"),
        ('1.375"', "11/8"),
        ("35 mm", "175/127"),
        ("0,8 mm", "4/127"),
        ("#30", "257/2000"),
        ("No. 30", "257/2000"),
        ("-30", "257/2000"),
        ("F", "257/1000"),
        ("letter F", "257/1000"),
        ("5", "5"),
        ("5.", "5"),
        ("  2 in ", "2"),
    ],
)
def test_what_a_mechanic_types_is_read_exactly(text, inch):
    length = parse_length(text, drills=DRILLS)
    assert length.exact_in == Fraction(inch)
    assert length.text == text


@pytest.mark.parametrize(
    "text",
    ["", " ", "nan", "inf", "1e3", "٣", "1 3/2", "5/0", "abc", "1/2 mm", "#81", "#0", "5 kg", "1..2", "-"],
)
def test_what_cannot_be_read_is_refused_with_a_remedy(text):
    with pytest.raises(EntryError) as caught:
        parse_length(text, drills=DRILLS)
    assert remedy_of(caught.value)


@pytest.mark.parametrize(("unit", "inch"), [("in", Fraction(7, 2)), ("mm", Fraction(35, 254))])
def test_a_comma_that_can_not_set_off_thousands_is_a_decimal_point(unit, inch):
    assert parse_length("3,5", unit=unit).exact_in == inch


def test_a_negative_length_is_refused_but_a_negative_coordinate_is_read():
    with pytest.raises(EntryError, match="negative"):
        parse_length("-0.5")
    assert parse_length("-0.5", signed=True).inch == -0.5
    assert parse_length("-30", signed=True).inch == -30.0


def test_a_length_is_echoed_in_every_notation():
    assert parse_length("1 3/8").echo() == "1.375 in = 1 3/8 = 34.925 mm"
    assert parse_length("35 mm").echo(places=4) == "1.3780 in = 1 3/8 + .003 = 35 mm"


@pytest.mark.parametrize(
    ("value", "text"), [(0.5, "1/2"), (0.0, "0"), (2.0, "2"), (-1.375, "-1 3/8"), (0.05, "3/64 + .003")]
)
def test_nearest_64th(value, text):
    assert nearest_64th(value) == text


def test_inch_decimals_have_no_zero_before_the_point():
    assert decimal_inch(0.032) == ".032"
    assert decimal_inch(-0.5) == "-.500"
    assert decimal_inch(-0.0001) == ".000"


@pytest.mark.property
@given(whole=st.integers(0, 99), over=st.integers(1, 63))
def test_mixed_numbers_read_back(whole, over):
    assert parse_length(f"{whole}-{over}/64").exact_in == whole + Fraction(over, 64)


@pytest.mark.property
@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_never_more(text):
    try:
        length = parse_length(text, drills=DRILLS)
    except EntryError:
        return
    assert length.exact_in >= 0


@pytest.mark.property
@given(st.decimals(min_value=0, max_value=1000, places=4))
def test_decimals_are_exact_in_both_units(value):
    assert parse_length(f"{value}").exact_in == Fraction(str(value))
    assert parse_length(f"{value} mm").exact_in == Fraction(str(value)) * 5 / 127


@pytest.mark.parametrize(
    ("typed", "remedy"),
    [
        ("3 1/2", "Write 3 1/2 in, or 88.9 mm."),
        ("1/8", "Write 1/8 in, or 3.175 mm."),
        ("5/32", "5/32 in, or 3.969 mm."),
    ],
)
def test_a_fraction_among_millimeters_is_asked_about_with_its_own_size(typed, remedy):
    with pytest.raises(EntryError) as refused:
        parse_length(typed, unit="mm")
    assert remedy_of(refused.value).endswith(remedy)


def test_a_word_is_no_length_rather_than_an_unknown_unit():
    with pytest.raises(EntryError, match="not a length"):
        parse_length("ninety")


@given(
    st.decimals("0", "9", places=7).map(float),
    st.decimals("0", "9", places=7).map(float),
    st.sampled_from(["in", "mm"]),
)
def test_two_lengths_that_differ_never_read_alike(one, other, unit):
    assert (figure(one, unit, beside_in=other) == figure(other, unit, beside_in=one)) is (one == other)


@pytest.mark.parametrize(
    ("value", "other", "places"),
    [(0.24996, 0.25, 5), (0.2496, 0.25, 4), (0.2494, 0.25, 3), (0.25, 0.25, 3), (0.25, None, 3)],
)
def test_a_length_takes_as_many_places_as_tell_it_from_its_limit(value, other, places):
    assert places_to_tell(value, other, 3) == places
