"""Each way out of what was made wrong is entered into the text of the file, read and judged from scratch here.

Limits: 2D to an edge and 3D between rivets (AC 43.13-1B par. 4-57), holes of solid rivets .125 to .135 and .156 to .171
(the trade primer's table, `tables/rivet_hole_ranges.csv`).
"""

from __future__ import annotations

import json
import math
import re

import pytest
from click.testing import CliRunner
from msgspec.structs import replace
from studies import random_faults
from studies.random_faults import ROUND_HOLE, Counts, bare, faults_of

from hatchwright.cli.rescue import command
from hatchwright.job.changed_text import changed_text
from hatchwright.job.file import read_job
from hatchwright.job.text_file import load_text
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.remedy import Change, PartChange
from hatchwright.search import rescue as search
from hatchwright.search import strength_answer
from hatchwright.search.candidate import concern_of
from hatchwright.search.changes import candidates
from hatchwright.search.rescue import deviations
from hatchwright.search.trial import Trial
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine
from hatchwright.workflow.rescue import effects_said, rescue_layout
from tests.conftest import EXAMPLES

JUNIPER = (
    bare("juniper").partition("[loads]")[0]
    + bare("juniper").partition("[loads.cover]")[2].partition("\n\n")[2]
)
"""Without its loads, so that a larger opening is not weaker by them."""


def made(*lines, u=".002"):
    return "\n".join(("", "[as_made]", f'uncertainty = "{u}"', *lines, ""))


def ways_of(text):
    """Kind to way of every deviation, each entered and judged from scratch."""
    return checked(text, rescue_layout(lay_out(read_job(text))).deviations)


def checked(text, rescued):
    for one in rescued:
        for way in one.ways:
            assert faults_of(text, way) == [], tell(way.remedy.told)
    return {(one.line.worst.code, way.kind): way for one in rescued for way in one.ways}


def entered(text, way):
    return read_job(changed_text(text, way.remedy.entries, way.remedy.parts))


def test_alder_is_answered_as_was_worked_out_by_hand():
    """Hole 15 is .243 from the doubler's edge, so .007 + u .005 = .012 are missing: .015 on the shop's step of .005.
    Holes 4 and 6 stand too near the opening, whose edge can only move nearer; the ends of their row lie past the ends
    of the opening, so no edge moved out takes all of it in: that is for the design approval holder alone."""
    text = load_text(EXAMPLES / "alder.toml")
    rescued = rescue_layout(lay_out(read_job(text))).deviations
    kinds = {one.line.holes: [way.kind for way in one.ways] for one in rescued}
    assert kinds == {(6,): [], (15,): [Change.DOUBLER_SIZE, Change.NEW_RING], (4,): []}
    ways = checked(text, rescued)
    assert entered(text, ways["R101", Change.NEW_RING]).doubler.outer.width.text == "7.015"
    told = tell(ways["R101", Change.NEW_RING].remedy.told)
    assert "9.000 to 9.015" in told
    assert "alternative method of compliance" in told  # a directive gives the size
    assert ways["R101", Change.NEW_RING].departs == ("size",)
    judged = examine(entered(text, ways["R101", Change.NEW_RING])).judged
    assert [str(one.status) for one in judged if one.code == "R903"] == ["stop"]  # until somebody takes it on


def test_an_oversize_hole_takes_the_next_rivet_where_there_is_room():
    """.37 from both edges is 2.37 of 5/32 in; the hole of .145 is under the .156 of its range: it is opened up to #21.
    Nobody has drilled it yet: its size is open until it is measured."""
    text = ROUND_HOLE + made('sizes = [[5, ".145", ".0005"]]')
    way = ways_of(text)["R404", Change.NEXT_RIVET]
    job = entered(text, way)
    assert (job.as_made.fitted[0].holes, job.as_made.fitted[0].rivet) == ((5,), "MS20470AD5")
    assert job.as_made.sizes[0].diameter.inch == pytest.approx(0.159)
    assert job.samples == ("as_made.sizes.0", "as_made.fitted.0")
    assert [str(one.status) for one in examine(job).judged if one.code == "R930"] == ["unknown"]
    told = [tell(one) for one in effects_said(way.effects)]
    assert "Hole 5 gets MS20470AD5 instead of MS20470AD4." in told
    assert any("open until you measure it" in one for one in told)


