"""The code of a sheet: it leads to its job and paper at the shop's own computer, and says nothing anywhere else."""

from __future__ import annotations

import re

import pytest

from hatchwright.drawings.sheet_code import code_of
from web.conftest import site_behind
from web.job_pages import Document

ABOUT = {
    "title": "Inspection opening, lower wing skin between rib 3 and rib 4",
    "side": "LEFT",
    "paper": "annex",
    "sheet": 2,
    "revision": "A",
}


def code(**other):
    return code_of(**{**ABOUT, **other})


def test_a_code_of_the_job_as_it_stands_leads_to_its_paper(client):
    answer = client.get(f"/q/{code().letters}")
    assert answer.status_code == 302
    assert answer["Location"] == "/job/alder.toml/papers#LEFT-ANNEX"
    assert client.get(f"/q/{code(paper='layout').letters}")["Location"] == "/job/alder.toml/"


def test_the_code_of_a_carry_card_leads_to_the_step_that_begins_its_sheet(client):
    for side, step in (("LEFT", 9), ("RIGHT", 12)):
        letters = code(paper="carry_card", side=side, sheet=step).letters
        address, _, place = client.get(f"/q/{letters}")["Location"].partition("#")
        shown = Document(client.get(address).content.decode())
        found = next(one for one in shown.elements if one.attributes.get("id") == place)
        assert (address, found.tag) == (f"/job/alder.toml/steps?side={side.lower()}", "li")
        assert next(one.text for one in shown.elements if one.attributes.get("class") == "side") == side
    assert client.get("/job/alder.toml/steps?side=center")["Location"] == "/job/alder.toml/"


def test_what_is_typed_or_sent_by_a_reader_is_taken_as_well(client):
    for typed in (code().grouped.lower(), f" {code().letters} "):
        first = client.get("/q", {"code": typed})
        assert client.get(first["Location"]).status_code == 302


def test_a_code_of_another_revision_says_so(client, folder):
    answer = client.get(f"/q/{code(revision='B').letters}")
    assert answer.status_code == 200
    said = answer.content.decode()
    assert "The job is at revision A now; this sheet is of another." in said
    assert "LEFT, desk annex, sheet 2." in said


def test_what_no_job_has_and_what_is_no_code_is_told(client):
    for letters, told in ((code(title="Elsewhere").letters, "No job in this folder"), ("%3Cb%3E", "no code")):
        answer = client.get(f"/q/{letters}")
        assert answer.status_code == 404
        assert told in answer.content.decode()
        assert "<b>" not in answer.content.decode()
    assert client.get(client.get("/q")["Location"]).status_code == 404


@pytest.mark.parametrize("letters", [code().letters, code(title="Elsewhere").letters, "x"])
def test_who_was_not_let_in_learns_nothing_from_a_code(outside_client, letters):
    """The same answer whether a job has the sheet or not, and it names none."""
    answer = outside_client.get(f"/q/{letters}")
    assert answer.status_code == 403
    assert "alder" not in answer.content.decode()
    other = outside_client.get("/q/0")
    plain = [re.sub(r"csrf\S+", "", one.content.decode()) for one in (answer, other)]
    assert plain[0] == plain[1]


def test_two_jobs_of_one_title_are_both_shown(client, folder):
    text = (folder / "alder.toml").read_text(encoding="utf-8")
    (folder / "again.toml").write_text(text, encoding="utf-8")
    said = client.get(f"/q/{code().letters}").content.decode()
    assert "Open alder.toml" in said
    assert "Open again.toml" in said
    assert site_behind(client).jobs.names()


def test_a_spoilt_file_keeps_no_code_from_its_job(client, folder):
    (folder / "a.toml").write_text("title = [", encoding="utf-8")
    assert client.get(f"/q/{code().letters}").status_code == 302
