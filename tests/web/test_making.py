"""The findings of the making come after the drawing; none is lost, and a late answer never covers a newer one."""

from __future__ import annotations

import re

from hatchwright.job.file import load_job
from hatchwright.workflow.examine import examine
from hatchwright.workflow.screen import screen


def codes(html: str) -> set[str]:
    return set(re.findall(r'class="code">([RT]\d{3})<', html))


def test_rules_first_then_the_making_and_both_are_all(folder, alder_text):
    first = screen(alder_text, folder, "alder.toml", making=False)
    both = screen(alder_text, folder, "alder.toml", drawn=False)
    assert first.making_is_due
    assert not both.making_is_due
    assert {f.code[0] for f in first.findings} == {"R"}
    assert {f.code[0] for f in both.findings} == {"R", "T"}
    assert [f for f in both.findings if f.code[0] == "R"] == list(first.findings)
    assert both.findings == examine(load_job(folder / "alder.toml")).worst_first()


def test_the_page_asks_for_the_making_and_gets_counts_and_findings(client, folder):
    from hatchwright.workflow.job_folder import version_of

    version = version_of((folder / "alder.toml").read_text(encoding="utf-8"))
    late = client.get(f"/job/alder.toml/making?version={version}").content.decode()
    whole = client.get("/job/alder.toml/").content.decode()
    assert codes(late) == codes(whole)
    assert "T306" in codes(late)
    assert f'id="verdict-{version}"' in late
    assert f'id="counts-{version}" hx-swap-oob="true"' in late
    assert "still being judged" not in late


def test_an_answer_for_an_older_text_is_empty(client):
    answer = client.get("/job/alder.toml/making?version=old")
    assert (answer.status_code, answer.content) == (204, b"")


def test_a_job_without_a_cutter_has_nothing_to_wait_for(folder, alder_text):
    start, end = alder_text.index("[cutter]"), alder_text.index("# Asked before")
    text = alder_text[:start] + alder_text[end:]
    assert not screen(text, folder, "alder.toml", making=False).making_is_due
