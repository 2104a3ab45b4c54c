"""R416 to R419: alloy, head, substitutes and drills of the rivets.

1100 is not for structure: [AC43.13-1B] par. 7-2c. AD a thirty-second larger for 2017 up to 3/16 or 2024 up to 5/32:
par. 4-57b. Reduced heads not in tension: [COLLEGE-NOTES], seen only restated. Holes .125 to .135: [TRADE-2001]; No. 10
screws: .190, [ASME-B1.1], and no hole over B (.238), [ASME-B18.2.8], both seen only restated.
"""

from __future__ import annotations

from rules.cases import CAUTION, FLUSH, PASS, PLAIN, STOP, UNKNOWN, Case, cases, judged


def rivet(part: str, **more: object) -> dict:
    return {"rows.0.rivet": part, **more}


CASES = (
    Case("R416", PASS, PLAIN),
    Case("R416", STOP, PLAIN, rivet("MS20470A4"), said="1100 rivets are not for structure. Ask"),
    Case("R416", CAUTION, PLAIN, rivet("MS20470A4", **{"skin.stressed": False})),
    Case("R417", PASS, PLAIN),
    Case("R417", CAUTION, PLAIN, rivet("NAS1097AD4"), said="pulls on the head"),
    Case("R417", CAUTION, PLAIN, rivet("AN470AD4"), said="AN470 is superseded by MS20470"),
    Case("R418", PASS, PLAIN),
    Case("R418", PASS, PLAIN, rivet("MS20470AD6")),
    Case("R418", CAUTION, PLAIN, rivet("MS20470D6"), said="from memory: confirm it"),
    Case("R418", CAUTION, PLAIN, rivet("MS20470D8"), said="No substitute for MS20470D"),
    Case("R418", CAUTION, PLAIN, rivet("MS20470DD5"), said="MS20470AD6 may replace it"),
    Case("R418", CAUTION, PLAIN, rivet("MS20470DD6"), said="No substitute for MS20470D"),
    Case("R419", PASS, PLAIN, {"rows.0.final": ".125"}),
    Case("R419", PASS, PLAIN, {"rows.0.final": ".135"}, limit=0.125),
    Case("R419", UNKNOWN, PLAIN, {"rows.0.final": ".1351"}, limit=0.135, said="Enter a smaller final drill"),
    Case("R419", UNKNOWN, PLAIN, {"rows.0.final": ".1249"}, said="won't go in"),
    Case("R419", PASS, PLAIN, {"rows.0.pilot": "#40"}),
    # the usual final drill of 1/8 is No. 30
    Case("R419", CAUTION, PLAIN, {"rows.0.pilot": "#30"}, said="no smaller than the final drill"),
    Case("R419", PASS, FLUSH, {"cover.screws.final": ".190"}),
    Case("R419", UNKNOWN, FLUSH, {"cover.screws.final": ".1899"}),
    Case("R419", PASS, FLUSH, {"cover.screws.final": "B"}, value=0.238),
    Case("R419", UNKNOWN, FLUSH, {"cover.screws.final": ".2381"}, limit=0.238),
)


@cases(*CASES)
def test_rivet_choice(case):
    case.holds()


def test_drills_that_are_not_entered_are_not_judged():
    assert judged("R419", PLAIN) == []
