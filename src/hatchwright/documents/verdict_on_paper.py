"""Findings and the verdict in the words of paper: the shelves of screen and command, one line a cause."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from hatchwright.finding import Finding
from hatchwright.job.entry_words import entry_label
from hatchwright.remedy import ASK, Tried, told_for
from hatchwright.said import Amount, Listed, Value, said
from hatchwright.units import Unit
from hatchwright.verdict import Line, ToEnter, Verdict
from hatchwright.words.amounts import value_text
from hatchwright.words.catalog import HOME
from hatchwright.words.findings import advice_text, what_to_do
from hatchwright.words.spans import spans_said
from hatchwright.words.tell import tell, tell_all
from hatchwright.words.verdict import (
    acknowledged_said,
    codes_text,
    headline,
    line_text,
    stop_text,
    to_enter_said,
    unheard_said,
)

FindingLine = dict[str, str]
"""One finding as it is printed: answer, code, subject, value and limit with their units, source, advice."""

Cited = Callable[..., str]
"""How a paper names what findings rest on, where it does not print it in full beside each."""


def finding_line(finding: Finding, unit: Unit, tongue: str = HOME) -> FindingLine:
    """Put a finding into words."""
    value = value_text(finding.value, finding.unit, unit, beside=finding.limit)
    if finding.judged.uncertainty and value:
        u = Amount(finding.judged.uncertainty, finding.unit)
        value = tell(said("card.value_with_u", value=value, u=u), unit, tongue)
    return {
        "answer": tell(finding.status, unit, tongue),
        "code": finding.code,
        "subject": tell(finding.subject, unit, tongue),
        "value": value,
        "limit": value_text(finding.limit, finding.unit, unit, beside=finding.value),
        "source": tell(said("card.cited", source=str(finding.source), grade=finding.grade), unit, tongue),
        "advice": advice_text(finding, unit, tongue),
    }


def verdict_on_paper(
    verdict: Verdict, unit: Unit, tongue: str, tried: Tried = (), *, cited: Cited | None = None
) -> dict[str, Any]:
    """Put a verdict into words: each cause once, with the remedy that was tried, and no advice of a code twice.

    The shelves hold what is open, and after it what somebody lets stand, with reason and initials; unheard are
    acknowledgements that let nothing stand.

    Args:
        cited: what stands for the source of each, None for all of it in words.
    """

    def told(what: Value) -> str:
        return tell(what, unit, tongue)

    advised: set[tuple[str, str]] = set()
    shelves = []
    for shelf, lines, to_enter in verdict.shelves():
        heading = said("shelf.heading", shelf=shelf, n=len(lines) + bool(to_enter))
        printed = [_line(line, advised, unit, tongue, tried, cited) for line in lines]
        printed += [_to_enter(to_enter, unit, tongue)] if to_enter else []
        shelves.append({"title": told(heading).upper(), "lines": printed})
    if standing := verdict.acknowledged_lines:
        title = told(said("card.acknowledged", n=len(standing))).upper()
        let_stand = [(line, acknowledged_said(line) or "") for line in standing]
        printed = [_folded(line, told(words), "", unit, tongue, cited) for line, words in let_stand]
        shelves.append({"title": title, "lines": printed})
    return {
        "head": stop_text(verdict, "findings", tongue) or told(headline(verdict)),
        "not_run": told(said("verdict.strength_not_run")) if verdict.awaits_strength else "",
        "shelves": shelves,
        "unheard": [told(one) for one in unheard_said(verdict)],
    }


def _line(
    line: Line, advised: set[tuple[str, str]], unit: Unit, tongue: str, tried: Tried, cited: Cited | None
) -> FindingLine:
    """A cause by its worst finding, every hole that it concerns, and what to do for each of its codes."""
    has_more = line.more and len(line.holes) > 1
    holes = [tell(said("card.holes", holes=spans_said(line.holes)), unit, tongue)] if has_more else []
    advice = " ".join((*holes, *_advice(line, advised, unit, tongue, tried)))
    return _folded(line, line_text(line, unit, tongue), advice, unit, tongue, cited)


def _advice(
    line: Line, advised: set[tuple[str, str]], unit: Unit, tongue: str, tried: Tried
) -> Iterator[str]:
    """What to do for each code, no sentence twice; a remedy makes all of them pass, so that none asks any more."""
    remedy = told_for(line.worst, tried)
    told: set[Value] = {ASK} if remedy else set()
    for code in line.codes:
        worst = next(finding for finding in line.findings if finding.code == code)
        what = what_to_do(worst, remedy if worst is line.worst else None)
        advice = tell_all((one for one in what if one not in told), unit, tongue)
        told.update(what)
        if advice and (code, advice) not in advised:
            advised.add((code, advice))
            yield advice


def _folded(
    line: Line, subject: str, advice: str, unit: Unit, tongue: str, cited: Cited | None
) -> FindingLine:
    own = {"code": codes_text(line, tongue), "subject": subject, "advice": advice}
    source = {"source": cited(*line.findings)} if cited else {}
    return finding_line(line.worst, unit, tongue) | own | source


def _to_enter(lacking: tuple[ToEnter, ...], unit: Unit, tongue: str) -> FindingLine:
    return {
        "answer": tell(lacking[0].status, unit, tongue),
        "code": ", ".join(dict.fromkeys(code for one in lacking for code in one.codes)),
        "subject": tell(to_enter_said(entries_named(lacking)), unit, tongue),
        **dict.fromkeys(("value", "limit", "source", "advice"), ""),
    }


def entries_named(lacking: Iterable[ToEnter]) -> list[Value]:
    """Entries as the page labels them, those of one section together, such as ``Screws: Length, Nut height``."""
    sections: dict[tuple[str, ...], list[Value]] = {}
    for one in lacking:
        *above, _ = one.entry.split(".")
        sections.setdefault(tuple(above), []).append(entry_label(one.entry) or one.entry)
    told: list[Value] = []
    for section, labels in sections.items():
        title, names = entry_label(".".join(section)), Listed(tuple(labels), ",")
        if title is None:
            told.append(names)
        elif section[-1].isdigit():
            told.append(said("card.entries_of_one", section=title, number=int(section[-1]) + 1, names=names))
        else:
            told.append(said("card.entries_of", section=title, names=names))
    return told
