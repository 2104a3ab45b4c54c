"""The linear form of all gaps, against distances to outlines that are really moved, turned and filed."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely
from msgspec.structs import replace

from hatchwright.job.file import read_job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.rules.edge_distance import judged_edges
from hatchwright.search.risk.errors import CULPRITS, Culprit, Errors, Order, errors_of
from hatchwright.search.risk.form import wander_of
from hatchwright.search.risk.judged_gaps import gaps_of
from search.risk_jobs import HARD, OWN, PLAY, hard

ERRORS = Errors(
    square_in=0.006, along_in=0.006, place_in=0.0007, turn_rad=0.0004, offset_in=0.003, filing_in=0.003,
    ring_place_in=0.004, ring_turn_rad=0.0007,
)  # fmt: skip
WIDTH, HEIGHT, RADIUS, ROW = 7.4, 4.3, 0.75, 0.272
"""Of the hard job: opening, corner, distance of the row from both edges."""


def rounded(at, low, high, radius):
    """Signed distance of points beyond a rounded rectangle: that to the rectangle of its corners' middles, less the
    radius; exact for points outside that rectangle."""
    inner = shapely.box(
        low[..., 0] + radius, low[..., 1] + radius, high[..., 0] - radius, high[..., 1] - radius
    )
    return shapely.distance(inner, shapely.points(at)) - radius


def turned_back(at, shift, turn):
    """Points as an outline sees them that was moved the other way."""
    c, s = np.cos(turn), np.sin(turn)
    return np.stack([c * at[..., 0] - s * at[..., 1], s * at[..., 0] + c * at[..., 1]], axis=-1) + shift


def drawn_by_lot(trials, seed):
    """Every trial's errors, and the gaps that are really there: to the opening, to the ring, between neighbors."""
    layout = hard()
    wander = wander_of(layout, ERRORS)
    draw = np.random.default_rng(seed)
    c = draw.standard_normal((trials, 11))
    z = draw.standard_normal((trials, 2 * len(layout.holes)))
    way = wander.way
    square = np.stack([-way[:, 1], way[:, 0]], axis=1)
    off = 0.006 * (z[:, 0::2, None] * way + z[:, 1::2, None] * square)
    holes = np.array([hole.place for hole in layout.holes]) + off
    out = (0.003 * c[:, 3:4] + 0.003 * c[:, 4:8])[:, :, None]  # X low, X high, Y low, Y high
    half = np.array([WIDTH, HEIGHT]) / 2.0
    low = -half - np.concatenate([out[:, 0], out[:, 2]], axis=1)
    high = half + np.concatenate([out[:, 1], out[:, 3]], axis=1)
    seen = turned_back(holes, 0.0007 * c[:, None, :2], 0.0004 * c[:, 2:3])
    radius = RADIUS + 0.003 * c[:, 3:4]
    opening = rounded(seen, low[:, None, :], high[:, None, :], radius)
    ring_half = half + 2.0 * ROW
    on_ring = turned_back(holes, 0.004 * c[:, None, 8:10], 0.0007 * c[:, 10:11])
    ring = -rounded(on_ring, -ring_half, ring_half, RADIUS + 2.0 * ROW)
    step = np.roll(holes, -1, axis=1) - holes
    return layout, c, z, opening - 0.25, ring - 0.25, np.hypot(step[..., 0], step[..., 1]) - 0.375


