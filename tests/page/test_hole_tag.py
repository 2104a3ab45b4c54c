"""The tag of one hole, its figures against the scenario's own arithmetic."""

from __future__ import annotations

from pathlib import Path

import pytest

from hatchwright.page.hole_tag import hole_tag
from hatchwright.page.screen import Asked, Look
from hatchwright.words.tell import tell

EXAMPLES = Path(__file__).parents[2] / "examples"


def told(name: str, number: int, **look) -> tuple[str, dict[str, str], str]:
    """Title, lines by heading, and the part of the job."""
    path = EXAMPLES / f"{name}.toml"
    tag = hole_tag(Asked(path.read_text(encoding="utf-8"), path.parent, path.name, Look(**look)), number)
    lines = {tell(heading, tag.unit): tell(line, tag.unit) for heading, line in tag.lines}
    return tell(tag.title), lines, tag.part


def test_a_drilled_rivet_says_where_it_is_and_what_room_it_has():
    """Rivet 15 of ALDER was drilled at 8.757, 4.809, in a doubler that ends at 5.5 + 3.5 = 9.000: e = .243. The next
    size is 5/32: 2D = .3125, so with u = .005 it misses by .0745, told rounded up. 3D of it is .46875; the nearest
    rivet, 5 at 8.281, 4.502, lies .5664 off: .0926 to spare after u, told rounded down."""
    title, lines, part = told("alder", 15)
    assert title == "Rivet 15"
    assert part == "rows.1"
    assert lines["Part"] == "MS20470AD4"
    assert lines["Drilled at"] == "X 8.757, Y 4.809, ± .005"
    assert lines["Drawn at"] == "X 8.720, Y 4.810"
    assert lines["Work"] == "skin + doubler: PILOT #40, FINAL #30 .1285"
    assert lines["Room for the next size"] == "MS20470AD5: edge distance short .075; spacing .092 to spare"


def test_a_screw_has_no_next_size_and_a_rivet_of_the_other_side_no_reading():
    title, lines, part = told("alder", 101)
    assert title == "Screw 101"
    assert part == "cover.screws"
    assert "Room for the next size" not in lines
    _, lines, _ = told("alder", 15, other_side=True)
    assert "Drilled at" not in lines


@pytest.mark.parametrize("number", [0, 999])
def test_a_hole_that_is_not_there_has_no_tag(number):
    path = EXAMPLES / "alder.toml"
    assert hole_tag(Asked(path.read_text(encoding="utf-8"), path.parent, path.name), number) is None
