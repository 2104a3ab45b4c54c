"""The table of evidence: the share of the solid skin that each path finds restored, and one verdict with one reading.

Counts by hand: AC 43.13-1B, table 4-10 (4.9 rivets an inch of .032 clad 2024-T3 with 1/8 AD), note c (.75); one AD4 in
.032 as in `tests/examples/test_strength_of_examples.py`, 388 x (1 - .04 (3.906 - 3)) = 373.94 lb; Ftu 59 ksi
(MIL-HDBK-5J, table 3.2.3.0(e1)). Doubler .040, 7.0 x 6.0 less 3.7 x 2.7; its section along Y leaves 2.447 in.
"""

from __future__ import annotations

import json
from math import ceil

import pytest
from msgspec.structs import replace

from hatchwright.documents.strength_report import strength_paper
from hatchwright.job.loads import Loads
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.rules.check import check
from hatchwright.search.strength_answer import answer_of
from hatchwright.strength.evidence import Agreement
from hatchwright.strength.report import Elements, strength_findings
from hatchwright.verdict import StrengthState, judge_all
from hatchwright.words.tell import tell, tell_all
from hatchwright.workflow.strength import strength_values
from strength.jobs import ANSWERED, COVER, RESTORE, SQUARE, SYMMETRIC, layout_of, running
from told import subject_of

NOTE_C = '\n[[choices]]\nrule = "R601"\nreading = "table 4-10, note c"\nreason = "single lap"\n'
ONE_AD4_LBF = 388 * (1 - 0.04 * (0.125 / 0.032 - 3))
SOLID_LBF_IN = 0.032 * 59e3
TABLE_NOTE = Loads(basis="restore", efficiency="table note")
ROUND = SQUARE.replace(
    'shape = "rounded rectangle"\nwidth = "4"\nheight = "4"\nradius = "1"', 'shape = "circle"\ndiameter = "4"'
)


def answer(job, loads, elements=None, pitch=None):
    bay = job.bay
    if pitch:
        rows = (
            type(row).model_validate(row.model_dump(exclude_none=True) | {"pitch": pitch}) for row in bay.rows
        )
        bay = bay.model_copy(update={"rows": tuple(rows)})
    return answer_of(lay_out(job.model_copy(update={"loads": loads, "bay": bay})), elements)


def row(report, part, direction):
    return next(one for one in report.evidence.rows if (one.part, one.direction) == (part, direction))


@pytest.fixture(scope="module")
def drawn(alder_drawn):
    """The example as drawn, note c chosen, the efficiency by that note, the bay's rows at 4 D."""
    return answer(alder_drawn, TABLE_NOTE, pitch=".5").report


@pytest.fixture(scope="module")
def filed(alder):
    """The example as filed on the aircraft, with finite elements."""
    return answer(alder, TABLE_NOTE, Elements(buckling=False), pitch=".5").report


def test_rivets_are_enough_by_note_c_and_by_hand(drawn):
    """19 of ceil(.75 x 4.9 x 5.0) = 19 by the circular; by hand 19 x 373.94 / (1,888 x 5.0) = .7526."""
    assert ceil(0.75 * 4.9 * 5.0) == 19
    found = row(drawn, "rivets", "Y")
    assert (found.circular.restored.value, found.circular.asked) == pytest.approx((0.75, 0.75))
    assert found.hand.restored.value == pytest.approx(19 * ONE_AD4_LBF / (SOLID_LBF_IN * 5.0), rel=1e-3)
    assert found.hand.asked == pytest.approx(0.75)
    assert found.agreement is Agreement.AGREE
    assert {"has": 19, "needed": 19}.items() <= dict(found.circular.told.values).items()


def test_a_doubler_of_825_thousandths_of_its_metal_is_short(drawn):
    """Y: (7.0 - 3.7) x .040 / (5.0 x .032) = .825 by par. 4-58k; 2.447 x .040 x 59,000 = 5,775 lb of 9,440: .61."""
    found = row(drawn, "doubler", "Y")
    assert found.circular.restored.value == pytest.approx(3.3 * 0.040 / (5.0 * 0.032)) == pytest.approx(0.825)
    assert found.hand.restored.value == pytest.approx(5775 / (SOLID_LBF_IN * 5.0), rel=1e-3)
    assert not found.circular.passes
    assert not found.hand.passes
    assert found.agreement is Agreement.AGREE
    along_x = row(drawn, "doubler", "X")
    assert along_x.circular.passes
    assert along_x.hand.restored.value / along_x.hand.asked - 1.0 == pytest.approx(0.02, abs=0.005)


def test_the_mechanic_is_told_what_is_enough_what_is_short_and_what_puts_it_right(drawn):
    told = tell_all(drawn.evidence.told, "in")
    assert "Rivets: enough, 19 rivets, 19 needed on side Y+ by table 4-10, note c" in told
    assert "That is as much as any row of this bay leaves, 75.0%." in told
    assert "Doubler: not enough, load along Y: 61.1% of the skin's strength, 82.5% of its metal." in told
    assert (
        told.index("Rivets: enough")
        < told.index("Doubler: not enough")
        < told.index("puts the doubler right")
    )


