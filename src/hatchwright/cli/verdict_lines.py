"""The head of a job on the terminal: the verdict first, then one line a cause, about a dozen lines at any width."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NoReturn

import click

from hatchwright.cli.frame import put
from hatchwright.cli.lines import line_width, wrapped
from hatchwright.finding import Finding
from hatchwright.job.entry_words import entry_label
from hatchwright.judged import Status
from hatchwright.register import Shelf
from hatchwright.remedy import Tried, told_for
from hatchwright.said import Listed, Said, said
from hatchwright.units import Unit
from hatchwright.verdict import Line, ToEnter, Verdict
from hatchwright.words.findings import advice_text, told_text, what_to_do
from hatchwright.words.tell import tell, tell_all
from hatchwright.words.verdict import (
    acknowledged_said,
    codes_text,
    headline,
    line_text,
    numbers_said,
    other_side_said,
    to_enter_said,
    unheard_said,
)
from hatchwright.workflow.examine import Examination


def end_with(*sides: Examination, shown: bool = True, to_err: bool = False) -> NoReturn:
    """Print the verdict of each side that something was made for, and end with its exit status: 1 when any holds back.

    A side that nobody has surveyed holds back its own sheets, not those of the other: where something was made for one
    side alone, the other one is named in one line and decides nothing.

    Args:
        shown: whether anything is printed; what is printed for programs has its verdicts within.
        to_err: whether what the command makes stands on standard output.
    """
    for one in sides if shown else ():
        click.echo(tell(said("verdict.of_side", side=said(f"side.{one.verdict.side}"))), err=to_err)
        other = one.other.verdict if one.other and len(sides) == 1 else None
        for line in verdict_lines(one.verdict, one.job.unit, width=line_width(), other=other):
            click.echo(line, err=to_err)
    if shown:
        put("command.aid", to_err=to_err)
    sys.exit(STOP if any(one.verdict.holds_back for one in sides) else 0)


def say_findings(findings: Iterable[Finding], unit: Unit, *, indent: str = "") -> None:
    """Print findings, each with its advice."""
    for finding in findings:
        for line in finding_lines(finding, unit):
            click.echo(f"{indent}{line}")


def finding_lines(finding: Finding, unit: Unit) -> Iterator[str]:
    """Write a finding for a person, such as ``STOP  T106  holes of .2500 in ...``, then the advice, indented."""
    yield f"{tell(finding.status)}  {finding.code}  {told_text(finding, unit)}"
    if advice := advice_text(finding, unit):
        yield f"    {advice}"


_STATUS_WIDTH = 10
_MOST_ENTRIES = 7
"""Names of missing entries that fit three or four lines; the rest are counted, and told with more."""

STOP = 1
"""Exit status: do not cut, drill or rivet."""


def verdict_lines(
    verdict: Verdict,
    unit: Unit,
    *,
    width: int,
    more: bool = False,
    other: Verdict | None = None,
    tried: Tried = (),
) -> Iterator[str]:
    """Write the verdict and its open lines, none longer than the width.

    Args:
        width: letters in a line, see `line_width`.
        more: whether what is to be entered, chosen and known stands in full too, and the advice of every line.
        other: of the other side, where both get the opening and only one is told in full.
        tried: remedies, told with more alone.
    """
    yield from wrapped(tell(headline(verdict), unit), width)
    if other:
        yield from wrapped(tell(other_side_said(other), unit), width)
    if verdict.awaits_strength:
        yield from wrapped(tell(said("verdict.strength_not_run"), unit), width)
    for shelf, lines, to_enter in verdict.shelves():
        is_full = more or shelf is not Shelf.KNOW
        if is_full:
            heading = said("shelf.heading", shelf=shelf, n=len(lines) + bool(to_enter))
            yield from wrapped(tell(heading, unit).upper(), width)
        for line in lines if is_full else ():
            yield from _line(line, unit, width, more=more, tried=tried)
        if to_enter:
            lacking = to_enter_said(map(_entry, to_enter), None if more else _MOST_ENTRIES)
            yield from _answered(to_enter[0].status, tell(lacking, unit), width)
        if lines and not is_full:
            answers = Counter(line.status for line in lines)
            counts = tuple(said("verdict.count", n=n, status=status) for status, n in answers.items())
            yield from wrapped(tell(said("line.to_know", counts=Listed(counts, ",")), unit), width)
    standing = verdict.acknowledged_lines
    if standing and not more:
        yield from wrapped(tell(said("acknowledged.folded", n=len(standing)), unit), width)
    for line in standing if more else ():
        if told := acknowledged_said(line):
            yield from wrapped(f"{tell(told, unit)} [{', '.join(line.codes)}]", width)
    for one in (*unheard_said(verdict), said("line.passed", n=verdict.passed)):
        yield from wrapped(tell(one, unit), width)


def _line(line: Line, unit: Unit, width: int, *, more: bool, tried: Tried) -> Iterator[str]:
    hang = " " * (_STATUS_WIDTH + 1)
    yield from _answered(line.status, f"{line_text(line, unit)}  [{codes_text(line)}]", width)
    advice = tell_all(what_to_do(line.worst, told_for(line.worst, tried)), unit) if more else ""
    if advice:
        yield from wrapped(advice, width, first=hang, hang=hang)
    if more and (numbers := numbers_said(line)):
        yield from wrapped(tell(numbers, unit), width, first=hang, hang=hang)


def _answered(status: Status, text: str, width: int) -> list[str]:
    hang = " " * (_STATUS_WIDTH + 1)
    told = f"{tell(status):<{_STATUS_WIDTH}} {text}"
    return wrapped(told, width, hang=hang)


def _entry(one: ToEnter) -> Said | str:
    """An entry as the page labels it, with its key in the job file."""
    label = entry_label(one.entry)
    return said("line.entry", label=label, key=one.entry) if label else one.entry
