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
    # 3 x 1/24 = 1/8: the size of both documents; at .0416 only the circular's, whose default it is
    Case("R401", PASS, PLAIN, {"skin.thickness": "1/24"}, limit=0.125),
    Case(
        "R401", PASS, PLAIN, {"skin.thickness": ".0416"}, said="References differ; AC 43.13-1B is the default"
    ),
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".0417"}, said="Match the rivets beside the opening"),
    # the example of [AC43.13-1B] par. 4-58g(2), page 4-27: .032 clad 2024, 3 x .032 = .096, use 1/8; 5/32 would be
    # satisfactory; the size after that, 3/16, is not. On .020, 3 x .020 = .060: 3/32, and 1/8 is the next
    Case("R401", PASS, PLAIN, {"skin.thickness": ".032"}, value=0.125, said="References differ"),
    Case("R401", PASS, PLAIN, {"rows.0.rivet": "MS20470AD5", "skin.thickness": ".032"}, value=5 / 32),
    Case("R401", CAUTION, PLAIN, {"rows.0.rivet": "MS20470AD6", "skin.thickness": ".032"}, limit=5 / 32),
    Case("R401", PASS, PLAIN, {"skin.thickness": ".020"}),
    Case("R401", CAUTION, PLAIN, {"rows.0.rivet": "MS20470AD5", "skin.thickness": ".020"}, limit=0.125),
    # the limit shown is the one that is missed: 5/32 by the circular; .126 and 3 x .040 by the Navy manual
    Case("R401", PASS, RING, value=0.125),
    Case("R401", CAUTION, RING, chosen("R401", "Navy manual"), value=0.125, limit=0.12),
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".0417"}, limit=5 / 32),
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".126", **chosen("R401", "Navy manual")}, limit=0.126),
    Case(
        "R401",
        PASS,
        PLAIN,
        {"skin.thickness": ".0416", **chosen("R401", "circular")},
        said="Chosen: AC 43.13-1B",
    ),
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".0416", **chosen("R401", "Navy manual")}),
    # the Navy manual from t to 3 t
    Case("R401", PASS, PLAIN, {"skin.thickness": ".125", **chosen("R401", "Navy manual")}, limit=0.125),
    Case("R401", PASS, PLAIN, {"skin.thickness": ".041667", **chosen("R401", "Navy manual")}),
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".1253", **chosen("R401", "Navy manual")}),
    # 3/32 is the least in structure
    Case("R401", PASS, PLAIN, {"rows.0.rivet": "MS20470AD3", "skin.thickness": "1/32"}),
    Case(
        "R401",
        STOP,
        PLAIN,
        {"rows.0.rivet": "MS20470AD2"},
        limit=3 / 32,
        said="Too small for structure",
    ),
    Case("R401", CAUTION, PLAIN, {"rows.0.rivet": "MS20470AD2", "skin.stressed": False}),
    # a sheet too thick for any standard rivet
    Case("R401", CAUTION, PLAIN, {"skin.thickness": ".125"}),
    Case("R402", PASS, RING, {"doubler.thickness": ".032"}),
    Case("R402", PASS, RING, {"doubler.thickness": ".040"}),
    Case("R402", STOP, RING, {"doubler.thickness": ".0319"}, said=".001 short. Thinner than the skin"),
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
    Case("R403", STOP, PLAIN, {"skin.measured": ".0284"}, said="verify the bay"),
    Case("R403", PASS, PLAIN, {"skin.thickness": "0.8 mm", "skin.measured": ".0313"}),
    # 0.18 x 1/8 = .0225
    Case("R407", PASS, PLAIN, {"skin.thickness": ".0225"}, value=0.0225, limit=0.0225),
    Case("R407", UNKNOWN, PLAIN, {"skin.thickness": ".0224"}, said="0.179D of 0.18D, .001 short"),
)


@cases(*CASES)
def test_sheet_and_rivet(case):
    case.holds()


def test_both_documents_and_the_structural_least_stand_in_the_working():
    (finding,) = judged("R401", PLAIN)
    assert finding.judged.readings == ("circular", "Navy manual")
    # least and greatest by either document, and the least in structure
    sources = [working.source.key for working in finding.working]
    assert sources == ["AC43.13-1B", "NAVEDTRA-14018", "AC43.13-1B", "NAVEDTRA-14018", "NAVEDTRA-14018"]
    assert "D >= limit" in finding.working[-1].formula


def test_a_skin_that_was_not_measured_is_asked_for():
    (found,) = judged("R403", PLAIN)
    assert (found.status, found.value, found.limit) == (CAUTION, None, 0.032)
    assert found.enter == ("skin.measured",)
    assert "Measure the skin" in advice_of(found)
