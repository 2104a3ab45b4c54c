"""R409 to R411: dimpled sheets.

Up to .040: [AC65-15A] ch. 5, seen only restated; up to .051: [REPAIR-1940S] par. 10. No. 40 becomes No. 37 (.104),
No. 32 becomes No. 30: [BUILDER-FORUMS], seen only restated; holes .093 to .103 and .125 to .135: [TRADE-2001]. Room for
the die 1/4 and 3/16: common practice, no source.
"""

from __future__ import annotations

from rules.cases import CAUTION, PASS, PLAIN, STOP, UNKNOWN, Case, cases, judged

DIMPLED = {"rows.0.rivet": "MS20426AD3", "rows.0.preparation": "dimple"}
OLDER = {"choices": [{"rule": "R409", "reading": "1940s manual", "reason": "try it on scrap"}]}


def flange(x: str) -> dict:
    """A flange beside the hole at X = 2.3."""
    return {**DIMPLED, "bay.flanges": [{"name": "rib flange", "x_from": x}]}


CASES = (
    Case("R409", PASS, PLAIN, {**DIMPLED, "skin.thickness": ".040"}, limit=0.04),
    Case("R409", UNKNOWN, PLAIN, {**DIMPLED, "skin.thickness": ".041"}, said="References differ"),
    Case("R409", PASS, PLAIN, {**DIMPLED, "skin.thickness": ".051", **OLDER}, limit=0.051),
    Case("R409", UNKNOWN, PLAIN, {**DIMPLED, "skin.thickness": ".052", **OLDER}),
    Case(
        "R410",
        UNKNOWN,
        PLAIN,
        {**DIMPLED, "rows.0.pilot": "#40"},
        value=0.104,
        limit=0.103,
        said=".001 over.",
    ),
    Case("R410", PASS, PLAIN, {**DIMPLED, "rows.0.rivet": "MS20426AD4", "rows.0.pilot": "#32"}, value=0.1285),
    Case("R410", UNKNOWN, PLAIN, {**DIMPLED, "rows.0.pilot": "#42"}, said="piece of scrap"),
    Case("R410", UNKNOWN, PLAIN, DIMPLED, said="Enter the drill used before dimpling"),
    Case("R411", PASS, PLAIN, flange("2.55"), value=0.25),
    Case("R411", CAUTION, PLAIN, flange("2.549"), said="tight die"),
    Case("R411", CAUTION, PLAIN, flange("2.4875"), value=0.1875),
    Case("R411", STOP, PLAIN, flange("2.487"), said="will not sit flat"),
)


@cases(*CASES)
def test_dimples(case):
    case.holds()


def test_countersunk_sheets_are_not_judged_as_dimpled():
    sunk = {**DIMPLED, "rows.0.preparation": "countersink", "rows.0.pilot": "#40"}
    for code in ("R409", "R410", "R411"):
        assert judged(code, PLAIN, sunk) == []