def test_against_outlines_that_are_really_moved():
    """20,000 jobs of 180 gaps: shapely measures each hole to each moved and filed outline; the same answer in more
    than 99.98 % of the gaps, and the share of jobs with a short gap within three standard errors."""
    layout, c, z, opening, ring, pitch = drawn_by_lot(20_000, seed=5)
    gaps = gaps_of(layout, ERRORS)
    gaps = gaps.taken(gaps.counts & gaps.is_live)
    assert gaps.count == 180
    moved = gaps.mean_in + c @ gaps.common.T
    for gap, source, coefficient in zip(gaps.gap, gaps.source, gaps.coefficient, strict=True):
        moved[:, gap] += coefficient * z[:, source]
    exact = np.empty_like(moved)
    for at, one in enumerate(gaps.between):
        hole = one.hole.number - 1
        if one.other:
            first, second = sorted((hole, one.other.number - 1))
            exact[:, at] = pitch[:, second if (first, second) == (0, 59) else first]
        else:
            exact[:, at] = (opening if one.edge.name == "opening edge" else ring)[:, hole]
    assert ((moved < 0.0) == (exact < 0.0)).mean() > 0.9998
    assert np.abs(moved - exact).max() < 0.006
    is_short, really = (moved < 0.0).any(axis=1), (exact < 0.0).any(axis=1)
    assert is_short.mean() == pytest.approx(really.mean(), abs=3.0 * np.sqrt(0.25 / 20_000))
    # What bends: means of the exact gaps agree with g0, within four standard errors of the mean.
    error = exact.std(axis=0) / np.sqrt(len(exact))
    assert (np.abs(exact.mean(axis=0) - gaps.mean_in) < 4.0 * error).all()
    assert exact.std(axis=0) == pytest.approx(gaps.deviation_in, rel=0.03)


def test_limits_are_those_of_check():
    """2 D and 3 D of a 1/8 rivet: AC 43.13-1B, 4-57, as the rules cite it."""
    gaps = gaps_of(hard(), ERRORS)
    limit = {}
    for one, limit_in in zip(gaps.between, gaps.limit_in.tolist(), strict=True):
        limit.setdefault(one.code, set()).add(round(limit_in, 9))
    assert limit["R101"] == {0.25}
    assert limit["R201"] == {0.375}


def test_a_gap_is_short_just_where_the_judgement_of_check_says_so():
    """1,000 drawn trials of each edge distance, answered by the very judgement that `check` makes a finding of."""
    layout = hard()
    gaps = gaps_of(layout, ERRORS)
    draw = np.random.default_rng(3)
    for row, judged, _ in judged_edges(survey(layout), "R101"):
        own = [at for at, one in enumerate(gaps.between) if one.code == "R101" and one.edge == row.edge]
        off = 0.01 * draw.standard_normal((1_000, len(own)))
        answers = judged.ranks_of(row.distance_in + off)
        assert ((gaps.drawn_in[own] + off < -1e-9) == (answers == Status.STOP.rank)).all()


def test_wander_along_the_row_moves_pitch_and_square_to_it_edges():
    gaps = gaps_of(
        hard(OWN + 'drill_along = ".001"\n'), errors_of(hard(OWN + 'drill_along = ".001"\n').job.scatter)
    )
    drilling = gaps.variance_in2[:, CULPRITS.index(Culprit.DRILLING)]
    by = {
        code: [v for v, one in zip(drilling, gaps.between, strict=True) if one.code == code]
        for code in ("R101", "R201")
    }
    # A row round corners turns half a step at each hole: a little of the one shows in the other.
    assert np.median(by["R101"]) == pytest.approx(0.006**2, rel=1e-6)
    assert np.median(by["R201"]) == pytest.approx(2.0 * 0.001**2, rel=1e-6)


@pytest.mark.parametrize(
    ("order", "opening", "ring"),
    [
        (Order.SKIN, {"place", "drilling", "offset", "filing"}, {"drilling", "ring"}),
        (Order.DOUBLER, {"place", "ring", "drilling", "offset", "filing"}, {"drilling"}),
        (Order.ONE_TEMPLATE, {"drilling", "offset", "filing"}, {"drilling", "ring"}),
    ],
)
def test_who_leads_decides_what_moves_which_edge(order, opening, ring):
    """Only the difference counts: table 1 of docs/theory/risk.md, derived there by hand."""
    gaps = gaps_of(hard(), ERRORS, order)
    for one, variance in zip(gaps.between, gaps.variance_in2, strict=True):
        if one.edge:
            felt = {culprit.value for culprit, v in zip(CULPRITS, variance, strict=False) if v > 0.0}
            assert felt == (opening if one.edge.name == "opening edge" else ring)


