"""R708: room for the tool that cuts the opening, where no cutter is entered.

.125 kept before a tool and .25 beside it: common practice, no source.
"""

from __future__ import annotations

from rules.cases import PASS, PLAIN, STOP, UNKNOWN, Case, cases, changed, judged

CUTTER = {
    "kind": "router",
    "cut_width": ".25",
    "guide": ".5",
    "filing_allowance": ".015",
    "template": "female",
}


def behind(x: str, depth: str, tool: str | None = ".5", **more: object) -> dict:
    there = {"name": "fuel line", "x_from": x, "x_to": x, "depth": depth, **more}
    return {"bay.keep_outs": [there], **({"bay.tool": tool} if tool else {})}


# the edge of the opening stands at X 2
CASES = (
    Case("R708", UNKNOWN, PLAIN, behind("0", ".3", tool=None), said="must not reach past .175 in"),
    Case("R708", UNKNOWN, PLAIN, behind("2.25", "6", tool=None), said="not measured; fuel line 6.000"),
    Case("R708", PASS, PLAIN, behind("0", ".625"), value=0.125, limit=0.125),
    Case("R708", STOP, PLAIN, behind("0", ".624"), value=0.124, said="a tool that reaches less"),
    Case("R708", STOP, PLAIN, behind("2.25", ".3")),
    Case("R708", STOP, PLAIN, behind("0", ".9", clearance=".401")),
    Case("R708", UNKNOWN, PLAIN, behind("0", ".999", moves=True), said="both stops"),
)


@cases(*CASES)
def test_tool_room(case):
    case.holds()


def test_no_tool_is_asked_for_where_nothing_is_behind_the_opening():
    assert judged("R708", PLAIN, behind("2.251", ".3", tool=None)) == []
    assert judged("R708", PLAIN) == []


def test_a_cutter_that_is_entered_is_judged_by_its_own_code():
    assert judged("R708", changed(PLAIN, {"cutter": CUTTER}), behind("0", ".3", tool=None)) == []


def test_the_reach_is_asked_for_by_its_entry():
    (finding,) = judged("R708", PLAIN, behind("0", "2", tool=None))
    assert finding.enter == ("bay.tool",)
