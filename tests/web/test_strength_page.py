"""Strength for the page without a browser: stale questions, faults, no loads, and the report on paper."""

from __future__ import annotations

from pathlib import Path

import pytest

from hatchwright.page.screen import Asked, Look
from hatchwright.page.strength_screen import print_strength, view_strength
from hatchwright.workflow.job_folder import version_of
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


def test_only_the_version_on_the_page_is_answered(client, folder):
    assert client.get("/job/alder.toml/strength?version=0000").status_code == 204
    answer = client.get(f"/job/alder.toml/strength?version={version_of(text_of(folder))}")
    assert answer.status_code == 200
    assert b"No loads entered, so no strength result." in answer.content
    assert b"Margins of safety" not in answer.content
    assert client.get("/job/none.toml/strength?version=0").status_code == 404


def test_with_loads_gate_margins_and_picture_come_without_a_claim_of_approval(client, folder):
    (folder / "alder.toml").write_text(text_of(folder) + LOADS, encoding="utf-8")
    answer = client.get(f"/job/alder.toml/strength?version={version_of(text_of(folder))}")
    html = answer.content.decode()
    assert html.index("S101") < html.index("S801") < html.index("<svg xmlns")
    assert "not approved data" in html
    assert "style=" not in html


def test_a_view_says_what_the_analysis_says(folder):
    view, analysis = view_strength(asked(folder, LOADS))
    assert view.report
    assert analysis
    assert view.report.analysis is None
    assert view.case == "gust up"
    assert {margin.code for margin in view.margins} == {margin.code for margin in view.report.margins}
    again, _ = view_strength(asked(folder, LOADS), analysis)
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
