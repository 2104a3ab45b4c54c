"""What an error says: made of the catalogue where it is shown, in the unit of the job."""

from __future__ import annotations

import pickle

import pytest

from hatchwright.errors import Fault, GeometryError, HatchwrightError, JobError
from hatchwright.said import inch, said
from hatchwright.words.refusals import fault_sentences

LENGTH = said("finding.told", subject="corner", value=inch(0.5))


def test_a_fault_is_told_with_line_field_what_given_and_remedy():
    fault = Fault("opening.radius", "too small", "1/64", "Give a larger one.", 7)
    assert str(fault) == "line 7, opening.radius: too small (given: 1/64). Give a larger one."
    assert fault_sentences(fault) == "Too small. Given: 1/64. Give a larger one."


@pytest.mark.parametrize(("unit", "told"), [("in", "corner: .500 in"), ("mm", "corner: 12.70 mm")])
def test_an_error_is_told_in_the_unit_of_its_job(unit, told):
    assert str(HatchwrightError(LENGTH, where="opening", unit=unit)) == f"opening: {told}"
    assert str(Fault("opening", LENGTH, unit=unit)) == f"opening: {told}."


def test_a_remedy_has_one_period_in_a_fault():
    error = HatchwrightError("it is too large", remedy="Make it smaller")
    assert str(error.as_fault("opening")) == "opening: it is too large. Make it smaller."


def test_a_place_is_told():
    assert "X 1.000 Y 2.000" in str(GeometryError("edges cross", place=(1.0, 2.0)))


@pytest.mark.parametrize(
    "error",
    [JobError((Fault("skin", LENGTH),), where="a.toml"), GeometryError(LENGTH, unit="mm", place=(1.0, 2.0))],
)
def test_an_error_travels_between_processes(error):
    again = pickle.loads(pickle.dumps(error))
    assert str(again) == str(error)
    assert type(again) is type(error)
