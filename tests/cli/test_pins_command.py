"""`hatchwright pins`, run as a person runs it."""

from __future__ import annotations

import json

import pytest


def test_plan_for_programs(shell, alder_file):
    status, out, _ = shell("pins", alder_file, "--json")
    told = json.loads(out)
    assert status == 0
    assert told["reach_in"] == pytest.approx(1.0625)
    assert len(told["stages"]) == 2
    for stage in told["stages"]:
        assert stage["hold_ratio"] <= 1.0
        assert all(told["pins"][index]["hole"] for index in stage["pins"])


def test_plan_for_people(shell, alder_file):
    status, out, _ = shell("pins", alder_file)
    assert status == 0
    assert "Stage 1 of 2: pin holes" in out
    assert "OK  T501" in out


def test_the_other_side_is_cut_the_other_way_round(shell, alder_file):
    here, there = shell("pins", alder_file)[1], shell("pins", alder_file, "--other-side")[1]
    assert "Cut clockwise" in here
    assert "Cut counter-clockwise" in there


def test_missing_sizes_are_refused(shell, alder_file):
    lines = alder_file.read_text(encoding="utf-8").splitlines()
    kept = [line for line in lines if not line.startswith(("body =", "pin_body ="))]
    alder_file.write_text("\n".join(kept), encoding="utf-8")
    status, out, err = shell("pins", alder_file)
    assert (status, out) == (2, "")
    assert "cutter.body" in err
    assert "template.pin_body" in err


def test_tool_too_large_for_any_plan_stops(shell, alder_file):
    text = alder_file.read_text(encoding="utf-8").replace('\nbody = "1.75"', '\nbody = "9"')
    alder_file.write_text(text, encoding="utf-8")
    status, out, _ = shell("pins", alder_file)
    assert status == 1
    assert "Clamp the template" in out
