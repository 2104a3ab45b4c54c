"""From a survey to the job: the two invented bays come back within u; the center by its routes; left beside right.

Oracle: the examples' own numbers, which the surveys of `surveys.py` read off with errors inside their u.
"""

from __future__ import annotations

import math

import pytest

from hatchwright.errors import JobError
from hatchwright.job.changed_text import changed_text
from hatchwright.job.file import load_job, read_job
from hatchwright.layout.site.center import center_of
from hatchwright.layout.site.changes import changes_of
from hatchwright.layout.site.differences import differences
from hatchwright.layout.site.sides import mirrored_axes, sides_compared
from hatchwright.layout.site.sketch import sketches
from hatchwright.words.tell import tell
from surveys import ALDER, BIRCH, EXAMPLES, with_survey

EXAMPLE_TEXT = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
SITES = {"alder": ALDER, "birch": BIRCH}


def entered(name: str):
    """A job without bay and center's own numbers, its survey entered."""
    text = with_survey(name, SITES[name]).replace('center = ["', 'center = ["9')  # a center that nobody drew
    job = read_job(text)
    found = differences(job, center_of(job.site, job.frame))
    return read_job(changed_text(text, *changes_of(found)))


@pytest.mark.parametrize("name", SITES)
def test_a_survey_entered_gives_the_job_within_its_u(name):
    made, job = entered(name), load_job(EXAMPLES / f"{name}.toml")
    u_in = made.site.u.inch
    rows = {row.name: row for row in made.bay.rows}
    assert rows.keys() == {row.name for row in job.bay.rows}
    for row in job.bay.rows:
        there = rows[row.name]
        assert (there.axis, there.member, there.diameter) == (row.axis, row.member, row.diameter)
        assert there.at_in == pytest.approx(row.at_in, abs=u_in)
    flanges = {one.name: one for one in made.bay.flanges}
    assert flanges.keys() == {one.name for one in job.bay.flanges}
    for flange in job.bay.flanges:
        for old, new in zip(flange.bounds_in, flanges[flange.name].bounds_in, strict=True):
            assert new == old if math.isinf(old) else new == pytest.approx(old, abs=u_in)
    best = center_of(made.site, made.frame).best
    for axis in (0, 1):
        drawn, there = job.opening.center[axis].inch, made.opening.center[axis].inch
        assert there == pytest.approx(drawn, abs=best.place[axis].u)
    assert made.skin.measured.inch == job.skin.measured.inch
    assert [one.diameter.inch for one in made.bay.existing] == [one.diameter.inch for one in job.bay.existing]


def test_hazard_found_from_inside_counts_from_the_outer_face():
    """2.07 below the inner face of a .0315 skin: 2.1015 below the outer one, the example's 2.1 within u .01; a job
    knows no u of it, so that it holds the nearest that the tube may lie, and the widest."""
    (tube,) = entered("alder").bay.keep_outs
    assert tube.depth.inch == pytest.approx(2.07 + 0.0315 - 0.01)
    assert tube.bounds_in[::2] == pytest.approx((8.19, 8.21))
    assert tube.depth.inch == pytest.approx(
        load_job(EXAMPLES / "alder.toml").bay.keep_outs[0].depth.inch, abs=0.01
    )
    assert tube.moves


def test_corners_become_the_four_corner_survey():
    corners = entered("birch").bay.corners
    assert [one.text for one in (*corners.sides, *corners.diagonals)] == ["6.60", "6.72", "8.93", "9.06"]


@pytest.mark.parametrize("name", SITES)
def test_once_entered_nothing_more_differs(name):
    made = entered(name)
    assert [one for one in differences(made, center_of(made.site, made.frame)) if one.is_beyond] == []


def test_what_lies_within_u_keeps_the_center_that_was_drawn():
    text = with_survey("alder", ALDER)
    job = read_job(text)
    fields = {one.field for one in differences(job, center_of(job.site, job.frame))}
    assert not any(field.startswith("opening") for field in fields)


