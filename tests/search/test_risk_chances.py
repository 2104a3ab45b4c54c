"""Closed forms, the integral over what is shared, and the simulation, each against the others and against SciPy."""

from __future__ import annotations

import json
import subprocess
import sys
import tracemalloc
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import chi2, multivariate_normal, norm

from hatchwright.errors import GeometryError
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.making import making_of
from hatchwright.metrology.deviation_limit import deviation_limit
from hatchwright.metrology.shared_normal import any_below
from hatchwright.search.answers import answers_of
from hatchwright.search.risk.chances import any_short, risk_of
from hatchwright.search.risk.errors import CULPRITS, Culprit, errors_of
from hatchwright.search.risk.gaps import below
from hatchwright.search.risk.judged_gaps import gaps_of
from hatchwright.search.risk.margin import kept_for_drilling
from hatchwright.search.risk.play import play_of
from hatchwright.search.risk.scatter_findings import scatter_findings
from hatchwright.search.risk.simulate import simulate
from search.risk_jobs import HARD, OWN, PLAY, alder_of, hard

NONE = np.zeros((0, 2), dtype=int)


def test_independent_union():
    mean, own = np.array([0.01, 0.02, 0.015]), np.array([0.008, 0.009, 0.007])
    alone = 1.0 - np.prod(norm.cdf(mean / own))
    assert any_below(mean, own, np.zeros((3, 0)), NONE) == pytest.approx(alone, rel=1e-12)


@pytest.mark.parametrize("shared", [0.0, 0.004, 0.012])
def test_two_holes_with_one_offset(shared):
    """1 - P(both hold) of a bivariate normal, by SciPy's own integral; 1,024 points leave less than 1e-4."""
    mean, own = np.array([0.010, 0.014]), np.array([0.006, 0.006])
    covariance = np.diag(own**2) + shared**2
    both = multivariate_normal(mean=-mean, cov=covariance).cdf(np.zeros(2))
    found = any_below(mean, own, np.full((2, 1), shared), NONE)
    assert found == pytest.approx(1.0 - both, abs=1e-4)


def test_values_that_hang_together_are_never_told_too_small():
    """Opposite values of one hole never end short together: the true chance is the sum, and it is at most that."""
    mean, own = np.array([0.012, 0.012]), np.array([0.006, 0.006])
    assert any_below(mean, own, np.zeros((2, 0)), np.array([[0, 1]])) == pytest.approx(
        2.0 * norm.cdf(-2.0), rel=1e-9
    )


def test_alder_comes_to_the_figures_of_its_measured_design(alder_text):
    """Without what bends: 32.26 spoilt holes in a hundred jobs; wander halved saves 23.2, the ring 10.7, offset and
    filing .03 each, pins under .01. A corner hole by hand: (8.72, 6.67) lies .0102 beyond 2 D from the ring's arc."""
    layout = alder_of(alder_text)
    gaps = gaps_of(layout, errors_of(layout.job.scatter, PLAY))
    gaps = gaps.taken(gaps.counts)

    def spoilt(culprit=None):
        scales = np.array([0.5 if one is culprit else 1.0 for one in CULPRITS] + [1.0])
        return 100.0 * below(gaps.drawn_in, np.sqrt((gaps.variance_in2 * scales**2).sum(axis=1))).sum()

    assert spoilt() == pytest.approx(32.26, abs=0.01)
    saved = {culprit: spoilt() - spoilt(culprit) for culprit in CULPRITS}
    assert saved[Culprit.DRILLING] == pytest.approx(23.2, abs=0.05)
    assert saved[Culprit.RING] == pytest.approx(10.7, abs=0.05)
    assert saved[Culprit.OFFSET] == pytest.approx(0.035, abs=0.006)
    assert saved[Culprit.FILING] == pytest.approx(0.035, abs=0.006)
    assert 0.0 < saved[Culprit.PLACE] < 0.01
    corner = 1.0 - np.hypot(8.72 - 8.0, 6.67 - 6.5) - 0.25
    assert min(gaps.drawn_in) == pytest.approx(corner, abs=1e-9)
    # What bends is real: the corners of a ring bend the wrong way, so a little more is spoilt.
    risk = risk_of(layout, layout.job.scatter, PLAY)
    assert 32.4 < risk.spoilt_per_hundred < 32.7
    assert [one.culprit for one in risk.gains[:2]] == [Culprit.DRILLING, Culprit.RING]
    assert risk.left_out.bound < 1e-40


