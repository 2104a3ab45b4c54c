"""R206 to R208, R211: the pattern of rows, its longest and flush pitches, its overlap and its stagger."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding, Quantity, Status, judge_at_least
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Spacing, Survey, points_of
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, shortfall_text
from hatchwright.tables.limits import limit
from hatchwright.tables.rivets import parse_rivet


def rows_beside(survey: Survey) -> dict[str, set[str]]:
    """For each row the rows that run beside it.

    Args:
        survey: of the layout.
    Returns:
        dict: row name to the names of its neighbours.
    """
    beside: dict[str, set[str]] = defaultdict(set)
    for found in survey.row_spacings:
        beside[found.hole.row].add(found.other_row)
        beside[found.other_row].add(found.hole.row)
    return beside


def _pitches_of_rows(survey: Survey) -> dict[str, list[Spacing]]:
    rows: dict[str, list[Spacing]] = defaultdict(list)
    for pair in survey.pitches:
        if pair.first.kind == "rivet":
            rows[pair.first.row].append(pair)
    return rows


@rule(
    "R206",
    "Pitch of flush rivets",
    "pitch_min_countersunk_single_row",
    "pitch_min_countersunk_double_row",
    "pitch_min_countersunk_triple_row",
)
def pitch_of_flush_rows(survey: Survey) -> Iterator[Finding]:
    """Flush rivets stand half a diameter farther apart than protruding ones: 3.5, 4.5 and 3.5 diameters in one, two and
    three rows. The figures are from memory, so they caution and never stop."""
    beside = rows_beside(survey)
    words = {0: "single", 1: "double"}
    for name, pairs in _pitches_of_rows(survey).items():
        if not parse_rivet(pairs[0].first.fastener).is_flush:
            continue
        least = limit(f"pitch_min_countersunk_{words.get(len(beside[name]), 'triple')}_row")
        worst = min(pairs, key=lambda pair: pair.distance_in)
        limit_in = least.value * worst.first.diameter_in
        status = judge_at_least(
            worst.distance_in, limit_in, uncertainty=worst.uncertainty_in, short=Status.CAUTION
        )
        yield against(
            "R206",
            status,
            f"row '{name}', shortest at {holes_named(worst.first, worst.second)}",
            value=worst.distance_in,
            limit=limit_in,
            unit="in",
            cited=least,
            formula=f"p >= {least.value:g} D",
            values=(Quantity("D", worst.first.diameter_in, "in"), Quantity("p", worst.distance_in, "in")),
            advice=""
            if status is Status.PASS
            else f"{shortfall_text(limit_in - worst.distance_in)}; confirm the figure in the handbook.",
            holes=(worst.first.number, worst.second.number),
            shortfall=limit_in - worst.distance_in,
            uncertainty=worst.uncertainty_in,
        )


@rule("R207", "Pitch, beyond any reading", "pitch_max")
def pitch_beyond_any_reading(survey: Survey) -> Iterator[Finding]:
    """No pitch is over ten diameters, the longest that any document gives; beyond it the row cannot be shown to work
    and the answer is left to the holder of the data."""
    most = limit("pitch_max")
    over = [p for pairs in _pitches_of_rows(survey).values() for p in pairs]
    over = [pair for pair in over if pair.distance_in > most.value * pair.first.diameter_in + 1e-9]
    for pair in over:
        limit_in = most.value * pair.first.diameter_in
        yield against(
            "R207",
            Status.UNKNOWN,
            f"row '{pair.first.row}' between {holes_named(pair.first, pair.second)}",
            value=pair.distance_in,
            limit=limit_in,
            unit="in",
            cited=most,
            formula=f"p <= {most.value:g} D",
            values=(Quantity("D", pair.first.diameter_in, "in"), Quantity("p", pair.distance_in, "in")),
            advice=f"Longer by {pair.distance_in - limit_in:.3f} than any document allows. Put rivets between.",
            holes=(pair.first.number, pair.second.number),
            shortfall=pair.distance_in - limit_in,
        )


@rule("R208", "Overlap of a double row", "min_overlap_double_row")
def overlap_of_double_row(survey: Survey) -> Iterator[Finding]:
    """Where two rows join doubler and skin the overlap, from the opening's edge to the doubler's, is at least six and a
    half diameters: two for each edge and two and a half between the rows."""
    least = limit("min_overlap_double_row")
    widths: dict[int, list[float]] = defaultdict(list)
    holes: dict[int, Hole] = {}
    beside = rows_beside(survey)
    for row in survey.edges:
        if row.edge.name not in ("opening edge", "doubler outer edge"):
            continue
        for i, hole in enumerate(row.holes):
            if hole.kind == "rivet" and beside[hole.row]:
                widths[hole.number].append(float(row.distance_in[i]))
                holes[hole.number] = hole
    both = {number: sum(pair) for number, pair in widths.items() if len(pair) == 2}
    if not both:
        return
    narrowest = min(both, key=lambda number: both[number] / holes[number].diameter_in)
    hole, width_in = holes[narrowest], both[narrowest]
    limit_in = least.value * hole.diameter_in
    status = judge_at_least(width_in, limit_in, uncertainty=hole.uncertainty_in, short=Status.UNKNOWN)
    yield against(
        "R208",
        status,
        f"overlap of doubler and skin, narrowest at {holes_named(hole)}",
        value=width_in,
        limit=limit_in,
        unit="in",
        cited=least,
        formula=f"overlap >= {least.value:g} D",
        values=(Quantity("D", hole.diameter_in, "in"), Quantity("overlap", width_in, "in")),
        advice=""
        if status is Status.PASS
        else f"{shortfall_text(limit_in - width_in)}: two rows do not fit here. Widen the doubler or use one row.",
        holes=(hole.number,),
        place=(hole.x_in, hole.y_in),
        shortfall=limit_in - width_in,
        uncertainty=hole.uncertainty_in,
    )


@rule("R211", "Stagger of neighbouring rows", "stagger_rows")
def stagger(survey: Survey) -> Iterator[Finding]:
    """Two rows or more are staggered for strength: a hole of one row lies opposite the gap of the next, within a
    quarter of its pitch. It cautions only."""
    navy = limit("stagger_rows")
    rows = survey.layout.rows()
    for found in survey.row_spacings:
        here, there = rows[found.hole.row], rows[found.other_row]
        share = _stagger_ratio(here, there)
        if share is None:
            continue
        is_staggered = share >= 0.25
        yield against(
            "R211",
            Status.PASS if is_staggered else Status.CAUTION,
            f"row '{found.hole.row}' against row '{found.other_row}'",
            value=share,
            limit=0.25,
            unit="of pitch",
            cited=navy,
            formula="holes lie a quarter of the pitch or more from being opposite each other",
            values=(Quantity("offset/pitch", share, ""),),
            advice="" if is_staggered else "The rows stand hole against hole. Move one on by half a pitch.",
            shortfall=0.25 - share,
        )


def _stagger_ratio(here: tuple[Hole, ...], there: tuple[Hole, ...]) -> float | None:
    """Median distance along the row from a hole to the nearest hole of the other row, over the pitch; 0.5 at most.

    None for rows that do not run side by side over at least two holes.
    """
    points, others = points_of(here), points_of(there)
    step = np.diff(others, axis=0)
    length = np.hypot(*step.T)
    along = np.einsum("nkc,kc->nk", points[:, None, :] - others[None, :-1, :], step / length[:, None])
    inside = (along >= 0.0) & (along <= length)
    if int(inside.any(axis=1).sum()) < 2:
        return None
    to_nearest = np.where(inside, np.minimum(along, length - along) / length, np.inf).min(axis=1)
    return float(np.median(to_nearest[np.isfinite(to_nearest)]))
