"""Hold points and count: which a job has, and that none closes by itself.

Hold points: common practice, no source. Two people where controls are disturbed: Standard 571.10(d), official page.
Final inspection by the inspection authority: 14 CFR 65.95(a)(1), seen only restated.
"""

from __future__ import annotations

import itertools

import pytest
from msgspec.structs import replace

from hatchwright.airworthiness.holds import (
    HOLDS,
    Counted,
    Hold,
    Initials,
    before,
    holds_of,
    open_counts,
    open_holds,
)
from hatchwright.job.file import load_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.words.tell import tell
from tests.conftest import EXAMPLES

SHOP = (Hold("data"), Hold("hidden", people=2), Hold("final", by_inspector=True))


def passed(hold, by="A. Mechanic", *, inspector=False, revision="A"):
    return Initials(hold, "left", by, inspector, revision)


def of(name, **gate):
    job = load_job(EXAMPLES / f"{name}.toml")
    job = job.model_copy(update={"gate": job.gate.model_copy(update=gate)})
    return {one.name: one for one in holds_of(lay_out(job))}


def test_a_directive_with_doubler_and_rivets_has_all_nine():
    assert tuple(of("alder")) == HOLDS


def test_an_owners_job_has_no_inspection_that_was_called_for():
    """DOGWOOD is asked for by its owner."""
    assert load_job(EXAMPLES / "dogwood.toml").mandate.kind == "owner"
    assert "inspection" not in of("dogwood")
    assert {"data", "pilot", "opening", "hidden", "final", "release"} <= set(of("dogwood"))


@pytest.mark.parametrize(
    ("behind", "movable", "people"),
    [(False, False, 1), (True, False, 2), (False, True, 2), (None, False, 2), (False, None, 2)],
)
def test_the_hidden_area_takes_two_unless_controls_are_known_to_be_clear(behind, movable, people):
    holds = of("alder", fuel_or_controls_behind=behind, movable_surface=movable)
    assert holds["hidden"].people == people
    assert holds["final"].by_inspector


@pytest.mark.parametrize(
    ("initials", "left"),
    [
        ((), ("data", "hidden", "final")),
        ((passed("data"),), ("hidden", "final")),
        ((passed("data", revision="B"),), ("data", "hidden", "final")),
        ((passed("hidden"), passed("hidden")), ("data", "hidden", "final")),
        ((passed("hidden"), passed("hidden", "B. Inspector")), ("data", "final")),
        ((passed("hidden"), passed("hidden", "B. Inspector", revision="B")), ("data", "hidden", "final")),
        ((passed("final"),), ("data", "hidden", "final")),
        ((passed("final", "B. Inspector", inspector=True),), ("data", "hidden")),
        ((passed("final", "B. Inspector", inspector=True, revision="B"),), ("data", "hidden", "final")),
    ],
)
def test_a_hold_is_open_until_who_has_to_looked_at_this_revision(initials, left):
    assert tuple(one.name for one in open_holds(SHOP, initials, revision="A")) == left


def test_more_initials_never_open_a_hold():
    every = [
        passed(hold, by, inspector=inspector, revision=revision)
        for hold, (by, inspector), revision in itertools.product(
            ("data", "hidden", "final"), (("A. Mechanic", False), ("B. Inspector", True)), "AB"
        )
    ]
    for some in itertools.chain.from_iterable(itertools.combinations(every, n) for n in range(4)):
        now = {one.name for one in open_holds(SHOP, some, revision="A")}
        for more in every:
            assert {one.name for one in open_holds(SHOP, (*some, more), revision="A")} <= now


def test_nobody_works_past_an_open_hold():
    assert before("data", SHOP, (), revision="A") is None
    assert before("final", SHOP, (), revision="A").name == "data"
    assert before("final", SHOP, (passed("data"),), revision="A").name == "hidden"
    assert before("what is no hold", SHOP, (), revision="A").name == "data"


@pytest.mark.parametrize(
    ("went_in", "came_out", "told"),
    [
        (4, 4, ""),
        (0, 0, ""),
        (None, None, "not counted in"),
        (None, 4, "not counted in"),
        (4, None, "4 in, not counted out"),
        (4, 3, "Stop and search"),
        (4, 5, "Count again"),
    ],
)
def test_a_count_closes_only_when_as_much_came_out_as_went_in(went_in, came_out, told):
    found = open_counts((Counted("No. 30 drill", "left", went_in, came_out),))
    assert [one.name for one in found] == (["No. 30 drill"] if told else [])
    assert all(told in tell(one.why) for one in found)


def test_nothing_counted_is_open():
    assert [one.name for one in open_counts(())] == ["count"]


def test_initials_say_who_is_still_to_look():
    (second,) = open_holds(SHOP[1:2], (passed("hidden"),), revision="A")
    assert "A. Mechanic alone; a second person" in tell(second.why)
    (again,) = open_holds(SHOP[:1], (replace(passed("data"), revision="B"),), revision="A")
    assert "initialed for B; the job now is A" in tell(again.why)