def test_center_by_hand():
    """Routes of alder: rib 3 gives 5.503; rib 4 at the center's station is 10.997 + .007 3.498/7, less 5.497."""
    job = read_job(with_survey("alder", ALDER))
    first, second = center_of(job.site, job.frame).routes
    assert first.at_in == pytest.approx((5.503, 4.498))
    assert second.at_in == pytest.approx(
        (10.997 + 0.007 * (4.502 - 1.0) / 7.0 - 5.497, 9.005 - 4.503), abs=1e-6
    )
    assert first.u_in == pytest.approx((0.008, 0.008))


ROUTES = """
[[site.routes]]
name = "corners A and B"
a = "{a}"
b = "{b}"
"""


def test_a_route_from_corners_meets_the_others():
    """Distances by Pythagoras from (0, 0) and (11, 0) to (5.5, 4.5)."""
    text = ALDER + ROUTES.format(a=f"{math.hypot(5.5, 4.5):.4f}", b=f"{math.hypot(5.5, 4.5):.4f}")
    job = read_job(with_survey("alder", text))
    route = center_of(job.site, job.frame).routes[-1]
    assert route.at_in == pytest.approx((5.5, 4.5), abs=0.01)


@pytest.mark.parametrize("at", [(3.0, 6.0), (8.0, 2.0)])
def test_corners_across_from_each_other_leave_two_centers_and_are_not_guessed(at):
    """Circles about A and C meet once on each side of the diagonal, both times inside the bay."""
    a, c = math.dist(at, (0.0, 0.0)), math.dist(at, (11.0, 9.0))
    route = f'[[site.routes]]\nname = "corners A and C"\na = "{a:.4f}"\nc = "{c:.4f}"\n'
    job = read_job(with_survey("alder", ALDER + route))
    found = center_of(job.site, job.frame).routes[-1]
    assert found.place is None
    assert tell(found.why) == (
        "from corners A and C alone it may lie on either side of the line between them: tape from one more"
    )


def test_a_route_from_a_name_that_two_landmarks_bear_is_not_guessed():
    """The row at 10.997 and the free edge at 10.605, both called rib 4: .39 apart."""
    text = ALDER.replace('name = "rib 4 flange"', 'name = "Rib 4"')
    route = center_of(read_job(with_survey("alder", text)).site, read_job(EXAMPLE_TEXT).frame).routes[1]
    assert route.place is None
    assert tell(route.why) == "two landmarks across X are called rib 4: name them apart"


def test_a_distance_that_a_helper_taped_twice_is_held_twice():
    tapes = 'tapes = [["rib 4", "5.62"], ["rib 4", "5.50"]]\n'
    job = read_job(with_survey("alder", ALDER.replace('up = "FWD"\n', 'up = "FWD"\n' + tapes)))
    found = [tape for tape in center_of(job.site, job.frame).tapes if tape.taped]
    assert [(tape.landmark, tape.taped.value) for tape in found] == [("rib 4", 5.62), ("rib 4", 5.50)]


def test_a_distance_belongs_to_the_nearest_of_landmarks_of_one_name():
    """A rib and a stringer both called row: 5.497 along X and 4.503 along Y, each taped once."""
    text = ALDER.replace('"rib 4"', '"row"').replace('"stringer"', '"row"')
    text = text.replace('member = "row"', 'member = "rib"')
    tapes = 'tapes = [["row", "4.50"], ["row", "5.50"]]\n'
    job = read_job(with_survey("alder", text.replace('up = "FWD"\n', 'up = "FWD"\n' + tapes)))
    found = [tape for tape in center_of(job.site, job.frame).tapes if tape.taped]
    assert [(tape.axis, tape.taped.value) for tape in found] == [(0, 5.5), (1, 4.5)]


