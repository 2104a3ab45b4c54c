"""The head of a job on the terminal: the verdict first, then one line a cause, about a dozen lines at any width."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from textwrap import TextWrapper

import click

from hatchwright.job.entry_path import entry_label
from hatchwright.register import Shelf
from hatchwright.remedy import Tried, told_for
from hatchwright.said import Listed, Said, said
from hatchwright.units import Unit
from hatchwright.verdict import Line, StrengthState, ToEnter, Verdict
from hatchwright.words.findings import what_to_do_text
from hatchwright.words.tell import tell
from hatchwright.words.verdict import (
    acknowledged_said,
    codes_text,
    headline,
    line_text,
    numbers_said,
    unheard_said,
)
from hatchwright.workflow.examine import Examination


def echo_verdicts(examination: Examination) -> None:
    """Print the verdict of each side that files were written for, and end with its exit status: 1 when any holds back.

    A side that nobody has surveyed holds back its own sheets, not those of the other.
    """
    for one in examination.sides:
        side = said(f"side.{one.verdict.side}")
        click.echo(tell(said("verdict.of_side", side=side)))
        for line in verdict_lines(one.verdict, one.job.unit, width=terminal_width()):
            click.echo(line)
    click.echo(tell(said("command.aid")))
    sys.exit(1 if any(one.verdict.holds_back for one in examination.sides) else 0)


def terminal_width() -> int:
    """Letters in a line of the terminal, and no more than can be read."""
    return min(shutil.get_terminal_size().columns, _WIDEST)


_WIDEST = 110
_OPEN = (Shelf.PLACE, Shelf.BEHIND, Shelf.HOLDS, Shelf.SETTLE)
_STATUS_WIDTH = 10
_MOST_ENTRIES = 7
"""Names of missing entries that fit three or four lines; the rest are counted, and told with more."""


def verdict_lines(
    verdict: Verdict, unit: Unit, *, width: int, more: bool = False, tried: Tried = ()
) -> Iterator[str]:
    """Write the verdict and its open lines.

    Args:
        width: of the terminal, in letters.
        more: whether what is to be entered, chosen and known stands in full too, and the advice of every line.
        tried: remedies, told with more alone.
    Yields:
        str: no longer than the width.
    """
    yield from _wrapped(tell(headline(verdict), unit), width)
    if verdict.strength is StrengthState.NOT_RUN:
        yield from _wrapped(tell(said("verdict.strength_not_run"), unit), width)
    for shelf in Shelf if more else _OPEN:
        lines = verdict.shelf(shelf)
        if lines:
            yield from _wrapped(tell(said("shelf.heading", shelf=shelf, n=len(lines)), unit).upper(), width)
        for line in lines:
            yield from _line(line, unit, width, more=more, tried=tried)
    if verdict.to_enter:
        shown = verdict.to_enter if more else verdict.to_enter[:_MOST_ENTRIES]
        names, rest = Listed(tuple(map(_entry, shown)), ";"), len(verdict.to_enter) - len(shown)
        told = said("line.enter_more", entries=names, n=rest) if rest else said("line.enter", entries=names)
        yield from _wrapped(tell(told, unit), width)
    know = verdict.shelf(Shelf.KNOW)
    if know and not more:
        yield from _wrapped(tell(said("line.to_know", n=len(know)), unit), width)
    yield from _acknowledged(verdict, unit, width, more=more)
    yield from _wrapped(tell(said("line.passed", n=verdict.passed), unit), width)


def _acknowledged(verdict: Verdict, unit: Unit, width: int, *, more: bool) -> Iterator[str]:
    """What somebody lets stand, folded to its number unless it is asked for; and what cannot stand, always."""
    lines = verdict.acknowledged_lines
    if lines and not more:
        yield from _wrapped(tell(said("acknowledged.folded", n=len(lines)), unit), width)
    for line in lines if more else ():
        if told := acknowledged_said(line):
            yield from _wrapped(f"{tell(told, unit)} [{', '.join(line.codes)}]", width)
    for unheard in unheard_said(verdict):
        yield from _wrapped(tell(unheard, unit), width)


def _line(line: Line, unit: Unit, width: int, *, more: bool, tried: Tried) -> Iterator[str]:
    status, codes = tell(line.status), codes_text(line)
    hang = " " * (_STATUS_WIDTH + 1)
    text = f"{status:<{_STATUS_WIDTH}} {line_text(line, unit)}  [{codes}]"
    yield from TextWrapper(width, subsequent_indent=hang, break_on_hyphens=False).wrap(text)
    advice = what_to_do_text(line.worst, unit, remedy=told_for(line.worst, tried)) if more else ""
    if advice:
        yield from TextWrapper(width, initial_indent=hang, subsequent_indent=hang).wrap(advice)
    if more and (numbers := numbers_said(line)):
        yield from TextWrapper(width, initial_indent=hang, subsequent_indent=hang).wrap(tell(numbers, unit))


def _entry(one: ToEnter) -> Said | str:
    """An entry as the page labels it, with its key in the job file."""
    label = entry_label(one.entry)
    return said("line.entry", label=label, key=one.entry) if label else one.entry


def _wrapped(text: str, width: int) -> list[str]:
    return TextWrapper(width, subsequent_indent="  ", break_on_hyphens=False).wrap(text)
