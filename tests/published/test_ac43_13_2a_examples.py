"""Worked examples of the alterations circular: static test loads, and the drag of an antenna.

FAA Advisory Circular 43.13-2A, Acceptable Methods, Techniques, and Practices: Aircraft Alterations, 1977, chapter 1
(static loads of a 7 lb part, utility category) and chapter 3 (antenna drag). The copy that was seen confirms that the
first example is there; its numbers, and the whole of the second, are from memory, and so are the factors here: the
tests show that the program does the circular's arithmetic, not that its figures were read.

Tolerance: the printed digits; the drag is printed 2.75 where the formula gives 2.759, so .01.
"""

from __future__ import annotations

import pytest

from hatchwright.job.mount import Mount
from hatchwright.layout.mount_loads import drag_load, static_loads
from hatchwright.workings import Grade


@pytest.fixture
def example() -> Mount:
    typed = {
        "weight": "7",
        "where": "outside",
        "category": "utility",
        "frontal_area": "0.135",
        "speed": "250",
    }
    return Mount.model_validate({"kind": "antenna", "base": ["3", "3"], **typed})


def test_static_test_loads_of_seven_pounds(example: Mount) -> None:
    """Printed: sideward 1.5 x 7 = 10.5, upward 3.0 x 7 = 21, forward 9.0 x 7 = 63, downward 6.6 x 7 = 46.2 lb."""
    loads = static_loads(example)
    assert {load.direction: load.load_lbf for load in loads} == pytest.approx(
        {"side": 10.5, "up": 21.0, "forward": 63.0, "down": 46.2}
    )
    assert {load.direction for load in loads if load.working.grade is Grade.MEMORY} == {"down"}


def test_drag_of_an_antenna(example: Mount) -> None:
    """Printed: D = .000327 A V^2 = .000327 x .135 x 250^2 = 2.75 lb."""
    load = drag_load(example)
    assert load is not None
    assert load.working.result.value == pytest.approx(2.75, abs=0.01)
    assert load.load_lbf == pytest.approx(1.5 * load.working.result.value)
    assert load.working.grade is Grade.MEMORY