def test_of_several_oversize_holes_each_has_its_own_way():
    """Holes 5 and 9 stand apart: no one rivet helps both, and each takes its own."""
    text = ROUND_HOLE + made('sizes = [[5, ".145", ".0005"], [9, ".150", ".0005"]]')
    (one,) = [
        one for one in rescue_layout(lay_out(read_job(text))).deviations if one.line.worst.code == "R404"
    ]
    assert [(way.kind, way.findings[0].holes) for way in one.ways] == [
        (Change.NEXT_RIVET, (9,)), (Change.NEXT_RIVET, (5,)),
    ]  # fmt: skip
    for way in one.ways:
        assert faults_of(text, way) == []


def test_the_doubler_is_wider_where_the_next_rivet_asks_for_it():
    """.29 to the doubler's edge is short of 2 x 5/32 = .3125: .0225 wider all round a circle, .025 on the step."""
    text = ROUND_HOLE.replace('"7.48"', '"7.32"') + made('sizes = [[5, ".145", ".0005"]]')
    way = ways_of(text)["R404", Change.NEXT_RIVET]
    assert entered(text, way).doubler.outer.diameter.inch == pytest.approx(7.32 + 2 * 0.025)
    assert way.effects.sheets[0].area_sq_in > 0.0
    assert way.effects.weight_lb > 0.0


def test_a_hole_drilled_twice_is_reamed_to_the_size_that_takes_in_both():
    """Two .1285 holes .02 apart reach .1485 across: #21 (.159) takes in both, at .01 between their centers."""
    hole = next(one for one in lay_out(read_job(ROUND_HOLE)).holes if one.number == 1)
    first = f'holes = [[1, "{hole.x_in:.4f}", "{hole.y_in:.4f}", ".1285", ".0005"]]'
    text = ROUND_HOLE + made(
        first, f'strays = [["{hole.x_in + 0.02:.4f}", "{hole.y_in:.4f}", ".1285", ".0005"]]'
    )
    way = ways_of(text)["R424", Change.CLEANED_HOLE]
    job = entered(text, way)
    assert job.as_made.strays == ()
    assert job.as_made.holes[0].diameter.text == "#21"
    assert job.as_made.holes[0].x.inch == pytest.approx(hole.x_in + 0.01, abs=1e-4)
    far = text.replace(f"{hole.x_in + 0.02:.4f}", f"{hole.x_in + 0.09:.4f}")
    assert ("R424", Change.CLEANED_HOLE) not in ways_of(
        far
    )  # .2185 across: none of the next two sizes takes in both


def test_a_stray_hole_is_filled_where_it_stands_by_itself():
    """Half way between two rivets .9 apart it is .45 from both, 3.6D; .1 from one it is no rivet's place."""
    job = ROUND_HOLE.replace('pitch = ".75"', 'pitch = ".9"')
    one, other = (at for at in lay_out(read_job(job)).holes[:2])
    for share, is_filled in ((0.5, True), (0.1, False)):
        x_in, y_in = (a + share * (b - a) for a, b in zip(one.place, other.place, strict=True))
        hole = f'"{x_in:.4f}", "{y_in:.4f}", ".1285", ".0005"'
        text = job + made(f'strays = [[{hole}, "", "", "EO 12"]]')
        way = ways_of(text).get(("R424", Change.FILLED_STRAY))
        assert (way is not None) is is_filled
        if way:
            assert entered(text, way).as_made.strays[0].filled == "MS20470AD4"
            assert "EO 12" in tell(way.remedy.told)
            without = rescue_layout(lay_out(read_job(job + made(f"strays = [[{hole}]]")))).deviations
            (stray,) = (found for found in without if found.line.worst.code == "R424")
            assert Change.FILLED_STRAY not in {found.kind for found in stray.ways}
            assert any("data reference" in tell(asked) for asked in stray.asks)
            filled = job + made(f'strays = [[{hole}], [{hole}, "MS20470AD4"]]')
            (_, of_filled) = (
                found
                for found in rescue_layout(lay_out(read_job(filled))).deviations
                if found.line.worst.code == "R424"
            )
            assert (of_filled.line.worst.status, of_filled.asks) == (Status.UNKNOWN, ())


