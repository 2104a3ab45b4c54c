"""The drawing of the risk: marks by shape and figure, on nothing that must be read."""

from __future__ import annotations

import pytest

from hatchwright.drawings.ink import Circle, Text
from hatchwright.drawings.risk_view import risk_picture
from search.risk_jobs import alder_of


def test_each_hole_is_marked_by_shape_and_by_figure(alder_text):
    sheet = risk_picture(
        alder_of(alder_text), {11: 0.0812, 18: 0.0101, 3: 0.0042, 7: 0.0004}, frozenset({7, 18})
    )
    rings = {}
    for part in sheet.parts():
        if isinstance(part, Circle) and part.css == "risk-ring":
            rings.setdefault(part.hole, []).append(part.css)
    assert {hole: len(some) for hole, some in rings.items()} == {11: 2, 18: 2, 3: 1, 7: 2}
    told = {
        part.words for part in sheet.parts() if isinstance(part, Text) and part.note_id.startswith("hole-")
    }
    assert told == {"11: 8.2%", "18: doesn't pass", "3: 0.5%", "7: doesn't pass"}  # never rounded down


@pytest.mark.parametrize(("every", "are_held"), [(3, False), (1, True)])
def test_no_figure_lies_on_another_or_on_a_ring(alder_text, every, are_held):
    layout = alder_of(alder_text)
    chances = {hole.number: 0.02 for hole in layout.holes if hole.number % every == 0}
    sheet = risk_picture(layout, chances, frozenset(chances) if are_held else frozenset())
    boxes = [part.box() for part in sheet.parts() if isinstance(part, Text)]
    assert len(boxes) > 10
    for at, one in enumerate(boxes):
        for other in boxes[at + 1 :]:
            apart = (
                one.right <= other.left
                or other.right <= one.left
                or one.top <= other.bottom
                or other.top <= one.bottom
            )
            assert apart
    rings = [part for part in sheet.parts() if isinstance(part, Circle) and part.css == "risk-ring"]
    for box in boxes:
        for ring in rings:
            x, y = ring.center
            dx, dy = max(box.left - x, 0.0, x - box.right), max(box.bottom - y, 0.0, y - box.top)
            assert (dx * dx + dy * dy) ** 0.5 >= ring.diameter_in / 2.0 - 1e-6
