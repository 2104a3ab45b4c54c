"""How what is to be said becomes text: units, rounding, lists, plurals, a second language."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from string import Formatter

import pytest
from hypothesis import given
from hypothesis import strategies as st

import hatchwright.rules.check  # noqa: F401  it fills the register
from hatchwright.judged import Status
from hatchwright.register import entries as register_entries
from hatchwright.said import Amount, Listed, Numbered, Place, inch, missing, room, said
from hatchwright.words.amounts import amount_text
from hatchwright.words.catalog import entries, languages, pieces, read_entries
from hatchwright.words.readings import reading_called, to_choose_from
from hatchwright.words.tell import tell
from hatchwright.workings import Grade


@pytest.mark.parametrize(
    ("amount", "in_inches", "in_metric"),
    [
        # 25.4 mm = 1 in and 4.4482216152605 N = 1 lbf, exact: [NIST SP 811] appendix B.8
        (Amount(1.0), "1.000", "25.40 mm"),
        (Amount(0.243), ".243", "6.17 mm"),
        (Amount(0.1285), ".1285", "3.26 mm"),
        (Amount(450.0, "lbf/in"), "450 lbf/in", "78.8 N/mm"),
        (Amount(100.0, "lbf"), "100 lbf", "445 N"),
        (Amount(62000.0, "psi"), "62,000 psi", "427.5 MPa"),
        (Amount(12.0, "in-lbf"), "12 in-lbf", "1.356 N·m"),
        (Amount(1.0, "lb"), "1 lb", "0.4536 kg"),
        (Amount(1.944, "D", beside=2.0), "1.94D", "1.94D"),
        (Amount(1.99996, "D", beside=2.0), "1.99996D", "1.99996D"),
        (Amount(12.0, "rivets"), "12 rivets", "12 rivets"),
        # as finely as it is read: whole pounds-force and newtons, tens of psi, two places of a ratio
        (Amount(5.684, "lbf", toward="up"), "5.7 lbf", "26 N"),
        (Amount(36_518.2, "psi"), "36,520 psi", "251.8 MPa"),
        (Amount(0.17502, "of a pitch"), "0.18 of a pitch", "0.18 of a pitch"),
        (Amount(0.125, ""), "0.125", "0.125"),
        # what misses its limit never looks like it
        (Amount(237.4, "lbf", beside=237.1), "237.4 lbf", "1,056 N"),
        (Amount(0.24996, "", beside=0.25), "0.24996", "0.24996"),
    ],
)
def test_an_amount_is_written_in_the_unit_of_the_job(amount, in_inches, in_metric):
    assert tell(amount, "in") == in_inches
    assert tell(amount, "mm") == in_metric


@given(st.floats(1e-4, 50.0))
def test_nothing_is_rounded_in_the_passing_direction(value):
    for unit, scale, places in (("in", Fraction(1), 3), ("mm", Fraction(127, 5), 2)):
        step = Fraction(1, 10**places)
        exact = Fraction(value) * scale
        up = Fraction(amount_text(missing(value), unit).removesuffix(" mm"))
        down = Fraction(amount_text(room(value), unit).removesuffix(" mm"))
        # a value within a millionth of the last place of a figure is that figure: rounding of the arithmetic
        slack = step / 10**5
        assert exact - slack <= up < exact + step
        assert exact - step < down <= exact + slack


@given(
    st.floats(1e-3, 1e6), st.floats(-1e-3, 1e-3), st.sampled_from(["lbf", "psi", "", "lbf/in", "lb", "deg"])
)
def test_a_value_that_misses_its_limit_is_never_written_like_it(limit, off, of):
    value = limit * (1.0 + off)
    if abs(value - limit) < 1e-5 * limit:
        return
    for unit in ("in", "mm"):
        written = [
            amount_text(Amount(a, of, beside=b), unit, bare=True) for a, b in ((value, limit), (limit, value))
        ]
        low, high = (float(text.replace(",", "")) for text in written)
        assert (low < high) == (value < limit)
        assert low != high


def test_an_inch_is_marked_where_it_is_asked_for_and_a_millimeter_always():
    told = said("finding.told", subject="gap", value=inch(0.25))
    assert tell(told, "in") == "gap: .250 in"
    assert tell(told, "mm") == "gap: 6.35 mm"


@pytest.mark.parametrize(
    ("row", "told"),
    [("aft", "row aft"), ("inner row", "inner row"), ("Row 2", "Row 2"), ("throwaway", "row throwaway")],
)
def test_a_row_is_told_to_be_one_once(row, told):
    assert tell(said("pitch.shortest", row=row, holes="hole 1")).startswith(f"{told}, ")


def test_things_are_known_by_number_and_lists_are_joined_as_speech_does():
    assert tell(Numbered("rivet", (6,))) == "rivet 6"
    assert tell(Numbered("rivet", (4, 6, 15))) == "rivets 4, 6 and 15"
    assert tell(Listed(("a", "b"), "or")) == "a or b"
    assert tell(Listed((), "and")) == ""
    assert tell(Listed((inch(0.1), inch(0.2)), ";"), "mm") == "2.54 mm; 5.08 mm"


def test_the_four_answers_and_the_grades_have_words():
    assert [tell(status) for status in Status] == ["OK", "CAUTION", "NOT SHOWN", "STOP"]
    assert all(tell(grade) for grade in Grade)


def test_a_place_has_both_its_axes():
    assert tell(Place(5.5, -0.25)) == "X 5.500 Y -.250"


def test_what_somebody_typed_stays_literal():
    assert tell(said("finding.told", subject="{hole} %s <b>", value="{u}")) == "{hole} %s <b>: {u}"


@pytest.mark.parametrize("value", [0.0, -0.0, math.inf, math.nan])
def test_a_value_that_is_no_number_is_still_written(value):
    assert amount_text(Amount(value, "lbf"), "in")


def test_an_id_that_there_is_not_is_an_error_and_never_silence():
    with pytest.raises(KeyError):
        tell(said("no.such.sentence"))


def test_po_is_read_with_its_plurals_escapes_and_comments():
    text = '#. reader\nmsgid "a"\nmsgid_plural "a"\nmsgstr[0] "one \\"x\\""\nmsgstr[1] ""\n"two "\n"lines"\n'
    (entry,) = read_entries(text, "x.po")
    assert (entry.id, entry.forms, entry.note, entry.line) == ("a", ('one "x"', "two lines"), "reader", 2)


@pytest.mark.parametrize("tongue", languages())
def test_every_entry_of_every_file_is_found_with_its_first_form(tongue):
    # an entry that a line of blanks parts from the one before would be lost
    for one in entries(tongue):
        if one.id:
            found = pieces(one.id, tongue=tongue)
            parts = [(text, hole, how or "") for text, hole, how, _ in Formatter().parse(one.forms[0])]
            assert list(found) == parts, one.id


@pytest.mark.parametrize("text", ['"no id"\n', 'msgid "a"\nnonsense\n'])
def test_what_is_no_po_is_named_with_its_line(text):
    with pytest.raises(ValueError, match=r"x\.po:\d"):
        list(read_entries(text, "x.po"))


def test_every_reading_a_rule_offers_has_a_name_that_people_know():
    """The circular is AC 43.13-1B and the Navy manual is NAVEDTRA 14018; the keys of the job file stay."""
    for entry in register_entries().values():
        for key in entry.readings:
            name = tell(reading_called(key))
            assert not re.search(r"circular|Navy|Army|handbook", name), name
            assert tell(to_choose_from(key)) == f"{name} (in the job file: {key})"
    assert tell(reading_called("Navy manual, any row")) == "NAVEDTRA 14018, any row"
    assert tell(reading_called("our own press")) == "our own press"
