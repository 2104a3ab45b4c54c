"""`hatchwright toolpath`, run as a person runs it."""

from __future__ import annotations

import json

import pytest

from tests.conftest import EXAMPLES

MACHINE = EXAMPLES / "machines" / "machine.toml"


def test_files_for_people(shell, alder_file, tmp_path):
    status, out, _ = shell("toolpath", alder_file, "--machine", MACHINE, "--out", tmp_path / "shop")
    assert status == 1  # two holes of the example are short
    assert "STOP Rivet 6 to opening edge (skin): 1.94D of 2D, .007 short. [R101]" in " ".join(out.split())
    names = sorted(path.name for path in (tmp_path / "shop").iterdir())
    assert len(names) == 6
    assert names[0] == "alder_TOOLPATH_LEFT_1_DRILL_T1_IN.ngc"
    assert "tool 2, end mill .1250 in: holes 0, marks 0, edges 2; .135 in deep" in out
    assert "not approved data" in out


def test_without_an_engraver_it_is_said_that_nothing_is_engraved(shell, alder_file, tmp_path):
    machine = tmp_path / "machine.toml"
    text = MACHINE.read_text(encoding="utf-8")
    start = text.index("[[tools]]\nnumber = 3")
    machine.write_text(text[:start] + text[text.index("[[clamps]]") :], encoding="utf-8")
    status, out, _ = shell("toolpath", alder_file, "--machine", machine, "--out", tmp_path / "shop")
    files = list((tmp_path / "shop").iterdir())
    assert (status, len(files)) == (1, 4)
    assert "Nothing is engraved, the machine file has no engraver" in out
    for path in files:
        assert "(- NOTHING IS ENGRAVED, THE MACHINE FILE HAS NO ENGRAVER: MARK" in path.read_text("ascii")


def test_files_for_programs(shell, alder_file, tmp_path):
    status, out, _ = shell("toolpath", alder_file, "--machine", MACHINE, "--out", tmp_path / "shop", "--json")
    told = json.loads(out)
    assert status == 1
    assert {finding["code"] for finding in told["stops"]} == {"R101", "R915"}
    assert (told["schema"], told["units"], told["is_engraved"]) == (1, "in", True)
    assert {file["name"] for file in told["files"]} == {path.name for path in (tmp_path / "shop").iterdir()}


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"24"', '"11"', "leaves the travel along X"),
        ("schema = 1", "schema = 9", "schema"),
        ('ramp = "5"', 'ramp = "steep"', "line 13, ramp"),
    ],
)
def test_what_is_refused_writes_nothing(shell, alder_file, tmp_path, old, new, words):
    machine = tmp_path / "machine.toml"
    machine.write_text(MACHINE.read_text(encoding="utf-8").replace(old, new, 1), encoding="utf-8")
    status, out, err = shell("toolpath", alder_file, "--machine", machine, "--out", tmp_path / "shop")
    assert (status, out) == (2, "")
    assert "Refused" in err
    assert words in err
    assert not (tmp_path / "shop").exists()


def test_a_missing_machine_file_is_refused(shell, alder_file, tmp_path):
    status, _, err = shell(
        "toolpath", alder_file, "--machine", tmp_path / "no.toml", "--out", tmp_path / "shop"
    )
    assert status == 2
    assert "no such file" in err
