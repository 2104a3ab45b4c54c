"""What to order, drill and drive.

Sources beside each check: diameter rule [AC43.13-1B] par. 4-58g(2)(a) and its worked example (clad 2024 .032: 1/8);
Navy rules 5 to 8 [NAVEDTRA-14018] ch. 13; drills [TRADE-2001]; countersink [TM-9-2320-363-34-2] table 4.
"""

from __future__ import annotations

import pytest

from hatchwright.job.file import load_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.recipe.fastener_choice import diameter_readings, rivet_choices
from hatchwright.words.tell import tell
from rules.cases import RING, job_of, rivets
from tests.conftest import EXAMPLES


def test_the_circular_s_own_example_and_the_navy_s_limits():
    aim, most, least, structural = (one.working.result.value for one in diameter_readings(0.032))
    assert aim == 0.125
    assert most == pytest.approx(0.096)
    assert least == 0.032
    assert structural == 0.09375


def test_alder_rivets(alder_drawn):
    (choice,) = rivet_choices(lay_out(alder_drawn))
    assert len(choice.holes) == 64
    assert choice.order == 64 + 7
    assert [str(head.rivet) for head in choice.lengths] == [
        "MS20470AD4-4",
        "MS20470AD4-4.5",
        "MS20470AD4-5",
    ]
    assert [(str(drill), drill.diameter_in) for drill in choice.final_drills] == [("#30", 0.1285)]
    assert choice.hole_range_in == (0.125, 0.135)
    assert [layer.preparation for layer in choice.layers] == ["plain", "plain"]


def test_elder_answer_7_and_the_preparation_that_its_drawing_asks_for():
    (choice,) = rivet_choices(lay_out(load_job(EXAMPLES / "elder.toml")))
    assert choice.calculated_in == pytest.approx(0.1766, abs=0.0001)
    assert str(choice.lengths[0].rivet) == "MS20426AD3-3"
    assert choice.lengths[0].length_in == 0.1875
    assert [layer.preparation for layer in choice.layers] == ["countersink", "countersink"]
    assert all(tell(layer.why) == "as entered, but thin for it, R408" for layer in choice.layers)


def test_rows_that_take_their_heads_in_different_ways_are_different_work():
    rows = [
        rivets((2.3, 0.0), name="a", rivet="MS20426AD4", preparation="dimple"),
        rivets((2.3, 1.0), name="b", rivet="MS20426AD4"),
        rivets((2.3, -1.0), name="c", rivet="MS20426AD4", preparation="dimple"),
    ]
    first, second = rivet_choices(lay_out(job_of(RING, rows=rows)))
    assert (first.holes, second.holes) == ((1, 3), (2,))


def test_what_the_tables_lack_is_said_and_the_rest_is_given():
    """A 3/16 rivet has no chain for a dimple, and neither 1/16 nor 3/8 has a range of holes in [TRADE-2001]."""
    (dimpled,) = rivet_choices(
        lay_out(job_of(RING, rows=[rivets((2.3, 0.0), rivet="MS20426AD6", preparation="dimple")]))
    )
    assert dimpled.order == 6
    assert [step.operation for step in dimpled.layers[0].steps] == ["pilot", "open", "dimple", "final"]
    (lack,) = dimpled.lacks
    assert tell(lack).startswith("skin + doubler: ")
    assert "dimpled hole" in tell(lack)
    assert "coupon" in tell(lack)
    for rivet in ("MS20470AD2", "MS20470AD12"):
        (choice,) = rivet_choices(lay_out(job_of(RING, rows=[rivets((2.3, 0.0), rivet=rivet)])))
        assert choice.hole_range_in is None
        assert choice.calculated_in == pytest.approx(0.072 + 1.5 * choice.part.diameter_in)
        assert any("no hole range" in tell(lack).lower() for lack in choice.lacks)
