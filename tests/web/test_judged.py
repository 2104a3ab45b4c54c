"""The findings come after the drawing; none is lost, and a late answer never covers a newer one."""

from __future__ import annotations

import asyncio
import multiprocessing
import pickle
import re
from concurrent.futures import ThreadPoolExecutor

import pytest

from hatchwright.job.file import load_job
from hatchwright.page.screen import Asked, Look, screen
from hatchwright.web.workers import FINDINGS
from hatchwright.workflow.examine import examine
from hatchwright.workflow.job_folder import version_of
from tests.patience import until
from web.conftest import EXAMPLES, at_the_same_time


def codes(html: str) -> set[str]:
    return set(re.findall(r'class="code">([RT]\d{3})<', html))


def test_what_marks_holes_comes_first_and_then_everything(folder, alder_text):
    first = screen(Asked(alder_text, folder, "alder.toml"), is_typed=True)
    both = screen(Asked(alder_text, folder, "alder.toml"))
    assert {f.code[0] for f in both.findings} == {"R", "T"}
    assert both.findings == examine(load_job(folder / "alder.toml")).worst_first()
    assert set(first.findings) < set(both.findings)
    assert first.svg == both.svg  # every mark of this job stands there at once
    assert "SHORT" in first.svg


def test_the_page_asks_for_the_findings_and_gets_counts_drawing_and_findings(client, folder):
    version = version_of((folder / "alder.toml").read_text(encoding="utf-8"))
    late = client.get(f"/job/alder.toml/judged?version={version}").content.decode()
    whole = client.get("/job/alder.toml/").content.decode()
    assert codes(late) == codes(whole)
    assert "T306" in codes(late)
    assert re.findall(r'class="figure">(\d+)<', late) == re.findall(r'class="figure">(\d+)<', whole)
    (drawing,) = re.findall(r"<svg [^>]*class=\"drawing\".*?</svg>", late, re.DOTALL)
    assert drawing in whole


LOADS = """
[loads]
basis = "running loads"
source = "note 7"
[[loads.cases]]
name = "gust"
q = "60"
"""
KINDS = [
    ("alder", LOADS),
    *((name, "") for name in ("alder", "birch", "cypress", "dogwood", "elder", "finch", "heron")),
]


@pytest.mark.parametrize(("name", "more"), KINDS)
def test_what_was_judged_comes_whole_from_one_process_to_another(name, more):
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8") + more
    for other_side in (False, True):
        view = screen(Asked(text, EXAMPLES, f"{name}.toml", Look(other_side=other_side)))
        assert view.is_sound
        come = pickle.loads(pickle.dumps(view))
        assert come.examination.job == view.examination.job
        assert (come.findings, come.svg, come.counts) == (view.findings, view.svg, view.counts)


def test_an_answer_for_an_older_text_is_empty(client):
    answer = client.get("/job/alder.toml/judged?version=old")
    assert (answer.status_code, answer.content) == (204, b"")


def test_of_a_job_that_is_not_sound_nothing_is_judged(client, folder):
    text = (folder / "alder.toml").read_text(encoding="utf-8").replace('radius = ".75"', 'radius = "wide"')
    (folder / "alder.toml").write_text(text, encoding="utf-8")
    answer = client.get(f"/job/alder.toml/judged?version={version_of(text)}")
    assert (answer.status_code, answer.content) == (204, b"")


def test_three_jobs_that_ask_at_once_all_get_their_answer(client, folder):
    texts = {
        f"job{number}.toml": (folder / "dogwood.toml").read_text(encoding="utf-8") for number in range(3)
    }
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8")
    addresses = [f"/job/{name}/judged?version={version_of(text)}" for name, text in texts.items()]
    with FINDINGS.turns.turn():  # somebody else's question while all of them come
        waiting = ThreadPoolExecutor(1).submit(at_the_same_time, client, addresses)
        until(lambda: len(FINDINGS.turns._line) == 4, "three questions")
    assert [answer.status_code for answer in waiting.result()] == [200, 200, 200]


def test_a_question_whose_page_is_left_is_dropped_before_its_turn(left_when, folder, monkeypatch):
    """As when the page asks anew, or is loaded anew: its line to the server ends."""
    version = version_of((folder / "dogwood.toml").read_text(encoding="utf-8"))
    monkeypatch.setattr(FINDINGS, "_answer", None)  # it is never called
    with FINDINGS.turns.turn():
        asking = left_when(
            f"/job/dogwood.toml/judged?version={version}", lambda: len(FINDINGS.turns._line) == 2
        )
        assert asyncio.run(asking) == []
        until(lambda: len(FINDINGS.turns._line) == 1, "the end of its waiting")


def test_a_worker_that_was_ended_is_said_and_the_next_question_is_answered(client, folder):
    version = version_of((folder / "alder.toml").read_text(encoding="utf-8"))
    address = f"/job/alder.toml/judged?version={version}"
    assert client.get(address).status_code == 200
    (worker,) = [child for child in multiprocessing.active_children() if child.name == "findings"]
    worker.kill()
    worker.join()
    broken = client.get(address)
    assert broken.status_code == 503
    assert b"Try again" in broken.content
    assert client.get(address).status_code == 200
