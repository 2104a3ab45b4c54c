"""R413 to R415: the doubler's material.

Same material or stronger: [AC43.13-1B] par. 4-58b; clad doublers: ch. 6 sect. 8; 7075 is sensitive to notches: par.
4-58b, the radius aimed at 1/2 in, [FAA-H-8083-31], from memory.
"""

from __future__ import annotations

from rules.cases import CAUTION, PASS, RING, STOP, Case, cases, judged


def of(alloy: str, temper: str, clad: bool) -> dict:
    return {"doubler.alloy": alloy, "doubler.temper": temper, "doubler.clad": clad}


CASES = (
    Case("R413", PASS, RING),
    Case("R413", PASS, RING, of("2024", "T3", False)),
    Case("R413", STOP, RING, of("5052", "H32", False), said="Weaker than the skin"),
    Case("R413", STOP, RING, of("6061", "T6", False)),
    Case(
        "R413",
        CAUTION,
        RING,
        of("7075", "T6", False),
        said="suitable here. 7075 is sensitive",
    ),
    Case("R414", PASS, RING),
    Case("R414", PASS, RING, of("6061", "T6", False)),
    Case("R414", CAUTION, RING, of("2024", "T3", False), said="Bare sheet: anodize"),
    Case("R414", CAUTION, RING, {"doubler.face": "outside"}, said="outside"),
    Case("R415", PASS, RING, {**of("7075", "T6", False), "doubler.outer.radius": ".5"}, of="outer"),
    Case("R415", CAUTION, RING, {**of("7075", "T6", False), "doubler.outer.radius": ".499"}, of="outer"),
)


@cases(*CASES)
def test_material(case):
    case.holds()


def test_only_7075_is_judged_by_its_notches():
    assert judged("R415", RING, {"doubler.outer.radius": ".1"}) == []
