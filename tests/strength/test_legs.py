"""S309: the review's job without rivets along the sides beside the opening, of which nothing said a word."""

from __future__ import annotations

import pytest

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.strength.report import strength_report
from tests.strength.jobs import ANSWERED, SQUARE, SYMMETRIC, layout_of, running
from tests.strength.test_yielding_rivets import ahead_and_behind
from told import subject_of

LOAD = running({"nx": 400.0})


def loose(base: str, *more: str) -> list[Finding]:
    found = strength_report(layout_of(ANSWERED, LOAD, *more, base=base), elements=None)
    return [one for one in found.findings if one.code == "S309"]


def test_legs_that_no_rivet_holds_are_named() -> None:
    """Rows ahead and behind along X: the legs at Y+ and Y- are 4 in long and loose."""
    found = loose(ahead_and_behind())
    assert {one.status for one in found} == {Status.CAUTION}
    assert [subject_of(one).split(" has")[0] for one in found] == [
        "Doubler leg on side Y+",
        "Doubler leg on side Y-",
    ]
    assert [one.value for one in found] == pytest.approx([4.0, 4.0])


@pytest.mark.parametrize("base", [SQUARE, SYMMETRIC])
def test_rows_all_round_hold_every_leg(base: str) -> None:
    assert not loose(base)


def test_a_leg_whose_rivets_are_all_out_is_loose() -> None:
    """The 16 rivets of the outboard rows of the symmetric job, holes 1 to 16; one left in holds it."""
    for last, sides in ((16, 1), (15, 0)):
        out = (
            '\n[as_made]\nuncertainty = ".005"\n'
            f'[[as_made.fitted]]\nholes = {list(range(1, last + 1))}\nrivet = "none"\n'
        )
        assert len(loose(SYMMETRIC, out)) == sides