def test_a_cause_that_speaks_for_others_passes_as_a_whole():
    """Elder's closest of 16 pairs of screw and rivet may not be told as passing where another pair falls short."""
    text = bare("elder")
    holes = [
        f'[{one.number}, "{one.x_in:.4f}", "{one.y_in:.4f}"],'
        for one in lay_out(read_job(text)).holes_of("rivet")
    ]
    assert not [kind for code, kind in ways_of(text + made("holes = [", *holes, "]")) if code == "R212"]


def test_a_doubler_cut_short_is_made_again_as_drawn():
    text = JUNIPER + made(
        "[as_made.doubler_outer]", 'shape = "edges"', 'x_from = "1.87"', 'x_to = "10.48"', 'y_from = "1.15"',
        'y_to = "7.85"', 'radius = "1.00"',
    )  # fmt: skip
    way = ways_of(text)["R101", Change.NEW_RING]
    assert "cut as drawn" in tell(way.remedy.told)
    assert entered(text, way).as_made.doubler_outer is None


def drilled(text, row, **moved):
    """A row drilled as drawn, some of its holes by another X."""
    holes = [one for one in lay_out(read_job(text)).holes if one.row == row]
    lines = [
        f'[{one.number}, "{moved.get(f"x{one.number}", one.x_in):.4f}", "{one.y_in:.4f}"]' for one in holes
    ]
    return lines


def test_the_opening_takes_in_a_row_and_the_one_beyond_takes_its_place():
    """Hole 3 is .245 from the edge of an opening that was filed; the row beyond lies .97 farther out. Every hole of the
    row is then in the cutout with metal round it, and nothing that was measured of it is left."""
    lines = drilled(JUNIPER, "outboard, inner", x3=9.245) + drilled(JUNIPER, "outboard, outer")
    edges = (
        "[as_made.opening]", 'shape = "edges"', 'x_from = "3.40"', 'x_to = "9.00"', 'y_from = "2.25"',
        'y_to = "6.75"', 'radius = ".50"',
    )  # fmt: skip
    text = JUNIPER + made("holes = [", *(f"{line}," for line in lines), "]", *edges)
    job = entered(text, ways_of(text)["R101", Change.EDGE_PAST_ROW])
    assert job.as_made.opening.x_to.inch == pytest.approx(9.97)
    assert job.opening.width.inch == pytest.approx(5.60 + 0.97)
    assert {hole.number for hole in job.as_made.holes} == {
        hole.number for hole in lay_out(job).holes if hole.row == "outboard, outer"
    }
    assert job.rows[0].start[0].inch == pytest.approx(9.28 + 2 * 0.97)


def test_an_edge_that_leaves_a_hole_of_its_row_in_the_skin_is_not_offered(alder):
    """Alder's row runs .5 past both ends of the opening: what stays in the skin may not go unsaid."""
    found = examine(alder)
    for line in deviations(found.layout, found.verdict.open_lines):
        assert not list(candidates(Change.EDGE_PAST_ROW, concern_of(found.layout, line.findings)))


def test_a_round_opening_takes_in_the_row_around_it():
    """Hole 1 is drilled .20 from the edge of the opening; the farthest of the others stands .37 off, so that with half
    its .1285 hole, .002 and .030 of metal the edge goes .4662 out, .470 on the step, and the row lies .37 beyond."""
    holes = lay_out(read_job(ROUND_HOLE)).holes_of("rivet")
    places = {one.number: one.place for one in holes}
    places[1] = tuple(one * 3.20 / math.hypot(*places[1]) for one in places[1])
    lines = [f'[{number}, "{x:.4f}", "{y:.4f}", ".1285"],' for number, (x, y) in places.items()]
    way = ways_of(ROUND_HOLE + made("holes = [", *lines, "]"))["R101", Change.EDGE_PAST_ROW]
    job = entered(ROUND_HOLE + made("holes = [", *lines, "]"), way)
    assert job.opening.diameter.inch == pytest.approx(6.94)
    assert job.doubler.outer.diameter.inch == pytest.approx(7.48 + 0.94)
    assert job.as_made.holes == ()
    assert "its pitch" in tell(way.remedy.told)
    row = lay_out(job).holes_of("rivet")
    assert {round(math.hypot(*one.place), 4) for one in row} == {3.84}
    stray = (
        ROUND_HOLE + '[[rows]]\nname = "other"\nlay = "points"\nrivet = "MS20470AD4"\npoints = [["8", "0"]]\n'
    )
    other = f'[{len(places) + 1}, "8", "0"],'
    assert ("R101", Change.EDGE_PAST_ROW) not in ways_of(stray + made("holes = [", *lines, other, "]"))


