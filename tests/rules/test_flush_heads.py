"""R408, R412, R429: countersunk sheets, what is left under them, and how the sheets take flush heads.

Thinnest countersunk sheet .040 for 3/32: [TM-9-2320-363-34-2] table 4; .032 a knife edge note, [MIL-HDBK-5F], seen only
restated; 1/4: depth of the head, from memory. Under a dimple: head depth + .305 t, nested 100 degree cones (geometry);
the head depth of 1/8 is .042, from memory. Land of .008: [TEACHING-TEXT], countersinks, .2 mm; two thirds of the sheet:
from memory.
"""

from __future__ import annotations

from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.tables.shop import load_shop_tables
from hatchwright.verdict import StrengthState, judge_all
from rules.cases import CAUTION, FLUSH, PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, job_of, judged, rules
from told import subject_of

SUNK = {"rows.0.rivet": "MS20426AD3", "rows.0.preparation": "countersink"}


def chosen(reading: str) -> dict:
    return {"choices": [{"rule": "R408", "reading": reading, "reason": "as the shop does"}]}


UNDER = {"rows.0.rivet": "MS20426AD4", "rows.0.preparation": "dimple over countersink"}

CASES = (
    Case("R408", PASS, PLAIN, {**SUNK, "skin.thickness": ".040"}, limit=0.04),
    Case("R408", STOP, PLAIN, {**SUNK, "skin.thickness": ".039"}, said=".001 short. Knife edge"),
    Case(
        "R408",
        PASS,
        PLAIN,
        {**SUNK, **chosen("knife edge note")},
        limit=0.032,
        said="Chosen: MIL-HDBK-5F, knife edge note",
    ),
    Case("R408", STOP, PLAIN, {**SUNK, "skin.thickness": ".031", **chosen("knife edge note")}),
    Case("R408", STOP, PLAIN, {**SUNK, "skin.thickness": ".063", **chosen("Navy tool text")}, limit=0.064),
    # 1/4: only the depth of the head is known, and that from memory
    Case("R408", CAUTION, PLAIN, {**SUNK, "rows.0.rivet": "MS20426AD8", "skin.thickness": ".099"}, limit=0.1),
    Case(
        "R408",
        CAUTION,
        PLAIN,
        {**SUNK, "rows.0.rivet": "MS20426AD8", "skin.thickness": ".100"},
        said="The figure is from memory (MS20426",
    ),
    Case("R408", UNKNOWN, PLAIN, {**SUNK, "rows.0.rivet": "MS20426AD2"}),
    Case("R412", PASS, PLAIN, {**SUNK, "rows.0.preparation": "dimple"}),
    Case("R412", UNKNOWN, PLAIN, {"rows.0.rivet": "MS20426AD4"}, said="Enter how the sheets take the head"),
    # .042 + .305 x .032 = .05176
    Case("R412", PASS, RING, {**UNDER, "doubler.thickness": ".0518"}, limit=0.05176),
    Case("R412", CAUTION, RING, {**UNDER, "doubler.thickness": ".0517"}),
    # .040 - .036 leaves .004 of .008; the heights are from memory, so that nothing stops and nothing passes by them
    Case(
        "R429",
        CAUTION,
        PLAIN,
        {**SUNK, "skin.thickness": ".040"},
        value=0.004,
        limit=0.008,
        said=".004 short",
    ),
    # .044 leaves .008, and .036 is more than two thirds of it
    Case("R429", CAUTION, PLAIN, {**SUNK, "skin.thickness": ".044"}, value=0.036, of="depth"),
    Case("R429", CAUTION, PLAIN, {**SUNK, "skin.thickness": ".064"}, value=0.028, said="Measure the height"),
    # under a dimple: .078 - .042 - .305 x .032
    Case("R429", CAUTION, RING, {**UNDER, "doubler.thickness": ".078"}, value=0.02624, of="doubler"),
)


@cases(*CASES)
def test_flush_heads(case):
    case.holds()


def test_heights_that_the_shop_confirms_pass_and_stop(tmp_path):
    """[TEACHING-TEXT]: .2 mm of land. Two thirds of .054 is .036018 by the row's .667."""
    ours = "OUR-STANDARD,dash 3,our copy,the shop's own"
    heads = "family,diameter_in,head_in,head_tolerance_in,height_in,source,place,edition,basis"
    row = f"MS20426,0.09375,0.179,0.004,0.036,{ours}"
    (tmp_path / "rivet_head_sizes.csv").write_text(f"{heads}\n{row}\n", encoding="utf-8")
    limits = "key,value,unit,note,source,place,edition,basis"
    row = f"machine_countersink_depth_max,.667,t,,{ours}"
    (tmp_path / "rule_limits.csv").write_text(f"{limits}\n{row}\n", encoding="utf-8")
    shop = load_shop_tables(tmp_path)
    for thickness, status in ((".054", PASS), (".0539", STOP), (".043", STOP)):
        layout = lay_out(job_of(PLAIN, **{**SUNK, "skin.thickness": thickness}), shop)
        (finding,) = rules()["R429"].check(survey(layout))
        assert finding.status is status


def test_the_impossible_entry_of_the_army_table_is_no_reading():
    (finding,) = judged("R408", PLAIN, {**SUNK, "rows.0.rivet": "MS20426AD8"})
    assert all(bound.limit != 0.072 for bound in finding.judged.bounds)


def test_every_document_stands_beside_the_default():
    (finding,) = judged("R408", PLAIN, SUNK)
    assert finding.judged.readings[0] == "Army table"
    assert {"knife edge note", "1940s manual", "Navy tool text"} <= set(finding.judged.readings)


def test_under_a_dimple_only_the_lower_sheets_are_countersunk():
    subjects = [subject_of(finding) for finding in judged("R408", RING, UNDER)]
    assert len(subjects) == 1
    assert "countersunk doubler" in subjects[0]


def test_the_sheets_of_one_row_are_one_line():
    """Skin and doubler too thin for the same row: two answers, one cause."""
    thin = {**SUNK, "skin.thickness": ".032", "doubler.thickness": ".032"}
    found = judged("R408", RING, thin)
    assert [finding.status for finding in found] == [STOP, STOP]
    (line,) = judge_all(found, side="left", strength=StrengthState.NOT_ASKED).lines
    assert line.more == 1


def test_what_is_not_entered_of_a_row_names_its_entry():
    (row,) = judged("R412", PLAIN, {"rows.0.rivet": "MS20426AD4"})
    assert row.enter == ("rows.0.preparation",)
    (screws,) = judged("R412", FLUSH, {"cover.screws.preparation": None})
    assert screws.enter == ("cover.screws.preparation",)


def test_flush_screws_are_asked_for_their_preparation_too():
    found = judged("R412", FLUSH, {"cover.screws.preparation": None})
    assert [finding.status for finding in found] == [UNKNOWN]