def test_the_next_gauge_or_seven_tenths_more_width_were_tried(drawn, alder_drawn):
    """.050 x 2.447 x 59,000 = 7,219 and .040 x 3.147 x 59,000 = 7,427 lb for .75 x 9,440 = 7,080: +.02 and +.05."""
    told = tell_all(drawn.evidence.told, "in")
    assert "doubler thickness, .040 to .050 or doubler outer size, 7.000 x 6.000 to 7.700 x 6.000" in told
    from hatchwright.job.retyped_job import retyped_job

    for entries, margin, metal in (
        ({"doubler.thickness": ".050"}, 0.02, 1.03),
        ({"doubler.outer.width": "7.70"}, 0.05, 1.00),
    ):
        report = answer(retyped_job(alder_drawn, entries), TABLE_NOTE).report
        along_y = row(report, "doubler", "Y")
        assert along_y.hand.restored.value / 0.75 - 1.0 == pytest.approx(margin, abs=0.005)
        assert along_y.circular.restored.value == pytest.approx(metal, abs=0.005)
        assert not any(one.status.holds_back for one in report.margins if one.code in ("S302", "S303"))
        assert "puts the doubler right" not in tell_all(report.evidence.told, "in")


def test_r601_s201_and_the_table_give_one_verdict_by_one_reading(filed, alder):
    counted = [one for one in check(lay_out(alder)) if one.code == "R601"]
    assert {one.status for one in counted} == {Status.PASS}
    assert not any(one.status.holds_back for one in filed.margins if one.code == "S201")
    assert {one.agreement for one in filed.evidence.rows if one.part == "rivets"} == {Agreement.AGREE}


def test_with_all_of_the_skin_asked_for_note_c_explains_the_difference(alder):
    """F7: the job chose note c with a reason, so no caution asks for another reading: one line says 75% is note c."""
    report = answer(alder, Loads(basis="restore", efficiency="1.00")).report
    for direction in ("X", "Y"):
        found = row(report, "rivets", direction)
        assert (found.circular.passes, found.hand.passes) == (True, False)
        assert found.agreement is Agreement.EXPLAINED
        assert "75% is note c, a seam's own net section" in tell(found.why)
    assert not [one for one in report.findings if one.code == "S203" and "Rivets" in subject_of(one)]
    assert "Not by hand analysis: 75.0% of the solid skin, 100.0% asked" in tell_all(report.evidence.told)


def test_without_an_efficiency_the_reading_chosen_for_the_count_decides(alder):
    """R601 and S201 by one reading: note c, chosen with a reason, passes both; the report says whose reading it is."""
    report = answer(alder, Loads(basis="restore")).report
    assert row(report, "rivets", "Y").agreement is Agreement.AGREE
    assert {one.status for one in report.margins if one.code == "S201"} == {Status.PASS}
    assert "your reading under R601" in tell_all(report.inputs)


def test_elements_that_are_short_leave_it_open_and_never_clear(filed):
    doubted = [one for one in filed.evidence.rows if one.is_doubted]
    assert doubted
    for one in doubted:
        assert not one.elements.passes
    subjects = [subject_of(one) for one in filed.findings if one.code == "S203"]
    assert len(subjects) == len(doubted)
    along_x = row(filed, "doubler", "X")
    assert along_x.elements.restored.value == pytest.approx(along_x.hand.restored.value / 1.10, rel=0.03)
    assert "times the load of hand analysis here; they may raise a doubt" in tell(along_x.why)


def test_the_first_row_is_asked_for_what_the_bays_rows_leave(filed, alder):
    found = row(filed, "first_row", "X")
    assert found.bay.value == found.hand.asked == pytest.approx(0.75)
    assert found.hand.restored.value == pytest.approx(0.79, abs=0.005)
    unknown = row(answer(alder, TABLE_NOTE).report, "first_row", "X")
    assert (unknown.hand.asked, unknown.bay) == (None, None)
    assert "pitch of the bay's rows" in tell(unknown.why)


def test_the_table_weighs_nothing_by_itself(filed):
    answers = strength_findings(filed)
    without = [finding for finding in answers if finding.code != "S203"]
    assert len(without) < len(answers)

    def verdict(some):
        return judge_all(some, side="left", strength=StrengthState.RUN)

    whole, bare = verdict(answers), verdict(without)
    assert (whole.status, whole.holds_back) == (bare.status, bare.holds_back)
    for status in (Status.STOP, Status.UNKNOWN):
        assert whole.count(status) == bare.count(status)


