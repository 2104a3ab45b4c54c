"""The making of papers as its page sees it: beside the program's own process, found again by a page that is reloaded,
ended by who cancels it or when nobody asks for it, and told when it fails or its job moves on."""

from __future__ import annotations

import multiprocessing
import re
import threading
from html import unescape

import pytest

from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.errors import JobError
from hatchwright.page.made_papers import MadePapers
from hatchwright.web import downloads, long_work
from hatchwright.web.workers import PAPERS
from tests.patience import until
from web.conftest import papers_of, site_behind, state_of

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


def act(client, what: str, page: str) -> str:
    """Press the button of a page of papers that cancels or begins again, and read the page that follows."""
    query = state_of(page).partition("?")[2]
    return client.post(f"{ADDRESS}/{what}?{query}", follow=True).content.decode()


def test_a_making_goes_on_while_its_page_is_reloaded_and_tells_how_far_it_is(client, asked):
    page = client.get(ADDRESS).content.decode()
    until(makings)
    process = makings()[0].pid
    again = client.get(ADDRESS).content.decode()
    assert "Creating the print package" in again
    assert [one.pid for one in makings()] in ([process], [])
    told = []

    def is_done() -> bool:
        answer = client.get(state_of(page))
        told.append(answer.content.decode())
        return answer.status_code == 200

    until(is_done)
    assert len(asked) == 1
    shares = [float(share) for one in told for share in re.findall(r'<progress max="1" value="([^"]+)"', one)]
    assert shares == sorted(shares)
    assert 0.0 <= shares[0] <= shares[-1] < 1.0
    for page in (told[-1], client.get(ADDRESS).content.decode()):
        assert "dogwood_PRINT_CENTER_LETTER.pdf" in page
    assert len(asked) == 1  # a page that comes later shows what was made
    assert not makings()


def test_who_cancels_ends_the_process_and_may_begin_again(client, asked):
    page = client.get(ADDRESS).content.decode()
    until(makings)
    canceled = act(client, "cancel", page)
    until(lambda: asked[0])
    assert asked == [(None,)]
    assert not makings()
    for shown in (canceled, client.get(ADDRESS).content.decode()):  # and a reload begins nothing
        assert "Canceled: nothing was created." in shown
    assert len(asked) == 1
    begun = act(client, "again", page)
    assert "Creating the print package" in begun
    until(lambda: len(asked) == 2)
    act(client, "cancel", page)
    until(lambda: asked[1])
    by_the_first_button = client.get(f"{ADDRESS}{'&' if '?' in ADDRESS else '?'}create=yes", follow=True)
    assert "Creating the print package" in by_the_first_button.content.decode()
    assert "create" not in by_the_first_button.request["QUERY_STRING"]  # so that a reload begins nothing
    until(lambda: len(asked) == 3)
    act(client, "cancel", page)
    until(lambda: asked[2])


def test_a_making_that_waits_for_its_turn_says_so_and_never_begins_once_canceled(client, asked, monkeypatch):
    begun = []
    monkeypatch.setattr(PAPERS, "_started", lambda: begun.append(1))
    with PAPERS.turns.turn():  # somebody else's making
        page = client.get(ADDRESS).content.decode()
        assert "Waiting for its turn" in page
        act(client, "cancel", page)
        until(lambda: asked and asked[0])
    assert asked == [(None,)]
    assert not begun


def test_a_making_that_nobody_asks_for_ends(client, asked, monkeypatch):
    monkeypatch.setattr(long_work, "KEPT_S", -1.0)
    state = state_of(client.get(ADDRESS).content.decode())
    until(lambda: asked and asked[0])
    assert asked == [(None,)]
    assert not makings()
    until(lambda: client.get(state).status_code == 200)
    assert "out of touch for over a minute, as when the computer sleeps" in client.get(state).content.decode()


def test_a_making_ended_from_outside_is_told_and_can_be_begun_again(client, asked):
    def end():
        until(makings)
        makings()[0].kill()

    ending = threading.Thread(target=end)
    ending.start()
    html = papers_of(client, ADDRESS)
    ending.join()
    assert "Nothing is printed" in html
    assert "The computation was ended from outside, as happens when memory runs short. Try again." in html
    assert "download" not in html
    page = client.get(ADDRESS).content.decode()
    assert "The computation was ended from outside" in page
    assert "Creating the print package" in act(client, "again", page)
    act(client, "cancel", page)
    until(lambda: len(asked) == 2 and asked[1])


