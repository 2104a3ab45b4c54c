"""The as-built sheet and the sheet of repeat looks, read back with PDFium; drawn beside made.

Expected numbers: the invented job's readings and plane geometry, worked out here by hand. Growth between two readings
has the root of the sum of squares of their u: [JCGM 100] 5.1.2.
"""

from __future__ import annotations

import math
import re
from datetime import UTC, datetime

import pypdfium2
import pytest
import shapely

from hatchwright.documents.as_built_parts import head_tables, stray_table, thickness_table
from hatchwright.drawings.made_file import MadeKind
from hatchwright.job.file import read_job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.rules.check import check_some
from hatchwright.strength.report import strength_report
from hatchwright.words.tell import tell
from hatchwright.workflow import drawn_beside_made as drawn_beside_made_module
from hatchwright.workflow.drawn_beside_made import drawn_beside_made, is_measured
from hatchwright.workflow.examine import examine, examine_with
from hatchwright.workflow.papers import papers
from tests.strength.jobs import ANSWERED, RESTORE, SQUARE, layout_of, running

STAMP = datetime(2026, 12, 1, 10, tzinfo=UTC)
READINGS = """date = "2026-03-09"
measured_by = "RB"
sizes = [[21, ".129", ".001"], [22, ".142", ".001"]]
heads = [[1, ".190", ".062"], [2, ".155", ".060", ".002"]]
strays = [["8.50", "4.20", ".128"]]
"""
LOOKS = """
[[looks]]
date = "2027-03-09"
at = "2140 h"
uncertainty = ".010"
sealant = "sound"
readings = [["gap at corner 2", ".012"]]
cracks = [["A", 12, ".060", ".020"], ["C", 14, ".050"]]

[[looks]]
date = "2028-02-27"
uncertainty = ".010"
corners = "clean"
readings = [["gap at corner 2", ".018"]]
cracks = [["A", 12, ".110"]]
cracks_elsewhere = [["B", "8.01", "2.50", ".120"]]
"""


@pytest.fixture(scope="module")
def looked(alder_text):
    text = alder_text.replace('uncertainty = ".005"\n', f'uncertainty = ".005"\n{READINGS}', 1) + LOOKS
    return examine(read_job(text.replace("both_sides = true", "both_sides = false")))


def text_of(examination, name):
    (file,) = papers(examination, stamp=STAMP, only=(name,))
    with pypdfium2.PdfDocument(file.content) as pdf:
        return file.kind, " ".join(" ".join(page.get_textpage().get_text_range() for page in pdf).split())


def test_every_hole_stands_with_nominal_measured_deviation_u_and_verdict(looked):
    kind, text = text_of(looked, "as-built")
    assert kind is MadeKind.AS_BUILT
    assert "Measured on 2026-03-09 by RB" in text
    for line in (
        "1 outboard, inner 8.280, 2.020 8.283, 2.020 +.003, .000 .005 OK",
        "4 outboard, inner 8.280, 3.880 8.260, 3.884 -.020, +.004 .005 NOT SHOWN SHORT .002, u .005 R101",
        "6 outboard, inner 8.280, 5.120 8.255, 5.118 -.025, -.002 .005 STOP SHORT .007 R101",
        "opening edge OUTBD edge, X 8.000 8.012 +.012 .005",
        "skin .0320 .0315 -.0005 OK",
        "2 MS20470AD4 .155 .060 .002 STOP",
        "1 8.500 4.200 .128 .005 skin open STOP",
        "aft, inner 7 0 2 1 0 0",  # the .142 hole is over the .135 of a 1/8 rivet
    ):
        assert line in text, line
    assert not re.search(
        r"\b(approved|airworthy|certified)\b(?! data)", text.replace("NOT APPROVED DATA", ""), re.I
    )


def filed(alder_text, x_to):
    """The opening as filed, as drawn but for its outboard edge, and nothing else measured."""
    return alder_text.partition("[as_made]")[0] + (
        '[as_made]\nuncertainty = ".005"\n[as_made.opening]\nshape = "edges"\nx_from = "3"\n'
        f'x_to = "{x_to}"\ny_from = "2.5"\ny_to = "6.5"\nradius = ".75"\n'
    )


def opening_by_another_library(x_to):
    """The same outline by Shapely: a rectangle less its corners, grown by their radius; arcs within 5e-6."""
    return shapely.box(3.75, 3.25, x_to - 0.75, 5.75).buffer(0.75, quad_segs=256).exterior