def test_a_rivet_that_is_not_drilled_moves_away_from_one_that_is():
    """Hole 2 drilled .36 from where hole 3 is drawn, .015 and u short of 3D: hole 3 moves, its row becomes points."""
    row = '[[rows]]\nname = "line"\nlay = "line"\nrivet = "MS20470AD4"\n'
    row += 'start = ["5", "0"]\nend = ["5", "2.25"]\npitch = ".75"\n'
    text = ROUND_HOLE.replace('"7.48"', '"14"') + row
    first = next(one.number for one in lay_out(read_job(text)).holes if one.row == "line")
    text += made(f'holes = [[{first + 1}, "5", "1.14"]]')
    way = ways_of(text)["R201", Change.MOVED_RIVET]
    job = entered(text, way)
    moved = next(one for one in lay_out(job).holes if one.number == first + 2)
    assert moved.place == pytest.approx((5.0, 1.52))
    assert job.rows[1].lay == "points"


def test_a_rivet_that_would_stop_beside_the_next_one_is_not_moved():
    """Rivets .385 apart, .010 more than 3D; one drilled .029 off: what moves the next one from it to 3D and u brings it
    to .361 from its other neighbor, as many pairs short as before."""
    row = '[[rows]]\nname = "line"\nlay = "line"\nrivet = "MS20470AD4"\n'
    row += 'start = ["5", "0"]\nend = ["5", "2.31"]\npitch = ".385"\n'
    text = ROUND_HOLE.replace('"7.48"', '"14"') + row
    first = next(one.number for one in lay_out(read_job(text)).holes if one.row == "line")
    ways = ways_of(text + made(f'holes = [[{first + 2}, "5", ".799"]]'))
    assert [kind for code, kind in ways if code == "R201"] == []


@pytest.mark.parametrize(("doubler", "is_moved"), [("10.494", False), ("10.53", True)])
def test_a_way_hides_nothing_that_still_stops_at_the_rivet_that_it_moves(doubler, is_moved):
    """Moved from (5, -.14) to (5, -.12) it stands .2456 from the edge of a doubler of radius 5.247, under 2D = .250 as
    before; of radius 5.265 it stands .2636."""
    row = '[[rows]]\nname = "pair"\nlay = "points"\nrivet = "MS20470AD4"\n'
    text = ROUND_HOLE.replace('"7.48"', f'"{doubler}"') + row + 'points = [["5", "-.5"], ["5", "-.14"]]\n'
    first = next(one.number for one in lay_out(read_job(text)).holes if one.row == "pair")
    ways = ways_of(text + made(f'holes = [[{first}, "5", "-.5"]]'))
    assert (("R201", Change.MOVED_RIVET) in ways) is is_moved


def test_a_rivet_is_added_for_one_that_is_left_out():
    """Juniper's side X+ asks for 17 rivets (AC 43.13-1B table 4-10, note c) and has 19: without three one is missing.
    Between its rows, .97 apart, one more stands 3D = .375 from the empty hole 4."""
    text = JUNIPER + made("[[as_made.fitted]]", "holes = [4, 24, 27]", 'rivet = "none"')
    job = entered(text, ways_of(text)["R601", Change.ADDED_RIVET])
    assert job.rows[-1].name == "outboard, inner+4"
    assert job.rows[-1].points[0][0].inch == pytest.approx(9.28 + 0.375)


def test_a_cover_is_made_to_the_opening_as_filed():
    text = JUNIPER + made(
        "[as_made.opening]", 'shape = "edges"', 'x_from = "3.40"', 'x_to = "9.00"', 'y_from = "2.25"',
        'y_to = "6.79"', 'radius = ".50"',
    )  # fmt: skip
    job = entered(text, ways_of(text)["R805", Change.NEW_COVER])
    assert job.cover.gap is None
    assert job.cover.outline.height.inch == pytest.approx(4.54 - 2 * 0.030)


