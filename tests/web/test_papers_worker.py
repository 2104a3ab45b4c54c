"""The making of papers as its page sees it: out of the program's own process, dropped with the page, its end told."""

from __future__ import annotations

import asyncio
import multiprocessing
import threading

import pytest

from hatchwright.web.workers import PAPERS
from tests.patience import until, until_async
from web.conftest import at_the_same_time

HTMX = {"HX-Request": "true"}
ADDRESS = "/job/dogwood.toml/papers"


def makings() -> list:
    return [child for child in multiprocessing.active_children() if child.name == "papers"]


@pytest.fixture
def asked(monkeypatch):
    """What was asked of the worker: one entry a question, None until it has its answer, then that answer in a tuple."""
    answers: list = []
    ask = PAPERS.ask

    def noted(*values, **more):
        mine = len(answers)
        answers.append(None)
        answer = ask(*values, **more)
        answers[mine] = (answer,)
        return answer

    monkeypatch.setattr(PAPERS, "ask", noted)
    return answers


def test_a_making_ends_with_its_page(left_when, asked):
    async def leave():
        assert not await left_when(ADDRESS, makings)
        await until_async(lambda: asked[0])

    asyncio.run(leave())
    assert asked == [(None,)]  # ended, not made
    assert not makings()


def test_a_making_whose_page_is_gone_before_its_turn_never_begins(left_when, asked, monkeypatch):
    begun = []
    monkeypatch.setattr(PAPERS, "_started", lambda: begun.append(1))
    with PAPERS.turns.turn():  # somebody else's making
        assert not asyncio.run(left_when(ADDRESS, lambda: asked))
    assert asked == [(None,)]
    assert not begun


def test_papers_asked_for_twice_are_made_one_after_the_other(client, monkeypatch):
    at_once, start = [], PAPERS._started

    def started():
        begun = start()
        at_once.append(len(makings()))  # what overlaps is seen as the later of the two begins
        return begun

    monkeypatch.setattr(PAPERS, "_started", started)
    for answer in at_the_same_time(client, [ADDRESS] * 2, headers=HTMX):
        assert "dogwood_LAYOUT_CENTER_LETTER.pdf" in answer.content.decode()
    assert at_once == [1, 1]
    assert not makings()


def test_a_making_ended_from_outside_is_told_and_the_next_one_works(client):
    def end():
        until(makings)
        makings()[0].kill()

    ending = threading.Thread(target=end)
    ending.start()
    html = client.get(ADDRESS, headers=HTMX).content.decode()
    ending.join()
    assert "Nothing is printed" in html
    assert "The computation was ended from outside, as happens when memory runs short. Try again." in html
    assert "download" not in html
    again = client.get(ADDRESS, headers=HTMX).content.decode()
    assert "dogwood_LAYOUT_CENTER_LETTER.pdf" in again
