"""R706: room for the bucking bar.

A rivet stands out 1.5 D before it is driven: [NAVEDTRA-14018] ch. 13, rule 8. .125 kept before the bar, and .25 beside
a rivet: common practice, no source.
"""

from __future__ import annotations

from rules.cases import PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, judged


def behind(x: str, depth: str, bar: str | None = ".5", **more: object) -> dict:
    there = {"name": "cable", "x_from": x, "x_to": x, "depth": depth, **more}
    return {"bay.keep_outs": [there], **({"bay.bar": bar} if bar else {})}


# skin .032, 1.5 x 1/8 = .1875, bar .5: .7195; the rivet stands at X 2.3
CASES = (
    Case("R706", PASS, PLAIN, behind("2.3", ".8445"), value=0.125, limit=0.125),
    Case("R706", STOP, PLAIN, behind("2.3", ".8444"), said="thinner bar"),
    Case("R706", STOP, RING, behind("2.3", ".8844"), said="behind rivet 1"),
    Case("R706", PASS, RING, behind("2.3", ".8845"), value=0.125),
    Case("R706", STOP, PLAIN, behind("2.549", ".5")),
    Case("R706", PASS, PLAIN, behind("2.3", ".5", tied_back=".8445"), value=0.125),
    Case("R706", STOP, PLAIN, behind("2.3", ".5", tied_back=".8444")),
    Case("R706", UNKNOWN, PLAIN, behind("2.3", "2", bar=None), said="not measured; cable 2.000"),
    Case("R706", UNKNOWN, PLAIN, behind("2.3", "1.2", moves=True), said="both stops"),
)


@cases(*CASES)
def test_bar_room(case):
    case.holds()


def test_no_bar_is_asked_for_where_nothing_is_behind_a_rivet():
    assert judged("R706", PLAIN, behind("2.551", ".5", bar=None)) == []
    assert judged("R706", PLAIN) == []


def test_the_bar_is_asked_for_by_its_entry():
    (finding,) = judged("R706", PLAIN, behind("2.3", "2", bar=None))
    assert finding.enter == ("bay.bar",)
