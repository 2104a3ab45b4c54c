"""Drill chains: pilot, dimple, final, and that a chain ends in the range of its rivet."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.countersink import dimple_spread
from hatchwright.tables.drill_chain import drill_chain, drill_methods
from hatchwright.tables.rivets import hole_drill, hole_range
from hatchwright.workings import Grade

SIZES_IN = (3 / 32, 1 / 8, 5 / 32, 3 / 16, 1 / 4)


@pytest.mark.parametrize(
    ("diameter_in", "drills"),
    [
        (3 / 32, ["#40"]),
        (1 / 8, ["#40", "#30"]),
        (5 / 32, ["#40", "#30", "#21"]),
        (3 / 16, ["#40", "#21", "#11"]),
        (1 / 4, ["#40", "#11", "F"]),
    ],
)
def test_plain_layers(diameter_in: float, drills: list[str]) -> None:
    """No. 40 first, then in one or two steps: common practice, no source; final drills [TRADE-2001]."""
    steps = drill_chain(diameter_in)
    assert [str(step.drill) for step in steps] == drills
    assert steps[-1].operation == "final"
    assert len(steps) == 1 or steps[0].operation == "pilot"
    assert drill_chain(diameter_in, "countersunk") == steps


@pytest.mark.parametrize("diameter_in", SIZES_IN)
def test_each_step_is_larger_and_the_last_is_the_rivets_drill(diameter_in: float) -> None:
    sizes_in = [step.drill.diameter_in for step in drill_chain(diameter_in) if step.drill]
    assert sizes_in == sorted(set(sizes_in))
    assert sizes_in[-1] == hole_drill(diameter_in).diameter_in
    allowed = hole_range(diameter_in)
    assert allowed.least_in <= sizes_in[-1] <= allowed.greatest_in


def test_a_dimpled_3_32_hole_runs_past_its_range_unless_the_pilot_is_undersize() -> None:
    assert drill_methods(3 / 32, "dimpled") == ("direct", "undersize")
    direct = drill_chain(3 / 32, "dimpled")
    assert [(step.operation, str(step.drill)) for step in direct] == [("pilot", "#40"), ("dimple", "None")]
    assert dimple_spread("40").value > hole_range(3 / 32).greatest_in
    assert "past the range" in direct[-1].note
    undersize = drill_chain(3 / 32, "dimpled", method="undersize")
    assert [step.operation for step in undersize] == ["pilot", "dimple", "final"]
    assert undersize[0].grade is Grade.MEMORY
    assert undersize[-1].drill is not None
    assert undersize[-1].drill.diameter_in <= hole_range(3 / 32).greatest_in


def test_a_dimpled_1_8_hole_ends_at_its_own_drill() -> None:
    pilot = drill_chain(1 / 8, "dimpled")[0].drill
    assert pilot is not None
    assert dimple_spread(pilot.name).value == hole_drill(1 / 8).diameter_in


def test_the_1940s_chain_of_a_dimpled_5_32_hole() -> None:
    # [REPAIR-1940S], par. 10: 1/8 pilot, dimple, then No. 22
    steps = drill_chain(5 / 32, "dimpled")
    assert [str(step.drill) for step in steps] == ["1/8", "None", "#22"]
    assert {step.grade for step in steps} == {Grade.PUBLISHED}


def test_no_chain_is_guessed() -> None:
    with pytest.raises(
        TableError,
        match=r"no drill sequence.* dimpled hole of a \.1875 in rivet.*by diameter: \.0938, \.125, \.1562\.",
    ):
        drill_chain(3 / 16, "dimpled")
    with pytest.raises(TableError, match=r"no drill sequence.*method spiral.*by method: direct\."):
        drill_chain(1 / 8, method="spiral")
    assert drill_methods(0.2) == ()
