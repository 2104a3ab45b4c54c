"""`hatchwright strength`: the gate first, a table and JSON, and nothing about strength without loads."""

from __future__ import annotations

import json
import re

import pytest

from hatchwright.job.file import load_job
from hatchwright.layout.lay_out import lay_out
from tests.conftest import EXAMPLES

RESTORE = '\n[loads]\nbasis = "restore"\n'
CLAIMS = ("margin", "MS", "lbf", "carry", "Ftu")
WORDS = ("approved data", "airworthy", "certified", "compliant")


@pytest.fixture(scope="module")
def restored(tmp_path_factory, alder_text):
    path = tmp_path_factory.mktemp("restored") / "alder.toml"
    text = alder_text if "[loads]" in alder_text else alder_text + RESTORE
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def told(restored, shell):
    """Exit status and what is printed for programs."""
    status, out, _ = shell("strength", restored, "--json")
    return status, json.loads(out)


@pytest.fixture
def unloaded(tmp_path, alder_text):
    path = tmp_path / "unloaded.toml"
    start = alder_text.find("\n[loads")
    path.write_text(alder_text if start < 0 else alder_text[:start] + "\n", encoding="utf-8")
    return path


def test_the_gate_comes_first_and_the_worst_margin_after_it(restored, shell):
    status, out, _ = shell("strength", restored, "--hand-only")
    assert status == 1
    assert out.index("Before anything else") < out.index("Loads: restore") < out.index("Margins of safety")
    assert "STOP" in out
    assert "NOT SHOWN" in out
    assert "Not analyzed" in out
    assert "not approved data" in out


def test_json_has_the_documented_form(restored, told):
    status, report = told
    assert status == 1
    page = (EXAMPLES.parent / "docs" / "strength-json.md").read_text(encoding="utf-8")
    for key in (
        *report,
        *report["margins"][0],
        *report["elements"],
        *report["elements"]["cases"][0],
        *report["summary"],
    ):
        assert f"`{key}`" in page, key
    ratios = [margin["margin"] for margin in report["margins"] if margin["margin"] is not None]
    assert ratios == sorted(ratios)
    steps = report["margins"][0]["working"]
    assert {"formula", "note", "reading", "values", "result", "source", "grade"} == set(steps[0])
    assert report["elements"]["panel"].startswith("bay of 11.000 in x 9.000 in")
    rivets = lay_out(load_job(restored)).holes_of("rivet")
    assert [rivet["hole"] for rivet in report["elements"]["cases"][0]["rivets"]] == [
        hole.number for hole in rivets
    ]


def test_no_loads_no_claim_in_any_output(unloaded, shell):
    status, out, _ = shell("strength", unloaded)
    assert "no strength result" in out
    for word in CLAIMS:
        assert word not in out, word
    status, out, _ = shell("strength", unloaded, "--json")
    report = json.loads(out)
    assert report["basis"] == "none"
    assert (report["margins"], report["findings"], report["inputs"], report["elements"]) == ([], [], [], None)
    assert status in (0, 1)


def test_missing_rivets_are_left_out(restored, shell):
    _, out, _ = shell("strength", restored, "--json", "--missing", "4,17")
    rivets = json.loads(out)["elements"]["cases"][0]["rivets"]
    assert {4, 17}.isdisjoint(rivet["hole"] for rivet in rivets)


@pytest.mark.parametrize(
    ("missing", "said"), [("four", "'four' is not a rivet number"), ("900", "there is no rivet 900")]
)
def test_a_wrong_number_is_refused(restored, shell, missing, said):
    status, out, err = shell("strength", restored, "--missing", missing)
    assert status == 2
    assert said in err
    assert out == ""


def test_no_word_of_the_tables_is_cut_short_at_80_columns(restored, told, shell):
    """To restore, all margins are worked by hand; with the elements more is printed below them."""
    margins = told[1]["margins"]
    short = [margin for margin in margins if margin["status"] == "stop"]
    assert 0 < len(short) < len(margins)
    for more, shown in ((("--hand-only",), short), (("--all",), margins)):
        _, out, _ = shell("strength", restored, *more, columns=80)
        assert "…" not in out
        assert max(map(len, out.splitlines())) <= 80
        said = " ".join(out.replace("│", " ").split())
        for margin in shown:
            assert margin["subject"] in said
            assert margin["advice"] in said


def test_amounts_are_written_without_powers_of_ten(restored, shell):
    """The skin of the job carries thousands of pounds; only the working keeps its bare figures."""
    _, out, _ = shell("strength", restored, "--hand-only")
    assert not re.search(r"\de[+-]\d", out)
    assert re.search(r"allowable \d{1,3},\d{3} lbf", out)


def test_no_word_of_approval(restored, shell):
    _, out, _ = shell("strength", restored, "--all", "--hand-only")
    text = out.lower().replace("not approved data", "")
    assert not [word for word in WORDS if word in text]