@pytest.fixture
def quickly(monkeypatch):
    """Papers without a sheet, made at once; how often is counted."""
    count = []
    bundle = MadeFile("dogwood.zip", MadeKind.ALL_IN_ONE, "", False, Written.ZIP, b"zip")

    def made(asked, work, *, stamp, choice):
        count.append(asked)
        return MadePapers("a job", "A", "in", (), ()), (bundle,)

    monkeypatch.setattr(downloads, "papers_for_page", made)
    return count


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        (
            b"title = ",
            "DO NOT USE: the job, or a file that it uses, was changed after these sheets were created.",
        ),  # half written
        (b"\xff\xfe", "DO NOT USE: the job file cannot be read now ("),
        (None, "DO NOT USE: the job file cannot be read now ("),
    ],
)
def test_a_job_that_changes_beneath_its_papers_is_told_and_nothing_is_lost(
    client, folder, quickly, changed, told
):
    page = client.get(ADDRESS).content.decode()
    html = papers_of(client, ADDRESS)
    assert "DO NOT USE" not in html
    held = (folder / "dogwood.toml").read_bytes()
    (folder / "dogwood.toml").unlink() if changed is None else (folder / "dogwood.toml").write_bytes(changed)
    shown = unescape(client.get(state_of(page)).content.decode())
    assert told in shown
    assert "Create again" in shown
    file = shown.partition("papers/")[2]
    assert "dogwood.zip" in file
    assert len(quickly) == 1
    (folder / "dogwood.toml").write_bytes(held)
    assert "DO NOT USE" not in client.get(state_of(page)).content.decode()
    (folder / "dogwood.toml").write_bytes(held + b"\n# another state\n")
    papers_of(client, ADDRESS)
    assert len(quickly) == 2  # a page that comes anew gets the papers of the job as it stands


@pytest.mark.parametrize(("file", "query"), [("machines/bench.toml", "?machine=bench.toml"), ("cut.dxf", "")])
def test_papers_are_of_the_machine_and_the_outlines_beside_the_job_too(client, folder, quickly, file, query):
    with (folder / "dogwood.toml").open("a", encoding="utf-8") as job:
        job.write('\n[another]\nfile = "cut.dxf"\n')
    (folder / "machines").mkdir()
    (folder / file).write_text("feed 10")
    page = client.get(f"{ADDRESS}{query}").content.decode()
    papers_of(client, f"{ADDRESS}{query}")
    assert len(quickly) == 1
    for content in ("feed 99", None):
        (folder / file).unlink() if content is None else (folder / file).write_text(content)
        assert "DO NOT USE: the job, or a file that it uses," in client.get(state_of(page)).content.decode()
        papers_of(client, f"{ADDRESS}{query}")
    assert len(quickly) == 3  # a page that comes anew gets papers of the files as they stand
    (folder / file).write_text("feed 10")
    assert "DO NOT USE" not in client.get(state_of(page)).content.decode()


def test_a_finished_set_can_be_created_again(client, quickly):
    page = client.get(ADDRESS).content.decode()
    assert "Create again" in papers_of(client, ADDRESS)
    act(client, "again", page)
    papers_of(client, ADDRESS)
    assert len(quickly) == 2


def test_papers_of_a_job_that_was_not_sound_are_tried_again(client, folder, monkeypatch):
    """By hand, and by a page that comes after the file that was missing is there."""
    tried = []

    def refused(asked, work, **how):
        tried.append(asked)
        raise JobError.about("opening.file", "error.title_file", "cut.dxf")

    monkeypatch.setattr(downloads, "papers_for_page", refused)
    with (folder / "dogwood.toml").open("a", encoding="utf-8") as job:
        job.write('\n[another]\nfile = "cut.dxf"\n')
    page = client.get(ADDRESS).content.decode()
    assert "Try again" in papers_of(client, ADDRESS)
    act(client, "again", page)
    papers_of(client, ADDRESS)
    assert len(tried) == 2
    (folder / "cut.dxf").write_text("put back")
    papers_of(client, ADDRESS)
    assert len(tried) == 3


def test_no_link_leads_to_files_that_are_kept_no_longer(client, quickly):
    state = state_of(client.get(ADDRESS).content.decode())
    assert "dogwood.zip" in papers_of(client, ADDRESS)
    for other in range(6):  # sets of other makings
        site_behind(client).made.put(str(other), ())
    shown = client.get(state).content.decode()
    assert "not kept any more" in shown
    assert "dogwood.zip" not in shown


def test_papers_that_are_kept_no_longer_are_told_and_made_anew(client, quickly):
    page = client.get(ADDRESS).content.decode()
    assert "not kept any more" in client.get(state_of(page).replace("version=", "version=0")).content.decode()
    papers_of(client, ADDRESS)
    for paper in ("a4", "11x17"):
        for bar in ("6.0", "6.01", "6.02"):  # more than are kept
            papers_of(client, f"{ADDRESS}?paper={paper}&bar_short={bar}")
    assert len(quickly) == 7
    assert "not kept any more" in client.get(state_of(page)).content.decode()
    papers_of(client, ADDRESS)
    assert len(quickly) == 8
