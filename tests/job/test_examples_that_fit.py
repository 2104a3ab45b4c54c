"""What a fault offers instead is taken by the very box that it stands at: each example is typed there."""

from __future__ import annotations

import re

import pytest
from pydantic import TypeAdapter, ValidationError

from hatchwright.job.entry import AngleDeg, Coordinate, Count, Diameter, Positive
from hatchwright.words.tell import tell


def refused(adapter, value, unit):
    with pytest.raises(ValidationError) as caught:
        adapter.validate_python(value, context={"unit": unit})
    return tell(caught.value.errors()[0]["ctx"]["remedy"])


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("kind", [Positive, Coordinate, Diameter, Count, AngleDeg])
@pytest.mark.parametrize("typed", ["abc", "", True])
def test_each_example_is_taken_where_it_is_offered(kind, unit, typed):
    adapter = TypeAdapter(kind)
    remedy = refused(adapter, typed, unit)
    examples = re.split(r", | or ", remedy.removeprefix("Write it as ").removesuffix("."))
    assert remedy.startswith("Write it as ")
    for example in examples:
        adapter.validate_python(example, context={"unit": unit})


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_drill_is_never_offered_to_a_length(unit):
    for typed in ("abc", "#30", "F"):
        assert "#30" not in refused(TypeAdapter(Positive), typed, unit)
    assert "#30" in refused(TypeAdapter(Diameter), "abc", unit)
