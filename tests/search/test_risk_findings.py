"""T901 and its chance, against a seeded trial by lot that moves every hole and every edge, and not by the formula."""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
import pytest

from hatchwright.job.file import read_job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.search.answers import answers_of_making
from hatchwright.search.risk.scatter_findings import scatter_findings
from hatchwright.workings import Grade
from search.risk_jobs import SKIN, alder_of
from told import advice_of, subject_of

JOB = (
    SKIN
    + """[opening]
shape = "rounded rectangle"
width = "4"
height = "4"
radius = "1"
center = ["0", "0"]
[[rows]]
name = "row"
lay = "points"
rivet = "{rivet}"
points = {points}
"""
)
SCATTER = '[scatter]\ndrill = "{drill}"\nplacement = "{placement}"\nturn = {turn}\nedge = "{edge}"\n'


def judged(points, scatter=None, rivet="MS20470AD4"):
    sizes = {"drill": ".010", "placement": "0", "turn": 0.0, "edge": "0", **(scatter or {})}
    text = JOB.format(points=points, rivet=rivet) + SCATTER.format(**sizes)
    return scatter_findings(lay_out(read_job(text)))


def test_without_the_shops_scatter_nothing_is_said(alder_drawn):
    layout = lay_out(alder_drawn)
    assert scatter_findings(layout) == ()
    assert not [finding for finding in answers_of_making(layout)[0] if finding.code == "T901"]


@pytest.mark.parametrize(
    ("x", "chance", "status"),
    [
        ("2.25", 0.5, Status.CAUTION),
        ("2.27", 0.022750, Status.CAUTION),
        ("2.28", 0.001350, Status.PASS),
    ],
)
def test_chance_by_the_normal_table(x, chance, status):
    """Two diameters of 1/8 from the edge at X = 2; 0, 2 and 3 deviations of .010: .5, .02275, .00135 by any table."""
    (found,) = judged(f'[["{x}", "0"]]')
    assert found.value == pytest.approx(chance, abs=1e-6)
    assert found.status is status
    assert found.grade is Grade.PRACTICE
    assert (found.code, found.limit, found.unit) == ("T901", 0.01, "-")


def test_a_flush_head_needs_more():
    (found,) = judged('[["2.3125", "0"]]', rivet="MS20426AD4")
    assert found.value == pytest.approx(0.5)


def test_a_hole_that_is_short_as_drawn_is_left_to_the_rules():
    assert judged('[["2.2", "0"]]') == ()
    (found,) = judged('[["2.2", "0"], ["2.27", "1"]]')
    assert "hole 2" in subject_of(found)
    assert "likeliest" not in subject_of(found)  # of one


def test_short_distances_to_be_expected_are_counted():
    (found,) = judged('[["2.25", "0"], ["2.25", "1"], ["2.27", "-1"], ["2.9", "0.5"]]')
    assert "3 of 4 holes" in advice_of(found)
    assert "Expect 1.0" in advice_of(found)


def test_against_a_trial_by_lot():
    """Places, turns and edges are drawn by lot 400,000 times (seed 7) and the distance of the moved hole to the moved
    edge at X = 2 is counted; standard error of the count below .0008."""
    rng = np.random.default_rng(7)
    count = 400_000
    drill, placement, turn_deg, edge = 0.010, 0.008, 0.25, 0.004
    x, y = 2.28, 0.9
    turn = np.radians(turn_deg) * rng.standard_normal(count)
    moved_x = x * np.cos(turn) - y * np.sin(turn)
    moved_x += drill * rng.standard_normal(count) + placement * rng.standard_normal(count)
    distance = moved_x - (2.0 + edge * rng.standard_normal(count))
    counted = float((distance < 0.25).mean())
    sizes = {"drill": drill, "placement": placement, "turn": turn_deg, "edge": edge}
    (found,) = judged(f'[["{x}", "{y}"]]', sizes)
    assert found.value == pytest.approx(counted, abs=0.003)


def test_the_lever_is_what_runs_along_the_edge():
    """A hole beside the middle of an edge is not moved by a turn, one farther along it is."""
    sizes = {"drill": ".001", "turn": 1.0}
    (middle,) = judged('[["2.28", "0"]]', sizes)
    (along,) = judged('[["2.28", "0.9"]]', sizes)
    assert middle.value < 1e-9
    deviation = math.hypot(0.001, math.radians(1.0) * 0.9)
    assert along.value == pytest.approx(NormalDist(0.28, deviation).cdf(0.25), rel=1e-9)


def test_the_working_gives_the_number_that_is_told(alder_text):
    """Phi of what stands in the working, by the library's own normal distribution."""
    (found,) = scatter_findings(alder_of(alder_text))
    working = found.judged.working[-1]
    size = {one.symbol: one.value for one in working.values}
    expected = NormalDist().cdf((size["limit"] - size["e"] - size["bend"]) / size["s"])
    assert found.value == pytest.approx(expected, rel=1e-9)
    assert size["bend"] < 0.0  # the ring's corner bends the wrong way


def test_measured_holes_are_left_out(alder_text):
    text = alder_text + '\n[scatter]\ndrill = ".005"\n'
    layout = lay_out(read_job(text))
    (found,) = scatter_findings(layout)
    drawn = {hole.number for hole in layout.holes if not hole.is_made}
    assert int(subject_of(found).split("hole ")[1].split()[0]) in drawn


def test_what_nobody_entered_is_named_beside_the_chance():
    """Drilling alone: the chance is told, and that it is too small."""
    text = JOB.format(points='[["2.27", "0"]]', rivet="MS20470AD4")
    (found,) = scatter_findings(lay_out(read_job(text + '[scatter]\ndrill = ".010"\n')))
    told = advice_of(found)
    assert "Not entered: place of the template; rotation of the template; cutter offset; filing" in told
    (whole,) = judged('[["2.27", "0"]]')
    assert "Not entered" not in advice_of(whole)
