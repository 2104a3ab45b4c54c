"""The example jobs through the strength report: what stops, what is not said, and that none fails."""

from __future__ import annotations

import pytest

from hatchwright.job.file import load_job
from hatchwright.job.loads import Loads
from hatchwright.judged import Status
from hatchwright.strength.report import NO_LOADS, StrengthReport
from hatchwright.words.tell import tell, tell_all
from hatchwright.workflow.strength import strength_of
from tests.conftest import EXAMPLES
from told import advice_of, subject_of

JOBS = sorted(EXAMPLES.glob("*.toml"))


def report(name: str, basis: str) -> StrengthReport:
    job = load_job(EXAMPLES / f"{name}.toml")
    return strength_of(
        job.model_copy(update={"loads": Loads(basis=basis, efficiency="1.00")}), elements=None
    ).report


@pytest.mark.parametrize("name", [path.stem for path in JOBS])
def test_every_example_is_analyzed_on_the_restore_basis(name: str) -> None:
    found = report(name, "restore")
    assert found.margins
    assert found.gate[0].code == "S101"
    assert "approved" not in tell_all(found.summary)


@pytest.mark.parametrize("name", [path.stem for path in JOBS])
def test_without_loads_no_example_is_said_to_be_strong_or_weak(name: str) -> None:
    found = report(name, "none")
    assert found.summary == (NO_LOADS,)
    assert (found.margins, found.findings, found.cases) == ((), (), ())


def test_alder_both_directions_against_hand_numbers() -> None:
    """17 rivets outboard for a cut of 4.011 (as filed) in .032 clad 2024-T3, and 19 aft for 5.016:
    P = .032 x 59,000 x cut; one AD4 in .032: 388 x (1 - .04 (3.906 - 3)) = 373.9 lb."""
    found = report("alder", "restore")
    ratios = {
        side: next(
            margin.ratio for margin in found.margins
            if margin.code == "S201" and f"side {side}," in subject_of(margin) and "tension" in tell(margin.case)
        )
        for side in ("X+", "Y+")
    }  # fmt: skip
    assert ratios["X+"] == pytest.approx(17 * 373.94 / (1888 * 4.011) - 1, abs=1e-3)
    assert ratios["Y+"] == pytest.approx(19 * 373.94 / (1888 * 5.016) - 1, abs=1e-3)


def test_alder_is_surely_short_where_it_is_short_with_every_rivet_at_its_best() -> None:
    """F6 of the review: K from memory lies between .964 and 1. Along Y even 19 x 388 falls short of 1,888 x 5.016 =
    9,470 lb (-.22), so that it stops; along X 17 x 388 = 6,596 falls short of 1,888 x 4.011 = 7,573."""
    found = report("alder", "restore")
    sides = [one for one in found.margins if one.code == "S201" and "tension" in tell(one.case)]
    assert {one.status for one in sides} == {Status.STOP}
    along_y = next(one for one in sides if "side Y+," in subject_of(one))
    assert along_y.allowable
    assert along_y.applied
    assert along_y.allowable.best
    assert along_y.allowable.best.value / along_y.applied.value - 1 == pytest.approx(-0.22, abs=0.005)


def test_birch_takes_more_than_half_of_its_bay() -> None:
    """4.00 of a bay of 6.00: the gate stops, with loads or without."""
    for basis in ("none", "restore"):
        found = report("birch", basis)
        assert any(answer.code == "S107" and answer.status is Status.STOP for answer in found.gate)
        assert found.must_refer


def test_elder_is_a_movable_surface_with_flush_rivets_that_have_no_confirmed_strength() -> None:
    found = report("elder", "restore")
    movable = next(answer for answer in found.gate if answer.code == "S104")
    assert movable.status is Status.STOP
    rivets = [margin for margin in found.margins if margin.code in ("S201", "S202")]
    assert rivets
    assert all(margin.ratio is None and margin.status is Status.UNKNOWN for margin in rivets)


def test_dogwood_has_nothing_that_carries_load_past_the_opening() -> None:
    found = report("dogwood", "restore")
    assert {margin.code for margin in found.margins} == {"S201"}
    assert all("No doubler" in advice_of(margin) for margin in found.margins)
