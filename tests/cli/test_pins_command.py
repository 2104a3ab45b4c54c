"""`hatchwright pins`, run as a person runs it."""

from __future__ import annotations

import json

import pytest


@pytest.fixture
def with_sizes(alder_file):
    text = alder_file.read_text(encoding="utf-8")
    text = text.replace('filing_allowance = ".015"', 'filing_allowance = ".015"\nbody = "1.75"')
    text = text.replace('end_mill = "1/8"', 'end_mill = "1/8"\npin_body = "1/4"')
    alder_file.write_text(text, encoding="utf-8")
    return alder_file


def test_plan_for_programs(shell, with_sizes):
    status, out, _ = shell("pins", with_sizes, "--json")
    told = json.loads(out)
    assert status == 0
    assert told["reach_in"] == pytest.approx(1.0625)
    assert len(told["stages"]) == 2
    for stage in told["stages"]:
        assert stage["hold_ratio"] <= 1.0
        assert all(told["pins"][index]["hole"] for index in stage["pins"])


def test_plan_for_people(shell, with_sizes):
    status, out, _ = shell("pins", with_sizes)
    assert status == 0
    assert "Stage 1 of 2: pin holes" in out
    assert "OK  T501" in out


def test_the_other_side_is_cut_the_other_way_round(shell, with_sizes):
    here, there = shell("pins", with_sizes)[1], shell("pins", with_sizes, "--other-side")[1]
    assert "Cut clockwise" in here
    assert "Cut counter-clockwise" in there


def test_missing_sizes_are_refused(shell, alder_file):
    status, out, err = shell("pins", alder_file)
    assert (status, out) == (2, "")
    assert "cutter.body" in err
    assert "template.pin_body" in err


def test_tool_too_large_for_any_plan_stops(shell, with_sizes):
    text = with_sizes.read_text(encoding="utf-8").replace('body = "1.75"', 'body = "9"')
    with_sizes.write_text(text, encoding="utf-8")
    status, out, _ = shell("pins", with_sizes)
    assert status == 1
    assert "Clamp the template" in out
