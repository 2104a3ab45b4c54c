"""R705: how far the parts reach behind the skin.

A shop head is .5 D high: [FAA-H-8083-31] ch. 4 fig. 4-76, seen only restated; 1/8 in to structure:
[TM-1-1520-240-BD], web patches. That nothing may be struck is geometry; a diameter round a fastener is common practice,
no source.
"""

from __future__ import annotations

import pytest

from rules.cases import CAUTION, FLUSH, LAPPED, PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, judged


def behind(x: str, depth: str | None, x_to: str | None = None) -> dict:
    there = {"name": "cable", "x_from": x, "x_to": x_to or x}
    return {"bay.keep_outs": [{**there, "depth": depth} if depth else there]}


def box(x_from: str, x_to: str, depth: str = ".02") -> dict:
    there = {"name": "box", "x_from": x_from, "x_to": x_to, "y_from": "-.5", "y_to": ".5", "depth": depth}
    return {"bay.keep_outs": [there]}


NUT = {"cover.screws.nut_height": ".25"}

CASES = (
    # under the doubler of .040 alone; the rivet stands at X = 2.3
    Case("R705", STOP, RING, behind("2.8", ".040"), value=0.0, limit=0.0, said="the doubler in front of it"),
    Case("R705", CAUTION, RING, behind("2.8", ".041"), value=0.001, limit=0.125, said="Short .124 in"),
    Case("R705", CAUTION, RING, behind("2.8", ".164")),
    Case("R705", PASS, RING, behind("2.8", ".165"), value=0.125),
    Case("R705", STOP, RING, behind("2.8", ".001"), value=-0.039),
    Case("R705", STOP, RING, behind("2.8", "0")),
    Case("R705", STOP, RING, behind("2.8", None)),
    # the outer edge of the doubler lies at X = 3
    Case("R705", STOP, RING, behind("3", ".02")),
    Case("R705", PASS, RING, behind("3.001", ".02"), said="no doubler, rivet or nut"),
    # a doubler outside leaves the skin's inner face free
    Case("R705", PASS, RING, {"doubler.face": "outside", **behind("2.8", ".02")}),
    # .040 + .5 x 1/8 = .1025 at the rivet, which is taken 1/8 wide to each side
    Case("R705", STOP, RING, behind("2.425", ".1025"), value=0.0, said="shop heads of rivet 1"),
    Case("R705", CAUTION, RING, behind("2.425", ".1026")),
    Case("R705", CAUTION, RING, behind("2.426", ".1025"), said="the doubler"),
    Case("R705", PASS, RING, behind("2.425", ".2275")),
    # rivets through the skin alone: .0625
    Case("R705", STOP, PLAIN, behind("2.3", ".0625")),
    Case("R705", CAUTION, PLAIN, behind("2.3", ".063")),
    Case("R705", PASS, PLAIN, behind("2.8", ".01")),
    # inside the ring there is room, on the land and across it there is none; the inner edge lies at X = 2
    Case("R705", PASS, RING, box("1.5", "1.99")),
    Case("R705", STOP, RING, box("1.5", "2")),
    # nuts on the land, by the height that was entered: .040 + .25
    Case("R705", STOP, FLUSH, {**NUT, **behind("1.5", ".29")}, value=0.0, said="nuts of screws 101 and 108"),
    Case("R705", CAUTION, FLUSH, {**NUT, **behind("1.5", ".291")}),
    Case("R705", STOP, LAPPED, {**NUT, **behind("2.375", ".25")}, said="nuts of"),
    # neither the nuts' height nor the screws' length is known
    Case(
        "R705",
        UNKNOWN,
        LAPPED,
        {"cover.screws.length": None, **behind("2.375", "1")},
        said="Enter nut_height",
    ),
    Case("R705", PASS, LAPPED, behind("2.375", "1")),
    Case("R705", PASS, LAPPED, {"cover.screws.length": None, **behind("2.54", "1")}),
)


@cases(*CASES)
def test_depth(case):
    case.holds()


def test_a_measured_hole_is_as_near_as_it_may_be():
    made = {"as_made": {"uncertainty": ".005", "holes": [[1, "2.3", "0"]]}}
    for x, status in (("2.429", STOP), ("2.431", CAUTION)):
        (finding,) = judged("R705", RING, {**made, **behind(x, ".1")})
        assert finding.status is status


def test_without_keep_outs_there_is_nothing_to_say():
    assert judged("R705", RING) == []


def test_the_deepest_part_in_front_speaks():
    (finding,) = judged("R705", RING, behind("2.3", "1"))
    assert finding.value == pytest.approx(1 - 0.040 - 0.0625)
