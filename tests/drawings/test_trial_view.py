"""The trial template on paper: sizes worked by hand from cutter and guide, cross and places round the origin."""

from __future__ import annotations

import math
import tomllib

import numpy as np
import pytest

from hatchwright.drawings.ink import Circle, Layer, Line, Outline, Text
from hatchwright.drawings.trial_view import trial_view
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.trial.trial import piece_for
from hatchwright.making.trial.trial_sheet import trial_sheet
from hatchwright.units import parse_length


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
    assert any("WINDOW 3.277 in x 3.277 in" in note for note in sheet.notes)


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
    pins = [
        circle.center for circle in sheet.parts() if isinstance(circle, Circle) and circle.css == "pin-hole"
    ]
    assert sorted((-x, -y) for x, y in pins) == sorted(pins)
    assert all(0.0 in {x for x, _ in line.points} or 0.0 in {y for _, y in line.points} for line in cross)
    assert [text.words for text in texts(sheet) if text.bold] == ["UP", "SCRAP"]


def test_places_are_listed_and_numbered(alder):
    sheet = drawn(alder, "disc", 3.0)
    assert any("WINDOW 3.277 in x 3.277 in, ROUND:" in note for note in sheet.notes)
    *_, table = sheet.tables
    assert [row[0] for row in table.rows] == [str(number) for number in range(1, 13)]
    assert table.rows[0][1:3] == ("1.485", ".000")
    assert {text.words for text in texts(sheet)} >= {str(number) for number in range(1, 13)}


def test_it_is_never_taken_for_the_aircraft(alder):
    sheet = drawn(alder, "square", 3.0)
    assert sheet.title_block.view == "ON SCRAP"
    assert sheet.title_block.directions == ()
    assert "NEVER PUT IT ON THE AIRCRAFT" in sheet.notes[0]


@pytest.mark.parametrize("kind", ["square", "disc", "corner"])
def test_every_reading_of_the_file_has_a_box_on_paper(alder, kind):
    """What stands empty in the file to be filled in stands empty on paper, under the same name."""
    layout = lay_out(alder)
    piece = piece_for(layout, kind, 4.0)
    form = tomllib.loads(trial_sheet(piece, alder))
    asked = [name for name, value in form.items() if value == ""]
    assert len(asked) == 4
    listed = [name for name, value in form["cuts"][0].items() if value == []]
    sheet = trial_view(layout, piece, date="2026-03-01")
    as_made, *rest = sheet.tables
    assert [row[0] for row in as_made.rows] == asked
    assert all(row[-1] == "" for table in sheet.tables for row in table.rows)
    titles = " ".join(table.title for table in rest)
    assert all(f"{name} " in titles or f"{name}," in titles for name in listed)
    assert any("[scan.pose]" in note for note in sheet.notes)
    assert "[scan.pose]" in trial_sheet(piece, alder)
    assert ("diagonals" in listed) == (kind != "disc")
    across = rest[0]
    assert len(across.rows) >= 5


def pinned(job, **changed):
    sizes = {name: parse_length(text) for name, text in changed.items()}
    return job.model_copy(update={"template": job.template.model_copy(update=sizes)})


def circles(sheet, css):
    return [part for part in sheet.parts() if isinstance(part, Circle) and part.css == css]


@pytest.mark.parametrize("kind", ["square", "disc"])
def test_starter_lies_in_the_waste_beside_the_cross(alder, kind):
    """9/16 wide inside a rough cut of 2.970, clear of both lines of the cross."""
    (starter,) = circles(drawn(alder, kind, 3.0), "waste-hole")
    assert starter.diameter_in == pytest.approx(0.5625)
    assert not starter.layer.is_cut
    x, y = starter.center
    assert min(abs(x), abs(y)) > 0.5625 / 2
    reach = math.hypot(x, y) if kind == "disc" else max(abs(x), abs(y))
    assert reach + 0.5625 / 2 < 2.970 / 2


def test_starter_beside_a_plug_lies_between_plug_and_line(dogwood):
    """Plug 2.125 across, cut of .250 up to the line at 1.500: a hole as wide as the cut, its middle at 1.375."""

    def started(text):
        return dogwood.model_copy(
            update={"cutter": dogwood.cutter.model_copy(update={"starter": parse_length(text)})}
        )

    (starter,) = circles(drawn(started(".250"), "square", 3.0), "waste-hole")
    assert starter.center[0] == pytest.approx(1.375)
    assert 0.0 < starter.center[1] < 1.0
    (round_one,) = circles(drawn(started(".250"), "disc", 3.0), "waste-hole")
    assert math.hypot(*round_one.center) == pytest.approx(1.375)
    sheet = drawn(started("1/2"), "square", 3.0)
    assert circles(sheet, "waste-hole") == []
    assert any("NO ROOM FOR THE .5000 in STARTER" in note for note in sheet.notes)


def test_pins_are_drilled_when_their_size_is_known(alder):
    """A body of 1.750 on the path .250 inside the window, a pin of 1/4: middles 1.000 or more from the path."""
    sheet = drawn(pinned(alder, pin="1/8", pin_body="1/4"), "square", 3.0)
    holes = circles(sheet, "pin-hole")
    assert [hole.diameter_in for hole in holes] == pytest.approx([0.125] * 4)
    assert {hole.layer for hole in holes} == {Layer.DRILL_PILOT}
    path = 3.277 / 2 - 0.250
    for hole in holes:
        x, y = map(abs, hole.center)
        assert math.hypot(x - path, y - path) >= (1.75 + 0.25) / 2
        assert max(x, y) + 0.125 < 3.277 / 2 + 1.5
    assert any("THE TOOL CLEARS ALL FOUR" in note for note in sheet.notes)


def test_pins_that_the_tool_does_not_pass_are_told(alder):
    """A border of .6: the middles lie no farther than .85 from the path each way, less .35 from the edge."""
    sheet = drawn(pinned(alder, border=".6", pin_body="1/4"), "square", 3.0)
    assert circles(sheet, "pin-hole") == []
    assert any("DOES NOT CLEAR THEM" in note for note in sheet.notes)
    unknown = alder.model_copy(update={"cutter": alder.cutter.model_copy(update={"body": None})})
    assert any("NOT MEASURED" in note for note in drawn(unknown, "square", 3.0).notes)