def test_a_filed_edge_moved_by_010_changes_every_dependent_distance_old_and_new(alder_text):
    """Expected: every hole of the skin to the opening's edge, before and after, by Shapely; those that move by more
    than reads the same on paper are told, with both values, and no other edge distance is."""
    made = {x_to: examine(read_job(filed(alder_text, x_to))) for x_to in ("8.000", "8.010")}
    assert drawn_beside_made(made["8.000"]) == ()
    found = drawn_beside_made(made["8.010"])
    edges = {numbers_in(one)[0]: one for one in found if one.group == "edge"}
    assert len(edges) == sum(one.group == "edge" for one in found)
    old, new = (opening_by_another_library(x_to) for x_to in (8.0, 8.01))
    moved = {}
    for hole in made["8.010"].layout.holes:
        if "skin" in hole.stack:
            was, now = (edge.distance(shapely.Point(hole.place)) for edge in (old, new))
            if abs(was - now) > 6e-5:
                moved[hole.number] = was, now
            elif abs(was - now) < 4e-5:
                assert hole.number not in edges
    assert len(moved) > 15
    assert moved.keys() <= edges.keys()
    for number, (was, now) in moved.items():
        one = edges[number]
        assert (one.drawn, one.made) == pytest.approx((was, now), abs=1e-5)
        assert one.u == 0.005
        assert "opening edge (skin)" in tell(one.what)
    straight = [
        hole.number for hole in made["8.010"].layout.holes if hole.x_in > 8.0 and 3.25 <= hole.y_in <= 5.75
    ]
    assert len(straight) > 5
    for number in straight:
        assert edges[number].change == pytest.approx(-0.010, abs=1e-9)


def test_the_same_move_changes_what_else_is_measured_from_that_edge(alder_text):
    """By hand: the cover's gap there is .010 wider, the doubler's overlap and the nearest row .010 less, the opening
    .010 longer; all other numbers but weights stay."""
    found = drawn_beside_made(examine(read_job(filed(alder_text, "8.010"))))
    changes = {tell(one.what): one.change for one in found if one.group == "judged"}
    for words, change in (
        ("cover gap", 0.010),
        ("doubler overlap", -0.010),
        ("nearest row to opening edge", -0.010),
    ):
        (one,) = [value for what, value in changes.items() if words in what]
        assert one == pytest.approx(change, abs=1e-6), words
    assert {one.group for one in found} == {"edge", "judged", "weight"}


def numbers_in(one):
    return [int(number) for number in re.findall(r"(?:rivet|screw) (\d+)", tell(one.what))]


def test_the_verdict_of_each_state_stands_beside_its_number(looked):
    by_what = {tell(one.what): one for one in drawn_beside_made(looked)}
    four = by_what["rivet 4 to opening edge (skin)"]
    assert (four.was, four.now) == (Status.PASS, Status.UNKNOWN)
    assert (four.drawn, four.made) == pytest.approx((0.280, 0.248), abs=1e-9)
    pair = by_what["rivets 4 and 5, center to center"]
    apart = math.hypot(8.281 - 8.260, 4.502 - 3.884)
    assert pair.made == pytest.approx(apart, abs=1e-9)
    skin = by_what["skin taken away"]
    assert skin.unit == "lb"
    assert skin.change < 0.0


@pytest.fixture(scope="module")
def verdicts(alder_text):
    """Last cells of one table of a job with further readings, by the first ones."""

    def read(readings, table, *codes, change=lambda text: text):
        text = alder_text.replace('uncertainty = ".005"\n', f'uncertainty = ".005"\n{readings}\n', 1)
        layout = lay_out(read_job(change(text)))
        return {row[0]: row[-1] for row in table(layout, check_some(layout, codes)).rows}

    return read


STRAY_CODES = ("R107", "R217", "R424")


def test_both_stray_holes_of_a_pair_too_near_each_other_stop(verdicts):
    """.260 apart, two rivets of 1/8 ask for .375; hole 3 is nearer still to a rivet of the row, 8.281, 4.502."""
    filled = '".128", ".001", "MS20470AD4"'
    pair = f'strays = [["9.30", "4.20", {filled}], ["9.30", "4.46", {filled}]]'
    assert verdicts(pair, stray_table, *STRAY_CODES) == {"1": "STOP", "2": "STOP"}
    three = f'strays = [["8.281", "4.65", {filled}], ["8.55", "4.65", {filled}]]'
    assert verdicts(three, stray_table, *STRAY_CODES) == {"1": "STOP", "2": "STOP"}


def test_what_nobody_judged_is_not_shown(verdicts):
    """No table lists the rivet of stray hole 1, and none tells the gauge of .9 of sheet."""
    strays = 'strays = [["9.30", "4.20", ".128", "", "MS29999AD4"], ["9.90", "4.20", ".128"]]'
    assert verdicts(strays, stray_table, *STRAY_CODES) == {"1": "NOT SHOWN", "2": "NOT SHOWN"}
    thick = {"change": lambda text: text.replace("[doubler]\n", '[doubler]\nmeasured = ".9"\n')}
    assert verdicts("", thickness_table, "R403", "R425", **thick)["doubler"] == "NOT SHOWN"


def test_of_good_heads_of_one_rivet_all_are_ok_and_of_an_unlisted_one_none(verdicts):
    def heads(layout, findings):
        return next(head_tables(layout, findings))

    readings = (
        'heads = [[1, ".190", ".062"], [2, ".190", ".061"], [21, ".190", ".062"]]\ncountersinks = [[1, ".2"]]'
    )
    assert verdicts(readings, heads, "R421") == {"1": "OK", "2": "OK", "21": "OK"}
    other = {"change": lambda text: text.replace("MS20470AD4", "MS29999AD4", 1)}
    assert verdicts(readings, heads, "R421", "R422", **other) == {
        "1": "NOT SHOWN",
        "2": "NOT SHOWN",
        "21": "OK",
    }


