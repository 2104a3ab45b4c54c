"""`hatchwright balance` as a person runs it: both wings of an aircraft, by the pattern and by jobs of their own."""

from __future__ import annotations

import json
import re
import shutil

import pypdfium2
import pytest

from hatchwright.documents.balance_sheet import BLANKS
from hatchwright.said import said
from hatchwright.words.tell import tell
from tests.conftest import EXAMPLES

FLEET = """
schema = 1
title = "Inspection opening, both wings"
pattern = "alder.toml"

[balance]
datum = "front face of the firewall"
job_arm = "93.0"
mean_chord = "58.0"
power = "165"

[[balance.limits]]
weight = "2400"
forward = "82.0"
aft = "94.0"

[[balance.loading]]
name = "pilot"
kind = "crew"
arm = "85"
most = "170"
least = "170"

[[balance.loading]]
name = "rear seats"
kind = "passengers"
arm = "118"
most = "340"
each = "170"

[[balance.loading]]
name = "fuel"
kind = "fuel"
arm = "95"
volume = "40 gal"

[[aircraft]]
registration = "N101HW"
serial = "101"

[aircraft.weight]
empty_weight = "1438.0"
empty_arm = "85.6"

[[aircraft.weight.equipment]]
name = "battery"
weight = "24"
arm = "20"

[[aircraft.lines]]
side = "left"

[[aircraft.lines]]
side = "right"

[[aircraft]]
registration = "N102HW"
serial = "102"
"""


@pytest.fixture
def fleet(tmp_path):
    shutil.copy(EXAMPLES / "alder.toml", tmp_path)
    path = tmp_path / "wings.fleet"
    path.write_text(FLEET, encoding="utf-8")
    return path


def test_both_wings_are_added_up_and_judged(shell, fleet):
    status, out, _ = shell("balance", fleet, "--aircraft", "N101HW", "--json")
    told = json.loads(out)
    (aircraft,) = told["aircraft"]
    balance = aircraft["balance"]
    assert (status, told["status"], aircraft["planned_sides"]) == (0, "caution", ["left", "right"])
    parts = [part for change in balance["changes"] for part in change["parts"]]
    assert [change["side"] for change in balance["changes"]] == ["left", "right"]
    weight_lb = 1438.0 + sum(part["weight_lb"] for part in parts)
    moment_lb_in = 1438.0 * 85.6 + sum(part["weight_lb"] * part["arm_in"] for part in parts)
    assert balance["after"]["weight_lb"] == pytest.approx(weight_lb)
    assert balance["after"]["arm_in"] == pytest.approx(moment_lb_in / weight_lb)
    names = [case["name"] for case in balance["cases"]]
    assert names == ["forward", "aft", "fuel", "passengers"]
    assert not balance["is_negligible"]  # weights rest on a density from memory


def test_an_aircraft_without_a_weight_is_not_shown(shell, fleet):
    status, out, _ = shell("balance", fleet)
    assert status == 1
    assert "N102HW: NOT SHOWN" in out
    assert "No weight was entered" in out


def test_nothing_is_called_negligible_where_nothing_changes(shell, fleet):
    weighed = 'weight = { empty_weight = "1438.0", empty_arm = "85.6" }'
    fleet.write_text(f"{FLEET.rstrip()}\n{weighed}\n", encoding="utf-8")
    _, out, _ = shell("balance", fleet, "--aircraft", "N102HW")
    assert "Nothing is entered that changes this aircraft" in out
    assert "negligible" not in out
    assert "change of the empty weight" not in out


def test_a_job_of_its_own_counts_in_the_place_of_the_pattern(shell, fleet):
    text = (fleet.parent / "alder.toml").read_text(encoding="utf-8")
    thick = text.replace('thickness = ".040"', 'thickness = ".080"', 1)
    assert thick != text
    thick = thick.replace('registration = "', 'registration = "N101HW" # "', 1)
    (fleet.parent / "own.toml").write_text(thick, encoding="utf-8")
    fleet.write_text(FLEET.replace('side = "left"', 'side = "left"\njob = "own.toml"'), encoding="utf-8")
    _, out, _ = shell("balance", fleet, "--aircraft", "N101HW", "--json")
    (aircraft,) = json.loads(out)["aircraft"]
    left, right = (
        next(part["weight_lb"] for part in change["parts"] if part["name"] == "doubler")
        for change in aircraft["balance"]["changes"]
    )
    assert aircraft["planned_sides"] == ["right"]
    assert left == pytest.approx(2.0 * right)


