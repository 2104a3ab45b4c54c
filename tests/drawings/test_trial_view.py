"""The trial template on paper: sizes worked by hand from cutter and guide, cross and places round the origin."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.drawings.ink import Line, Outline, Text
from hatchwright.drawings.layers import Layer
from hatchwright.drawings.trial_view import trial_view
from hatchwright.layout.lay_out import lay_out
from hatchwright.tooling.trial import piece_for


def drawn(job, kind, size_in):
    layout = lay_out(job)
    return trial_view(layout, piece_for(layout, kind, size_in), date="2026-03-01")


def outlines(sheet, css):
    return [part.loop for part in sheet.parts() if isinstance(part, Outline) and part.css == css]


def texts(sheet):
    return [part for part in sheet.parts() if isinstance(part, Text)]


def test_window_of_a_square_for_the_cutter_in_hand(alder):
    """3.000 - 2 x .015 left to file = 2.970; window 2.970 + 2 x (.500 - .193)/2 = 3.277."""
    sheet = drawn(alder, "square", 3.0)
    (window,) = outlines(sheet, "guide-edge")
    assert np.abs(window.bounds) == pytest.approx([3.277 / 2] * 4, abs=1e-9)
    (rough,) = outlines(sheet, "rough-cut")
    assert np.abs(rough.bounds) == pytest.approx([2.970 / 2] * 4, abs=1e-9)
    (plate,) = outlines(sheet, "plate-edge")
    assert plate.bounds[2] == pytest.approx(3.277 / 2 + 1.5, abs=1e-9)
    assert any("WINDOW 3.277 x 3.277" in note for note in sheet.notes)


def test_plug_has_no_plate_and_its_words_lie_on_it(dogwood):
    """3.000 - 2 x .4375 = 2.125, square corners: the guide and the cut both run round them."""
    sheet = drawn(dogwood, "square", 3.0)
    (plug,) = outlines(sheet, "guide-edge")
    assert plug.bounds[2] - plug.bounds[0] == pytest.approx(2.125, abs=1e-9)
    assert outlines(sheet, "plate-edge") == []
    for words in texts(sheet):
        if words.bold:
            box = words.box()
            assert plug.bounds[0] < box.left < box.right < plug.bounds[2]
            assert plug.bounds[1] < box.bottom < box.top < plug.bounds[3]


@pytest.mark.parametrize("kind", ["square", "disc", "corner"])
def test_turned_half_round_it_meets_itself(alder, kind):
    """For the second cut: every cut edge and the cross fall on themselves, only the words tell the ends apart."""
    sheet = drawn(alder, kind, 4.0)
    for css in ("guide-edge", "plate-edge"):
        (loop,) = outlines(sheet, css)
        turned = sorted(map(tuple, np.round(-loop.rows[:, :2], 9) + 0.0))
        assert turned == sorted(map(tuple, np.round(loop.rows[:, :2], 9) + 0.0))
    cross = [part for part in sheet.parts() if isinstance(part, Line) and part.layer is Layer.ENGRAVE]
    assert len(cross) == 4
    assert all(0.0 in {x for x, _ in line.points} or 0.0 in {y for _, y in line.points} for line in cross)
    assert [text.words for text in texts(sheet) if text.bold] == ["UP", "SCRAP"]


def test_places_are_listed_and_numbered(alder):
    sheet = drawn(alder, "disc", 3.0)
    (table,) = sheet.tables
    assert [row[0] for row in table.rows] == [str(number) for number in range(1, 13)]
    assert table.rows[0][1:3] == ("1.485", ".000")
    assert {text.words for text in texts(sheet)} >= {str(number) for number in range(1, 13)}


def test_it_is_never_taken_for_the_aircraft(alder):
    sheet = drawn(alder, "square", 3.0)
    assert sheet.title_block.view == "ON SCRAP"
    assert sheet.title_block.directions == ()
    assert "NEVER LAY IT ON THE AIRCRAFT" in sheet.notes[0]
