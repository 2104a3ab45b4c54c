"""The page of a survey without a browser: the ways to it, its papers, a line added, and what is typed meanwhile."""

from __future__ import annotations

import tomllib

import pytest

from hatchwright.drawings.sheet_code import code_of
from hatchwright.workflow.job_folder import version_of
from tests.drawings.test_site_view import SURVEY

TITLE = "Inspection opening, lower wing skin between rib 3 and rib 4"


@pytest.fixture
def surveyed(folder):
    path = folder / "alder.toml"
    path.write_text(path.read_text(encoding="utf-8") + SURVEY, encoding="utf-8")
    return path


def base(path) -> str:
    return version_of(path.read_text(encoding="utf-8"))


def test_the_list_of_jobs_and_each_job_lead_to_it(client):
    start = client.get("/").content.decode()
    assert "Start from a survey" in start
    assert 'href="/survey-sheet?paper=letter"' in start
    assert 'href="/job/alder.toml/site"' in client.get("/job/alder.toml/").content.decode()


def test_a_new_job_may_open_at_its_survey(client):
    asked = client.get("/new?kind=clip-nuts&then=survey").content.decode()
    assert 'name="then" value="survey"' in asked
    answer = client.post("/new", {"kind": "clip-nuts", "then": "survey", "title": "Drain access"})
    assert answer["Location"].endswith("/site")


def test_the_empty_sheet_and_the_papers_of_a_survey_are_handed_out(client, surveyed):
    for address in (
        "/survey-sheet?paper=a4",
        "/job/alder.toml/site/paper/sheet",
        "/job/alder.toml/site/paper/drawing",
    ):
        answer = client.get(address)
        assert answer["Content-Type"] == "application/pdf"
        assert answer.content.startswith(b"%PDF")
    assert client.get("/job/alder.toml/site/paper/none").status_code == 404
    assert client.get("/job/dogwood.toml/site/paper/drawing").status_code == 404


def test_a_line_is_added_and_what_was_typed_meanwhile_goes_in_too(client, surveyed):
    posted = {"part": "add:site.flanges", "base": base(surveyed), "job.site.rows.1.x": "8.05"}
    answer = client.post("/job/alder.toml/site/part", posted)
    assert answer["Location"] == "/job/alder.toml/site?at=site.flanges.0"
    site = tomllib.loads(surveyed.read_text(encoding="utf-8"))["site"]
    assert site["rows"][1]["x"] == "8.05"
    assert len(site["flanges"]) == 1
    faulty = client.get("/job/alder.toml/site").content.decode()
    assert "Correct these readings first" in faulty


def test_another_page_is_not_written_over(client, surveyed):
    posted = {"base": "0" * 20, "job.site.u": ".05"}
    answer = client.post("/job/alder.toml/site/entries", posted, headers={"HX-Request": "true"})
    assert answer.status_code == 409
    assert tomllib.loads(surveyed.read_text(encoding="utf-8"))["site"]["u"] == ".03"


def test_another_job_is_set_beside(client, surveyed):
    shown = client.get("/job/alder.toml/site?beside=dogwood.toml").content.decode()
    assert "This job holds no site survey" in shown


def test_the_code_of_a_survey_sheet_leads_to_the_survey(client, surveyed):
    code = code_of(title=TITLE, side="LEFT", revision="A", paper="survey_sheet", sheet=1)
    assert client.get(f"/q/{code.letters}")["Location"] == "/job/alder.toml/site"


def test_rows_pasted_into_the_survey_lead_back_to_it(client, surveyed):
    page = client.get("/job/alder.toml/site").content.decode()
    assert "paste?list=site.tapes" in page
    paste = client.get("/job/alder.toml/paste?list=site.tapes").content.decode()
    assert paste.count('href="/job/alder.toml/site?at=site.tapes">Back to the survey</a>') == 2
    assert "Back to the job" not in paste
    other = client.get("/job/alder.toml/paste?list=bay.existing").content.decode()
    assert other.count('href="/job/alder.toml/?at=bay.existing">Back to the job</a>') == 2


def test_the_other_side_stays_beside_while_readings_are_typed(client, folder, surveyed):
    text = surveyed.read_text(encoding="utf-8").replace('side = "left"', 'side = "right"')
    (folder / "right.toml").write_text(text, encoding="utf-8")
    page = client.get("/job/alder.toml/site?beside=right.toml").content.decode()
    assert 'name="beside" value="right.toml"' in page
    posted = {"base": base(surveyed), "beside": "right.toml", "job.site.rows.1.x": "8.05"}
    answer = client.post(
        "/job/alder.toml/site/entries", posted, headers={"HX-Request": "true"}
    ).content.decode()
    assert "LEFT beside RIGHT" in answer
    assert "<option selected>right.toml</option>" in answer


def test_all_six_lengths_between_the_corners_are_at_hand_and_empty_ones_too(client, folder):
    path = folder / "dogwood.toml"
    text = path.read_text(encoding="utf-8") + '\n[site]\nu = ".03"\n[site.corners]\nab = "9"\n'
    path.write_text(text, encoding="utf-8")
    page = client.get("/job/dogwood.toml/site").content.decode()
    leg = page[page.index('id="s-site-corners"') :]
    at_hand = leg[: leg.index("<details")]
    for name in ("ab", "bc", "cd", "da", "ac", "bd"):
        assert f'name="job.site.corners.{name}"' in at_hand