@pytest.mark.parametrize("seed", [3, 18, 52, 77, 116])
def test_random_faults_have_only_ways_out_that_hold(seed):
    """A small sample of `studies/random_faults.py`, which says what each seed is."""
    counts = Counts()
    random_faults.tried(seed, counts)
    assert counts.wrong == []


def test_a_way_that_does_not_hold_is_caught():
    """The study's own comparison is no echo: a doubler made smaller passes nothing and is told so."""
    text = load_text(EXAMPLES / "alder.toml")
    one = next(one for one in rescue_layout(lay_out(read_job(text)), 15).deviations if one.ways)
    way = one.ways[-1]
    smaller = (PartChange("doubler.outer.width", "6.9"),)
    spoilt = replace(way, remedy=replace(way.remedy, entries=(), parts=smaller))
    assert any(fault.startswith("R101") for fault in faults_of(text, spoilt))


def test_finite_elements_are_run_for_what_passes_all_else_unless_hand_methods_are_asked_for(monkeypatch):
    """A hole of finch takes the next rivet by hand methods; where the elements could not compute one margin more, it is
    no way out."""
    text = random_faults.fault(26, random_faults.WITH_LOADS).text
    layout, runs, real = lay_out(read_job(text)), [], strength_answer.answer_of

    def answer(of, elements=None):
        found = real(of, None)
        if elements is None:
            return found
        runs.append(of)
        not_computed = replace(found.report.margins[0], allowable=None)
        margins = (*found.report.margins, *([not_computed] if len(runs) > 1 else []))
        return replace(found, report=replace(found.report, margins=margins))

    monkeypatch.setattr(strength_answer, "answer_of", answer)
    by_hand = [way for one in rescue_layout(layout, hand_only=True).deviations for way in one.ways]
    assert [way.strength for way in by_hand] == ["by hand"]
    assert "NOT SHOWN by finite elements" in tell(by_hand[0].remedy.told)
    assert runs == []
    heard = []
    whole = rescue_layout(layout, progress=lambda share, doing: heard.append(doing.id)).deviations
    assert [way for one in whole for way in one.ways] == []
    assert len(runs) > 1
    assert "progress.rescue_elements" in heard


def test_what_is_tried_is_bounded(monkeypatch, alder):
    counted = []
    real = Trial.passed
    monkeypatch.setattr(Trial, "passed", lambda self, *told: counted.append(1) or real(self, *told))
    monkeypatch.setattr(search, "MOST_TRIED", 5)
    found = rescue_layout(lay_out(alder), 6)
    (one,) = found.deviations
    assert one.tried == len(counted) == 5
    assert one.left_out


def test_the_command_tells_each_way_with_what_it_does(tmp_path):
    path = tmp_path / "alder.toml"
    path.write_text(load_text(EXAMPLES / "alder.toml"), encoding="utf-8")
    answer = CliRunner().invoke(command, [str(path), "15"])
    assert answer.exit_code == 1
    told = " ".join(answer.stdout.split())
    assert re.search(r"design approval holder \(TC or STC\) or a DER\. Calculation aid", told)
    assert "STOP .243 in to OK .258 in" in told
    values = json.loads(CliRunner().invoke(command, [str(path), "15", "--json"]).stdout)
    (one,) = values["deviations"]
    assert one["holes"] == [15]
    assert one["leave"]
    way = one["ways"][-1]
    assert way["parts"][0]["field"] == "doubler.outer"
    good = CliRunner().invoke(command, [str(path), "71"])
    assert good.exit_code == 0
    assert "Nothing that was measured" in good.stdout


def test_a_hole_that_the_job_has_not_is_named(tmp_path):
    from hatchwright.errors import JobError
    from hatchwright.workflow.rescue import rescue_file

    path = tmp_path / "alder.toml"
    path.write_text(load_text(EXAMPLES / "alder.toml"), encoding="utf-8")
    with pytest.raises(JobError, match=r"no such hole.*given: 99.*1-9"):
        rescue_file(path, 99)
