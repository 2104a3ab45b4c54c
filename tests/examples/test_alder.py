"""Scenario ALDER: the numbered answers that the job must give.

Expected figures are those of the scenario sheet (invented job, its arithmetic made independently of this program); the
limits behind them are the published ones that each finding names.
"""

from __future__ import annotations

import math

import pytest

from examples.answers import found
from hatchwright.job.other_side import other_side
from hatchwright.judged import Status
from hatchwright.layout.mass import sheet_masses
from hatchwright.layout.survey import survey
from hatchwright.making.template.guide_template import corner_drills
from hatchwright.shapes.corners import corners
from hatchwright.workflow.examine import examine
from told import advice_of, subject_of


@pytest.fixture(scope="module")
def made(alder):
    return examine(alder)


def test_answer_1_the_bay_is_clear_on_all_four_sides(made):
    gaps = {subject_of(f): f.value for f in found(made, "R701")}
    assert gaps == {
        "doubler outer edge to rib 3 flange": pytest.approx(1.66),
        "doubler outer edge to rib 4 flange": pytest.approx(1.60),
        "doubler outer edge to spar cap flange": pytest.approx(0.95),
        "doubler outer edge to stringer flange": pytest.approx(0.95),
    }
    assert all(f.status is Status.PASS for f in found(made, "R701"))
    doubler = made.layout.part("doubler").edges[0].loop
    assert doubler.bounds == pytest.approx((2.0, 1.5, 9.0, 7.5))


def test_answer_2_template_opening_rough_radius_and_corner_pilots(made):
    chain = made.making.chain
    assert chain.guide.offset_in == pytest.approx(0.1535)
    x_min, y_min, x_max, y_max = chain.needed.bounds
    assert (x_max - x_min, y_max - y_min) == pytest.approx((5.277, 4.277))
    assert [c.radius_in for c in corners(chain.needed.loops[0])] == pytest.approx([0.8885] * 4)
    assert [c.radius_in for c in corners(chain.wanted.loops[0])] == pytest.approx([0.735] * 4)
    pilots = corner_drills(chain.wanted)
    assert [2.0 * pilot.radius_in for pilot in pilots] == pytest.approx([1.47] * 4)
    center_x, center_y = made.layout.center_in
    offsets = {(round(p.center[0] - center_x, 9), round(p.center[1] - center_y, 9)) for p in pilots}
    assert offsets == {(1.75, 1.25), (-1.75, 1.25), (1.75, -1.25), (-1.75, -1.25)}
    assert chain.deviation.over_cut.depth_in == pytest.approx(0.0, abs=1e-9)
    assert chain.deviation.under_cut.depth_in == pytest.approx(0.0, abs=1e-9)


def test_answer_4_the_ring_will_not_go_straight_through(made):
    (ring,) = found(made, "R304")
    assert ring.value == pytest.approx(6.00, abs=0.0005)
    # hypot(5.00 - 1.50, 4.00 - 1.50) + 1.50
    assert ring.limit == pytest.approx(5.80, abs=0.005)
    assert ring.status is Status.CAUTION
    assert "can't go in, whichever leg goes first" in advice_of(ring)
    assert "split ring" in advice_of(ring)
    assert "Don't bow it in" in advice_of(ring)


def test_answer_5_rivets_on_each_side(made):
    sides = {subject_of(f)[:7]: f for f in found(made, "R601")}
    needed = {name: f.limit for name, f in sides.items()}
    assert needed == {"side X+": 15, "side X-": 15, "side Y+": 19, "side Y-": 19}
    outboard = sides["side X+"]
    assert outboard.value == 17
    assert outboard.status is Status.PASS
    numbers = {hole.number for hole in made.layout.holes if hole.is_made}
    assert numbers == {*range(1, 10), *range(11, 19)}


def test_answer_9_masses_of_one_side(made):
    masses = {mass.name: mass.mass_lb for mass in sheet_masses(made.layout)}
    assert masses["doubler"] == pytest.approx(0.127, abs=0.0005)
    assert masses["skin taken away"] == pytest.approx(-0.063, abs=0.001)
    # the sheet says .062; 4.94 x 3.94 with corners of .72, .032 thick, of .101 lb/in^3 is .0615
    assert masses["cover"] == pytest.approx(0.062, abs=0.001)
    cover_sq_in = 4.94 * 3.94 - (4 - math.pi) * 0.72**2
    assert masses["cover"] == pytest.approx(cover_sq_in * 0.032 * 0.101)
    assert 2 * sum(masses.values()) < 1.0


