"""R401 to R403, R407: diameter against the sheets, doubler against skin, gauge, thin sheet.

Diameter about 3 t, next size up: [AC43.13-1B] par. 4-58g(2)(a); t to 3 t and 3/32 at least: [NAVEDTRA-14018] ch. 13
rules 5 to 7. Same thickness: [AC43.13-1B] par. 4-50c; one gauge heavier: [AL0992]. Stock gauges: common practice, no
source. t/D 0.18: [MIL-HDBK-5H] sect. 8.1.2.
"""

from __future__ import annotations

from rules.cases import CAUTION, PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, judged
from told import advice_of


def chosen(rule: str, reading: str) -> dict:
    return {"choices": [{"rule": rule, "reading": reading, "reason": "as the shop does"}]}


CASES = (
    # 3 x 1/24 = 1/8: the size of both documents
    Case("R401", PASS, PLAIN, {"skin.thickness": "1/24"}, limit=0.125),
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".0416"}, said="does not meet the Navy manual"),
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".0417"}, said="does not meet the circular"),
    # the limit shown is the one that is missed: 3 x .040, 5/32 by the circular, .126 by the Navy manual's least
    Case("R401", CAUTION, RING, value=0.125, limit=0.12),
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".0417"}, limit=5 / 32),
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".126", **chosen("R401", "Navy manual")}, limit=0.126),
    Case(
        "R401",
        PASS,
        PLAIN,
        {"skin.thickness": ".0416", **chosen("R401", "circular")},
        said="Chosen: circular",
    ),
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".0416", **chosen("R401", "Navy manual")}),
    # the Navy manual from t to 3 t
    Case("R401", PASS, PLAIN, {"skin.thickness": ".125", **chosen("R401", "Navy manual")}, limit=0.375),
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".1253", **chosen("R401", "Navy manual")}),
    # 3/32 is the least in structure
    Case("R401", PASS, PLAIN, {"rows.0.rivet": "MS20470AD3", "skin.thickness": "1/32"}),
    Case(
        "R401",
        STOP,
        PLAIN,
        {"rows.0.rivet": "MS20470AD2"},
        limit=3 / 32,
        said="Smaller than any rivet for structure",
    ),
    Case("R401", CAUTION, PLAIN, {"rows.0.rivet": "MS20470AD2", "skin.stressed": False}),
    # a sheet too thick for any standard rivet
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".125"}),
    Case("R402", PASS, RING, {"doubler.thickness": ".032"}),
    Case("R402", PASS, RING, {"doubler.thickness": ".040"}),
    Case("R402", STOP, RING, {"doubler.thickness": ".0319"}, said="Thinner than the skin"),
    Case("R402", CAUTION, RING, {"doubler.thickness": ".050"}, said="More than one gauge heavier"),
    Case("R402", CAUTION, RING, chosen("R402", "circular, same gauge"), limit=0.032),
    Case("R402", PASS, RING, chosen("R402", "Army manual, one gauge heavier"), limit=0.04),
    Case(
        "R402",
        CAUTION,
        RING,
        {"doubler.thickness": ".032", **chosen("R402", "Army manual, one gauge heavier")},
    ),
    # metric sheet lies within the gauges: 0.8 mm and 1.0 mm are .032 and .040
    Case("R402", PASS, RING, {"skin.thickness": "0.8 mm", "doubler.thickness": "1.0 mm"}),
    # half way between .025 and .032 lies .0285
    Case("R403", PASS, PLAIN, {"skin.measured": ".0286"}),
    Case("R403", STOP, PLAIN, {"skin.measured": ".0284"}, said="Measure again"),
    Case("R403", PASS, PLAIN, {"skin.thickness": "0.8 mm", "skin.measured": ".0313"}),
    # 0.18 x 1/8 = .0225
    Case("R407", PASS, PLAIN, {"skin.thickness": ".0225"}, value=0.18, limit=0.18),
    Case("R407", UNKNOWN, PLAIN, {"skin.thickness": ".0224"}),
)


@cases(*CASES)
def test_sheet_and_rivet(case):
    case.holds()


def test_both_documents_and_the_structural_least_stand_in_the_working():
    (finding,) = judged("R401", PLAIN)
    assert finding.readings == ("circular", "Navy manual")
    assert [str(working.source.key) for working in finding.working] == [
        "AC43.13-1B",
        "NAVEDTRA-14018",
        "NAVEDTRA-14018",
    ]


def test_a_skin_that_was_not_measured_is_asked_for():
    (found,) = judged("R403", PLAIN)
    assert (found.status, found.value, found.limit) == (CAUTION, None, 0.032)
    assert "skin.measured" in advice_of(found)
