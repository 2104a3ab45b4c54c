"""The mounted part as it is entered: units, and what is refused."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from hatchwright.errors import JobError
from hatchwright.job.fault_in_words import fault_in_words
from hatchwright.job.mount import Mount
from rules.cases import RING, job_of
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
        ("where", "tail", "cabin"),
        ("certification", "36", "Write it as 23-36"),
        ("certification", "1988-13-01", "Write it as 23-36"),
        ("screw_shear", "5", "10 or more"),
        ("screw_tension", "60000", "wrong unit?"),
        ("height", "0", "greater than zero"),
    ],
)
def test_what_cannot_be_is_refused(field, typed, said):
    with pytest.raises(ValidationError) as refused:
        Mount.model_validate({**BASE, field: typed})
    (details,) = refused.value.errors()
    fault = fault_in_words(details, f"mount.{field}", manual="docs/job-file.md")
    assert said in f"{what_of(fault)} {remedy_of(fault)}"


@pytest.mark.parametrize(
    ("where", "certification", "is_cabin_item"),
    [
        ("outside", "", False),
        ("inside", "23-62", False),
        ("cabin", "", None),
        ("cabin", "23-35", False),
        ("cabin", "23-36", True),  # [14CFR23], 23.561(b)(3), effective 14 Sep 1988
        ("cabin", "1988-09-13", False),
        ("cabin", "1988-09-14", True),
        ("cabin", "CAR 3", False),
        (None, "CAR 3", False),
        (None, "23-36", None),
    ],
)
def test_whose_factors_hold(where, certification, is_cabin_item):
    mount = Mount.model_validate({**BASE, "where": where, "certification": certification})
    assert mount.is_cabin_item is is_cabin_item


def test_a_center_of_gravity_beyond_the_base_is_a_slip():
    """The base of 5 by 2: 5 off along X is its whole length, 2.001 off along Y is more than that."""
    mount = {**BASE, "offset": ["5", "-2"]}
    assert job_of(RING, mount=mount).mount is not None
    with pytest.raises(JobError, match=r"mount\.offset\.1.*farther from the screws"):
        job_of(RING, mount={**BASE, "offset": ["5", "-2.001"]})