def test_four_tapes_to_the_mark_and_one_that_is_wrong_shows():
    tapes = (
        'tapes = [["rib 3", "5.502"], ["rib 4", "5.62"], ["spar, aft row", "4.50"], ["stringer", "4.505"]]\n'
    )
    job = read_job(with_survey("alder", ALDER.replace('up = "FWD"\n', 'up = "FWD"\n' + tapes)))
    found = center_of(job.site, job.frame).tapes[:4]
    beyond = {tape.landmark for tape in found if abs(tape.off.value) > tape.off.u}
    assert beyond == {"rib 4"}


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (('x_from = "rib 4"', 'x_from = "rib 9"'), "isn't among the landmarks"),
        (('x = "5.497"', 'x = "15.497"'), "outside the bay"),
        (('x_from = "rib 4"', 'x_from = "rib 4"\nx_toward = "FWD"'), "doesn't run along X"),
        (('x_from = "rib 4"\nx = "5.497"', 'x_from = "middle"\nx = "2"'), "either side"),
    ],
)
def test_a_route_that_gives_no_center_says_why(change, why):
    middle = '\n[[site.rows]]\nname = "middle"\nx = "5"\n'
    job = read_job(with_survey("alder", (ALDER + middle).replace(*change)))
    route = center_of(job.site, job.frame).routes[1]
    assert route.place is None
    assert why in tell(route.why)


def test_toward_settles_which_side_of_a_landmark():
    middle = '\n[[site.rows]]\nname = "middle"\nx = "5"\n'
    change = 'x_from = "middle"\nx_toward = "OUTBD"\nx = ".5"'
    job = read_job(with_survey("alder", (ALDER + middle).replace('x_from = "rib 4"\nx = "5.497"', change)))
    assert center_of(job.site, job.frame).routes[1].at_in[0] == pytest.approx(5.5)


def sketch_of(side: str = "left", surface: str = "lower", **told: str):
    lines = "".join(f'{name} = "{value}"\n' for name, value in told.items())
    text = with_survey("alder", ALDER.replace('seen_from = "outside"\nup = "FWD"\n', lines))
    job = read_job(
        text.replace('side = "left"', f'side = "{side}"').replace(
            'surface = "lower"', f'surface = "{surface}"'
        )
    )
    return sketches(job.site, job.frame)


@pytest.mark.parametrize(
    ("side", "surface", "up", "right"),
    [
        # whoever lies under the left wing with the nose at the top has the tip at the right; on top it is mirrored
        ("left", "lower", "FWD", "OUTBD"),
        ("left", "upper", "FWD", "INBD"),
        ("right", "lower", "FWD", "INBD"),
        ("right", "upper", "FWD", "OUTBD"),
        ("left", "lower", "AFT", "INBD"),
        ("left", "lower", "OUTBD", "AFT"),
    ],
)
def test_what_lies_at_the_right_of_a_sketch(side, surface, up, right):
    found = sketch_of(side, surface, seen_from="outside", up=up)
    assert not found.is_asked
    assert found.ways[0].right == right
    turned = sketch_of(side, surface, seen_from="inside", up=up, right=right)
    assert turned.contradicts  # from inside the same arrow is at the left


def test_sketches_that_are_asked_are_read_both_ways():
    for told in ({}, {"seen_from": "outside"}, {"up": "FWD"}, {"seen_from": "inside", "up": "FWD"}):
        found = sketch_of(**told)
        assert found.is_asked
        assert not found.contradicts
        assert {way.seen_from for way in found.ways} == {"outside", "inside"}
        assert [way.x for way in found.ways] == ["OUTBD", "INBD"]  # X runs across the sketch and is turned
        assert [way.y for way in found.ways] == ["AFT", "AFT"]
    assert not sketch_of(seen_from="inside", up="FWD", right="INBD").is_asked


def both(other: str):
    here = read_job(with_survey("alder", ALDER))
    right = with_survey("alder", other).replace('side = "left"', 'side = "right"')
    return sides_compared(here, read_job(right))


def test_two_sides_alike_tell_nothing():
    assert both(ALDER) == ()


def test_two_sides_tell_what_is_on_one_only_and_what_differs():
    other = ALDER.replace('name = "stringer"', 'name = "stringer 2"').replace('y = "4.503"', 'y = "4.50"')
    other = other.replace('y_from = "stringer"', 'y_from = "stringer 2"').replace(
        'x_from = "8.2"', 'x_from = "8.1"'
    )
    told = {(str(one.name), tell(one.what)): (one.one_in, one.other_in) for one in both(other)}
    assert told["stringer", "Y"] == (pytest.approx(9.005), None)
    assert told["stringer 2", "Y"] == (None, pytest.approx(9.005))
    assert told["aileron push-pull tube", "X from"] == (8.2, 8.1)
    assert ("rib 4", "X") not in told


