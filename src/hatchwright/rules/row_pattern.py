"""R203, R206 to R208, R211: the pattern of rows, its longest and flush pitches, its overlap and its stagger."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.judged import Status, judge_at_least, judge_at_most
from hatchwright.layout.layout import Hole, Spacing
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.spacing import least_pitch, least_pitches, rivet_pitches
from hatchwright.rules.wording import holes_named, is_flush, over_text, short_text
from hatchwright.rules.worst import least_sure, worst
from hatchwright.tables.cited import Cited
from hatchwright.workings import Quantity


@rule("R203", Shelf.KNOW, limits=("pitch_usual_max",), marks_holes=True)
def longest_pitch(survey: Survey) -> Iterator[Finding]:
    """R203: pitch, longest."""
    most = survey.limit("pitch_usual_max")
    rows = _longest_pitches(survey)
    over = {row: pair for row, pair in rows.items() if _too_long(pair, most) is not Status.PASS}
    for row, pair in over.items():
        yield _longest("R203", f"row '{row}', longest", pair, most, Status.CAUTION, "Close it.")
    if rows and not over:
        pair = max(rows.values(), key=lambda pair: pair.distance_in / pair.diameter_in)
        yield _longest("R203", "longest pitch of all rows,", pair, most, Status.PASS, "")


@rule("R207", Shelf.HOLDS, limits=("pitch_max",), marks_holes=True)
def pitch_beyond_any_reading(survey: Survey) -> Iterator[Finding]:
    """R207: pitch, beyond any reading."""
    most = survey.limit("pitch_max")
    rows = _longest_pitches(survey)
    over = {row: pair for row, pair in rows.items() if _too_long(pair, most) is not Status.PASS}
    for row, pair in over.items():
        advice = "Longer than any document allows: put rivets between."
        yield _longest("R207", f"row '{row}', longest", pair, most, Status.UNKNOWN, advice)
    if rows and not over:
        pair = max(rows.values(), key=lambda pair: pair.distance_in / pair.diameter_in)
        yield _longest("R207", "longest pitch of all rows,", pair, most, Status.PASS, "")


def _longest_pitches(survey: Survey) -> dict[str, Spacing]:
    """Of each rivet row the neighbours that may lie the farthest apart, as far as their uncertainty lets them."""
    return {
        row: max(pairs, key=lambda pair: pair.distance_in + pair.uncertainty_in)
        for row, pairs in rivet_pitches(survey).items()
    }


def _too_long(pair: Spacing, most: Cited) -> Status:
    limit_in = most.value * pair.diameter_in
    return judge_at_most(pair.distance_in, limit_in, uncertainty=pair.uncertainty_in, over=Status.CAUTION)


def _longest(code: str, where: str, pair: Spacing, most: Cited, status: Status, advice: str) -> Finding:
    limit_in = most.value * pair.diameter_in
    over_in = pair.distance_in - limit_in
    said = "" if status is Status.PASS else f"{over_text(over_in, pair.uncertainty_in)} "
    return against(
        code,
        status,
        f"{where} at {holes_named(pair.first, pair.second)}",
        value=pair.distance_in,
        limit=limit_in,
        unit="in",
        cited=most,
        formula=f"p <= {most.value:g} D",
        values=(Quantity("D", pair.diameter_in, "in"), Quantity("p", pair.distance_in, "in")),
        advice=f"{said}{advice}",
        holes=(pair.first.number, pair.second.number),
        place=pair.middle,
        shortfall=over_in,
        uncertainty=pair.uncertainty_in,
    )


@rule(
    "R206",
    Shelf.KNOW,
    limits=(
        "pitch_min_countersunk_single_row",
        "pitch_min_countersunk_double_row",
        "pitch_min_countersunk_triple_row",
    ),
    reads=("pattern",),
    marks_holes=True,
)
def pitch_of_flush_rows(survey: Survey) -> Iterator[Finding]:
    """R206: pitch of flush rivets."""
    words = {1: "single", 2: "double"}
    for row, pairs in least_pitches(survey).items():
        if is_flush(pairs[0].first):
            count = words.get(len(survey.pattern(row)), "triple")
            least = survey.limit(f"pitch_min_countersunk_{count}_row")
            remedy = "Confirm the figure in the handbook."
            yield worst(
                least_pitch("R206", row, pair, least, remedy=remedy, short=Status.CAUTION) for pair in pairs
            )


@rule(
    "R208", Shelf.HOLDS, limits=("min_overlap_double_row",), reads=("edges", "row_spacings"), marks_holes=True
)
def overlap_of_double_row(survey: Survey) -> Iterator[Finding]:
    """R208: overlap of a double row."""
    least = survey.limit("min_overlap_double_row")
    edges = {row.edge.name: row for row in survey.edges}
    opening, outer = edges.get("opening edge"), edges.get("doubler outer edge")
    if opening is None or outer is None:
        return
    paired = {name for found in survey.row_spacings for name in (found.hole.row, found.other_row)}
    to_outer = {hole.number: k for k, hole in enumerate(outer.holes) if hole.row in paired}
    across: list[tuple[Hole, float, float]] = []
    for k, hole in enumerate(opening.holes):
        if (j := to_outer.get(hole.number)) is not None:
            width_in = float(opening.distance_in[k] + outer.distance_in[j])
            across.append((hole, width_in, float(max(opening.uncertainty_in[k], outer.uncertainty_in[j]))))
    if across:
        margins_in = [width_in - least.value * hole.diameter_in for hole, width_in, _ in across]
        chosen = least_sure(margins_in, [u_in for _, _, u_in in across])
        yield worst(_overlap(*across[k], least) for k in chosen)


def _overlap(hole: Hole, width_in: float, u_in: float, least: Cited) -> Finding:
    limit_in = least.value * hole.diameter_in
    status = judge_at_least(width_in, limit_in, uncertainty=u_in, short=Status.UNKNOWN)
    return against(
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
        else f"{short_text(limit_in - width_in, u_in)} Two rows do not fit here: widen the doubler, or use one row.",
        holes=(hole.number,),
        place=(hole.x_in, hole.y_in),
        shortfall=limit_in - width_in,
        uncertainty=u_in,
    )


@rule("R211", Shelf.KNOW, limits=("stagger_rows",), reads=("row_spacings", "rows"), marks_holes=True)
def stagger(survey: Survey) -> Iterator[Finding]:
    """R211: stagger of neighbouring rows."""
    least = survey.limit("stagger_rows")
    for found in {found.rows: found for found in survey.row_spacings}.values():
        share = _stagger_ratio(survey.rows[found.hole.row], survey.rows[found.other_row])
        if share is None:
            continue
        status = judge_at_least(share, least.value, short=Status.CAUTION)
        yield against(
            "R211",
            status,
            f"row '{found.hole.row}' against row '{found.other_row}', {share:.2f} of the pitch from hole against hole",
            value=share,
            limit=least.value,
            unit="of pitch",
            cited=least,
            formula="holes lie a quarter of the pitch or more from being opposite each other",
            values=(Quantity("offset/pitch", share, ""),),
            advice=""
            if status is Status.PASS
            else "The rows stand hole against hole. Move one on by half a pitch.",
            shortfall=least.value - share,
        )


def _stagger_ratio(here: tuple[Hole, ...], there: tuple[Hole, ...]) -> float | None:
    """Median distance along the row from a hole to the nearest hole of the other row, over the pitch; 0.5 at most.

    None for rows that do not run side by side over at least two holes.
    """
    points, others = points_of(here), points_of(there)
    step = np.diff(others, axis=0)
    length = np.maximum(np.hypot(*step.T), 1e-12)
    unit = step / length[:, None]
    to = points[:, None, :] - others[None, :-1, :]
    along = to[..., 0] * unit[:, 0] + to[..., 1] * unit[:, 1]
    inside = (along >= 0.0) & (along <= length) & (length > 1e-9)
    if int(inside.any(axis=1).sum()) < 2:
        return None
    to_nearest = np.where(inside, np.minimum(along, length - along) / length, np.inf).min(axis=1)
    return float(np.median(to_nearest[np.isfinite(to_nearest)]))
