"""The head of every example: at most a dozen open lines, no line and no sentence twice, the verdict first."""

from __future__ import annotations

import re
from collections import Counter

import pytest

from hatchwright.cli.verdict_lines import verdict_lines
from hatchwright.judged import Status
from hatchwright.words.findings import what_to_do
from hatchwright.words.tell import tell_all
from hatchwright.words.verdict import line_text
from hatchwright.workflow.examine import examine_file
from tests.conftest import EXAMPLES

JOBS = ("alder", "birch", "cypress", "dogwood", "elder", "finch", "heron", "juniper")
MOST_LINES = 12
ASK = ("Ask the design approval holder", "What was tried for")
"""What may stand after several lines: where each of them leads, and that an earlier line's change settles it too."""


@pytest.fixture(scope="module", params=JOBS)
def examination(request):
    return examine_file(EXAMPLES / f"{request.param}.toml")


def test_there_are_at_most_a_dozen_open_lines(examination):
    lines = examination.verdict.open_lines
    assert len(lines) <= MOST_LINES
    assert bool(lines) == any(finding.status is not Status.PASS for finding in examination.findings)


def test_the_default_output_is_short_at_any_width_and_the_verdict_comes_first(examination):
    for width in (60, 80, 140):
        lines = list(verdict_lines(examination.verdict, examination.job.unit, width=width))
        assert max(map(len, lines)) <= width
        stops = any(finding.status.holds_back for finding in examination.findings)
        assert lines[0].startswith("DO NOT CUT, DRILL OR RIVET: " if stops else "No STOP found.")
    begun = [line for line in lines if re.match(r"(STOP|NOT SHOWN|CAUTION) ", line)]
    assert len(begun) <= MOST_LINES


def test_no_line_and_no_sentence_stands_twice(examination):
    verdict, unit = examination.verdict, examination.job.unit
    told = [line_text(line, unit) for line in verdict.open_lines]
    said = [
        sentence
        for line in verdict.open_lines
        for sentence in set(re.split(r"(?<=[a-z)]\.)\s+", _told(examination, line)))
        if sentence and not sentence.startswith(ASK)
    ]
    twice = [text for text, times in Counter((*told, *said)).items() if times > 1]
    assert not twice, "\n".join(twice)
    assert len({one.entry for one in verdict.to_enter}) == len(verdict.to_enter)


def _told(examination, line):
    return tell_all(what_to_do(line.worst, examination.remedy(line.worst)), examination.job.unit)


def test_every_hole_of_a_finding_is_kept_behind_its_line(examination):
    """One line names the worst; the values for programs keep every hole."""
    behind = {number for line in examination.verdict.lines for number in line.holes}
    judged = {
        number
        for finding in examination.findings
        if finding.status != "pass" and not finding.enter
        for number in finding.holes
    }
    assert behind == judged