def test_what_is_on_one_side_only_is_told_once():
    """A hazard, and a center: not once more for each of its bounds, its depth and its two places."""
    hazard = '[[site.hazards]]\nname = "fuel line"\nx_from = "2"\nx_to = "3"\ny_from = "2"\ny_to = "3"\ndepth = "1"\n'
    told = [(str(one.name), tell(one.what), one.is_on_one, one.is_on_other) for one in both(ALDER + hazard)]
    assert told == [("fuel line", "hazard", False, True)]
    without = ALDER[: ALDER.index("[[site.routes]]")]
    told = [(tell(one.name), tell(one.what), one.is_on_one, one.is_on_other) for one in both(without)]
    assert told == [("center of the opening", "place", True, False)]


def test_a_row_and_an_edge_of_one_name_are_two_things_on_both_sides():
    """Both called rib 4; on the other side the row stands .1 farther, and the edge where it stood."""
    here = ALDER.replace('name = "rib 4 flange"', 'name = "rib 4"').replace(
        'x_from = "rib 4"', 'x_from = "rib 3"'
    )
    there = here.replace('x = "10.997"', 'x = "11.097"').replace('second = "11.004"', 'second = "11.104"')
    right = read_job(with_survey("alder", there).replace('side = "left"', 'side = "right"'))
    (found,) = sides_compared(read_job(with_survey("alder", here)), right)
    assert (found.name, tell(found.what), found.off_in) == ("rib 4", "X", pytest.approx(0.1))


def test_two_hazards_of_one_name_are_both_set_beside_the_other_side():
    wire = '[[site.hazards]]\nname = "wire"\nx_from = "{0}"\nx_to = "{0}"\n'
    here = read_job(with_survey("alder", ALDER + wire.format("2") + wire.format("4")))
    text = with_survey("alder", ALDER + wire.format("2.5") + wire.format("4"))
    found = sides_compared(here, read_job(text.replace('side = "left"', 'side = "right"')))
    assert {(one.name, one.one_in, one.other_in) for one in found} == {("wire", 2.0, 2.5)}


def test_an_odd_fastener_on_one_side_only_is_told():
    """A 5/32 at (11, 3.1) on both within u .01, and a 3/16 at (11, 5) on the other side alone."""
    odd = '[[site.existing]]\nat = ["{0}", "{1}"]\ndiameter = "{2}"\n'
    here = read_job(with_survey("alder", ALDER + odd.format("11.00", "3.10", "5/32")))
    text = with_survey("alder", ALDER + odd.format("11.01", "3.10", "5/32") + odd.format("11", "5", "3/16"))
    (found,) = sides_compared(here, read_job(text.replace('side = "left"', 'side = "right"')))
    assert tell(found.name) == ".1875 in fastener at X 11.000 Y 5.000"
    assert (found.is_on_one, found.is_on_other) == (False, True)


def test_what_moves_on_one_side_only_is_told():
    (found,) = both(ALDER.replace("moves = true", "moves = false"))
    assert (found.name, tell(found.what)) == ("aileron push-pull tube", "that it moves")


def test_a_frame_that_runs_the_other_way_is_turned():
    """X toward the tip on the left, toward the root on the right: rib 4 stands at 11 here and at -11 there."""
    here = read_job(with_survey("alder", ALDER))
    text = with_survey("alder", ALDER).replace('side = "left"', 'side = "right"')
    there = read_job(text.replace('x = "OUTBD"', 'x = "INBD"'))
    assert mirrored_axes(here.frame, there.frame) == ((-1, 0), (0, 1))
    swapped = read_job(text.replace('x = "OUTBD"\ny = "AFT"', 'x = "AFT"\ny = "OUTBD"'))
    assert mirrored_axes(here.frame, swapped.frame) == ((0, 1), (1, 0))


