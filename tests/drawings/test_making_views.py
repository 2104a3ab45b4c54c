"""The pictures of the making: the predicted cut with its deviation exaggerated, and the sketches of the pins."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.drawings.deviation_view import deviation_sheet
from hatchwright.drawings.ink import Circle, Line, Outline, Solid, Style, Text
from hatchwright.drawings.pin_view import pin_sheets
from hatchwright.job.file import edited, read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.making import making_of
from hatchwright.making.pins.pin_layout import pin_layout
from hatchwright.making.template.guide_template import job_chain

DATE = "2026-03-01"


def inks(sheet, kind):
    return [part for part in sheet.parts() if isinstance(part, kind)]


def words(sheet):
    return [text.words for text in inks(sheet, Text)]


@pytest.fixture(scope="module")
def deviation(dogwood):
    layout = lay_out(dogwood)
    return deviation_sheet(making_of(layout), date=DATE)


def test_every_place_is_labelled_with_its_true_depth(deviation):
    """(.4375 - .3125)(sqrt 2 - 1) = .0518 in each corner of the plug's opening."""
    assert f"{0.125 * (math.sqrt(2) - 1):.4f}" == "0.0518"
    assert sum(".0518 LEFT" in text for text in words(deviation)) == 4


def test_title_and_note_say_that_it_is_exaggerated(deviation):
    assert "DEVIATION SHOWN x 5" in deviation.title
    assert "NEVER CUT TO IT" in deviation.notes[0]
    assert (Style.PHANTOM, "predicted cut, deviation x 5") in deviation.meanings()


def test_nothing_on_the_pictures_is_cut(deviation, alder_text):
    layout = _pinned(alder_text)
    sheets = pin_sheets(making_of(layout), pin_layout(making_of(layout)), date=DATE)
    for sheet in (deviation, *sheets):
        assert not any(part.layer.is_cut for part in sheet.parts())


def test_a_cut_that_fits_says_so(alder_drawn):
    layout = lay_out(alder_drawn)
    sheet = deviation_sheet(making_of(layout), date=DATE)
    assert "NO DEVIATION" in sheet.title
    assert sheet.tables == ()


def _pinned(text: str):
    sizes = {"cutter.body": "1.75", "template.pin_body": ".25"}
    return lay_out(read_job(edited(text, sizes)))


def test_each_stage_shows_its_pins_and_its_runs(alder_text):
    layout = _pinned(alder_text)
    pins = pin_layout(making_of(layout))
    sheets = pin_sheets(making_of(layout), pins, date=DATE)
    assert [sheet.title for sheet in sheets] == ["PINS, STAGE 1 OF 2", "PINS, STAGE 2 OF 2"]
    for sheet, stage in zip(sheets, pins.plan.stages, strict=True):
        held = [circle for circle in inks(sheet, Circle) if circle.css == "pin"]
        assert len(held) == len(stage.pins)
        assert {circle.diameter_in for circle in held} == {0.25}
        numbers = {str(pins.pins[index].hole) for index in stage.pins}
        assert numbers <= set(words(sheet))
        runs = [line for line in inks(sheet, Line) if line.css == "cut"]
        assert len(runs) == len(stage.stretches)


def test_runs_of_all_stages_make_up_the_path(alder_text):
    layout = _pinned(alder_text)
    chain = job_chain(layout)
    sheets = pin_sheets(making_of(layout), pin_layout(making_of(layout)), date=DATE)
    length = sum(
        math.dist(a, b)
        for sheet in sheets
        for line in inks(sheet, Line)
        if line.css == "cut"
        for a, b in zip(line.points, line.points[1:], strict=False)
    )
    assert length == pytest.approx(chain.reached.loops[0].length_in, rel=1e-3)


def test_every_run_shows_its_start_its_way_and_its_tab(alder_text):
    """Arrowheads of the runs point along the run; of the run-ins, from the starter to the start."""
    layout = _pinned(alder_text)
    first, last = pin_sheets(making_of(layout), pin_layout(making_of(layout)), date=DATE)
    assert {"START 1A", "START 1B", "S"} <= set(words(first))
    assert {"START 2A", "START 2B", "TAB"} <= set(words(last))
    assert "TAB" not in words(first)
    run_ins = [line for line in inks(first, Line) if line.css == "run-in"]
    assert [line.points[0] for line in run_ins] == [(5.5, -4.5)] * 2  # the starter hole, seen from below
    starts = [circle.center for circle in inks(first, Circle) if circle.css == "start"]
    assert [line.points[-1] for line in run_ins] == starts
    assert not [line for line in inks(last, Line) if line.css == "run-in"]
    for sheet, lines in ((first, [*run_ins, *(x for x in inks(first, Line) if x.css == "cut")]), (last, [])):
        heads = [solid for solid in inks(sheet, Solid) if solid.css == "way"]
        assert len(heads) == (4 if sheet is first else 2)
        for line in lines:
            k = len(line.points) // 2
            tail, tip = line.points[k - 1], line.points[k]
            way = np.subtract(tip, tail) / math.dist(tail, tip)
            pointing = [np.subtract(h.points[0], np.mean(h.points[1:], axis=0)) for h in heads]
            assert max(float(way @ (p / np.hypot(*p))) for p in pointing) > 0.999


def test_the_legend_tells_the_path_from_the_template(alder_text):
    layout = _pinned(alder_text)
    for sheet in pin_sheets(making_of(layout), pin_layout(making_of(layout)), date=DATE):
        styles = {line.css: line.style for kind in (Line, Outline) for line in inks(sheet, kind)}
        assert styles["template"].dashes_in
        assert not styles["cut"].dashes_in
        assert styles["cut"].width_in > styles["template"].width_in


def test_a_window_that_is_clamped_shows_its_clamps_on_its_border(alder_text):
    layout = lay_out(read_job(edited(alder_text, {"cutter.body": "1.75", "template.pin_body": ".25"})))
    bare = lay_out(
        layout.job.model_copy(
            update={"rows": (), "doubler": None, "cover": None, "as_made": None, "choices": ()}
        )
    )
    (sheet,) = pin_sheets(making_of(bare), pin_layout(making_of(bare)), date=DATE)
    assert words(sheet).count("CLAMP") == 4
    plate = max(
        (o.loop.bounds for o in inks(sheet, Outline) if o.css == "template"), key=lambda b: b[2] - b[0]
    )
    for clamp in (circle for circle in inks(sheet, Circle) if circle.css == "clamp"):
        x, y = clamp.center
        assert plate[0] < x < plate[2]
        assert plate[1] < y < plate[3]


def test_no_plan_says_what_would_hold_and_shows_no_clamps(alder_text):
    layout = lay_out(read_job(edited(alder_text, {"cutter.body": "9", "template.pin_body": ".25"})))
    (sheet,) = pin_sheets(making_of(layout), pin_layout(making_of(layout)), date=DATE)
    assert sheet.title == "NO PIN PLAN"
    assert "CLAMP" not in words(sheet)
    # body and pin half each and 1/16 from the path, which lies half the guide inside the window; half a foot more
    least = math.ceil(1000.0 * (4.5 + 0.125 + 0.0625 - 0.25 + 0.125)) / 1000.0
    assert f"a border of {least:.3f} in or more" in sheet.notes[1]
    assert "(it has 1.500 in)" in sheet.notes[1]
    assert "a tool with a body of " in sheet.notes[1]
    assert not any(part.layer.is_cut for part in sheet.parts())