@pytest.mark.parametrize("job", ["alder", "hard"])
def test_the_simulation_equals_the_closed_forms(job, alder_text):
    """200,000 trials of a fixed seed: spoilt holes, the job and each hole within three standard errors; of 180 gaps
    one may lie outside of three, as chance has it."""
    layout = alder_of(alder_text) if job == "alder" else hard()
    gaps = gaps_of(layout, errors_of(layout.job.scatter, PLAY))
    found = simulate(gaps, trials=200_000, seed=11)
    counted = gaps.taken(gaps.counts)
    spoilt = 100.0 * counted.short().sum()
    assert abs(found.spoilt_per_hundred.value - spoilt) < 3.0 * found.spoilt_per_hundred.standard
    expected = gaps.short()[found.which]
    error = np.sqrt(np.maximum(expected * (1.0 - expected), 1e-9) / 200_000)
    apart = np.abs(found.of_gap - expected) / np.maximum(error, 2.0 / 200_000)
    assert (apart > 3.0).sum() <= 1
    closed = any_short(counted.taken(counted.is_live))
    if job == "alder":
        assert abs(found.job.value - closed) < 3.0 * found.job.standard
    else:  # pitches tie the holes together: the closed form is rather too large, by the pairs
        assert found.job.value - 3.0 * found.job.standard < closed < found.job.value + 0.01
    for number, one in found.holes.items():
        (hole,) = (each for each in risk_holes(layout) if each.hole.number == number)
        assert one.value <= hole.chance.short + 3.0 * max(one.standard, 2.0 / 200_000)


def risk_holes(layout, kept={}):  # noqa: B006  made once a job
    if layout.job.title not in kept:
        kept[layout.job.title] = risk_of(layout, layout.job.scatter, PLAY).holes
    return kept[layout.job.title]


def test_a_seed_gives_the_same_counts_and_another_others():
    gaps = gaps_of(hard(), errors_of(hard().job.scatter, PLAY))
    first, again, other = (simulate(gaps, trials=5_000, seed=seed) for seed in (4, 4, 5))
    assert first.job == again.job
    assert first.spoilt_per_hundred == again.spoilt_per_hundred
    assert first.spoilt_per_hundred != other.spoilt_per_hundred


def test_t901_takes_its_number_from_the_same_place(alder_text):
    layout = alder_of(alder_text)
    (found,) = scatter_findings(layout, making_of(layout))
    likeliest = risk_of(layout, layout.job.scatter, play_of(making_of(layout))).holes[0]
    assert likeliest.likeliest.code == "R101"
    assert found.value == pytest.approx(likeliest.chance.short, rel=1e-9)  # it has one gap that may end short
    assert found.place == likeliest.hole.place


def test_a_large_job_takes_no_more_room():
    """1,500 values of 6,000 pairs that hang together: under 80 MB more, as tracemalloc counts them; the same chance as
    of all points at once, here 1 - (1 - p)^n up to the ties."""
    many = 1_500
    mean, own, shared = np.full(many, 0.04), np.full(many, 0.01), np.full((many, 1), 1e-9)
    tied = np.array([(at, at + by) for at in range(many - 4) for by in (1, 2, 3, 4)])
    any_below(mean[:2], own[:2], shared[:2], tied[:1])  # what is loaded once
    tracemalloc.start()
    found = any_below(mean, own, shared, tied)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 80e6
    assert found == pytest.approx(1.0 - (1.0 - norm.cdf(-4.0)) ** many, rel=1e-3)


def test_what_is_judged_by_measuring_with_errors(alder_text):
    """By lot and apart from the program: true gaps normal, readings off by .002, judged with u = .004."""
    layout = alder_of(alder_text, OWN + 'measuring = ".002"\n')
    risk = risk_of(layout, layout.job.scatter, PLAY)
    gaps = gaps_of(layout, errors_of(layout.job.scatter, PLAY))
    gaps = gaps.taken(gaps.counts)
    draw = np.random.default_rng(9)
    short = not_shown = 0.0
    for mean, deviation in zip(gaps.mean_in, gaps.deviation_in, strict=True):
        read = mean + deviation * draw.standard_normal(40_000) + 0.002 * draw.standard_normal(40_000)
        short += (read < -0.004).mean()
        not_shown += ((read >= -0.004) & (read < 0.004)).mean()
    assert risk.judged_per_hundred == pytest.approx((100.0 * short, 100.0 * not_shown), rel=0.03)
    assert (
        risk.spoilt_per_hundred == risk_of(alder_of(alder_text), layout.job.scatter, PLAY).spoilt_per_hundred
    )


