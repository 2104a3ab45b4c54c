"""The clock of the machine is set back while a page is open: nothing depends on time that goes forward."""

from __future__ import annotations

import os
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from hatchwright.web import downloads, job_page
from hatchwright.web.workers import bundle_name
from web.conftest import papers_of
from web.job_pages import Document, JobPage

BEFORE_ZIP = datetime(1970, 1, 2, tzinfo=UTC)
"""What a machine says whose battery is empty; files in an archive bear no time before 1980."""


@pytest.fixture
def clock(monkeypatch):
    """The time of this machine, which the test sets."""

    class Clock(datetime):
        shown = datetime.now(UTC)

        @classmethod
        def now(cls, tz=None):
            return cls.shown.astimezone(tz)

    for module in (downloads, job_page):
        monkeypatch.setattr(module, "datetime", Clock)
    monkeypatch.setattr(time, "time", lambda: Clock.shown.timestamp())
    return Clock


def age(folder: Path, when: datetime) -> None:
    """All files in a folder are as old as the clock now says."""
    for path in folder.rglob("*"):
        os.utime(path, (when.timestamp(), when.timestamp()))


@pytest.mark.parametrize("back", [timedelta(minutes=10), timedelta(days=400)])
def test_entries_undo_and_session_go_on(client, folder, clock, back):
    page = JobPage.opened(client)
    for k, title in enumerate(("first", "second", "third")):
        clock.shown -= back
        page.step = k
        assert page.type("title", title).status_code == 200
        assert page.data("saved") == clock.now().strftime("%H:%M:%S")
        age(folder, clock.shown)
    for title in ("second", "first"):
        clock.shown -= back
        form = {"way": "back", "base": page.data("version")}
        assert client.post("/job/alder.toml/undo", form).status_code == 302
        page = JobPage.opened(client)
        assert Document(page.html).by_id("f-title").attributes["value"] == title
    clock.shown += timedelta(days=3000)  # and it is put right again
    assert JobPage.opened(client).type("title", "last").status_code == 200


def test_papers_bear_the_time_that_the_clock_shows(client, clock):
    clock.shown = BEFORE_ZIP
    html = papers_of(client, "/job/dogwood.toml/papers")
    assert clock.now().astimezone().strftime("%Y-%m-%d %H:%M") in html
    (bundle,) = [
        one.attributes["href"]
        for one in Document(html).elements
        if (one.attributes.get("href") or "").endswith(bundle_name("dogwood.toml"))
    ]
    assert client.get(bundle).content.startswith(b"PK")