def test_pins_that_lie_loose():
    """Two pins, each at any place of a disc of .004 in diameter, 7.766 apart; drawn by lot 200,000 times."""
    draw = np.random.default_rng(2)
    out, around = 0.002 * np.sqrt(draw.random((200_000, 2))), 2.0 * np.pi * draw.random((200_000, 2))
    x, y = out * np.cos(around), out * np.sin(around)
    assert PLAY.place_in == pytest.approx(x.mean(axis=1).std(), rel=0.01)
    assert PLAY.turn_rad == pytest.approx(((y[:, 1] - y[:, 0]) / 7.766).std(), rel=0.01)


def test_a_pattern_laid_again_on_holes_that_are_there():
    """Half of the holes drilled: the others come with the pattern, moved and turned here point by point."""
    text = HARD.replace("count = 60", 'count = 60\n[as_made]\nuncertainty = ".001"\nholes = HOLES')
    drawn = [[hole.number, *(f"{one:.4f}" for one in hole.place)] for hole in hard().holes]
    layout = lay_out(read_job(text.replace("HOLES", str(drawn[:30])) + OWN))
    gaps = gaps_of(layout, ERRORS)
    holes = {hole.number: np.array(hole.place) for hole in layout.holes}
    small, tried = 1e-6, 0
    for one, common in zip(gaps.between, gaps.common, strict=True):
        if one.other and one.hole.is_made != one.other.is_made:
            tried += 1
            for column, size in enumerate((0.0007, 0.0007, 0.0004)):
                ends = []
                for hole in (one.hole, one.other):
                    x, y = holes[hole.number]
                    way = np.array([[1.0, 0.0], [0.0, 1.0], [-y, x]])[column]
                    ends.append(holes[hole.number] + (0.0 if hole.is_made else small * size) * way)
                longer = np.hypot(*(ends[1] - ends[0])) - np.hypot(
                    *(holes[one.other.number] - holes[one.hole.number])
                )
                longer *= -1.0 if one.is_greatest else 1.0
                assert common[column] == pytest.approx(longer / small, abs=1e-8)
        elif one.other:
            assert not common.any()
    assert tried >= 4


@pytest.mark.parametrize("name", ["juniper", "heron", "elder"])
def test_each_gap_moves_as_it_is_measured_again(name):
    """Holes moved by a hundred-thousandth one by one, and everything laid out and measured anew by the rules: edges,
    pitches, row spacing and overlap change by what the form says."""
    text = (Path(__file__).parents[2] / "examples" / f"{name}.toml").read_text(encoding="utf-8")
    layout = lay_out(read_job(text + OWN))
    errors = errors_of(layout.job.scatter)
    gaps, wander, kinds = gaps_of(layout, errors), wander_of(layout, errors), set()
    draw = np.random.default_rng(4)
    for at in draw.choice(len(layout.holes), 6, replace=False).tolist():
        off = 1e-5 * draw.standard_normal(2)
        x, y = layout.holes[at].place
        moved = replace(layout.holes[at], x_in=x + off[0], y_in=y + off[1])
        anew = gaps_of(replace(layout, holes=(*layout.holes[:at], moved, *layout.holes[at + 1 :])), errors)
        assert [one.measured for one in anew.between] == [one.measured for one in gaps.between]
        way = wander.way[at]
        z = np.array([off @ way, off @ np.array([-way[1], way[0]])]) / wander.deviation_in[at]
        told = np.zeros(gaps.count)
        own = gaps.source // 2 == at
        np.add.at(told, gaps.gap[own], gaps.coefficient[own] * z[gaps.source[own] % 2])
        assert anew.drawn_in - gaps.drawn_in == pytest.approx(told, abs=2e-9)  # 1e-10 bends
        kinds |= {gaps.between[gap].code for gap in gaps.gap[own].tolist()}
    assert kinds >= (
        {"R102", "R201", "R206"} if name == "elder" else {"R101", "R201", "R202", "R204", "R208"}
    )