def test_few_readings_leave_the_scatter_itself_uncertain(alder_text):
    """The upper limit of a standard deviation by chi-square, as SciPy has it: s sqrt(v / chi2(.05, v))."""
    for freedom in (1, 5, 30):
        assert deviation_limit(0.006, freedom) == pytest.approx(
            0.006 * np.sqrt(freedom / chi2.ppf(0.05, freedom))
        )
    layout = alder_of(alder_text, OWN + "[scatter.freedom]\ndrill = 10\n")
    risk = risk_of(layout, layout.job.scatter, PLAY)
    assert risk.up_to.errors.square_in == pytest.approx(0.006 * 1.593, rel=1e-3)
    assert risk.up_to.spoilt_per_hundred > risk.spoilt_per_hundred
    assert risk_of(alder_of(alder_text), alder_of(alder_text).job.scatter, PLAY).up_to is None


def test_margin_of_a_search(alder_text):
    """One spoilt hole in a hundred jobs of 64: z = 3.6, at an sd of .0072 about .026."""
    scatter = alder_of(alder_text).job.scatter
    kept_in = kept_for_drilling(scatter, 1.0, 64)
    assert kept_in == pytest.approx(
        norm.ppf(1.0 - 1.0 / 6400.0) * np.hypot(0.006, np.hypot(0.003, 0.003)), rel=1e-6
    )
    assert kept_for_drilling(scatter, 1.0, 64, lever_in=3.0) > kept_in
    for wanted in (0.0, -1.0, float("nan"), float("inf")):
        with pytest.raises(GeometryError):
            kept_for_drilling(scatter, wanted, 64)


def test_a_file_that_knows_one_edge_and_one_pattern_is_still_read():
    old = '[scatter]\ndrill = ".006"\nplacement = ".004"\nturn = 0.04\nedge = ".003"\n'
    errors = errors_of(hard(old).job.scatter)
    assert (errors.place_in, errors.ring_place_in) == (0.004, 0.004)
    assert (errors.filing_in, errors.edge_in, errors.missing) == (0.003, 0.003, ())


def lacking(scatter, play=None):
    return {one.value for one in errors_of(hard(f"[scatter]\n{scatter}\n").job.scatter, play).missing}


@pytest.mark.parametrize(
    ("entered", "not_entered"),
    [
        ("", {"place", "turn", "offset", "filing", "ring_place", "ring_turn", "edge"}),
        ('placement = ".004"', {"turn", "offset", "filing", "ring_turn", "edge"}),
        ('placement = ".004"\nturn = 0.0', {"offset", "filing", "edge"}),
        ('ring_place = ".004"', {"place", "turn", "offset", "filing", "ring_turn", "edge"}),
        ('edge = ".003"', {"place", "turn", "ring_place", "ring_turn"}),
    ],
)
def test_what_was_not_entered_is_named(entered, not_entered):
    assert lacking(f'drill = ".006"\n{entered}') == not_entered
    assert lacking(f'drill = ".006"\n{entered}', PLAY) == not_entered - {"place", "turn"}


def test_a_place_that_is_entered_leaves_the_turn_on_the_pins():
    """Readings tell the place alone: with it entered the template still turns as far as its pins let it."""
    errors = errors_of(hard('[scatter]\ndrill = ".006"\nplacement = ".004"\n').job.scatter, PLAY)
    assert (errors.place_in, errors.turn_rad) == (0.004, PLAY.turn_rad)


def test_what_a_job_has_not_is_not_missing():
    """One sheet and no ring: only its own opening's edge."""
    text = HARD[: HARD.index("[doubler]")] + HARD[HARD.index("[[rows]]") :]
    layout = lay_out(read_job(text + '[scatter]\ndrill = ".006"\n'))
    risk = risk_of(layout, layout.job.scatter, PLAY)
    assert {one.value for one in risk.missing} == {"offset", "filing"}


def test_few_readings_of_the_pattern_leave_a_ring_uncertain_that_lies_as_it_does():
    text = 'placement = ".004"\nturn = 0.04\noffset = ".003"\nfiling = ".003"\nedge = ".002"\n'
    layout = hard(f'[scatter]\ndrill = ".006"\n{text}[scatter.freedom]\nplacement = 2\n')
    up_to = risk_of(layout, layout.job.scatter, PLAY).up_to.errors
    larger = 0.004 * np.sqrt(2.0 / chi2.ppf(0.05, 2))
    assert (up_to.place_in, up_to.ring_place_in) == pytest.approx((larger, larger))
    assert up_to.square_in == 0.006


