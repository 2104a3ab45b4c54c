"""The mounted part as it is entered: units, and what is refused."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from hatchwright.job.fault_in_words import fault_in_words
from hatchwright.job.mount import Mount
from tests.told import remedy_of, what_of

BASE = {"kind": "antenna", "base": ["5", "2"]}


def test_units_are_read_and_what_was_typed_is_kept():
    """1 kg is 2.20462 lb, a knot 1.15078 mph, by the definitions of [NIST SP 811]."""
    mount = Mount.model_validate({**BASE, "weight": "0,25 kg", "frontal_area": "14.4 in2", "speed": "100 kt"})
    assert mount.weight == pytest.approx(0.25 * 2.2046226)
    assert mount.frontal_area == pytest.approx(0.1)
    assert mount.speed == pytest.approx(115.0779)
    assert mount.model_dump()["weight"] == "0,25 kg"


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("weight", "0", "0.001 or more"),
        ("weight", "-1", "0.001 or more"),
        ("weight", "550", "more than 200 lb: wrong unit?"),
        ("weight", "7 oz", "not a number in lb or kg"),
        ("frontal_area", "19.4", "more than 5 ft2: wrong unit?"),
        ("speed", "2", "20 or more"),
        ("speed", "1,200", "comma"),
        ("category", "transport", "normal"),
    ],
)
def test_what_cannot_be_is_refused(field, typed, said):
    with pytest.raises(ValidationError) as refused:
        Mount.model_validate({**BASE, field: typed})
    (details,) = refused.value.errors()
    fault = fault_in_words(details, f"mount.{field}", manual="docs/job-file.md")
    assert said in f"{what_of(fault)} {remedy_of(fault)}"
