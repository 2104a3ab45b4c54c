"""The drawing is made while the job is written: neither waits for the other, and the answer for both."""

from __future__ import annotations

import threading

import pytest

from hatchwright.errors import JobError
from hatchwright.web import job_page
from hatchwright.web.meanwhile import Meanwhile
from hatchwright.workflow import job_folder
from tests.patience import PATIENCE_S
from tests.web.job_pages import JobPage


def test_the_drawing_of_an_entry_is_begun_before_the_file_is_written(client, monkeypatch):
    page = JobPage.opened(client)
    begun, real_screen, real_save = threading.Event(), job_page.screen, job_folder.save_text
    seen = []

    def screen(*asked, **how):
        begun.set()
        return real_screen(*asked, **how)

    def save(path, text):
        seen.append(begun.wait(PATIENCE_S if not seen else 0))
        real_save(path, text)

    monkeypatch.setattr(job_page, "screen", screen)
    monkeypatch.setattr(job_folder, "save_text", save)
    page.type("opening.radius", ".8")
    assert seen == [True]


def test_what_was_written_is_what_is_shown():
    made = []
    drawing = Meanwhile(lambda text: made.append(text) or text.upper())
    assert drawing.begin("a") == "a"
    assert drawing.of("a") == "A"
    assert drawing.of("b") == "B"  # a newer entry was there already
    assert sorted(made) == ["a", "b"]


def test_what_goes_wrong_is_told_by_who_asks():
    def refused(text):
        raise JobError.about("title", "error.title_file", text)

    drawing = Meanwhile(refused)
    drawing.begin("a")
    with pytest.raises(JobError):
        drawing.of("a")
