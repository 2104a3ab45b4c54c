"""The page of proposed layouts: searched beside it, shown once it is there, never of a job that has moved on."""

from __future__ import annotations

import re
from html import unescape

import pytest

from hatchwright.job.file import read_job
from hatchwright.job.text_file import load_text
from hatchwright.workflow.job_folder import version_of
from tests.patience import until
from web.conftest import EXAMPLES, state_of

PAGE = "/job/drawn.toml/propose"


@pytest.fixture
def path(folder):
    """Alder before anything is drilled."""
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    job = folder / "drawn.toml"
    job.write_text(text[: text.index("# What was really made")], encoding="utf-8")
    return job


def found(client, page=PAGE) -> str:
    """What the page shows once the search has ended."""
    state = state_of(client.get(page).content.decode())
    until(lambda: client.get(state).status_code == 200, "the search")
    return client.get(state).content.decode()


def changes_in(html):
    return [unescape(one) for one in re.findall(r'name="changes" value="([^"]*)"', html)]


def test_a_layout_is_entered_by_one_tap_and_taken_back(client, path):
    before = load_text(path)
    shown = found(client)
    assert shown.count('<li aria-labelledby="offer-') == 3
    assert shown.count("<svg") >= 3
    for part in ("Lightest", "Fewest rivets", "Largest clear opening", "Limited by", "Departs in size"):
        assert part in shown
    assert "What was searched, and what that proves" in shown
    # under a mandate another ring is a request: entering it allows nothing, and the page says so beside the button
    assert (
        shown.count("the job stays stopped until")
        == shown.count("Enter this layout as a request</button>")
        == 3
    )
    assert "Enter this layout</button>" not in shown
    posted = {"base": version_of(before), "changes": changes_in(shown)[0]}
    assert client.post(f"{PAGE}/enter", posted).status_code == 302
    job = read_job(load_text(path))
    assert [row.lay for row in job.rows] == ["offset", "offset"]
    assert job.departures.size == "departs"
    client.post("/job/drawn.toml/undo", {"base": version_of(load_text(path)), "way": "back"})
    assert load_text(path) == before


def test_an_answer_of_a_job_that_has_moved_on_is_neither_shown_nor_entered(client, path):
    before = load_text(path)
    shown, state = found(client), state_of(client.get(PAGE).content.decode())
    path.write_text(before.replace('gap = ".030"', 'gap = ".031"'), encoding="utf-8")
    later = client.get(state).content.decode()
    assert "The job has changed since this search" in later
    assert "Enter this layout" not in later
    posted = {"base": version_of(before), "changes": changes_in(shown)[0]}
    assert client.post(f"{PAGE}/enter", posted).status_code == 409
    assert "offset" not in load_text(path)


def test_what_the_wish_says_is_written_and_searched_anew(client, path):
    found(client)
    typed = {"base": version_of(load_text(path)), "job.wish.most_rows": "1", "job.title": "not of the wish"}
    answer = client.post(f"{PAGE}/wish", typed)
    assert (answer.status_code, answer["Location"].endswith("/propose")) == (302, True)
    job = read_job(load_text(path))
    assert job.wish.most_rows == 1
    assert job.title != "not of the wish"
    client.post(f"{PAGE}/wish", {"base": version_of(load_text(path)), "part": "add:wish.rivets"})
    assert "rivets = [" in load_text(path)
    client.post(f"{PAGE}/wish", {"base": version_of(load_text(path)), "part": "take:doubler"})
    assert "[doubler]" in load_text(path)


def test_a_canceled_search_begins_again_when_it_is_asked_for(client, path):
    state = state_of(client.get(PAGE).content.decode())
    client.post(state.replace("/state", "/cancel"))
    shown = client.get(PAGE).content.decode()
    if "Enter this layout" not in shown:  # it may have been done before
        assert "The search was canceled" in shown
        assert client.post(PAGE).status_code == 302
        assert "Enter this layout" in found(client)


def test_why_there_is_none_is_drawn_and_told(client, folder):
    (folder / "birch.toml").write_text(
        (EXAMPLES / "birch.toml").read_text(encoding="utf-8"), encoding="utf-8"
    )
    shown = found(client, "/job/birch.toml/propose")
    assert "No layout keeps all limits" in shown
    # the ring lies on the flanges by .20 on both sides along X, by .05 and .10 along Y: scenario S2, answer 1
    assert sorted(re.findall(r">(\.\d00|\.050)</text>", shown)) == [".050", ".100", ".200", ".200"]
    assert "alternative method of compliance" in shown


def test_what_was_drilled_is_refused_with_its_reason(client, folder):
    assert "made and measured" in found(client, "/job/alder.toml/propose")
