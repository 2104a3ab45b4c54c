"""`hatchwright cutters` on a shelf of a small shop, run as a person runs it."""

from __future__ import annotations

import json
import re
import tomllib

import pytest

SHELF = """schema = 1

[[cutters]]
name = "punch head A"
kind = "round-punch nibbler"
cut_width = ".193"
guide = ".500"
filing_allowance = ".015"
template = "female"
capacity = ".063"
behind = ".55"
reach = "6"
eccentricity = "0"
advance = ".030"
body = "1.75"
starter = "9/16"

[[cutters]]
name = "large router"
kind = "router"
cut_width = ".250"
guide = "2"
filing_allowance = ".010"
template = "male"
capacity = ".125"

[[hand_tools]]
name = "old shear"
kind = "double-cut shear"
capacity = ".025"
least_radius = "3"
"""


@pytest.fixture
def shelf(tmp_path):
    path = tmp_path / "shelf.toml"
    path.write_text(SHELF, encoding="utf-8")
    return path


def test_best_tool_comes_first(shell, alder_file, shelf):
    status, out, _ = shell("cutters", alder_file, shelf, "--json")
    told = json.loads(out)["tools"]
    assert status == 0
    assert [tool["name"] for tool in told] == ["punch head A", "large router", "old shear"]
    assert [tool["worst"] for tool in told] == ["pass", "stop", "stop"]
    router = {finding["code"]: finding for finding in told[1]["findings"]}
    assert router["T102"]["value"] == pytest.approx((2.0 + 0.25) / 2)  # a plug's corner is half guide and cut
    shear = {finding["code"]: finding["status"] for finding in told[2]["findings"]}
    assert shear == {"T301": "stop", "T302": "caution", "T303": "unknown"}


def test_words_for_people(shell, alder_file, shelf):
    _, out, _ = shell("cutters", alder_file, shelf)
    lines = out.splitlines()
    assert lines[0].strip() == "OK  punch head A (round-punch nibbler)"
    thick = "STOP  T301  Skin thickness for the double-cut shear old shear: .0320 in, limit .0250 in"
    assert thick in [line.strip() for line in lines]


def test_what_was_not_measured_of_a_tool_is_told(shell, alder_file, shelf):
    text = shelf.read_text(encoding="utf-8").replace('reach = "6"\n', "")
    shelf.write_text(text, encoding="utf-8")
    status, out, _ = shell("cutters", alder_file, shelf)
    assert status == 0
    assert out.splitlines()[0].strip() == "CAUTION  punch head A (round-punch nibbler)"
    assert "T306  Round-punch nibbler punch head A not fully measured: reach" in out


JUDGED = {"T101", "T303", "T403", "T404", "T501", "T601"}


@pytest.mark.parametrize(
    ("changes", "code", "worst"),
    [
        ({"advance": ".18", "filing_allowance": ".005"}, "T403", "caution"),
        ({"eccentricity": ".05"}, "T404", "unknown"),
        ({"starter": "5 in"}, "T601", "stop"),
        ({"body": "12 in"}, "T501", "stop"),
        ({"behind": "3"}, "T303", "stop"),  # the tube behind the cut moves
    ],
)
def test_the_shelf_says_of_a_cutter_what_the_job_says_of_it(shell, alder_file, shelf, changes, code, worst):
    """`check` of the job with that cutter in it is the other way to the same findings."""
    cutter = tomllib.loads(shelf.read_text(encoding="utf-8"))["cutters"][0] | changes
    lines = "\n".join(f'{key} = "{value}"' for key, value in cutter.items())
    shelf.write_text(f"schema = 1\n[[cutters]]\n{lines}\n", encoding="utf-8")
    status, out, _ = shell("cutters", alder_file, shelf, "--json")
    (told,) = json.loads(out)["tools"]

    job = alder_file.read_text(encoding="utf-8")
    job, count = re.subn(r"(?ms)^\[cutter\]\n.*?(?=^\[)", f"[cutter]\n{lines}\n\n", job)
    assert count == 1
    alder_file.write_text(job, encoding="utf-8")
    checked = json.loads(shell("check", alder_file, "--json")[1])["findings"]
    assert told["findings"] == [finding for finding in checked if finding["code"].startswith("T")]
    found = {finding["code"]: finding["status"] for finding in told["findings"]}
    assert set(found) >= JUDGED - {"T303"}
    assert found[code] == worst == told["worst"]
    assert status == (1 if worst in ("stop", "unknown") else 0)


def test_no_tool_will_do(shell, alder_file, shelf):
    text = shelf.read_text(encoding="utf-8").replace('capacity = ".063"', 'capacity = ".020"')
    shelf.write_text(text, encoding="utf-8")
    assert shell("cutters", alder_file, shelf)[0] == 1


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('name = "large router"', 'name = "punch head A"', "cutters.1.name"),
        ('name = "old shear"', "", "hand_tools.0.name"),
        ('cut_width = ".193"', 'cut_width = "-.193"', "cutters.0.cut_width"),
        ("schema = 1", "schema = 7", "schema"),
        ('kind = "double-cut shear"', 'kind = "axe"', "hand_tools.0.kind"),
    ],
)
def test_faults_are_named(shell, alder_file, shelf, old, new, field):
    shelf.write_text(shelf.read_text(encoding="utf-8").replace(old, new, 1), encoding="utf-8")
    status, out, err = shell("cutters", alder_file, shelf)
    assert (status, out) == (2, "")
    assert field in err