@pytest.mark.parametrize("nx", [100.0, 700.0, 1200.0, 1600.0, 2600.0])
@pytest.mark.parametrize("base", [SQUARE, SYMMETRIC, ROUND], ids=["square", "symmetric", "round"])
@pytest.mark.parametrize("choice", ["", NOTE_C], ids=["default", "note c"])
def test_each_path_answers_as_its_own_check_does(nx, base, choice):
    layout = layout_of(ANSWERED, running({"nx": nx}), choice, base=base)
    report = answer_of(layout, None).report
    found = row(report, "rivets", "X")
    counted = [one for one in check(layout) if one.code == "R601" and "side X" in subject_of(one)]
    assert found.circular.passes == all(one.value >= one.limit for one in counted)
    own = [one.ratio for one in report.margins if one.code in ("S201", "S202")]
    assert found.hand.passes == (min(own) >= 0.0)
    assert found.hand.asked == pytest.approx(nx / SOLID_LBF_IN)
    straps = [one.ratio for one in report.margins if one.code == "S302"]
    assert row(report, "doubler", "X").hand.passes == (min(straps) >= 0.0)


@pytest.mark.parametrize(
    ("case", "parts"),
    [
        ({"nx": 900.0}, ()),
        ({"nx": 1200.0, "q": 300.0}, ()),
        ({"nx": 1000.0}, (COVER.replace(".6", "1.05"), "[loads.cover]\ncarries = 'load'\n")),
    ],
)
def test_elements_stand_beside_hand_analysis_on_known_loads(case, parts):
    layout = layout_of(ANSWERED, running(case), *parts, base=SYMMETRIC)
    report = answer_of(layout, Elements(buckling=False)).report
    found = row(report, "doubler", "X")
    drawn = max(one.drawn_lbf[0][0] * (1.0 + one.grid_error.fastener_ratio) for one in report.analysis.cases)
    expected = found.hand.restored.value * max(case["nx"] * 4.0, drawn) / drawn
    assert found.elements.restored.value == pytest.approx(expected)


@pytest.mark.parametrize("parts", [(), (RESTORE.replace("restore", "none"),)], ids=["no loads", "basis none"])
def test_without_loads_there_is_nothing_to_compare(parts):
    report = answer_of(layout_of(ANSWERED, *parts), None).report
    assert (report.evidence.rows, report.evidence.told) == ((), ())


def test_without_a_table_the_circular_has_no_figure_and_flush_rivets_none_that_passes():
    bare = SQUARE.replace(
        'alloy = "2024"\ntemper = "T3"\nclad = true', 'alloy = "6061"\ntemper = "T6"\nclad = false'
    )
    report = answer_of(layout_of(ANSWERED, RESTORE, base=bare), None).report
    assert row(report, "rivets", "X").circular is None
    flush = answer_of(
        layout_of(ANSWERED, RESTORE, base=SQUARE.replace("MS20470AD4", "MS20426AD4")), None
    ).report
    found = row(flush, "rivets", "X")
    assert (found.circular, found.hand, found.agreement) == (None, None, Agreement.OPEN)
    assert not found.is_doubted


def test_a_rivet_without_a_value_leaves_no_figure_that_is_too_high(alder):
    """Hand analysis leaves it out, so what is restored is less, never more."""
    layout = lay_out(alder.model_copy(update={"loads": TABLE_NOTE}))
    mixed = replace(
        layout,
        holes=tuple(
            replace(hole, fastener="MS20470A4") if hole.number == 1 else hole for hole in layout.holes
        ),
    )
    whole, less = (row(answer_of(one, None).report, "rivets", "X") for one in (layout, mixed))
    assert less.hand.restored.value < whole.hand.restored.value


def test_a_metric_job_tells_no_inch():
    report = answer_of(layout_of(ANSWERED, RESTORE, NOTE_C), None).report
    told = [tell(one, "mm") for one in report.evidence.told] + [
        tell(one.why, "mm") for one in report.evidence.rows
    ]
    assert not any(
        "lbf" in one or " in " in one.replace(" in shear", "") for one in told if "Rivets" not in one
    )


def test_programs_and_paper_hold_the_table(alder):
    found = answer(alder, TABLE_NOTE)
    values = json.loads(json.dumps(strength_values(found)))["evidence"]
    first = values["rows"][0]
    assert (first["part"], first["direction"], first["agreement"]) == ("rivets", "X", "agree")
    assert first["hand"]["asked"] == pytest.approx(0.75)
    assert first["hand"]["working"]
    assert len(values["told"]) == len(found.report.evidence.told)
    verdict = judge_all(strength_findings(found.report), side="left", strength=StrengthState.RUN)
    paper = strength_paper(found.layout, found.report, verdict=verdict, captions=(), date="30 Nov 2026")
    assert len(paper["evidence"]) == len(values["rows"])
    assert all(len(one) == len(paper["evidence_head"]) for one in paper["evidence"])
    assert paper["evidence_told"][: len(values["told"])] == values["told"]


def test_a_first_row_that_no_known_load_pulls_on_is_not_in_doubt():
    """Nx alone: the rows ahead and behind along X are compared, those along Y asked nothing and told nothing."""
    report = answer_of(layout_of(ANSWERED, running({"nx": 100.0}), base=SYMMETRIC), None).report
    assert [one.direction for one in report.evidence.rows if one.part == "first_row"] == ["X"]