def test_a_pitch_counts_once_as_too_short_and_once_as_too_long(alder_text):
    """Of 3 D and 4 D on one pair only the harder counts; the longest pitch is another way to miss."""
    layout = alder_of(
        alder_text, OWN + '[[choices]]\nrule = "R202"\nreading = "circular, double row"\nreason = "own"\n'
    )
    gaps = gaps_of(layout, errors_of(layout.job.scatter, PLAY))
    counted = [one.code for one, counts in zip(gaps.between, gaps.counts, strict=True) if counts]
    along = sum(len(row) - 1 for row in layout.rows().values() if row[0].kind == "rivet")
    assert counted.count("R202") == counted.count("R207") == along
    near = {one.measured for one in gaps.between if one.code == "R201"}
    assert counted.count("R201") == len(near) - along


def test_measured_holes_do_not_wander(alder_text):
    layout = lay_out(read_job(alder_text + OWN))
    gaps = gaps_of(layout, errors_of(layout.job.scatter, PLAY))
    for one, variance, is_held in zip(gaps.between, gaps.variance_in2, gaps.is_held, strict=True):
        if one.hole.is_made and one.other is None and not one.other_row and not one.across and not is_held:
            assert variance[CULPRITS.index(Culprit.DRILLING)] == 0.0
            assert one.edge.name != "opening edge"  # filed and measured too: nothing moves any more


def test_holes_that_do_not_pass_as_they_stand_are_told_apart(alder_text):
    """Just those that the findings of check name, whether anything moves them yet or not; and no figure counts them."""
    layout = lay_out(read_job(alder_text + OWN))
    risk = risk_of(layout, layout.job.scatter, PLAY)
    named = {
        hole
        for finding in answers_of(layout)[0]
        if finding.code in {"R101", "R102", "R201", "R202", "R204", "R207", "R208", "R213"}
        and finding.status.holds_back
        for hole in finding.holes
    }
    assert {6, 15} <= named  # .243 to the opening, .243 to the ring: less than 2 D
    held = [one.hole.number for one in risk.holes if one.is_held]
    assert named <= set(held)
    assert held == [one.hole.number for one in risk.holes[: len(held)]]  # and they come first
    gaps = gaps_of(layout, errors_of(layout.job.scatter, PLAY))
    measured = ~gaps.is_open & gaps.is_held
    assert measured.any()
    assert not (measured & (gaps.counts | gaps.is_live)).any()


@pytest.mark.parametrize("trials", [0, -5, 10**12])
def test_a_number_of_trials_that_cannot_be(trials):
    gaps = gaps_of(hard(), errors_of(hard().job.scatter))
    with pytest.raises(GeometryError, match=r"trials"):
        simulate(gaps, trials=trials)


@pytest.mark.parametrize("drill", ["0", "-.003", "nan", "0.5", ""])
def test_a_scatter_that_cannot_be(drill):
    from hatchwright.errors import JobError

    with pytest.raises(JobError, match=r"scatter\.drill"):
        hard(f'[scatter]\ndrill = "{drill}"\n')
    with pytest.raises(JobError, match="negative"):
        hard('[scatter]\ndrill = ".006"\nturn = -0.1\n')


MEASURED = """
import json, re, sys
from pathlib import Path
sys.path.insert(0, {tests!r})
from search.risk_jobs import PLAY, hard
from hatchwright.search.risk.errors import errors_of
from hatchwright.search.risk.judged_gaps import gaps_of
from hatchwright.search.risk.simulate import simulate
gaps = gaps_of(hard(), errors_of(hard().job.scatter, PLAY))
peak_kb = lambda: int(re.search(r"VmHWM:\\s+(\\d+)", Path("/proc/self/status").read_text())[1])
before = peak_kb()
simulate(gaps, trials=1_000_000, seed=1)
print(json.dumps([before, peak_kb()]))
"""


def test_a_million_trials_of_sixty_holes_stay_within_their_memory():
    """Peak of a process of its own, 180 gaps: under 200 MB in all, and 40 MB of its own."""
    code = MEASURED.format(tests=str(Path(__file__).parents[1]))
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    before, after = json.loads(done.stdout)
    assert after < 200 * 1024
    assert after - before < 40 * 1024
