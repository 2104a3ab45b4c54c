"""The verdict as the card prints it: the shelves of screen and command, one line a cause."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from hatchwright.documents.finding_words import FindingLine, finding_line
from hatchwright.drawings.template_holes_view import spans_said
from hatchwright.job.entry_path import entry_label
from hatchwright.remedy import ASK, Tried, told_for
from hatchwright.said import Listed, Value, said
from hatchwright.units import Unit
from hatchwright.verdict import Line, ToEnter, Verdict
from hatchwright.words.findings import what_to_do
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


@dataclass(frozen=True, slots=True)
class ShelfOnPaper:
    """One shelf, its title in capitals, its lines the worst first."""

    title: str
    lines: tuple[FindingLine, ...]


@dataclass(frozen=True, slots=True)
class VerdictOnPaper:
    """The head of a card.

    Args:
        head: the verdict, and with it what holds back.
        not_run: that strength was asked for and not run, "" otherwise.
        shelves: what is open; after it what somebody lets stand, with reason and initials.
        unheard: acknowledgements that let nothing stand, and why not.
    """

    head: str
    not_run: str
    shelves: tuple[ShelfOnPaper, ...]
    unheard: tuple[str, ...]


def verdict_on_paper(verdict: Verdict, unit: Unit, tongue: str, tried: Tried = ()) -> VerdictOnPaper:
    """Put a verdict into words: each cause once, with the remedy that was tried, and no advice of a code twice."""

    def told(what: Value) -> str:
        return tell(what, unit, tongue)

    advised: set[tuple[str, str]] = set()
    shelves = [
        ShelfOnPaper(
            told(said("shelf.heading", shelf=shelf, n=len(lines) + bool(to_enter))).upper(),
            (
                *(_line(line, advised, unit, tongue, tried) for line in lines),
                *((_to_enter(to_enter, unit, tongue),) if to_enter else ()),
            ),
        )
        for shelf, lines, to_enter in verdict.shelves()
    ]
    if standing := verdict.acknowledged_lines:
        title = told(said("card.acknowledged", n=len(standing))).upper()
        shelves.append(ShelfOnPaper(title, tuple(_acknowledged(line, unit, tongue) for line in standing)))
    return VerdictOnPaper(
        head=stop_text(verdict, "findings", tongue) or told(headline(verdict)),
        not_run=told(said("verdict.strength_not_run")) if verdict.awaits_strength else "",
        shelves=tuple(shelves),
        unheard=tuple(map(told, unheard_said(verdict))),
    )


def _line(line: Line, advised: set[tuple[str, str]], unit: Unit, tongue: str, tried: Tried) -> FindingLine:
    """A cause by its worst finding, every hole that it concerns, and what to do for each of its codes."""
    holes = tell(said("card.holes", holes=spans_said(line.holes)), unit, tongue) if line.more else ""
    advice = " ".join(
        (holes if len(line.holes) > 1 else "", *_advice(line, advised, unit, tongue, tried))
    ).strip()
    return _folded(line, line_text(line, unit, tongue), advice, unit, tongue)


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


def _acknowledged(line: Line, unit: Unit, tongue: str) -> FindingLine:
    told = acknowledged_said(line)
    return _folded(line, tell(told, unit, tongue) if told else "", "", unit, tongue)


def _folded(line: Line, subject: str, advice: str, unit: Unit, tongue: str) -> FindingLine:
    worst = finding_line(line.worst, unit, tongue)
    return replace(worst, code=codes_text(line, tongue), subject=subject, advice=advice)


def _to_enter(lacking: tuple[ToEnter, ...], unit: Unit, tongue: str) -> FindingLine:
    return FindingLine(
        answer=tell(lacking[0].status, unit, tongue),
        code=", ".join(dict.fromkeys(code for one in lacking for code in one.codes)),
        subject=tell(to_enter_said(_named(lacking)), unit, tongue),
        value="",
        limit="",
        source="",
        advice="",
    )


def _named(lacking: tuple[ToEnter, ...]) -> list[Value]:
    """Entries as the page labels them, those of one section together, such as ``Screws: Length, Nut height``."""
    sections: dict[tuple[str, ...], list[Value]] = {}
    for one in lacking:
        *section, _ = one.entry.split(".")
        sections.setdefault(tuple(section), []).append(entry_label(one.entry) or one.entry)
    return [_of_section(section, Listed(tuple(names), ",")) for section, names in sections.items()]


def _of_section(section: tuple[str, ...], names: Listed) -> Value:
    title = entry_label(".".join(section))
    if title is None:
        return names
    if section[-1].isdigit():
        return said("card.entries_of_one", section=title, number=int(section[-1]) + 1, names=names)
    return said("card.entries_of", section=title, names=names)