def test_answer_6_rivet_length_and_the_heads_it_would_make(made):
    (length,) = found(made, "R501")
    assert length.status is Status.PASS
    (by_formula,) = (w.result.value for w in length.working if w.result.symbol == "L")
    assert by_formula == pytest.approx(0.2595)
    assert by_formula * 16 == pytest.approx(4.15, abs=0.005)
    heads = {
        w.formula.partition(":")[0]: w.result.value for w in length.working if w.result.symbol == "head/D"
    }
    assert heads["nearest sixteenth"] == pytest.approx(1.67, abs=0.005)
    assert heads["next half sixteenth"] > heads["nearest sixteenth"]
    assert "length by formula .2595: -4 makes a 1.67D shop head, -4.5 makes" in subject_of(length)


def test_answer_7_edge_distances_as_made(made):
    short = {f.holes[0]: f for f in found(made, "R101") if f.status in (Status.STOP, Status.UNKNOWN)}
    assert set(short) == {4, 6, 15}
    assert short[4].status is Status.UNKNOWN
    assert short[4].value == pytest.approx(0.248)
    assert short[4].judged.shortfall == pytest.approx(0.002)
    assert "can't be shown to pass" in advice_of(short[4])
    assert "1.98D" in advice_of(short[4])
    assert short[6].status is Status.STOP
    assert short[6].value == pytest.approx(0.243)
    assert short[6].judged.shortfall == pytest.approx(0.007)
    assert "1.94D" in advice_of(short[6])
    assert short[15].status is Status.STOP
    assert short[15].value == pytest.approx(0.243)
    assert "doubler outer edge" in subject_of(short[15])


def test_answer_7_hole_9_lies_off_the_corner_arc(made):
    to_opening = next(row for row in survey(made.layout).edges if row.edge.name == "opening edge")
    numbers = [hole.number for hole in to_opening.holes]
    assert to_opening.distance_in[numbers.index(9)] == pytest.approx(0.829, abs=0.0005)


def test_answer_8_nearest_spacing(made):
    measured = survey(made.layout)
    outboard = [p.distance_in for p in measured.near if p.first.is_made and p.second.is_made]
    assert min(outboard) > 0.375
    between = survey(made.layout).layout.holes
    made_holes = [hole for hole in between if hole.is_made]
    nearest = min(
        ((a.x_in - b.x_in) ** 2 + (a.y_in - b.y_in) ** 2) ** 0.5
        for i, a in enumerate(made_holes)
        for b in made_holes[:i]
    )
    assert nearest == pytest.approx(0.528, abs=0.0005)
    assert all(f.status is Status.PASS for f in found(made, "R201"))


def test_answer_10_the_cover_screws_clear_the_tube(made):
    (tube,) = found(made, "R803")
    assert tube.status is Status.PASS
    # 1/2 in screws under a flush cover, the tube 2.1 deep
    assert tube.value == pytest.approx(2.1 - 0.5)
    assert "2.100 below the outer face of the skin" in subject_of(tube)


def test_answer_10_the_right_wing_is_the_mirror(alder, made):
    right = examine(other_side(alder))
    assert right.job.aircraft.side == "right"
    left_holes, right_holes = (
        examine(alder.model_copy(update={"as_made": None})).layout.holes,
        right.layout.holes,
    )
    assert len(left_holes) == len(right_holes)
    for left, mirrored in zip(left_holes, right_holes, strict=True):
        assert left.number == mirrored.number
        x, y = made.layout.frame.to_page(left.x_in, left.y_in)
        assert right.layout.frame.to_page(mirrored.x_in, mirrored.y_in) == pytest.approx((-x, y))
    assert all(f.status is Status.PASS for f in found(right, "R101"))


def test_the_job_as_made_must_stop_and_as_drawn_need_not(alder, made):
    assert made.verdict.holds_back
    assert not examine(alder.model_copy(update={"as_made": None})).verdict.holds_back
