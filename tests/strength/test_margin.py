"""Margins, grades and factors: what passes, what stops, and what memory may not decide."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from hatchwright.ground import Ground
from hatchwright.job.loads import Loads
from hatchwright.judged import Status
from hatchwright.said import said
from hatchwright.strength.factors import factors_of
from hatchwright.strength.margin import Level, Margin, worst_first
from hatchwright.strength.worked import Worked, at_both_ends, weakest, work_out
from hatchwright.workings import Grade, Quantity, Source
from told import advice_of, subject_of

RIVETS = said("S201.no_doubler_subject")


def strength(value: float, grade: Grade = Grade.PUBLISHED) -> Worked:
    return work_out(value, "P = given [lbf]", by=Ground(Source("MIL-HDBK-5J"), grade))


def margin(applied: float, allowable: float | None, grade: Grade = Grade.PUBLISHED) -> Margin:
    return Margin(
        "S201",
        RIVETS,
        "gust",
        Level.ULTIMATE,
        strength(applied),
        None if allowable is None else strength(allowable, grade),
    )


def test_margin_of_safety() -> None:
    assert margin(100.0, 125.0).ratio == pytest.approx(0.25)
    assert margin(0.0, 125.0).ratio == float("inf")


@pytest.mark.parametrize(
    ("allowable", "grade", "status"),
    [
        (125.0, Grade.PUBLISHED, Status.PASS),
        (100.0, Grade.PUBLISHED, Status.PASS),
        (99.9, Grade.PUBLISHED, Status.STOP),
        (125.0, Grade.SHOP, Status.PASS),
        (99.9, Grade.PRACTICE, Status.STOP),
        (125.0, Grade.MEMORY, Status.CAUTION),
        (99.9, Grade.MEMORY, Status.UNKNOWN),
        (None, Grade.PUBLISHED, Status.UNKNOWN),
    ],
)
def test_a_number_from_memory_neither_passes_nor_stops(
    allowable: float | None, grade: Grade, status: Status
) -> None:
    assert margin(100.0, allowable, grade).status is status


@pytest.mark.parametrize(
    ("worse", "better", "status"),
    [
        (125.0, 130.0, Status.PASS),
        (100.0, 130.0, Status.PASS),
        (99.0, 100.0, Status.UNKNOWN),
        (97.0, 101.0, Status.UNKNOWN),
        (90.0, 99.9, Status.STOP),
    ],
)
def test_what_is_known_between_two_ends_is_judged_at_both(
    worse: float, better: float, status: Status
) -> None:
    """F6: 100 lbf against a strength from memory that is known to lie between two."""
    allowable = replace(strength(worse, Grade.MEMORY), best=strength(better))
    found = Margin("S201", RIVETS, "gust", Level.ULTIMATE, strength(100.0), allowable)
    assert (found.status, found.finding.status) == (status, status)
    assert found.ratio == pytest.approx(worse / 100.0 - 1.0)
    told = [said_.id for said_ in found.what_to_do if not isinstance(said_, str)]
    assert told == (["margin.between"] if status is Status.UNKNOWN else [])


def test_a_range_beside_another_number_from_memory_still_only_cautions() -> None:
    for worse, status in ((125.0, Status.CAUTION), (90.0, Status.UNKNOWN)):
        allowable = replace(strength(worse, Grade.MEMORY), best=strength(worse, Grade.MEMORY))
        found = Margin("S201", RIVETS, "gust", Level.ULTIMATE, strength(100.0), allowable)
        assert found.status is status


def test_both_ends_are_worked_through() -> None:
    ranged = replace(strength(96.0, Grade.MEMORY), best=strength(100.0))
    whole = at_both_ends(
        lambda *each: work_out(sum(one.value for one in each), "P = sum", *each), ranged, strength(50.0)
    )
    assert whole.best is not None
    assert (whole.value, whole.best.value) == (146.0, 150.0)
    assert (whole.grade, whole.best.grade) == (Grade.MEMORY, Grade.COMPUTED)
    assert at_both_ends(lambda one: one, strength(50.0)).best is None


@pytest.mark.parametrize(
    ("allowable", "grade"),
    [(125.0, Grade.PUBLISHED), (99.9, Grade.PUBLISHED), (99.9, Grade.MEMORY), (None, Grade.SHOP)],
)
def test_its_finding_has_the_same_answer(allowable: float | None, grade: Grade) -> None:
    one = margin(100.0, allowable, grade)
    assert (one.finding.code, one.finding.status) == (one.code, one.status)
    if allowable is not None:
        assert (one.finding.value, one.finding.limit, one.finding.unit) == (100.0, allowable, "lbf")
        assert set(one.working) < set(one.finding.working)


def test_its_finding_says_by_how_much_it_is_over_and_in_which_case() -> None:
    """100 against 90: over by 10 lbf, which are 44.48 N [NIST SP 811]; what is over is rounded up."""
    one = margin(100.0, 90.0).finding
    assert subject_of(one) == "Load past the opening; gust, ultimate load"
    assert advice_of(one).startswith("10 lbf over. Ask the design approval holder")
    assert advice_of(one, "mm").startswith("45 N over. ")


def test_one_step_from_memory_makes_the_whole_margin_so() -> None:
    shaky = work_out(0.96, "K = remembered", by=Ground(Source("MIL-HDBK-5H"), Grade.MEMORY))
    allowable = work_out(96.0, "P = K Ps [lbf]", shaky, strength(100.0))
    found = Margin("S201", RIVETS, "gust", Level.ULTIMATE, strength(90.0), allowable)
    assert found.grade is Grade.MEMORY
    assert [step.result.symbol for step in found.from_memory] == ["K"]


def test_steps_stand_once_and_in_order() -> None:
    base = strength(100.0)
    twice = work_out(200.0, "P2 = 2 P [lbf]", base, base, Quantity("n", 2.0, ""))
    assert [step.result.symbol for step in twice.working] == ["P", "P2"]
    assert [str(value) for value in twice.working[-1].values] == ["P = 100 lbf", "P = 100 lbf", "n = 2"]


def test_worst_first_begins_with_what_cannot_be_had() -> None:
    margins = (margin(100.0, 150.0), margin(100.0, 80.0), margin(100.0, None))
    assert [m.ratio for m in worst_first(margins)] == [None, pytest.approx(-0.2), pytest.approx(0.5)]


def test_the_weakest_grade() -> None:
    assert weakest([Grade.PUBLISHED, Grade.RESTATED, Grade.COMPUTED]) is Grade.RESTATED


def test_the_highest_special_factor_governs_and_none_multiply() -> None:
    """[14CFR23] 23.619: the highest pertinent special factor; 1.15 for fittings (23.625)."""
    plain = factors_of(Loads())
    assert (plain.of_safety.value, plain.joint.value, plain.screws.value) == (1.5, 1.0, 1.15)
    assert [step.source.place for step in plain.of_safety.working] == ["23.2230"]
    own = factors_of(
        Loads.model_validate(
            {"special_factors": [{"name": "casting", "value": "1.25"}, {"name": "doubt", "value": "1.1"}]}
        )
    )
    assert (own.joint.value, own.screws.value) == (1.25, 1.25)
    assert own.joint.grade is Grade.SHOP
