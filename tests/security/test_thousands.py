"""A job with thousands of findings: told in full as far as anybody reads, the gravest first, and the rest counted."""

from __future__ import annotations

import json
import re
from collections import Counter

import pypdfium2
import pytest

from hatchwright.cli import papers as papers_command
from hatchwright.workflow import papers as paper_plan
from tests.cli.conftest import shell  # noqa: F401
from tests.search.test_remedy import drawn
from web.conftest import client, folder, outside_client  # noqa: F401

ROW = """
[[rows]]
name = "row {number}"
lay = "offset"
rivet = "MS20470AD4"
edge = "opening"
distance = "{distance:.3f} in"
pitch = ".6 in"
"""
ROWS = 12


@pytest.fixture(scope="module")
def text():
    """Twelve rows of 1/8 rivets laid over each other, a hundredth of an inch apart."""
    head, _ = drawn().split("[[rows]]")
    return head + "".join(ROW.format(number=k, distance=0.28 + 0.01 * k) for k in range(ROWS))


@pytest.fixture
def job(tmp_path, text):
    path = tmp_path / "dense.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_command_tells_some_and_counts_the_rest(shell, job):  # noqa: F811
    _, out, _ = shell("check", job, "--json")
    every = Counter((one["status"], one["code"]) for one in json.loads(out)["findings"])
    assert every.total() > 1500
    status, out, _ = shell("check", job, "--all")
    assert status == 1
    told = Counter(re.findall(r"^(STOP|NOT SHOWN|CAUTION|OK)  ([RTS]\d{3})  ", out, re.M))
    assert 100 <= told.total() <= 300
    words = {"stop": "STOP", "unknown": "NOT SHOWN", "caution": "CAUTION", "pass": "OK"}
    stops = {(words[status], code) for status, code in every if status == "stop"}
    assert stops <= set(told)
    told.update({(status, code): int(n) for n, status, code in COUNTED.findall(" ".join(out.split()))})
    assert told == Counter({(words[status], code): n for (status, code), n in every.items()})


COUNTED = re.compile(r"(\d+) (STOP|NOT SHOWN|CAUTION|OK) ([RTS]\d{3})(?=[,.])")


def test_the_page_unfolds_some_of_a_line_and_counts_the_rest(client, folder, text):  # noqa: F811
    (folder / "dense.toml").write_text(text, encoding="utf-8")
    page = client.get("/job/dense.toml/").content.decode()
    assert page.count("<h5>") <= 5 * 60
    assert re.search(r"\d{3,} more findings are not listed here: \d+ STOP R209\.", page)
    assert len(page) < 1_500_000


def test_papers_tell_their_sheets_before_a_drawing_is_written(shell, job, tmp_path, monkeypatch):  # noqa: F811
    monkeypatch.setattr(papers_command, "MANY_SHEETS", 5)
    out = tmp_path / "out"
    status, _, err = shell("papers", job, "--only", "parts,annex", "--out", out)
    assert status == 1
    sheets = sum(len(pypdfium2.PdfDocument(path)) for path in out.glob("*.pdf") if "_PRINT_" not in path.name)
    assert sheets > 5
    assert err == f"{sheets} sheets of paper, LETTER.\n"
    assert sheets < 60  # a hole is told once for each rule, not once for each neighbor


def test_too_many_sheets_are_refused_before_a_drawing_is_written(shell, job, tmp_path, monkeypatch):  # noqa: F811
    monkeypatch.setattr(paper_plan, "MOST_SHEETS", 3)
    monkeypatch.setattr(paper_plan.PaperSet, "drawn", None)
    status, printed, err = shell("papers", job, "--only", "parts,annex", "--out", tmp_path / "out")
    assert (status, printed) == (2, "")
    assert re.match(
        r"Refused: papers: these papers would take \d+ sheets; 3 is the most that is printed at once\. ", err
    )
    assert "Check the pitch of the rows" in err
    assert not (tmp_path / "out").exists()
