"""What to order, drill and drive.

Sources beside each check: diameter rule [AC43.13-1B] par. 4-58g(2)(a) and its worked example (clad 2024 .032: 1/8);
Navy rules 5 to 8 [NAVEDTRA-14018] ch. 13; drills [TRADE-2001]; countersink [TM-9-2320-363-34-2] table 4.
"""

from __future__ import annotations

import pytest

from hatchwright.job.file import load_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.tooling.fastener_choice import diameter_readings, rivet_choices, screw_choice
from tests.conftest import EXAMPLES


def test_the_circular_s_own_example_and_the_navy_s_limits():
    aim, most, least, structural = (w.result.value for w in diameter_readings(0.032))
    assert aim == 0.125
    assert most == pytest.approx(0.096)
    assert least == 0.032
    assert structural == 0.09375


def test_alder_rivets(alder_drawn):
    (choice,) = rivet_choices(lay_out(alder_drawn))
    assert len(choice.holes) == 64
    assert choice.order == 64 + 7
    assert [choice.numbered(head) for head in choice.lengths] == [
        "MS20470AD4-4",
        "MS20470AD4-4.5",
        "MS20470AD4-5",
    ]
    assert choice.drill == ("#30", 0.1285)
    assert choice.hole_range_in == (0.125, 0.135)
    assert [layer.preparation for layer in choice.layers] == ["plain", "plain"]


def test_elder_answer_7_and_dimples_in_thin_sheet():
    (choice,) = rivet_choices(lay_out(load_job(EXAMPLES / "elder.toml")))
    assert choice.calculated_in == pytest.approx(0.1766, abs=0.0001)
    assert choice.numbered(choice.lengths[0]) == "MS20426AD3-3"
    assert choice.lengths[0].length_in == 0.1875
    assert [layer.preparation for layer in choice.layers] == ["dimple", "dimple"]
    pilot = choice.layers[0].steps[0]
    assert pilot.drill is not None
    assert pilot.drill.diameter_in < 0.098  # a #40 hole passes .104 when dimpled, over the .103 of its rivet


def test_alder_screws(alder_drawn, dogwood):
    screws = screw_choice(lay_out(alder_drawn))
    assert screws is not None
    assert len(screws.holes) == 16
    assert screws.least_length_in == pytest.approx(0.072 + 1.0 / 32.0)
    twelve = screw_choice(lay_out(dogwood))
    assert twelve is not None
    assert len(twelve.holes) == 12
