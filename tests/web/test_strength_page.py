"""Strength for the page without a browser: stale questions, faults, no loads, and the report on paper."""

from __future__ import annotations

import multiprocessing
import re
import threading
from html import unescape
from pathlib import Path

import pytest

from hatchwright.errors import JobError
from hatchwright.page.screen import Asked, Look
from hatchwright.page.strength_screen import print_strength, view_strength
from hatchwright.said import said
from hatchwright.web import strength_page, workers
from hatchwright.web.worker import Worker
from hatchwright.words.tell import tell
from hatchwright.workflow.job_folder import version_of
from tests.patience import PATIENCE_S, until
from told import subject_of

LOADS = """
[loads]
basis = "running loads"
source = "note 7"
[[loads.cases]]
name = "gust up"
nx = "120"
q = "60"
"""


def text_of(folder: Path, name: str = "alder.toml") -> str:
    return (folder / name).read_text(encoding="utf-8")


def asked(folder: Path, more: str = "", **how) -> Asked:
    return Asked(text_of(folder) + more, folder, "alder.toml", **how)


def strength_of(client, folder):
    """The answer of the page once there is one, and how far it said that it was."""
    address, told = f"/job/alder.toml/strength?version={version_of(text_of(folder))}", []

    def is_done() -> bool:
        told.append(client.get(address))
        return told[-1].status_code != 202

    until(is_done, "strength")
    return told[-1], [one.content.decode() for one in told[:-1]]


def test_only_the_version_on_the_page_is_answered(client, folder):
    assert client.get("/job/alder.toml/strength?version=0000").status_code == 204
    answer, _ = strength_of(client, folder)
    assert answer.status_code == 200
    assert b"No loads entered, so no strength result." in answer.content
    assert b"Margins of safety" not in answer.content
    assert client.get("/job/none.toml/strength?version=0").status_code == 404


def test_with_loads_gate_margins_and_picture_come_without_a_claim_of_approval(client, folder):
    (folder / "alder.toml").write_text(text_of(folder) + LOADS, encoding="utf-8")
    answer, _ = strength_of(client, folder)
    html = answer.content.decode()
    assert html.index("S101") < html.index("S801") < html.index("<svg xmlns")
    assert "not approved data" in html
    assert "style=" not in html


def test_who_cancels_strength_ends_its_process_and_may_begin_again(client, folder, monkeypatch):
    """Also the process that is kept, with what it remembers; a page that is reloaded meanwhile finds it."""
    monkeypatch.setattr(workers, "_view", wait)
    strength = Worker("canceled strength", is_kept=True)
    monkeypatch.setattr(workers, "STRENGTH", strength)
    address = f"/job/alder.toml/strength?version={version_of(text_of(folder))}"

    cancel: list[str] = []

    def at_work() -> list:
        return [child for child in multiprocessing.active_children() if child.name == strength.name]

    def is_told() -> bool:
        answer = client.get(address)
        assert answer.status_code == 202
        html = answer.content.decode()
        cancel[:] = [cancel_of(html)]
        return 'value="0.250"' in html

    until(is_told, "how far it is")
    (process,) = at_work()
    client.post(*cancel)
    until(lambda: not at_work())
    for _ in range(2):
        answer = client.get(address)
        assert answer.status_code == 200
        assert "Canceled: strength was not computed." in answer.content.decode()
    client.post("/job/alder.toml/strength/again")
    until(is_told, "how far it is")
    assert at_work() != [process]
    client.post(*cancel)
    until(lambda: not at_work())


def cancel_of(html: str) -> str:
    """Where the button goes that ends what is being worked out."""
    return unescape(re.search(r'action="([^"]+/cancel[^"]*)"', html)[1])


def test_a_button_ends_the_work_that_its_page_shows_and_none_of_a_later_job(client, folder, monkeypatch):
    may_end, works = threading.Event(), []

    def view(asked, work):
        works.append(work)
        may_end.wait(PATIENCE_S)

    monkeypatch.setattr(strength_page, "strength_view", view)
    monkeypatch.setattr(strength_page, "_WAITS_S", 0.0)
    shown = []
    for count, more in enumerate(("", "# entered on another page\n"), 1):
        (folder / "alder.toml").write_text(text_of(folder) + more, encoding="utf-8")
        address = f"/job/alder.toml/strength?version={version_of(text_of(folder))}"
        shown.append(client.get(address).content.decode())
        until(lambda count=count: len(works) == count)
    client.post(cancel_of(shown[0]))
    assert [work.is_canceled() for work in works] == [True, False]
    client.post(cancel_of(shown[1]))
    assert works[1].is_canceled()
    may_end.set()


def test_strength_is_worked_out_anew_when_an_outline_beside_the_job_changes(client, folder, monkeypatch):
    tried = []

    def refused(asked, work):
        tried.append(asked)
        raise JobError.about("title", "error.title_file", "any")

    monkeypatch.setattr(strength_page, "strength_view", refused)
    text = text_of(folder) + '\n[another]\nfile = "cut.dxf"\n'
    (folder / "alder.toml").write_text(text, encoding="utf-8")
    for content, times in (("one", 1), ("one", 1), ("other", 2)):
        (folder / "cut.dxf").write_text(content)
        strength_of(client, folder)
        assert len(tried) == times


def wait(asked, progress):
    """In the process: tell how far it is, and never end."""
    progress(0.25, said("progress.grids"))
    threading.Event().wait()


def test_a_view_says_what_the_analysis_says(folder):
    view, analysis = view_strength(asked(folder, LOADS))
    assert view.report
    assert analysis
    assert view.report.analysis is None
    assert view.case == "gust up"
    assert {margin.code for margin in view.margins} == {margin.code for margin in view.report.margins}
    told: list = []
    again, _ = view_strength(asked(folder, LOADS), analysis, lambda *how: told.append(how))
    shares = [share for share, _ in told]
    assert shares == sorted(shares)
    assert tell(told[-1][1]) == "Load case gust up, 1 of 1"
    assert again.report
    for one, other in zip(view.report.margins, again.report.margins, strict=True):
        assert (one.code, subject_of(one)) == (other.code, subject_of(other))
        assert one.ratio == pytest.approx(other.ratio)


def test_a_faulty_job_has_faults_and_no_report(folder):
    text = text_of(folder).replace("schema = 2", 'schema = 2\nwrong = "x"', 1)
    view, _ = view_strength(Asked(text, folder, "alder.toml"))
    assert view.report is None
    assert any("wrong" in fault.field for fault in view.faults)


def test_the_other_side_is_mirrored(folder):
    from datetime import UTC, datetime

    stamp = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
    files = print_strength(asked(folder, look=Look(other_side=True)), stamp, "letter")
    assert [file.name for file in files] == ["alder_STRENGTH_RIGHT_LETTER.pdf"]


def test_the_report_of_a_faulty_job_is_refused_in_words(client, folder):
    (folder / "alder.toml").write_text(text_of(folder).replace("schema = 2", 'schema = 2\nwrong = "x"', 1))
    answer = client.get("/job/alder.toml/strength/report?paper=a4")
    assert answer.status_code == 409
    assert b"No strength report for this job." in answer.content
