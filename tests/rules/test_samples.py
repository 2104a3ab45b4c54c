"""R930: sample values of a new job. Common practice, no source."""

from __future__ import annotations

from rules.cases import PASS, PLAIN, UNKNOWN, Case, cases, judged

CASES = (
    Case("R930", PASS, PLAIN, said="No sample values"),
    Case("R930", UNKNOWN, PLAIN, {"samples": ["skin.thickness"]}, said="1 sample value, or planned one"),
    Case("R930", UNKNOWN, PLAIN, {"samples": ["skin.thickness", "opening.width"]}, said="2 sample values"),
)


@cases(*CASES)
def test_samples(case):
    case.holds()


def test_each_sample_is_an_entry_to_be_made():
    (found,) = judged("R930", PLAIN, {"samples": ["skin.thickness", "opening.width"]})
    assert found.enter == ("skin.thickness", "opening.width")
