"""The hole tables; places are those typed in the job file, drills those that its source pairs with the rivet."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from hatchwright.drawings.bay_view import bay_sheet
from hatchwright.drawings.hole_table import counts_table, fastener_said, hole_tables
from hatchwright.layout.lay_out import lay_out
from hatchwright.recipe.hole_drills import final_drills
from hatchwright.recipe.sheet_work import hole_work
from hatchwright.units import parse_length
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine
from rules.cases import FLUSH, RING, changed, job_of


@pytest.fixture(scope="module")
def layout(alder):
    return examine(alder).layout


def test_the_tables_hold_every_hole_once_with_its_place_from_both_datums(layout):
    tables = hole_tables(layout, {})
    rows = {row[0]: row for table in tables for row in table.rows}
    assert sum(len(table.rows) for table in tables) == len(rows) == len(layout.holes)
    assert rows["4"] == ("4", "outboard, inner", "8.260", "3.884", "DRILLED")
    assert rows["15"][2:4] == ("8.757", "4.809")
    assert rows["71"] == ("71", "forward, outer", "3.330", "1.780", "")
    for hole in layout.holes:
        x, y = rows[str(hole.number)][2:4]
        assert float(x) == pytest.approx(hole.x_in, abs=5e-4)
        assert float(y) == pytest.approx(hole.y_in, abs=5e-4)


def test_the_title_says_fastener_drills_and_parts(layout):
    titles = [table.title for table in hole_tables(layout, {})]
    assert titles == [
        "RIVET MS20470AD4 IN skin + doubler: PILOT #40, FINAL #30 .1285 in",
        "SCREW 8-32 IN cover + doubler: PILOT #40, OPEN DRILL NOT KNOWN, DIMPLE, FINAL #18 .1695 in",
    ]


def test_the_counts_of_the_next_size_stand_below_the_holes():
    """The next size of a 1/8 rivet is 5/32: 2D is .3125 to the edges at X = 2 and X = 3, which .3 is not; 3D is .46875
    from rivet to rivet, which .4 is not for two of the four."""
    places = [("2.3", "0"), ("2.4", "1"), ("2.4", ".6"), ("2.5", "-1")]
    row = {"name": "row", "lay": "points", "rivet": "MS20470AD4", "points": [list(place) for place in places]}
    examination = examine(job_of(RING, rows=[row]))
    *_, table = bay_sheet(examination.layout, examination.findings, date="").tables
    assert table.title == "HOLES WITH ROOM FOR THE NEXT SIZE"
    assert table.headings == ("CHECK", "HOLES", "OF")
    assert table.rows == (
        ("Edge distance at next rivet size", "3", "4"),
        ("Spacing at next rivet size", "2", "4"),
    )


def test_no_counts_where_nothing_was_counted():
    assert counts_table(()) == ()


def test_remarks_stand_beside_their_hole(layout):
    rows = {row[0]: row for table in hole_tables(layout, {6: "SHORT .007 R101"}) for row in table.rows}
    assert rows["6"][-1] == "DRILLED; SHORT .007 R101"


def test_a_job_may_name_its_own_drills(layout):
    rows = tuple(
        row.model_copy(update={"pilot": parse_length("3/32"), "final": parse_length(".129")})
        if row.name == "aft, inner"
        else row
        for row in layout.job.rows
    )
    job = layout.job.model_copy(update={"rows": rows})
    hole = next(hole for hole in layout.holes if hole.row == "aft, inner")
    named = replace(layout, job=job)
    assert tell(fastener_said(hole, named)) == "RIVET MS20470AD4 IN skin + doubler: PILOT 3/32, FINAL .1290"
    assert len(hole_tables(named, {})) == 3


def test_an_unlisted_fastener_is_said_to_be_unlisted(layout):
    hole = replace(layout.holes[-1], fastener="1/4-28", nominal_in=0.25)
    assert final_drills(hole_work(hole, layout)) == ()
    assert "FINAL DRILL NOT KNOWN" in tell(fastener_said(hole, layout))


def test_a_rivet_drilled_at_pilot_size_needs_no_pilot(layout):
    hole = replace(layout.holes[0], fastener="MS20470AD3", nominal_in=0.09375)
    assert tell(fastener_said(hole, layout)).startswith("RIVET MS20470AD3 IN skin + doubler: FINAL #40 .0980")


@pytest.mark.parametrize(
    ("rivet", "words"),
    [
        # undersize, dimple, open: [REPAIR-1940S] par. 10; No. 32, dimpled, gives No. 30: [BUILDER-FORUMS]
        ("MS20426AD3", "PILOT #42, DIMPLE, FINAL #40 .0980"),
        ("MS20426AD4", "PILOT #32, DIMPLE, REAM #30 .1285 WHERE TIGHT"),
        ("MS20426AD5", "PILOT 1/8, DIMPLE, FINAL #22 .1570"),
        # none is listed: a trial gives it, and the usual pilot comes first
        ("MS20426AD6", "PILOT #40, OPEN DRILL NOT KNOWN, DIMPLE, FINAL #11 .1910"),
    ],
)
def test_a_dimpled_hole_is_drilled_small_and_opened_after(rivet, words):
    layout = lay_out(job_of(RING, rows__0__rivet=rivet, rows__0__preparation="dimple"))
    (hole,) = layout.holes
    assert tell(fastener_said(hole, layout)) == f"RIVET {rivet} IN skin + doubler: {words}"


@pytest.mark.parametrize(
    ("screws", "words"),
    [
        # a No. 8 die does not enter a #40 hole, and no table gives the hole before its dimple
        ({}, "cover + doubler: PILOT #40, OPEN DRILL NOT KNOWN, DIMPLE, FINAL #10 .1935"),
        ({"pilot": "#19"}, "cover + doubler: PILOT #19, DIMPLE, FINAL #10 .1935"),
        ({"preparation": None}, "cover + doubler: PILOT #40, FINAL DRILL NOT KNOWN"),
        ({"preparation": "countersink"}, "cover + doubler: PILOT #40, FINAL #10 .1935, COUNTERSINK"),
        (
            {"strap": {"alloy": "2024", "temper": "T3", "thickness": ".064"}},
            "cover + doubler: PILOT #40, OPEN DRILL NOT KNOWN, DIMPLE, FINAL #10 .1935; "
            "strap: PILOT #40, FINAL #10 .1935, COUNTERSINK",
        ),
    ],
)
def test_no_drill_is_named_that_the_work_on_the_sheets_does_not_know(screws, words):
    job = changed(FLUSH, {f"cover.screws.{key}": value for key, value in screws.items()})
    layout = lay_out(job_of(job))
    assert tell(fastener_said(layout.holes_of("screw")[0], layout)) == f"SCREW 10-32 IN {words}"


def test_long_names_and_remarks_take_more_lines_and_lose_nothing(layout):
    name, remark = "a very long name of a row, " * 3, "SHORT .007 R101; R205; R310; R412; R601; R703; R704"
    holes = tuple(replace(hole, row=name) for hole in layout.holes)
    (first, *_) = hole_tables(replace(layout, holes=holes), {holes[0].number: remark})
    rows = first.rows[: 1 + next(k for k, row in enumerate(first.rows[1:]) if row[0])]
    assert " ".join(row[1] for row in rows).split() == name.split()
    assert remark in " ".join(row[4] for row in rows)
    title = " ".join(text.words for text in first.block().parts if getattr(text, "bold", False))
    assert first.title in title
    assert first.block().width_in < 7.0
