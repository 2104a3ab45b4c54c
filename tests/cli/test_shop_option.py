"""`hatchwright check JOB --shop FOLDER`."""

from __future__ import annotations

import json

from tests.conftest import EXAMPLES

LIMITS = "key,value,unit,note,source,place,edition,basis"
OURS = "OUR-HANDBOOK,page 12,2024,the shop's own"


def test_findings_show_what_is_the_shops_own(shell, tmp_path):
    row = f"corner_radius_patch_min,.3,in,,{OURS}"
    (tmp_path / "rule_limits.csv").write_text(f"{LIMITS}\n{row}\n", encoding="utf-8")
    status, out, _ = shell("check", EXAMPLES / "alder.toml", "--shop", tmp_path, "--json")
    assert status == 1
    ours = [f for f in json.loads(out)["findings"] if f["code"] == "R302"]
    assert {f["grade"] for f in ours} == {"the shop's own"}
    assert {f["source"]["key"] for f in ours} == {"OUR-HANDBOOK"}


def test_a_refused_table_ends_with_2_and_says_file_line_and_reason(shell, tmp_path):
    (tmp_path / "rule_limits.csv").write_text(f"{LIMITS}\nedge_max,50,D,,{OURS}\n", encoding="utf-8")
    status, out, err = shell("check", EXAMPLES / "alder.toml", "--shop", tmp_path)
    assert (status, out) == (2, "")
    assert "rule_limits.csv, line 2" in err
    assert "Traceback" not in err


def test_a_folder_that_is_not_there_is_refused(shell, tmp_path):
    status, _, err = shell("check", EXAMPLES / "alder.toml", "--shop", tmp_path / "none")
    assert status == 2
    assert "can't be read" in err


def test_the_json_carries_the_readings_that_may_be_chosen(shell):
    _, out, _ = shell("check", EXAMPLES / "alder.toml", "--json")
    findings = json.loads(out)["findings"]
    sides = [f for f in findings if f["code"] == "R601"]
    assert sides[0]["readings"][0] == "table 4-9, no reduction"
    told = [w["reading"] for w in sides[0]["working"]]
    assert told[: len(sides[0]["readings"])] == sides[0]["readings"]
    assert next(f["readings"] for f in findings if f["code"] == "R101") == []


def test_explain_names_the_readings(shell):
    _, out, _ = shell("explain", "R402")
    assert "circular, same gauge" in out
    assert "Army manual, one gauge heavier" in out
