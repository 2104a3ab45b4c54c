"""Judgements of numbers and of arrays, against an oracle in plain Python written from the rules of decision.

The rule of decision is the guarded acceptance of [JCGM 106:2012]: a measured value passes only where it clears its
limit by its expanded uncertainty, and fails only where it misses it by more. Numbers are whole 1024ths, which neither
float nor fraction rounds, so that the oracle knows every tie.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.job.file import load_job
from hatchwright.judged import RANKED, Bound, Chosen, Judgement, Measure, Status, judge, the_same
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.rules.edge_distance import judge_edges
from hatchwright.workings import Grade, Source
from tests.conftest import EXAMPLES

PASS, CAUTION, UNKNOWN, STOP = Status.PASS, Status.CAUTION, Status.UNKNOWN, Status.STOP
WORSE = {PASS: 0, CAUTION: 1, UNKNOWN: 2, STOP: 3}
NAN = math.nan
SOMEWHERE = Source("PRACTICE", "a test")


def part(k: int) -> float:
    return k / 1024


KS = st.integers(-12, 12)
US = st.sampled_from([0, 0, 1, 5])
FAILS = st.sampled_from([STOP, UNKNOWN, CAUTION])


# --- the oracle


def by_hand(
    k: int, low: int, high: int | None, u: int, at_least: bool, fails_as: Status, strict: bool = False
) -> Status:
    """One value, its limit or the range that it is known within, and its uncertainty, all in 1024ths.

    Where a limit is strict a drawn value that stands just on it has not cleared it.
    """
    value, first, last = Fraction(k), Fraction(low), Fraction(low if high is None else high)
    if at_least:
        inside_hard, inside_easy = value - max(first, last), value - min(first, last)
    else:
        inside_hard, inside_easy = min(first, last) - value, max(first, last) - value
    only_touches = strict and u == 0 and inside_hard == 0
    if inside_hard >= u and not only_touches:
        return PASS
    if inside_easy < -u or (only_touches and high is None):
        return fails_as
    return CAUTION if fails_as is CAUTION else UNKNOWN


@dataclass(frozen=True)
class Read:
    """What one document says, in 1024ths."""

    name: str
    low: int
    high: int | None
    from_memory: bool


def by_words(
    reads: Sequence[Read],
    k: int,
    u: int,
    at_least: bool,
    fails_as: Status,
    chosen: str | None,
    differ: Status | None,
) -> tuple[Status, Read]:
    """The answer, and the document that it goes by.

    The chosen one, else the first. What stands from memory as one figure neither passes nor stops: it cautions, unless
    the first document, which was seen, fails as well and answers. Where nothing was chosen and documents that were
    seen disagree, the rule may have an answer of its own for that.
    """

    def alone(one: Read) -> Status:
        return by_hand(k, one.low, one.high, u, at_least, fails_as)

    first = reads[0]
    by = first
    for one in reads:
        if one.name == chosen:
            by = one
            break
    answer = alone(by)
    if by.from_memory and by.high is None:
        if not first.from_memory and answer is not PASS and alone(first) is not PASS:
            by, answer = first, alone(first)
        else:
            answer = CAUTION
    if chosen is None and differ is not None and len(reads) > 1:
        seen = {alone(one) for one in reads if one is first or not one.from_memory}
        if len(seen) > 1:
            answer = differ
    return answer, by


# --- one number, many numbers


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.tuples(KS, US, KS, KS), min_size=1, max_size=8),
    st.booleans(),
    st.booleans(),
    st.booleans(),
    FAILS,
)
def test_a_number_and_an_array_have_the_answers_of_the_oracle(many, is_range, at_least, strict, fails_as):
    ordered = [(k, u, min(a, b), max(a, b)) for k, u, a, b in many]
    expected = [
        by_hand(k, a, b if is_range else None, u, at_least, fails_as, strict) for k, u, a, b in ordered
    ]
    value, u, low, high = (np.array(column) / 1024 for column in zip(*ordered, strict=True))
    ranks = judge(
        value, low, high if is_range else None, u=u, at_least=at_least, strict=strict, fails_as=fails_as
    )
    assert [RANKED[rank] for rank in ranks] == expected
    for one, (k, u_k, a, b) in zip(expected, ordered, strict=True):
        rank = judge(
            part(k),
            part(a),
            part(b) if is_range else None,
            u=part(u_k),
            at_least=at_least,
            strict=strict,
            fails_as=fails_as,
        )
        assert RANKED[int(rank)] is one


@settings(max_examples=60, deadline=None)
@given(st.lists(KS, min_size=1, max_size=6), KS, US, st.booleans(), FAILS)
def test_one_limit_and_one_uncertainty_serve_trials_of_any_shape(ks, limit, u, at_least, fails_as):
    trials = np.array([ks, ks[::-1]]) / 1024
    ranks = judge(trials, part(limit), u=part(u), at_least=at_least, fails_as=fails_as)
    assert ranks.shape == trials.shape
    by_trial = [[by_hand(k, limit, None, u, at_least, fails_as) for k in row] for row in (ks, ks[::-1])]
    assert [[RANKED[rank] for rank in row] for row in ranks] == by_trial


@pytest.mark.parametrize("fails_as", [STOP, UNKNOWN, CAUTION])
@pytest.mark.parametrize("at_least", [True, False])
@pytest.mark.parametrize(
    ("value", "low", "high", "u"),
    [
        (NAN, 0.25, None, 0.0),
        (NAN, 0.25, None, 0.005),
        (NAN, 0.25, 0.3, 0.0),
        (0.25, NAN, None, 0.0),
        (0.25, NAN, None, 0.005),
        (0.25, 0.2, NAN, 0.005),
        (0.25, NAN, 0.3, 0.005),
        (0.25, 0.2, None, NAN),
    ],
)
def test_what_is_no_number_never_passes_and_never_only_cautions(value, low, high, u, at_least, fails_as):
    alone = RANKED[int(judge(value, low, high, u=u, at_least=at_least, fails_as=fails_as))]
    assert alone in (UNKNOWN, STOP)
    # beside a number that passes, in one array with it
    good = 9.0 if at_least else -9.0
    values, us = np.array([good, value]), np.array([0.0, u])
    lows, highs = np.array([0.2, low]), None if high is None else np.array([0.25, high])
    passing, failing = judge(values, lows, highs, u=us, at_least=at_least, fails_as=fails_as)
    assert RANKED[passing] is PASS
    assert RANKED[failing] in (UNKNOWN, STOP)


# --- judgements with readings

READS = st.lists(
    st.tuples(KS, st.one_of(st.none(), st.integers(0, 6)), st.booleans()), min_size=1, max_size=3
).map(
    lambda many: tuple(
        Read(f"document {i}", low, None if more is None else low + more, memory)
        for i, (low, more, memory) in enumerate(many)
    )
)


def judgement(
    reads: Sequence[Read],
    values: Sequence[tuple[int, int]],
    at_least: bool,
    fails_as: Status,
    chosen: str | None,
    differ: Status | None,
) -> Judgement:
    """The same question to the program: every bound as an array, as for holes of several sizes."""
    n = len(values)
    bounds = tuple(
        Bound(
            np.full(n, part(one.low)),
            SOMEWHERE,
            Grade.MEMORY if one.from_memory else Grade.PUBLISHED,
            reading=one.name,
            to=None if one.high is None else np.full(n, part(one.high)),
        )
        for one in reads
    )
    measure = Measure(
        "e", np.array([part(k) for k, _ in values]), np.array([part(u) for _, u in values]), with_=()
    )
    choice = Chosen(chosen, "because") if chosen else None
    return Judgement(measure, bounds, at_least=at_least, fails_as=fails_as, chosen=choice, differ=differ)


QUESTIONS = st.tuples(
    READS,
    st.lists(st.tuples(KS, US), min_size=1, max_size=6),
    st.booleans(),
    FAILS,
    st.sampled_from([None, None, "document 0", "document 1", "document 2"]),
    st.sampled_from([None, PASS, CAUTION, UNKNOWN]),
).map(lambda q: (*q[:4], q[4] if q[4] in {one.name for one in q[0]} else None, q[5]))


@settings(max_examples=250, deadline=None)
@given(QUESTIONS)
def test_many_are_judged_by_readings_as_the_oracle_judges_each(question):
    reads, values, at_least, fails_as, chosen, differ = question
    judged = judgement(reads, values, at_least, fails_as, chosen, differ)
    asked = [by_words(reads, k, u, at_least, fails_as, chosen, differ) for k, u in values]
    assert [RANKED[rank] for rank in judged.ranks()] == [answer for answer, _ in asked]
    assert judged.status is max((answer for answer, _ in asked), key=WORSE.__getitem__)
    # the same bound for other values: two trials of every hole
    trials = np.array([[part(k) for k, _ in values], [part(k + 3) for k, _ in values]])
    u = np.array([part(u) for _, u in values])
    moved = [by_words(reads, k + 3, u, at_least, fails_as, chosen, differ)[0] for k, u in values]
    assert [[RANKED[rank] for rank in row] for row in judged.ranks_of(trials, u)] == [
        [answer for answer, _ in asked],
        moved,
    ]


@settings(max_examples=250, deadline=None)
@given(QUESTIONS)
def test_each_of_many_is_the_judgement_of_that_one(question):
    reads, values, at_least, fails_as, chosen, differ = question
    many = judgement(reads, values, at_least, fails_as, chosen, differ)
    for i, (k, u) in enumerate(values):
        answer, by = by_words(reads, k, u, at_least, fails_as, chosen, differ)
        ends = (by.low, by.low if by.high is None else by.high)
        limit = max(ends) if at_least else min(ends)
        missed = (limit - k) if at_least else (k - limit)
        one = many.at(i)
        assert (one.status, one.value, one.uncertainty) == (answer, part(k), part(u))
        assert one.limit == part(limit)
        assert one.shortfall == (0.0 if answer is PASS else part(max(0, missed)))
        assert one.grade is (Grade.MEMORY if by.from_memory else Grade.PUBLISHED)
        assert one.reason == ("because" if chosen == by.name else "")
        assert one.readings == (tuple(read.name for read in reads) if len(reads) > 1 else ())
        seen = {
            by_hand(k, read.low, read.high, u, at_least, fails_as)
            for read in reads
            if read is reads[0] or not read.from_memory
        }
        assert one.documents_differ is (len(seen) > 1)


@settings(max_examples=200, deadline=None)
@given(QUESTIONS)
def test_the_one_to_name_has_the_worst_answer_and_is_the_least_sure(question):
    reads, values, at_least, fails_as, chosen, differ = question
    many = judgement(reads, values, at_least, fails_as, chosen, differ)
    answers = [by_words(reads, k, u, at_least, fails_as, chosen, differ)[0] for k, u in values]
    by = next((read for read in reads if read.name == chosen), reads[0])
    hard = by.low if by.high is None else max(by.low, by.high) if at_least else min(by.low, by.high)
    sure = [((k - hard) if at_least else (hard - k)) - u for k, u in values]
    worst = max(WORSE[answer] for answer in answers)
    least = min(sure[i] for i, answer in enumerate(answers) if WORSE[answer] == worst)
    named = many.worst()
    assert WORSE[answers[named]] == worst
    assert sure[named] == least
    assert many.at(named).status is many.status


@settings(max_examples=150, deadline=None)
@given(QUESTIONS, st.data())
def test_no_reading_lets_pass_what_is_no_number(question, data):
    """Whatever is chosen, from memory or not, and whatever the rule answers where documents differ."""
    reads, values, at_least, fails_as, chosen, differ = question
    values = [*values, (0, 0)]
    judged = judgement(reads, values, at_least, fails_as, chosen, differ)
    value, u = np.array(judged.measure.value), np.array(judged.measure.u)
    (value if data.draw(st.booleans()) else u)[-1] = NAN
    ranks = judged.ranks_of(value, u)
    assert RANKED[ranks[-1]] in (UNKNOWN, STOP)
    before = [by_words(reads, k, u_k, at_least, fails_as, chosen, differ)[0] for k, u_k in values[:-1]]
    assert [RANKED[rank] for rank in ranks[:-1]] == before


@pytest.mark.parametrize("end", ["limit", "to"])
def test_a_limit_that_is_no_number_passes_by_no_reading(end):
    seen = Bound(0.25, SOMEWHERE, Grade.PUBLISHED, reading="seen")
    ends = {"limit": 0.25, "to": 0.3, end: NAN}
    unknown = Bound(ends["limit"], SOMEWHERE, Grade.PUBLISHED, reading="no number", to=ends["to"])
    judged = Judgement(Measure("e", 0.4), (seen, unknown), differ=PASS)
    assert judged.status in (UNKNOWN, STOP)


# --- the rule that a job is checked by


@pytest.mark.parametrize("u_in", [0.0, 0.005])
def test_the_edge_rule_of_a_job_judges_trials_of_its_holes_hole_by_hole(u_in):
    """R101 of an example on drawn trials and on measured ones: 2 D, [AC43.13-1B] par. 4-57."""
    measured = survey(lay_out(load_job(EXAMPLES / "alder.toml")))
    least = {"": measured.limit("edge_min_single_row_protruding")}
    edges = list(judge_edges(measured, "R101", least, lambda hole: hole.kind == "rivet"))
    assert edges
    rng = np.random.default_rng(7)
    stops = 0
    for row, asked, _ in edges:
        trials = rng.normal(row.distance_in, 0.02, (200, len(row.holes)))
        ranks = asked.ranks_of(trials, u_in)
        for distances_in, answers in zip(trials.tolist(), ranks.tolist(), strict=True):
            for hole, distance_in, rank in zip(row.holes, distances_in, answers, strict=True):
                inside_in = distance_in - 2.0 * hole.diameter_in
                answer = PASS if inside_in >= u_in else STOP if inside_in < -u_in else UNKNOWN
                assert RANKED[rank] is answer
                stops += answer is STOP
    assert stops > 0


@pytest.mark.parametrize(("value", "status"), [(0.9, "stop"), (1.0, "pass"), (1.1, "stop")])
def test_a_number_that_should_be_the_same_misses_on_either_side(value, status):
    judged = the_same(Measure("n", value), Bound(1.0, SOMEWHERE, Grade.COMPUTED))
    assert (judged.status, judged.shortfall) == (status, pytest.approx(abs(value - 1.0)))
