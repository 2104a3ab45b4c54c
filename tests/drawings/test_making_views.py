"""The pictures of the making: the predicted cut with its deviation exaggerated, and the sketches of the pins."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.drawings.deviation_view import deviation_sheet
from hatchwright.drawings.ink import Circle, Line, Text
from hatchwright.drawings.layers import Style
from hatchwright.drawings.pin_view import pin_sheets
from hatchwright.job.file import edited, read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.shapes.distance import distances
from hatchwright.tooling.guide_template import job_chain
from hatchwright.tooling.pin_layout import pin_layout

DATE = "2026-03-01"


def inks(sheet, kind):
    return [part for part in sheet.parts() if isinstance(part, kind)]


def words(sheet):
    return [text.words for text in inks(sheet, Text)]


@pytest.fixture(scope="module")
def deviation(dogwood):
    layout = lay_out(dogwood)
    return deviation_sheet(layout, job_chain(layout), date=DATE)


def test_every_place_is_labelled_with_its_true_depth(deviation):
    """(.4375 - .3125)(sqrt 2 - 1) = .0518 in each corner of the plug's opening."""
    assert f"{0.125 * (math.sqrt(2) - 1):.4f}" == "0.0518"
    assert sum(".0518 LEFT" in text for text in words(deviation)) == 4


def test_title_and_note_say_that_it_is_exaggerated(deviation):
    assert "DEVIATION DRAWN 5 TIMES" in deviation.title
    assert "NEVER CUT TO IT" in deviation.notes[0]
    assert (Style.PHANTOM, "predicted cut, deviation x 5") in deviation.meanings()


def test_nothing_on_the_pictures_is_cut(deviation, alder_text):
    layout = _pinned(alder_text)
    sheets = pin_sheets(layout, job_chain(layout), pin_layout(layout, job_chain(layout)), date=DATE)
    for sheet in (deviation, *sheets):
        assert not any(part.layer.is_cut for part in sheet.parts())


def test_a_cut_that_fits_says_so(alder_drawn):
    layout = lay_out(alder_drawn)
    sheet = deviation_sheet(layout, job_chain(layout), date=DATE)
    assert "NO DEVIATION" in sheet.title
    assert sheet.tables == ()


def _pinned(text: str):
    sizes = {"cutter.body": "1.75", "template.pin_body": ".25"}
    return lay_out(read_job(edited(text, sizes)))


def test_each_stage_shows_its_pins_and_its_runs(alder_text):
    layout = _pinned(alder_text)
    chain = job_chain(layout)
    pins = pin_layout(layout, chain)
    sheets = pin_sheets(layout, chain, pins, date=DATE)
    assert [sheet.title for sheet in sheets] == ["PINS, STAGE 1 OF 2", "PINS, STAGE 2 OF 2"]
    for sheet, stage in zip(sheets, pins.plan.stages, strict=True):
        held = inks(sheet, Circle)
        assert len(held) == len(stage.pins)
        assert {circle.diameter_in for circle in held} == {0.25}
        numbers = {str(pins.pins[index].hole) for index in stage.pins}
        assert numbers <= set(words(sheet))
        runs = [line for line in inks(sheet, Line) if line.css == "cut"]
        assert len(runs) == len(stage.stretches)


def test_runs_of_all_stages_make_up_the_path(alder_text):
    layout = _pinned(alder_text)
    chain = job_chain(layout)
    sheets = pin_sheets(layout, chain, pin_layout(layout, chain), date=DATE)
    length = sum(
        math.dist(a, b)
        for sheet in sheets
        for line in inks(sheet, Line)
        if line.css == "cut"
        for a, b in zip(line.points, line.points[1:], strict=False)
    )
    assert length == pytest.approx(chain.reached.loops[0].length_in, rel=1e-3)


def test_no_plan_shows_where_clamps_are_out_of_the_way(alder_text):
    layout = lay_out(read_job(edited(alder_text, {"cutter.body": "9", "template.pin_body": ".25"})))
    chain = job_chain(layout)
    pins = pin_layout(layout, chain)
    (sheet,) = pin_sheets(layout, chain, pins, date=DATE)
    assert sheet.title == "NO PLAN OF PINS: CLAMPS"
    assert words(sheet).count("CLAMP") == 4
    crossings = [line for line in inks(sheet, Line) if len(line.points) == 2 and not line.css]
    middles = {
        tuple(round(sum(ends) / 2.0, 6) for ends in zip(*line.points, strict=True)) for line in crossings
    }
    x, y = np.array(pins.clamps).T
    assert {(round(a, 6), round(-b, 6)) for a, b in zip(x, y, strict=True)} <= middles
    assert not any(part.layer.is_cut for part in sheet.parts())
    clear = (9.0 + 0.25) / 2.0 + 1.0 / 16.0  # body and pin half each, and what stays between them
    assert distances(chain.reached, pins.clamps).distance_in == pytest.approx(clear, abs=1e-3)
