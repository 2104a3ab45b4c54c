"""The ways out on the page: asked for beside a line, entered by one tap, taken back by another."""

from __future__ import annotations

import re
from html import unescape

import pytest

from hatchwright.job.file import read_job
from hatchwright.job.text_file import load_text
from hatchwright.page.ways_out import line_name
from hatchwright.workflow.examine import examine
from hatchwright.workflow.job_folder import version_of

JOB = "/job/alder.toml"


@pytest.fixture
def path(folder):
    return folder / "alder.toml"


def ask(client, path, hole):
    """The ways out of the line whose first hole this is."""
    text = load_text(path)
    found = examine(read_job(text), with_strength=False)
    name = next(line_name(one) for one in found.verdict.open_lines if line_name(one).hole == hole)
    query = {"version": version_of(text), "code": name.code, "cause": name.cause, "hole": hole}
    return client.get(f"{JOB}/ways", query)


def forms(answer):
    return re.findall(r'name="changes" value="([^"]*)"', answer.content.decode())


def take(client, path, changes):
    return client.post(f"{JOB}/way", {"base": version_of(load_text(path)), "changes": changes})


def test_a_way_out_is_entered_by_one_tap_and_taken_back(client, path):
    before = load_text(path)
    answer = ask(client, path, 15)
    told = answer.content.decode()
    assert "side X+, 9.000 to 9.015" in told
    assert "alternative method of compliance" in told
    changes = unescape(forms(answer)[-1])
    assert take(client, path, changes).status_code == 302
    entered = read_job(load_text(path))
    assert entered.doubler.outer.width.text == "7.015"
    assert entered.departures.size == "departs"
    page = client.get(f"{JOB}/").content.decode()
    assert "Take it back" in page
    client.post(f"{JOB}/undo", {"base": version_of(load_text(path)), "way": "back"})
    assert load_text(path) == before
    assert "Take it back" not in client.get(f"{JOB}/").content.decode()


def test_every_deviation_ends_at_the_design_approval_holder(client, path):
    for hole in (4, 6, 15):
        answer = ask(client, path, hole)
        assert "design approval holder" in re.findall(r"<li>.*?</li>", answer.content.decode(), re.DOTALL)[-1]
    assert forms(ask(client, path, 6)) == []


def test_what_is_no_way_out_is_refused_and_nothing_is_lost(client, path):
    before = load_text(path)
    for changes in (
        "",
        "{",
        '{"entries":[],"parts":[{"field":"rows.99","new":{}}]}',
        '{"entries":3,"parts":[]}',
    ):
        assert take(client, path, changes).status_code == 409
    unsound = '{"entries":[{"field":"doubler.outer.width","old":"","new":"-3"}],"parts":[]}'
    assert take(client, path, unsound).status_code == 409
    assert load_text(path) == before


def test_a_line_that_is_gone_answers_nothing(client, path):
    query = {"version": version_of(load_text(path)), "code": "R101", "cause": "no edge", "hole": 6}
    assert client.get(f"{JOB}/ways", query).status_code == 204
    assert client.get(f"{JOB}/ways", {**query, "version": "old"}).status_code == 204
