"""Where two paths of evidence differ: the factor, where it comes from, and that it weighs nothing by itself.

Counts by hand: AC 43.13-1B, table 4-10 (4.9 rivets an inch of .032 clad 2024-T3 with 1/8 AD), note c (.75); one AD4 in
.032 as in `tests/examples/test_strength_of_examples.py`, 388 x (1 - .04 (3.906 - 3)) = 373.94 lb; Ftu 59 ksi
(MIL-HDBK-5J).
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil, prod

import pytest

from hatchwright.job.loads import Loads
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.rules.check import check
from hatchwright.search.strength_answer import answer_of
from hatchwright.strength.report import Elements, strength_findings
from hatchwright.verdict import StrengthState, judge_all
from hatchwright.words.findings import what_to_do
from hatchwright.words.tell import tell, tell_all
from hatchwright.words.verdict import line_text
from strength.jobs import ANSWERED, COVER, RESTORE, SQUARE, SYMMETRIC, layout_of, running
from told import subject_of

CODES = ("S203", "S307", "S817")
NOTE_C = '\n[[choices]]\nrule = "R601"\nreading = "table 4-10, note c"\nreason = "single lap"\n'
ONE_AD4_LBF = 388 * (1 - 0.04 * (0.125 / 0.032 - 3))
ROUND = SQUARE.replace(
    'shape = "rounded rectangle"\nwidth = "4"\nheight = "4"\nradius = "1"', 'shape = "circle"\ndiameter = "4"'
)


def findings_of(*parts, base=SQUARE, elements=None, codes=CODES):
    report = answer_of(layout_of(ANSWERED, *parts, base=base), elements).report
    return report, [finding for finding in report.findings if finding.code in codes]


def factors_of(finding):
    return {value.symbol: value.value for value in finding.working[-1].values}


@pytest.fixture(scope="module")
def alder_report(alder):
    return answer_of(lay_out(alder.model_copy(update={"loads": Loads(basis="restore")}))).report


def of(report, code, about):
    return next(one for one in report.findings if one.code == code and about in subject_of(one))


def test_alder_passes_by_the_table_with_note_c_and_is_short_by_hand(alder_report):
    """Y: .75 x 4.9 x 5.016 = 18.4, 19 of 19; 1,888 lbf/in x 5.016 / 373.94 = 25.3, 26: 26 / 19 = 1.37."""
    found = of(alder_report, "S203", "side Y+")
    assert (ceil(0.75 * 4.9 * 5.016), ceil(1888 * 5.016 / ONE_AD4_LBF)) == (19, 26)
    assert found.status is Status.CAUTION
    assert subject_of(found).startswith(
        "Rivets on side Y+, 19 there: 19 by table 4-10, note c; 26 by hand analysis, 1.37 times as many (mostly note c"
    )
    assert found.value == pytest.approx(26 / 19)
    assert factors_of(found) == pytest.approx(
        {"note c": 1 / 0.75, "load": 1888 / (4.9 * ONE_AD4_LBF), "rows": 1.0}, rel=1e-3
    )
    assert found.working[-1].result.value == pytest.approx(
        1888 * 5.016 / ONE_AD4_LBF / (0.75 * 4.9 * 5.016), rel=1e-3
    )


def test_alders_doubler_puts_the_metal_back_and_is_short_by_hand(alder_report):
    """X: (6.000 - 2.700) x .040 put back for 4.011 x .032 removed: 97.3 percent; by hand the limit load of
    1,888 / 1.5 x 4.011 on .040 x (3.3 - 6 holes) at 39 ksi. Y is short by both."""
    found = of(alder_report, "S307", "along X")
    strap = next(
        one for one in alder_report.margins
        if one.code == "S302" and "along X" in subject_of(one) and one.level == "limit, yield"
    )  # fmt: skip
    metal = of(alder_report, "S306", "along X")
    assert found.value == pytest.approx(strap.applied.value / strap.allowable.value * metal.value)
    factors = factors_of(found)
    assert prod(factors.values()) == pytest.approx(found.value)
    assert factors["stress"] == pytest.approx(1888 / 1.5 / 0.032 / 39000, rel=1e-3)
    assert "(mostly the holes" in subject_of(found)
    assert not any("along Y" in subject_of(one) for one in alder_report.findings if one.code == "S307")


def test_what_differs_weighs_nothing_by_itself(alder_report):
    answers = strength_findings(alder_report)
    without = [finding for finding in answers if finding.code not in CODES]
    assert len(without) < len(answers)

    def verdict(some):
        return judge_all(some, side="left", strength=StrengthState.RUN)

    whole, bare = verdict(answers), verdict(without)
    assert (whole.status, whole.holds_back) == (bare.status, bare.holds_back)
    for status in (Status.STOP, Status.UNKNOWN):
        assert whole.count(status) == bare.count(status)


def test_it_is_one_line_and_no_sentence_stands_twice(alder_report):
    lines = judge_all(strength_findings(alder_report), side="left", strength=StrengthState.RUN).open_lines
    own = [line for line in lines if set(line.codes) & {"S203", "S307"}]
    assert len(own) == 1
    told = [line_text(line, "in") for line in lines]
    assert len(set(told)) == len(told)
    said = [tell_all(what_to_do(line.worst), "in") for line in lines]
    assert sum("Order of evidence" in one for one in said) == 1


@pytest.mark.parametrize("nx", [100.0, 700.0, 1200.0, 1600.0, 2600.0, 4200.0])
@pytest.mark.parametrize("base", [SQUARE, SYMMETRIC, ROUND], ids=["square", "symmetric", "round"])
@pytest.mark.parametrize("choice", ["", NOTE_C], ids=["default", "note c"])
def test_a_side_is_told_exactly_where_one_of_both_is_short(nx, base, choice):
    layout = layout_of(ANSWERED, running({"nx": nx}), choice, base=base)
    report = answer_of(layout, None).report
    compared = {subject_of(one)[15:17]: one for one in report.findings if one.code == "S203"}
    for rule in (one for one in check(layout) if one.code == "R601" and "side X" in subject_of(one)):
        side = "X+" if "side X+" in subject_of(rule) else "X-"
        own = [
            one.ratio for one in report.margins
            if one.code in ("S201", "S202") and f"side {side}" in subject_of(one)
        ]  # fmt: skip
        answers = {rule.value >= rule.limit, min(own) >= 0.0}
        status = {True: Status.PASS, False: None}[answers.pop()] if len(answers) == 1 else Status.CAUTION
        found = compared.get(side)
        assert (found.status if found else None) is status
        if found:
            rivets = rule.value / (1.0 + min(own))
            per_inch = 6.2 if not choice else 4.9 * 0.75
            factor = rivets / (4.0 * per_inch)
            assert found.working[-1].result.value == pytest.approx(factor, rel=1e-6)
            assert prod(factors_of(found).values()) == pytest.approx(factor, rel=1e-6)
            assert found.value == pytest.approx(
                max(ceil(rivets - 1e-9) / rule.limit, rule.limit / ceil(rivets - 1e-9))
            )


def test_a_table_that_is_short_of_a_small_known_load_names_the_load():
    few = SQUARE.replace('pitch = ".55"', 'pitch = "1.1"')
    _, found = findings_of(running({"nx": 100.0}), base=few, codes=("S203",))
    told = [subject_of(one) for one in found if one.status is Status.CAUTION and "side X" in subject_of(one)]
    assert told
    assert all("(mostly the load: 100 lbf/in" in one for one in told)
    assert all(one.index("by hand analysis") < one.index("by table 4-9") for one in told)


def test_round_a_half_the_sharing_is_named():
    _, found = findings_of(running({"nx": 2200.0}), NOTE_C, base=ROUND, codes=("S203",))
    assert any("(mostly the sharing: the highest-loaded rivet takes" in subject_of(one) for one in found)


@pytest.mark.parametrize(
    "parts",
    [(), (RESTORE.replace("restore", "none"),)],
    ids=["no loads", "basis none"],
)
def test_without_loads_there_is_nothing_to_compare(parts):
    assert findings_of(*parts)[1] == []


def test_without_a_table_or_a_strength_there_is_nothing_to_compare():
    bare = SQUARE.replace(
        'alloy = "2024"\ntemper = "T3"\nclad = true', 'alloy = "6061"\ntemper = "T6"\nclad = false'
    )
    flush = SQUARE.replace("MS20470AD4", "MS20426AD4")
    for base in (bare, flush):
        report, found = findings_of(RESTORE, base=base, codes=("S203",))
        assert report.margins
        assert found == []


@pytest.mark.parametrize(
    ("case", "parts"),
    [
        ({"nx": 900.0}, ()),
        ({"nx": 1200.0, "q": 300.0}, ()),
        ({"nx": 1000.0}, (COVER, "[loads.cover]\ncarries = 'load'\n")),
    ],
)
def test_elements_beside_hand_analysis(case, parts):
    """The factor is that of the two margins' own shares, and its parts multiply to it."""
    report, found = findings_of(
        running(case), *parts, base=SYMMETRIC, elements=Elements(buckling=False), codes=("S817",)
    )
    by_hand = [one.ratio for one in report.margins if one.code == "S202"]
    by_elements = [one.ratio for one in report.margins if one.code == "S801"]
    hand = 1.0 / (1.0 + min(by_hand))
    wanted = [1.0 / (1.0 + ratio) for ratio in by_elements]
    told = [one for one in wanted if min(one, hand) <= 1.0]
    assert len(found) == len(told)
    for finding in found:
        factor = prod(factors_of(finding).values())
        assert any(factor == pytest.approx(one / hand) for one in wanted)
        assert finding.value == pytest.approx(max(factor, 1.0 / factor))
        is_split = (hand <= 1.0) != (factor * hand <= 1.0)
        assert finding.status is (Status.CAUTION if is_split else Status.PASS)


def test_elements_raise_a_doubt_where_the_hand_analysis_passes(alder_report):
    found = of(alder_report, "S817", "restore shear")
    assert found.status is Status.CAUTION
    assert "used by hand analysis" in subject_of(found)
    assert set(factors_of(found)) == {"draw", "peak", "yield"}
    rivet = of(alder_report, "S814", "restore shear")
    assert found.holes == rivet.holes


def test_a_metric_job_tells_no_inch():
    layout = layout_of(ANSWERED, RESTORE, NOTE_C)
    for one in answer_of(layout, None).report.findings:
        if one.code in CODES:
            assert "lbf" not in tell(one.subject, "mm")


def test_a_rivet_without_a_value_leaves_nothing_to_compare(alder):
    """What one path counts and the other does not are no two answers to one question."""
    layout = lay_out(alder.model_copy(update={"loads": Loads(basis="restore")}))
    mixed = replace(
        layout,
        holes=tuple(
            replace(hole, fastener="MS20470A4") if hole.number == 1 else hole for hole in layout.holes
        ),
    )
    sides = {subject_of(one)[15:17] for one in answer_of(mixed, None).report.findings if one.code == "S203"}
    assert len(sides) < 4
