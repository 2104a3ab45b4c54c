"""R301, R302: corner radii.

Least 1/4 in: [NAVEDTRA-14018] ch. 13, skin repair; patches, [TM-1-1520-240-BD], seen only restated. Aim 1/2 in:
[FAA-H-8083-31] ch. 4, from memory.
"""

from __future__ import annotations

from rules.cases import CAUTION, PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, judged
from told import subject_of


def filed(radius: str) -> dict:
    edges = {"x_from": "-2", "x_to": "2", "y_from": "-2", "y_to": "2"}
    return {"as_made": {"uncertainty": ".005", "opening": {"shape": "edges", **edges, "radius": radius}}}


CASES = (
    Case("R301", PASS, PLAIN, {"opening.radius": ".5"}, limit=0.25),
    Case("R301", CAUTION, PLAIN, {"opening.radius": ".499"}, limit=0.5, said="under the target"),
    Case("R301", CAUTION, PLAIN, {"opening.radius": ".25"}),
    Case("R301", STOP, PLAIN, {"opening.radius": ".249"}, limit=0.25, said=".001 short"),
    Case("R301", CAUTION, PLAIN, filed(".255")),
    Case("R301", UNKNOWN, PLAIN, filed(".2549"), said="your u is .005"),
    Case("R301", STOP, PLAIN, filed(".2449")),
    Case("R302", PASS, RING, {"doubler.outer.radius": ".25"}, limit=0.25),
    Case("R302", STOP, RING, {"doubler.outer.radius": ".249"}),
    Case("R302", STOP, RING, {"doubler.outer.radius": "0"}, value=0.0),
)


@cases(*CASES)
def test_corner_radius(case):
    case.holds()


def test_the_corner_of_the_opening_is_not_judged_again_on_the_doubler():
    assert [subject_of(finding) for finding in judged("R302", RING)] == [
        "smallest corner of the doubler outer edge"
    ]


def test_the_place_of_the_corner_is_given():
    (finding,) = judged("R301", PLAIN, {"opening.radius": ".1"})
    x, y = finding.place
    assert abs(abs(x) - abs(y)) < 1e-9
    assert 1.9 < abs(x) < 2.0
