"""`hatchwright propose`: what it prints, what it writes, how it ends. Scenario S1 as drawn, and scenario S2."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def drawn(tmp_path_factory) -> Path:
    """Alder before anything is drilled."""
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    job = tmp_path_factory.mktemp("propose") / "drawn.toml"
    job.write_text(text[: text.index("# What was really made")], encoding="utf-8")
    return job


@pytest.fixture(scope="module")
def told(drawn, shell):
    return shell("propose", drawn)


@pytest.fixture(scope="module")
def values(drawn, shell):
    status, out, _ = shell("propose", drawn, "--json")
    return status, json.loads(out)


def test_three_layouts_side_by_side_with_what_limits_them(told):
    status, out, err = told
    assert (status, err) == (0, "")
    out = " ".join(out.split())  # however wide the terminal is
    assert "1 lightest" in out
    assert "2 fewest rivets" in out
    assert "3 largest clear opening" in out
    assert "Limited by" in out
    assert "alternative method of compliance" in out  # under a mandate another ring departs
    assert "Not searched:" in out
    assert "not approved data" in out


def test_three_layouts_fit_on_a_line_of_a_hundred(told):
    """Nothing of a cell is lost by folding it."""
    lines = told[1].splitlines()
    first = next(at for at, line in enumerate(lines) if line.startswith("1 Limited by"))
    table = lines[1:first]
    assert max(map(len, table)) <= 100
    assert len(re.findall(r"\.\d{3} from the", "\n".join(table))) == 6  # however narrow the terminal is
    assert {"Opening", "Rows", "Still open"} <= {line.split("  ")[0] for line in table}


def test_what_stopped_the_job_before_is_no_pass(shell):
    """Elder has not yet answered what its mandate asks, and its skin's rivets."""
    status, out, _ = shell("propose", EXAMPLES / "elder.toml")
    assert status == 0
    assert "STOP (" in out
    assert "passes every rule" not in out
    assert "pass every rule" not in out
    assert "nothing stops by them that the job did not have" in out


def test_what_is_open_is_what_check_finds_open_in_the_job_that_is_written(shell, tmp_path):
    """Juniper's loads: strength too, where a narrower ring puts back less metal than was cut out."""
    target = tmp_path / "new.toml"
    told = json.loads(shell("propose", EXAMPLES / "juniper.toml", "--write", 1, target, "--json")[1])
    judged = json.loads(shell("check", target, "--json")[1])["findings"]
    open_ = {(one["code"], one["status"]) for one in judged if one["status"] != "pass"}
    assert ("S306", "caution") in open_
    assert {(one["code"], one["status"]) for one in told["offers"][0]["findings"]} == open_


def test_a_job_that_names_no_rivet_is_asked_for_one_and_nothing_is_said_to_be_searched(shell):
    status, out, _ = shell("propose", EXAMPLES / "dogwood.toml")
    assert status == 1
    assert "Enter the rivets on the shelf" in out
    assert "Rivets ," not in out
    assert "0 rings" not in out


def test_each_is_the_best_of_what_it_says(values):
    status, found = values
    assert status == 0
    by_aim = {aim: one for one in found["offers"] for aim in one["aims"]}
    assert set(by_aim) == {"lightest", "fewest", "largest"}
    for one in found["offers"]:
        assert by_aim["lightest"]["mass_lb"] <= one["mass_lb"]
        assert by_aim["fewest"]["rivets"] <= one["rivets"]
        assert by_aim["largest"]["ring_in"] <= one["ring_in"]
        assert one["rivets"] == sum(sum(row["per_side"]) for row in one["rows"])
        assert one["outer_in"][0] == pytest.approx(one["opening"]["width_in"] + 2 * one["ring_in"])


def test_a_layout_is_written_as_a_job_that_check_judges(drawn, values, shell, tmp_path):
    target = tmp_path / "new.toml"
    assert shell("propose", drawn, "--write", 2, target)[0] == 0
    status, out, _ = shell("check", target, "--json")
    found = json.loads(out)
    assert status == 1  # a departure that nobody has accepted
    assert {one["code"] for one in found["findings"] if one["status"] == "stop"} == {"R903"}
    before = target.read_text(encoding="utf-8")
    status, _, err = shell("propose", drawn, "--write", 1, target)
    assert status == 2
    assert "already exists" in err
    assert target.read_text(encoding="utf-8") == before
    assert shell("propose", drawn, "--write", 1, target, "--overwrite")[0] == 0
    assert target.read_text(encoding="utf-8") != before


def test_a_layout_that_is_not_there_is_not_written(drawn, shell, tmp_path):
    one = drawn.parent / "one_rivet.toml"
    one.write_text(f"{drawn.read_text(encoding='utf-8')}\n[wish]\nmost_rows = 1\n", encoding="utf-8")
    status, _, err = shell("propose", one, "--write", 3, tmp_path / "new.toml")
    assert status == 2
    assert "Enter the number of one of them" in err
    assert not (tmp_path / "new.toml").exists()


def test_birch_is_told_in_one_line_along_each_axis_why_there_is_none(shell):
    status, out, _ = shell("propose", EXAMPLES / "birch.toml")
    assert status == 1
    out = " ".join(out.split())
    x, y = (out.index(f"Along {axis} the ring can't clear") for axis in "XY")
    assert "5.400 there" in out[x:y]
    assert "6.650 there" in out[y:]
    assert "The opening that has room" in out


def test_what_was_drilled_is_refused(shell):
    status, out, err = shell("propose", EXAMPLES / "alder.toml")
    assert (status, out) == (2, "")
    assert "ways out" in err