def test_a_job_of_which_nothing_was_made_has_no_sheet(alder_drawn):
    assert not is_measured(alder_drawn)
    examination = examine(alder_drawn.model_copy(update={"looks": ()}))
    assert papers(examination, stamp=STAMP, only=("as-built", "looks")) == ()
    assert drawn_beside_made(examination) == ()


def test_looks_stand_side_by_side_and_growth_within_u_is_not_shown(looked):
    kind, text = text_of(looked, "looks")
    assert kind is MadeKind.LOOKS
    for line in (
        "2028-02-27: clean",
        "2027-03-09: sound",
        "2027-03-09 2140 h",
        "gap at corner 2 .012, u .010 .018, u .010 +.006 .014 NOT SHOWN",
        "A hole 12 .060, u .020 .110, u .010 +.050 .022 SHOWN",
        "B X 8.010 Y 2.500 .120, u .010",
        "16 screws and their nutplates",
    ):
        assert line in text, line
    assert math.hypot(0.020, 0.010) == pytest.approx(0.022, abs=5e-4)


def test_what_was_not_read_in_the_last_looks_stands_with_when_it_was_read_last(alder_text):
    """Crack A and a gap in the first of five looks, B resolved in the last; A was .060 long, B was read twice."""
    told = [
        'readings = [["gap at corner 2", ".012"]]\ncracks = [["A", 12, ".060"]]',
        'cracks = [["B", 14, ".050"]]',
        'corners = "clean"',
        'cracks = [["B", 14, ".090"]]',
        'resolved = [["B", "RB", "drawing 12"]]',
    ]
    looks = [
        f'[[looks]]\ndate = "{2020 + n}-03-09"\nuncertainty = ".010"\n{text}\n' for n, text in enumerate(told)
    ]
    examination = examine(read_job(alder_text + "\n" + "\n".join(looks)))
    _, text = text_of(examination, "looks")
    for line in (
        "gap at corner 2 2020-03-09: .012, u .010",
        "A hole 12 2020-03-09: .060, u .010",
        "B hole 14 .050, u .010 .090, u .010 resolved",
        "B hole 14 2024-03-09 RB drawing 12",
    ):
        assert line in text, line
    cracks = [(one.status, one.holes) for one in examination.findings if one.code == "R426"]
    assert sorted(cracks) == [(Status.PASS, (14,)), (Status.UNKNOWN, (12,))]


def test_every_crack_of_the_last_look_stops_before_further_flight(looked):
    cracks = {one.cause or tell(one.subject): one for one in looked.findings if one.code == "R426"}
    assert cracks["A"].status is cracks["B"].status is Status.STOP
    assert "grown" in tell(cracks["A"].subject)
    assert any("No further flight" in tell(advice) for advice in cracks["B"].advice)
    (unread,) = (one for one in cracks.values() if one.status is Status.UNKNOWN)
    assert unread.holes == (14,)


def test_the_card_is_dated_by_the_readings(looked):
    """Printed 2026-12-01, measured 2026-03-09."""
    _, text = text_of(looked, "card")
    assert "DONE BY 2026-03-09" in text
    assert "DONE BY 2026-12-01" not in text


def test_every_margin_stands_old_and_new(monkeypatch):
    """The doubler of .040 measured .034: its strength in tension and shear goes with its thickness, [-] by hand:
    (1 + old) x .034 / .040 - 1. Hand methods alone, so that no elements are solved."""

    def by_hand(layout, **_):
        return examine_with(layout, strength_report(layout, elements=None))

    monkeypatch.setattr(drawn_beside_made_module, "examine_layout", by_hand)
    thin = SQUARE.replace('thickness = ".040"', 'thickness = ".040"\nmeasured = ".034"')
    beside = drawn_beside_made(by_hand(layout_of(ANSWERED, RESTORE, base=thin)))
    section = [one for one in beside if one.group == "margin" and tell(one.what).startswith("Doubler across")]
    assert len(section) >= 4
    for one in section:
        assert one.made == pytest.approx((1.0 + one.drawn) * 0.034 / 0.040 - 1.0, abs=1e-6)


def test_each_side_keeps_its_own_margin(monkeypatch):
    """An open stray hole beside the first row of one side lowers that side's margin alone, and reorders the report."""

    def by_hand(layout, **_):
        return examine_with(layout, strength_report(layout, elements=None))

    monkeypatch.setattr(drawn_beside_made_module, "examine_layout", by_hand)
    stray = '\n[as_made]\nuncertainty = ".002"\nstrays = [["3.3", "0.1", ".130"]]\n'
    made = by_hand(layout_of(ANSWERED, running({"nx": 300.0}), stray, base=SQUARE))
    rows = [one for one in drawn_beside_made(made) if one.group == "margin" and "first row" in tell(one.what)]
    assert rows
    assert all("X+" in tell(one.what) and one.change < 0.0 for one in rows)
