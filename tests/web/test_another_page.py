"""A new job from one that there is, on the page."""

from __future__ import annotations

import pytest

from hatchwright.job.file import read_job
from hatchwright.workflow.job_folder import JobFolder
from web.conftest import listed
from web.job_pages import Document, JobPage


def test_each_line_of_the_list_leads_to_it(client):
    links = Document(listed(client)).by_class("another-link")
    assert [link.attributes["href"] for link in links] == [
        "/job/alder.toml/another",
        "/job/dogwood.toml/another",
    ]


@pytest.mark.parametrize(
    ("way", "side", "registration"), [("side", "right", "EXAMPLE-1"), ("aircraft", "left", "")]
)
def test_it_is_written_beside_the_first_and_opened(client, folder, way, side, registration):
    before = (folder / "alder.toml").read_bytes()
    page = Document(client.get("/job/alder.toml/another").content.decode())
    title = page.by_id("another-title").attributes["value"]
    answer = client.post("/job/alder.toml/another", {"way": way, "title": f"{title} again"})
    assert answer.status_code == 302
    name = answer.headers["Location"].split("/")[2]
    job = read_job((folder / name).read_text(encoding="utf-8"))
    assert (job.aircraft.side, job.aircraft.registration) == (side, registration)
    assert JobPage.opened(client, name).data("sound") == "yes"
    assert (folder / "alder.toml").read_bytes() == before


def test_on_the_center_line_only_another_aircraft_is_offered(client):
    page = Document(client.get("/job/dogwood.toml/another").content.decode())
    ways = [one.attributes["value"] for one in page.elements if one.attributes.get("name") == "way"]
    assert ways == ["aircraft"]


def test_a_title_that_is_there_is_refused_and_what_is_no_job_is_told(client, folder):
    answer = client.post("/job/alder.toml/another", {"way": "side", "title": "Alder"})
    assert answer.status_code == 400
    (folder / "broken.toml").write_text("[[[", encoding="utf-8")
    assert client.get("/job/broken.toml/another").headers["Location"] == "/job/broken.toml/text"
    assert client.get("/job/none.toml/another").status_code == 404


def test_a_title_as_long_as_may_be_gets_a_number_that_shows_in_its_file(client, folder):
    """It is cut before the number: a file name holds 100 letters of a title."""
    long = "inspection opening " * 10
    text = (folder / "alder.toml").read_text(encoding="utf-8")
    jobs = JobFolder(folder)
    names = [jobs.new(jobs.free_title(long.strip()), text) for _ in range(3)]
    assert len(set(names)) == 3
    assert client.get(f"/job/{names[0]}/another").status_code == 200
