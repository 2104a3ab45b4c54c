"""`hatchwright pins`, run as a person runs it."""

from __future__ import annotations

import json
import re

import pypdfium2
import pytest

from hatchwright.page.fill_in import with_unit


def test_plan_for_programs(shell, alder_file):
    status, out, _ = shell("pins", alder_file, "--json")
    told = json.loads(out)
    assert not told["must_stop"]
    assert status == 1  # there is a plan; ALDER itself is held back
    assert told["reach_in"] == pytest.approx(1.0625)
    assert len(told["stages"]) == 2
    for stage in told["stages"]:
        assert stage["hold_ratio"] <= 1.0
        assert all(told["pins"][index]["hole"] for index in stage["pins"])


def test_sketches_not_to_scale_are_not_corrected(shell, alder_file, tmp_path):
    bars = ("--bar-short-side", "5.95", "--bar-long-side", "5.97")
    status, _, err = shell("pins", alder_file, "--out", tmp_path / "shop", *bars)
    assert status == 2
    assert "No such option" in err
    assert not (tmp_path / "shop").exists()


def test_plan_for_people(shell, alder_file):
    status, out, _ = shell("pins", alder_file)
    assert status == 1  # there is a plan; ALDER itself is held back
    assert "Stage 1 of 2: pin holes" in out
    assert "OK  T501" in out


def test_the_plan_of_a_job_in_millimeters_tells_no_inch(shell, alder_file):
    alder_file.write_text(with_unit(alder_file.read_text(encoding="utf-8"), "mm"), encoding="utf-8")
    status, out, _ = shell("pins", alder_file)
    assert status == 1  # there is a plan; ALDER itself is held back
    assert " mm" in out
    assert not re.search(r"\d in\b", out), out


def test_the_other_side_is_cut_the_other_way_round(shell, alder_file):
    here, there = shell("pins", alder_file)[1], shell("pins", alder_file, "--other-side")[1]
    assert "Cut clockwise" in here
    assert "Cut counterclockwise" in there


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
    # 4.5 + 1/8 + 1/16 from the path, less half the guide, and half a foot
    assert "a border of 4.563 in or more around the window (it has 1.500 in)" in out


def test_the_pin_sheet_is_written_for_both_sides(shell, alder_file, tmp_path):
    out = tmp_path / "shop"
    status, said, err = shell("pins", alder_file, "--out", out, "--paper", "a4", "--json")
    assert (status, err) == (1, "")
    names = sorted(path.name for path in out.iterdir())
    assert names == sorted(json.loads(said)["files"])
    assert names == [
        "alder_PINS_1_LEFT_IN.svg",
        "alder_PINS_1_RIGHT_IN.svg",
        "alder_PINS_2_LEFT_IN.svg",
        "alder_PINS_2_RIGHT_IN.svg",
        "alder_PIN_SHEET_LEFT_A4.pdf",
        "alder_PIN_SHEET_RIGHT_A4.pdf",
    ]
    stages = {}
    for side in ("LEFT", "RIGHT"):
        with pypdfium2.PdfDocument(out / f"alder_PIN_SHEET_{side}_A4.pdf") as pdf:
            stages[side] = ["".join(page.get_textpage().get_text_range().split()) for page in pdf]
    assert ["Cutclockwise" in page for page in stages["LEFT"]] == [True, True]
    assert ["Cutcounterclockwise" in page for page in stages["RIGHT"]] == [True, True]
