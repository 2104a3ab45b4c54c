"""What share of the solid skin is to be restored: the whole, a number, the circular's note, the bay's own rows.

By hand: AC 43.13-1B, tables 4-9 and 4-10 (6.2 and 4.9 rivets an inch of .032 clad 2024-T3 with 1/8 AD) and their
note c (.75); one AD4 carries 388 lb (MIL-HDBK-5, table 8.1.2); Ftu 59 ksi (MIL-HDBK-5J, table 3.2.3.0(e1)).
"""

from __future__ import annotations

import pytest

from hatchwright.search.strength_answer import answer_of
from hatchwright.strength.efficiency import efficiencies, stands_for
from hatchwright.strength.margin import Level
from hatchwright.strength.site import site_of
from hatchwright.words.tell import tell_all
from hatchwright.workings import Grade
from strength.jobs import ANSWERED, RESTORE, SQUARE, layout_of, running

NOTE_C = '\n[[choices]]\nrule = "R601"\nreading = "table 4-10, note c"\nreason = "single lap"\n'
TABLE_NOTE = RESTORE + 'efficiency = "table note"\n'
BY_ROW = RESTORE + 'efficiency = "landmark row"\n'


def asked(*parts, base=SQUARE):
    layout = layout_of(*parts, base=base)
    return efficiencies(layout, site_of(layout).skin)


def test_without_an_entry_all_of_the_solid_skin_is_asked_for():
    found = asked(RESTORE)
    assert (found.x.value, found.y.value, found.shear.value) == (1.0, 1.0, 1.0)
    report = answer_of(layout_of(RESTORE), None).report
    assert (
        "Restore asks for 100.0% of the solid skin along X, 100.0% along Y, 100.0% in shear: no efficiency is entered"
        in tell_all(report.inputs)
    )


@pytest.mark.parametrize(
    ("table", "letter", "ksi", "of_ftu"),
    [
        ("4-9", "", 75.2, 1.27),
        ("4-10", "", 59.4, 1.01),
        ("4-9", "c", 56.4, 0.96),
        ("4-10", "c", 44.6, 0.755),
    ],
)
def test_the_stress_that_each_reading_stands_for(table, letter, ksi, of_ftu):
    layout = layout_of()
    found = stands_for(table, letter, skin=site_of(layout).skin, layout=layout)
    assert found.value == pytest.approx(ksi * 1e3, abs=50.0)
    assert found.value / 59e3 == pytest.approx(of_ftu, abs=0.005)


def test_note_c_of_table_4_10_is_three_quarters_of_the_skin():
    """Its working shows the .755 of its own rivets, and where they come from."""
    found = asked(TABLE_NOTE, NOTE_C)
    assert (found.x.value, found.y.value, found.shear.value) == pytest.approx((0.75, 0.75, 0.75))
    symbols = {value.symbol: value.value for value in found.x.working[-1].values}
    assert symbols["noted / Ftu"] == pytest.approx(0.755, abs=5e-4)
    assert "AC43.13-1B" in {step.source.key for step in found.x.working}


def test_note_c_of_a_table_that_asks_for_more_than_the_skin_asks_for_more():
    """Table 4-9: .75 x 6.2 x 388 / (.032 x 59,000) = .9557."""
    found = asked(TABLE_NOTE, NOTE_C.replace("4-10", "4-9"))
    assert found.x.value == pytest.approx(0.75 * 6.2 * 388 / (0.032 * 59e3))


@pytest.mark.parametrize(
    "choice", ["", NOTE_C.replace("note c", "no reduction")], ids=["default", "whole table"]
)
def test_a_note_that_nobody_chose_takes_nothing_off(choice):
    found = asked(TABLE_NOTE, choice)
    assert found.x.value == 1.0
    assert "chose no table with note c" in tell_all(
        answer_of(layout_of(TABLE_NOTE, choice), None).report.inputs
    )


def rows(**pitches):
    text = SQUARE
    for name, pitch in pitches.items():
        head = f'name = "{name.replace("_", " ")}"\n'
        text = text.replace(head, f'{head}diameter = "1/8"\npitch = "{pitch}"\n')
    return text


def test_the_bays_own_rows_give_their_net_section():
    """(p - D) / p: .75 at 4 D, .80 at 5 D; the stronger row of a direction counts, and of both in shear."""
    found = asked(BY_ROW, base=rows(inboard_rib=".5", outboard_rib=".625", aft_spar=".5"))
    assert (found.x.value, found.y.value, found.shear.value) == pytest.approx((0.80, 0.75, 0.80))


def test_a_direction_whose_rows_nobody_measured_keeps_all_of_the_skin():
    found = asked(BY_ROW, base=rows(inboard_rib=".5"))
    assert (found.x.value, found.y.value, found.shear.value) == pytest.approx((0.75, 1.0, 1.0))
    report = answer_of(layout_of(BY_ROW, base=rows(inboard_rib=".5")), None).report
    assert "no row across it has its pitch" in tell_all(report.inputs)


def test_a_typed_efficiency_lowers_the_load_in_both_strengths_and_is_the_shops_own():
    report = answer_of(layout_of(RESTORE + 'efficiency = ".8"\nsource = "note 4"\n'), None).report
    along_x, _, shear = report.cases
    assert along_x.nx.value == pytest.approx(0.8 * 0.032 * 59e3)
    assert shear.q.value == pytest.approx(0.8 * 0.032 * 37e3)
    step = next(step for step in along_x.nx.working if step.result.symbol == "efficiency")
    assert step.grade is Grade.SHOP


def test_a_lower_efficiency_is_never_worse_and_the_whole_skin_is_as_before():
    whole, less = (
        answer_of(layout_of(ANSWERED, RESTORE, more), None).report
        for more in ("", 'efficiency = ".8"\nsource = "note 4"\n')
    )
    before = {(one.code, one.subject, one.case, one.level): one.ratio for one in whole.margins}
    assert before
    for one in less.margins:
        ratio = before[one.code, one.subject, one.case, one.level]
        assert (one.ratio is None) == (ratio is None)
        assert one.ratio is None or 1.0 + one.ratio == pytest.approx((1.0 + ratio) / 0.8)


def test_restore_asks_nothing_of_yield():
    """P12: t Ftu / 1.5 = 39.3 ksi is over Fty 39.0 even with equal metal, and restore has no limit load."""
    report = answer_of(layout_of(ANSWERED, RESTORE), None).report
    assert {one.level for one in report.margins} == {Level.ULTIMATE}
    known = answer_of(layout_of(ANSWERED, running({"nx": 300.0})), None).report
    assert Level.LIMIT in {one.level for one in known.margins}


def test_alder_drawn_and_as_filed_is_enough_in_its_rivets_at_three_quarters(alder, alder_drawn):
    """Y drawn 19 x 373.94 / (.75 x 1,888 x 5.0) - 1 = +.0035, as filed 5.016: +.0003; X as filed +.12."""
    from hatchwright.job.loads import Loads
    from hatchwright.layout.lay_out import lay_out

    loads = Loads(basis="restore", efficiency="table note")
    for job, along_y, along_x in ((alder_drawn, 0.0035, 0.12), (alder, 0.0003, 0.12)):
        report = answer_of(lay_out(job.model_copy(update={"loads": loads})), None).report
        sides = {
            dict(one.subject.values)["side"]: one
            for one in report.margins
            if one.code == "S201" and one.case.id != "case.restore_shear"
        }
        assert sides["Y+"].ratio == pytest.approx(along_y, abs=3e-4)
        assert sides["X+"].ratio == pytest.approx(along_x, abs=6e-3)
        assert not any(one.status.holds_back for one in sides.values())
