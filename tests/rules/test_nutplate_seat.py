"""R816, R817: nutplates and their ears on what they lie on.

Strap of .064 under a dimpled frame of .040 or lighter, machine countersunk for each screw and rivet: [REPAIR-1940S]
access doors, page 93. A regular nutplate on a dimple is not correct, a countersunk one is: [BUILDER-LOGS] of Nov 2018,
seen only restated. Thinnest sheet for a 3/32 countersink .040: [TM-9-2320-363-34-2] table 4. Land of .008 under a
machine countersink: [TEACHING-TEXT]. Heads of AD3 rivets .036 deep: from memory. 100 degree screw heads, No. 8 .282 at
least, No. 10 .329: [ASME-B18.6.3] as a fastener page tabulates them.
"""

from __future__ import annotations

import pytest

from rules.cases import CAUTION, FLUSH, LAPPED, PASS, STOP, UNKNOWN, Case, cases, changed, judged

SCREWS = "cover.screws."
STRAP = {"alloy": "2024", "temper": "T3", "clad": True}
EIGHT = changed(FLUSH, {SCREWS + "size": "8-32", SCREWS + "nut_rivet": "MS20426AD3"})
"""Dimpled No. 8 screws on two-lug nutplates in a .040 doubler."""


def strap(thickness: str) -> dict:
    """A strap between doubler and nutplates."""
    return {SCREWS + "strap": {**STRAP, "thickness": thickness}}


IN_HUNDRED = {SCREWS + "nut": "100-degree two-lug nutplate"}
SUNK = {SCREWS + "preparation": "dimple over countersink"}
THIN = {"doubler.thickness": ".032"}

CASES = (
    Case("R816", STOP, EIGHT, said="a strap .064 or thicker"),
    Case("R816", STOP, EIGHT, THIN, said="100-degree nutplates in the dimples"),
    Case("R816", PASS, EIGHT, IN_HUNDRED, said="in the dimples of the doubler .040"),
    Case("R816", PASS, EIGHT, strap(".064"), of="under the dimpled", limit=0.064),
    Case("R816", STOP, EIGHT, strap(".063"), of="dimpled", said="does not take the dimple"),
    Case("R816", STOP, EIGHT, strap(".040"), of="dimpled"),
    Case("R816", PASS, EIGHT, {**SUNK, "doubler.thickness": ".064"}, said="flat on the doubler .064"),
    Case("R816", UNKNOWN, EIGHT, {**IN_HUNDRED, **SUNK}, said="no dimple for them"),
    Case("R816", UNKNOWN, EIGHT, {SCREWS + "preparation": None}, said="Enter how the sheets"),
    Case("R816", PASS, EIGHT, {SCREWS + "head": "pan", SCREWS + "preparation": None}),
    Case("R816", PASS, EIGHT, {**IN_HUNDRED, SCREWS + "nut": "100-degree one-lug nutplate"}),
    Case("R816", STOP, EIGHT, {SCREWS + "nut": "floating two-lug nutplate"}),
    # the smallest head of a No. 10 screw, .329, stands (.329 - .1935) / 2 / tan 50 = .0569 deep, and .305 x .040 more
    # under the dimple: .0691
    Case("R816", UNKNOWN, EIGHT, {SCREWS + "size": "10-32", **strap(".064")}, of="dimpled"),
    Case("R816", PASS, EIGHT, {SCREWS + "size": "10-32", **strap(".072")}, of="dimpled"),
    Case("R817", UNKNOWN, EIGHT, THIN, said="Enter which"),
    Case("R817", PASS, EIGHT, {**THIN, SCREWS + "nut_ears": "dimple"}, limit=0.040),
    Case("R817", PASS, EIGHT, {SCREWS + "nut_ears": "dimple"}, value=0.040, limit=0.040),
    Case("R817", UNKNOWN, EIGHT, {SCREWS + "nut_ears": "dimple", "doubler.thickness": ".041"}, value=0.041),
    Case(
        "R817", UNKNOWN, EIGHT, {SCREWS + "nut_ears": "dimple", "doubler.thickness": ".051"}, said="Too thick"
    ),
    Case("R817", STOP, EIGHT, {**THIN, SCREWS + "nut_ears": "countersink"}, said="Too thin to countersink"),
    # .040 - .036 = .004 of land; .064 - .036 = .028 is enough, but the head is from memory
    Case("R817", CAUTION, EIGHT, {}, value=0.004, limit=0.008),
    Case("R817", CAUTION, EIGHT, {"doubler.thickness": ".064"}, value=0.028, limit=0.008),
    Case("R817", PASS, EIGHT, {**THIN, **strap(".064")}, of="strap", limit=0.064),
    Case("R817", STOP, EIGHT, {**THIN, **strap(".051")}, of="strap"),
    Case("R817", STOP, EIGHT, {SCREWS + "nut_rivet": "MS20470AD3"}, said="hold the sheets apart"),
    Case(
        "R817",
        UNKNOWN,
        EIGHT,
        {**THIN, SCREWS + "nut_rivet": "NAS1097AD3", SCREWS + "nut_ears": "countersink"},
        said="Measure the head",
    ),
    Case("R817", PASS, EIGHT, {SCREWS + "nut_rivet": "NAS1097AD3", SCREWS + "nut_ears": "countersink"}),
)


@cases(*CASES)
def test_nutplate_seat(case):
    case.holds()


@pytest.mark.parametrize("code", ["R816", "R817"])
def test_clip_nuts_have_no_such_seat(code):
    assert judged(code, LAPPED) == []


def test_without_their_rivet_the_ears_are_asked_for_elsewhere():
    """R807 says once that it is not entered."""
    assert judged("R817", EIGHT, {SCREWS + "nut_rivet": None}) == []