def test_surveys_of_different_skins_are_not_compared():
    here = read_job(with_survey("alder", ALDER))
    upper = read_job(with_survey("alder", ALDER).replace('surface = "lower"', 'surface = "upper"'))
    with pytest.raises(JobError, match="different skins"):
        sides_compared(here, upper)


def test_an_outline_that_carries_its_own_place_is_told_and_not_moved():
    """Edges at 3 and 8 have their middle at 5.5; moved by .1 it is told, and nothing is entered for it."""
    edges = 'shape = "edges"\nx_from = "3.1"\nx_to = "8.1"\ny_from = "2.5"\ny_to = "6.5"\nradius = ".75"\n'
    text = with_survey("alder", ALDER)
    drawn = 'shape = "rounded rectangle"\nwidth = "5.00"\nheight = "4.00"\nradius = ".75"\ncenter = ["5.50", "4.50"]\n'
    assert drawn in text
    job = read_job(text.replace(drawn, edges))
    found = [one for one in differences(job, center_of(job.site, job.frame)) if one.field == "opening"]
    (x,) = found
    assert (x.job_in, x.site_in) == (pytest.approx(5.6), pytest.approx(5.5034, abs=1e-3))
    entries, parts = changes_of(found)
    assert (entries, parts) == ((), ())


def test_both_edges_of_a_flange_inside_the_bay_are_one_strip():
    edges = "".join(
        f'\n[[site.flanges]]\nname = "hat"\n{bound} = "{at}"\n'
        for bound, at in (("y_from", 4), ("y_to", 4.8))
    )
    job = read_job(with_survey("alder", ALDER + edges))
    found = differences(job, center_of(job.site, job.frame))
    assert [one.new for one in found if one.name == "hat"] == [{"name": "hat", "y_from": "4", "y_to": "4.8"}]


def test_thickness_and_curvature_become_the_skins_own():
    """Mean of .031, .032 and .033 with a gauge of .001: u = t 2.92... by hand, sqrt(.0005^2 + (.001/sqrt 3)^2) has
    2 (1 + .75)^2 = 6.125 degrees of freedom, whose t at 95 % is 2.447 (table G.2): .00187, typed .0019."""
    more = 'thickness_u = ".001"\n[site.curvature]\nalong = "x"\nchord = "8"\nrise = ".583"\n'
    survey = ALDER.replace('thickness = [".0315"]\n', "")
    survey = survey.replace('up = "FWD"\n', f'up = "FWD"\nthickness = [".031", ".032", ".033"]\n{more}', 1)
    text = with_survey("alder", survey)
    job = read_job(text)
    made = read_job(changed_text(text, *changes_of(differences(job, center_of(job.site, job.frame)))))
    assert made.skin.measured.text == "0.032"
    assert made.skin.measured_u.text == "0.0019"
    assert (made.skin.curvature.chord.text, made.skin.curvature.rise.text) == ("8", ".583")


def test_words_for_one_direction_are_one_direction():
    """Under the left wing outboard is left, so that an arrow LEFT at the right is no contradiction."""
    assert not sketch_of(seen_from="outside", up="FWD", right="LEFT").is_asked
    assert sketch_of(seen_from="outside", up="FWD", right="RIGHT").contradicts
    off = sketch_of(seen_from="outside", up="FWD", right="UP")
    assert (off.is_asked, off.contradicts, off.off_skin) == (True, False, "UP")


def test_a_mean_that_was_entered_as_far_as_it_is_typed_differs_no_more():
    """Mean of .0315, .0315 and .0314, .031467, is typed 0.0315: entering it again would change nothing."""
    readings = 'thickness = [".0315", ".0315", ".0314"]\nthickness_u = ".0005"'
    text = with_survey("alder", ALDER.replace('thickness = [".0315"]', readings))
    job = read_job(text)
    made = read_job(changed_text(text, *changes_of(differences(job, center_of(job.site, job.frame)))))
    assert made.skin.measured.inch == 0.0315
    assert not [
        one for one in differences(made, center_of(made.site, made.frame)) if one.field.startswith("skin")
    ]