@pytest.mark.parametrize(
    ("was", "now"), [('side = "left"', 'side = "right"'), ('registration = "', 'registration = "N999HW" # "')]
)
def test_a_job_of_another_side_or_aircraft_is_refused(shell, fleet, was, now):
    text = (fleet.parent / "alder.toml").read_text(encoding="utf-8")
    own = text.replace('registration = "', 'registration = "N101HW" # "', 1) if "side" in was else text
    (fleet.parent / "own.toml").write_text(own.replace(was, now, 1), encoding="utf-8")
    fleet.write_text(FLEET.replace('side = "left"', 'side = "left"\njob = "own.toml"'), encoding="utf-8")
    status, _, err = shell("balance", fleet, "--aircraft", "N101HW")
    assert (status, "of another aircraft or side" in err) == (2, True)


def test_the_sheet_of_each_side_has_its_figures_and_its_blanks(shell, fleet, tmp_path):
    """Read back: a draft with blanks, which claims nothing but that it is a calculation aid."""
    status, out, err = shell("balance", fleet, "--aircraft", "N101HW", "--out", tmp_path / "papers")
    assert (status, err) == (0, "")
    names = [line.rpartition("/")[2] for line in out.splitlines() if line.endswith(".pdf")]
    assert names == ["N101HW_LEFT_BALANCE_LETTER.pdf", "N101HW_RIGHT_BALANCE_LETTER.pdf"]
    for name, side in zip(names, ("LEFT", "RIGHT"), strict=True):
        with pypdfium2.PdfDocument(tmp_path / "papers" / name) as pdf:
            text = " ".join(" ".join(page.get_textpage().get_text_range() for page in pdf).split())
        assert side in text.split()
        assert all(tell(said(f"balance.blank.{one}")) in text for one in BLANKS)
        assert {"DRAFT", "battery", "1,438", "97.500"} <= set(re.findall(r"[\w,.]+\w", text))
        assert not re.search(r"airworthy|compl(y|ies|iance)|certified|(?<!NOT )APPROVED", text, re.IGNORECASE)


@pytest.mark.parametrize(
    ("wrong", "said_of_it"),
    [
        (('[balance]\ndatum = "front face of the firewall"', "[other]"), "unknown key"),
        (('arm = "20"', 'arm = "1e99"'), "aircraft.0.weight.equipment.0.arm"),
        (('volume = "40 gal"', 'volume = "5 gal"'), "the least is more than the most"),
        (('empty_weight = "1438.0"', 'empty_weight = "0"'), "aircraft.0.weight.empty_weight"),
        (('pattern = "alder.toml"', 'pattern = "../alder.toml"'), "pattern"),
        (('pattern = "alder.toml"', 'pattern = "gone.toml"'), "gone.toml"),
    ],
)
def test_what_is_wrong_is_refused_with_its_reason(shell, fleet, wrong, said_of_it):
    fleet.write_text(FLEET.replace(*wrong), encoding="utf-8")
    status, out, err = shell("balance", fleet)
    assert (status, out) == (2, "")
    assert said_of_it in err


def test_a_fleet_without_balance_and_an_aircraft_that_is_not_there_are_refused(shell, fleet):
    assert shell("balance", fleet, "--aircraft", "../N9")[0] == 2
    start, end = FLEET.index("[balance]"), FLEET.index("[[aircraft]]")
    fleet.write_text(FLEET[:start] + FLEET[end:], encoding="utf-8")
    status, _, err = shell("balance", fleet)
    assert (status, "no weight and balance" in err) == (2, True)
