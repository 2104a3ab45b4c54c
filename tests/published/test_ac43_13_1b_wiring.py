"""What wires keep clear of behind the skin.

FAA Advisory Circular 43.13-1B, chapter 11 (par. 11-96, pages 11-43 and 11-44; par. 11-115; par. 11-118, page 11-52;
par. 11-125, page 11-53) and par. 7-149j, page 7-37, in text copies; the clearance to a movable control by SAE AS50881
as an article of a harness shop restates it.
"""

from __future__ import annotations

from hatchwright.tables.wiring import wire_clearances
from hatchwright.workings import Grade


def test_clearances() -> None:
    """3/8 in at the edge of a hole; 6 in to a flammable line, 2 in where clamped; supports 24 in; 1/2 in of slack."""
    found = wire_clearances()
    assert found.hole_edge_in.value == 3 / 8
    assert (found.flammable_line_in.value, found.flammable_line_clamped_in.value) == (6.0, 2.0)
    assert (12 * found.support_ft.value, found.slack_in.value) == (24.0, 0.5)
    assert {found.hole_edge_in.grade, found.flammable_line_in.grade} == {Grade.PUBLISHED}
    assert (found.movable_control_in.value, found.movable_control_in.grade) == (0.5, Grade.RESTATED)


def test_what_is_asked_near_controls() -> None:
    found = wire_clearances()
    assert "steel hardware" in found.near_controls.text
    assert "full travel" in found.cable_run.text
