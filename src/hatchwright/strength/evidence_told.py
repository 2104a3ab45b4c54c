"""What people are told of the table of evidence: its cells, and what it comes to, the rivets before the doubler."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from hatchwright.said import Numbered, Said, said
from hatchwright.strength.checks.evidence import percent
from hatchwright.strength.evidence import Agreement, EvidenceRow, Path, least
from hatchwright.strength.opening_analysis import OpeningAnalysis

_HARDEST = 2
"""Rivets that are named as the hardest worked [-]."""


class Cells(Struct, frozen=True):
    """One row of the table as it is written, for screen, page and paper."""

    part: Said
    circular: Said
    hand: Said
    elements: Said
    bay: Said
    agreement: Agreement
    why: Said


HEADINGS = tuple(said(f"evidence.{name}") for name in ("part", "circular", "hand", "elements", "bay", "why"))
"""Of the columns; the agreement stands before the reason."""


def cells(row: EvidenceRow) -> Cells:
    """Put one row of the table in words."""
    is_shear = row.direction == "shear"
    direction = said("evidence.in_shear") if is_shear else said("evidence.along", axis=row.direction)
    return Cells(
        said(f"evidence.{row.part}", direction=direction),
        _cell(row.circular),
        _cell(row.hand),
        _cell(row.elements),
        _left(row),
        row.agreement,
        row.why,
    )


def _cell(path: Path | None) -> Said:
    if path is None:
        return said("evidence.none")
    restored = percent(path.restored.value)
    if path.asked is None:
        return said("evidence.cell_none_asked", restored=restored)
    return said("evidence.cell", restored=restored, asked=percent(path.asked))


def _left(row: EvidenceRow) -> Said:
    if row.bay is None:
        return said("evidence.bay_unknown")
    return said("evidence.cell_none_asked", restored=percent(row.bay.value))


def evidence_told(rows: Sequence[EvidenceRow], analysis: OpeningAnalysis | None) -> Iterator[Said]:
    """Sum up the rows, in the order in which they are acted on.

    Yields:
        Said: whether the rivets are enough and by what, which of them work hardest, and whether the doubler is enough.
    """
    yield from _rivets([row for row in rows if row.part == "rivets"])
    if rows and analysis and (rivets := hardest_rivets(analysis)):
        yield said("evidence.hardest", rivets=rivets)
    yield from _doubler([row for row in rows if row.part == "doubler"])


def _rivets(rows: Sequence[EvidenceRow]) -> Iterator[Said]:
    hand = least([row.hand for row in rows if row.hand])
    if hand is None or any(row.hand is None for row in rows):
        return  # S201 says why
    circular = least([row.circular for row in rows if row.circular])
    restored, asked = percent(hand.restored.value), percent(hand.asked or 0.0)
    if circular is None:
        id = "evidence.rivets_enough" if hand.passes else "evidence.rivets_short"
        yield said(id, restored=restored, asked=asked)
    else:
        answers = {
            (True, True): "both",
            (True, False): "table",
            (False, True): "hand",
            (False, False): "none",
        }
        id = f"evidence.rivets_by_{answers[circular.passes, hand.passes]}"
        yield said(id, count=circular.told, restored=restored, asked=asked)
    yield _beside_the_bay(rows, hand)


def _beside_the_bay(rows: Sequence[EvidenceRow], hand: Path) -> Said:
    known = [row.bay.value for row in rows if row.bay]
    if not known:
        return said("evidence.bay_not_entered")
    best, there = percent(max(known)), percent(hand.restored.value)
    is_as_much = hand.restored.value >= max(known)
    return said(
        "evidence.bay_as_much" if is_as_much else "evidence.bay_leaves_more", bay=best, restored=there
    )


def _doubler(rows: Sequence[EvidenceRow]) -> Iterator[Said]:
    """Each direction that is short; in shear only where no direct load is."""
    short = [row for row in rows if not all(path.passes for path in (row.circular, row.hand) if path)]
    direct = [row for row in short if row.direction != "shear"]
    for row in direct or short or rows[:1]:
        if row.hand is None or row.circular is None:
            continue
        restored, metal = percent(row.hand.restored.value), percent(row.circular.restored.value)
        id = "evidence.doubler_short" if short else "evidence.doubler_enough"
        if row.direction == "shear":
            id += "_in_shear"
        yield said(id, axis=row.direction, restored=restored, metal=metal)


def hardest_rivets(analysis: OpeningAnalysis) -> Numbered | None:
    """The rivets that the elements load the hardest, of all cases; None without any."""
    loads: dict[int, float] = {}
    for case in analysis.cases:
        for rivet in case.rivets:
            loads[rivet.number] = max(loads.get(rivet.number, 0.0), rivet.greater_lbf)
    hardest = sorted(loads, key=lambda number: (-loads[number], number))[:_HARDEST]
    return Numbered("rivet", tuple(hardest)) if hardest else None
