"""R705: how far the parts reach behind the skin.

A shop head is .5 D high: [FAA-H-8083-31] ch. 4 fig. 4-76, seen only restated; 1/8 in to structure:
[TM-1-1520-240-BD], web patches. That nothing may be struck is geometry; a diameter round a fastener is common practice,
no source. Depth and reach both count from the outer face of the skin.
"""

from __future__ import annotations

import pytest

from rules.cases import FLUSH, LAPPED, PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, judged


def behind(x: str, depth: str | None, x_to: str | None = None) -> dict:
    there = {"name": "cable", "x_from": x, "x_to": x_to or x}
    return {"bay.keep_outs": [{**there, "depth": depth} if depth else there]}


def box(x_from: str, x_to: str, depth: str = ".02") -> dict:
    there = {"name": "box", "x_from": x_from, "x_to": x_to, "y_from": "-.5", "y_to": ".5", "depth": depth}
    return {"bay.keep_outs": [there]}


NUT = {"cover.screws.nut_height": ".25"}
STRAP = {"alloy": "2024", "temper": "T3", "clad": True, "thickness": ".064"}

CASES = (
    # under the doubler of .040 on skin of .032: .072; the rivet stands at X = 2.3; within .125 it stops
    Case("R705", STOP, RING, behind("2.8", ".072"), value=0.0, limit=0.0, said="doubler to cable"),
    Case("R705", STOP, RING, behind("2.8", ".073"), value=0.001, limit=0.125, said=".124 short"),
    Case("R705", STOP, RING, behind("2.8", ".196"), value=0.124, limit=0.125, said="Too close"),
    Case("R705", PASS, RING, behind("2.8", ".197"), value=0.125, limit=0.125),
    # what is no deeper than the skin is thick lies against it
    Case("R705", STOP, RING, behind("2.8", ".001"), value=-0.04, said="It hits"),
    Case("R705", STOP, RING, behind("2.8", "0"), value=-0.04),
    Case("R705", STOP, RING, behind("2.8", None), value=-0.04),
    # the outer edge of the doubler lies at X = 3
    Case("R705", STOP, RING, behind("3", ".02")),
    Case("R705", PASS, RING, behind("3.001", ".02"), said="no doubler, rivet or nut"),
    # a doubler outside leaves the skin's inner face free
    Case("R705", PASS, RING, {"doubler.face": "outside", **behind("2.8", ".02")}),
    # .032 + .040 + .5 x 1/8 = .1345 at the rivet, which is taken 1/8 wide to each side
    Case("R705", STOP, RING, behind("2.425", ".1345"), value=0.0, limit=0.0, said="shop head of rivet 1"),
    Case("R705", STOP, RING, behind("2.425", ".1346"), limit=0.125),
    Case("R705", STOP, RING, behind("2.426", ".1345"), value=0.0625, said="doubler to cable"),
    Case("R705", STOP, RING, behind("2.425", ".2594"), limit=0.125),
    Case("R705", PASS, RING, behind("2.425", ".2595"), value=0.125),
    # rivets through the skin alone: .032 + .0625
    Case("R705", STOP, PLAIN, behind("2.3", ".0945"), value=0.0),
    Case("R705", STOP, PLAIN, behind("2.3", ".095"), limit=0.125),
    Case("R705", PASS, PLAIN, behind("2.8", ".01")),
    # inside the ring there is room, on the land and across it there is none; the inner edge lies at X = 2
    Case("R705", PASS, RING, box("1.5", "1.99")),
    Case("R705", STOP, RING, box("1.5", "2")),
    # nuts on the land, by the height that was entered: .032 + .040 + .25
    Case("R705", STOP, FLUSH, {**NUT, **behind("1.5", ".322")}, value=0.0, said="nuts of screws 101 and 108"),
    Case("R705", STOP, FLUSH, {**NUT, **behind("1.5", ".323")}, limit=0.125),
    Case("R705", PASS, FLUSH, {**NUT, **behind("1.5", ".447")}, value=0.125),
    # a strap of .064 under them: .386
    Case("R705", STOP, FLUSH, {**NUT, "cover.screws.strap": STRAP, **behind("1.5", ".386")}, value=0.0),
    Case("R705", STOP, LAPPED, {**NUT, **behind("2.375", ".29")}, value=0.0, said="nuts of"),
    # a skin that measures thicker than it should reaches farther
    Case("R705", STOP, RING, {"skin.measured": ".034", **behind("2.8", ".198")}, value=0.124),
    # neither the nuts' height nor the screws' length is known
    Case(
        "R705",
        UNKNOWN,
        LAPPED,
        {"cover.screws.length": None, **behind("2.375", "1")},
        said="Measure the nut height",
    ),
    Case("R705", PASS, LAPPED, behind("2.375", "1")),
    Case("R705", PASS, LAPPED, {"cover.screws.length": None, **behind("2.54", "1")}),
)


@cases(*CASES)
def test_depth(case):
    case.holds()


def test_a_measured_hole_is_as_near_as_it_may_be():
    """Within .125 + .005 of the cable the shop head counts, .2 - .1345; beyond it the doubler alone, .2 - .072."""
    made = {"as_made": {"uncertainty": ".005", "holes": [[1, "2.3", "0"]]}}
    for x, status, room in (("2.429", STOP, 0.0655), ("2.431", PASS, 0.128)):
        (finding,) = judged("R705", RING, {**made, **behind(x, ".2")})
        assert finding.status is status
        assert finding.value == pytest.approx(room)


def test_without_keep_outs_there_is_nothing_to_say():
    assert judged("R705", RING) == []


def test_the_deepest_part_in_front_speaks():
    (finding,) = judged("R705", RING, behind("2.3", "1"))
    assert finding.value == pytest.approx(1 - 0.032 - 0.040 - 0.0625)


def test_nuts_of_no_known_height_are_to_be_entered():
    found = judged("R705", LAPPED, {"cover.screws.length": None, **behind("2.375", "1")})[0]
    assert found.enter == ("cover.screws.nut_height", "cover.screws.length")


def test_drill_parts_and_screws_count_one_depth_from_the_same_face():
    """Skin .040, lapped cover .040, screws 1/2 long, nuts .25, a cable .465 below the outer face of the skin.

    Worked by hand from that face: a screw reaches .5 - .040 = .460, a nut .040 + .25 = .290, and a drill that comes
    .125 through .040 + .125 = .165.
    """
    cable = {**NUT, **behind("2.375", ".465")}

    def quantities(code: str) -> dict[str, float]:
        found = next(one for one in judged(code, LAPPED, cable) if one.working)
        return {value.symbol: value.value for step in found.working for value in step.values}

    drill, parts, screws = (quantities(code) for code in ("R702", "R705", "R803"))
    assert parts["depth"] == pytest.approx(0.465)
    assert screws["depth"] == pytest.approx(0.465)
    assert drill["depth"] == pytest.approx(0.465)
    assert drill["reach"] == pytest.approx(0.165)
    assert parts["reach"] == pytest.approx(0.290)
    assert screws["reach"] == pytest.approx(0.460)
