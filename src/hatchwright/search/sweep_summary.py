"""What a sweep comes to: its ranking, and the notes that ranking and picture need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hatchwright.said import Listed, said
from hatchwright.search.sweep import Sweep
from hatchwright.search.sweep_work import SweepRow
from hatchwright.words.tell import tell


def notes_of(sweep: Sweep, rows: Sequence[SweepRow]) -> Iterator[str]:
    """What must be read with the margins of a sweep: what was left out, what the gate says, what they do not
    speak of."""
    if sweep.left_out:
        yield tell(said("sweep.not_looked_for", topics=Listed(sweep.left_out, ";")))
    if referred := sum(bool(row.gate) for row in rows):
        codes = sorted({code for row in rows for code in row.gate.split()})
        yield tell(said("sweep.referred", n=referred, all=len(rows), codes=Listed(tuple(codes), ",")))
    if lines := dict.fromkeys(line for row in rows for line in row.not_analyzed.split(" | ") if line):
        yield tell(said("sweep.not_analyzed", topics=Listed(tuple(lines), ";")))


def best_first(rows: Sequence[SweepRow]) -> list[SweepRow]:
    """Rank the variants of a sweep: those that nothing stops first, the highest of lowest margins first."""
    return sorted(
        rows, key=lambda row: (not row.is_clear, row.lowest_margin is None, -(row.lowest_margin or 0.0))
    )
