"""R2xx: spacing of rivets, along the row, between rows, and to fasteners that are there already."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator

import numpy as np

from hatchwright.finding import Finding, Quantity, Status, Working, judge_at_least
from hatchwright.layout.survey import Spacing, Survey, points_of
from hatchwright.rules.row_pattern import rows_beside
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, shortfall_text, verdict_text
from hatchwright.tables.cited import Cited
from hatchwright.tables.limits import limit


@rule("R201", "Spacing, any two rivets", "pitch_min_single_row")
def least_spacing(survey: Survey) -> Iterator[Finding]:
    """No two rivets, in one row or in two, lie closer than three diameters of the larger."""
    least = limit("pitch_min_single_row")
    pairs = [pair for pair in survey.near if pair.first.kind == pair.second.kind == "rivet"]
    yield from _spacings("R201", pairs, least, short=Status.STOP)


@rule("R212", "Spacing of screws to rivets", "new_to_existing_spacing")
def screws_to_rivets(survey: Survey) -> Iterator[Finding]:
    """A cover screw keeps three diameters of the larger fastener from every rivet, the rivet rule applied to screws;
    common practice, so it cautions only."""
    least = limit("new_to_existing_spacing")
    pairs = [pair for pair in survey.near if {pair.first.kind, pair.second.kind} == {"rivet", "screw"}]
    yield from _spacings("R212", pairs, least, short=Status.CAUTION)


def _spacings(code: str, pairs: list[Spacing], least: Cited, *, short: Status) -> Iterator[Finding]:
    """A measured pair that does not pass speaks for itself; of the others the closest of its rows speaks for all."""
    alike: dict[tuple[Status, frozenset[str]], list[Spacing]] = defaultdict(list)
    for pair in pairs:
        status = judge_at_least(
            pair.distance_in, _limit_in(pair, least), uncertainty=pair.uncertainty_in, short=short
        )
        if (pair.first.is_made or pair.second.is_made) and status in (Status.STOP, Status.UNKNOWN):
            yield _spacing(code, pair, least, status, "between")
        else:
            rows = (
                frozenset((pair.first.row, pair.second.row))
                if status is not Status.PASS
                else frozenset[str]()
            )
            alike[status, rows].append(pair)
    for (status, _), some in alike.items():
        closest = min(some, key=lambda pair: pair.distance_in / _limit_in(pair, least))
        where = "closest of all," if status is Status.PASS else f"closest of {len(some)} pairs,"
        yield _spacing(code, closest, least, status, where)


@rule("R202", "Pitch in double rows", "pitch_min_double_row")
def pitch_in_double_rows(survey: Survey) -> Iterator[Finding]:
    """Along a row that has one other row beside it the pitch is at least four diameters; a figure of the circular seen
    only restated, so a shorter pitch that still has three diameters cautions."""
    least = limit("pitch_min_double_row")
    beside = rows_beside(survey)
    yield from _pitches(survey, "R202", least, lambda row: len(beside[row]) == 1, at_least=True)


@rule("R203", "Pitch, longest", "pitch_usual_max")
def longest_pitch(survey: Survey) -> Iterator[Finding]:
    """Along a row the pitch is seldom over eight diameters; farther apart the sheets can part and the row cannot be
    trusted to work as one."""
    yield from _pitches(survey, "R203", limit("pitch_usual_max"), lambda row: True, at_least=False)


@rule("R204", "Row spacing", "transverse_pitch_min", "transverse_pitch_min_fig4_5")
def row_spacing(survey: Survey) -> Iterator[Finding]:
    """Neighbouring rows lie at least two and a half diameters apart, square to the row; a figure of the circular, from
    memory, shows two diameters, so between the two the answer is a caution."""
    least, other = limit("transverse_pitch_min"), limit("transverse_pitch_min_fig4_5")
    for found in survey.row_spacings:
        hole = found.hole
        limit_in, other_in = least.value * hole.diameter_in, other.value * hole.diameter_in
        u_in = hole.uncertainty_in
        status = judge_at_least(found.distance_in, limit_in, uncertainty=u_in)
        if (
            status is Status.STOP
            and judge_at_least(found.distance_in, other_in, uncertainty=u_in) is Status.PASS
        ):
            status = Status.CAUTION
        values = (Quantity("D", hole.diameter_in, "in"), Quantity("s", found.distance_in, "in"))
        result = Quantity("s/D", found.distance_in / hole.diameter_in, "")
        said = shortfall_text(limit_in - found.distance_in) + verdict_text(status, u_in)
        yield Finding(
            code="R204",
            status=status,
            subject=f"row '{hole.row}' to row '{found.other_row}', closest at {holes_named(hole)}",
            value=found.distance_in,
            limit=limit_in,
            unit="in",
            source=least.source,
            grade=least.grade,
            working=(
                Working(f"s >= {least.value:g} D", values, result, least.source, least.grade),
                Working(f"s >= {other.value:g} D", values, result, other.source, other.grade),
            ),
            advice="" if status is Status.PASS else f"{said} Move one of the rows.",
            holes=(hole.number,),
            place=(hole.x_in, hole.y_in),
            shortfall=max(0.0, limit_in - found.distance_in),
            uncertainty=u_in,
        )


@rule("R205", "Spacing to existing fasteners", "new_to_existing_spacing")
def spacing_to_existing(survey: Survey) -> Iterator[Finding]:
    """A new hole lies at least three diameters of the larger fastener from every fastener that is there; an existing
    row entered as a line counts along its whole length."""
    layout = survey.layout
    least = limit("new_to_existing_spacing")
    points = points_of(layout.holes)
    if not len(points):
        return
    for row in layout.job.bay.rows:
        if row.diameter is None:
            continue
        along, at = (0, row.x) if row.x else (1, row.y)
        assert at is not None  # a row gives x or y
        yield _to_existing(
            survey, np.abs(points[:, along] - at.inch), row.diameter.inch, f"row of {row.name}", least
        )
    for index, there in enumerate(layout.job.bay.existing, start=1):
        apart = np.hypot(points[:, 0] - there.at[0].inch, points[:, 1] - there.at[1].inch)
        yield _to_existing(survey, apart, there.diameter.inch, f"existing fastener {index}", least)


def _to_existing(survey: Survey, apart: np.ndarray, diameter_in: float, name: str, least: Cited) -> Finding:
    closest = int(np.argmin(apart))
    hole, distance_in = survey.layout.holes[closest], float(apart[closest])
    limit_in = least.value * max(hole.diameter_in, diameter_in)
    status = judge_at_least(distance_in, limit_in, uncertainty=hole.uncertainty_in)
    said = shortfall_text(limit_in - distance_in) + verdict_text(status, hole.uncertainty_in)
    return Finding(
        code="R205",
        status=status,
        subject=f"{holes_named(hole)} to {name}",
        value=distance_in,
        limit=limit_in,
        unit="in",
        source=least.source,
        grade=least.grade,
        working=(
            Working(
                f"p >= {least.value:g} D of the larger",
                (Quantity("D", max(hole.diameter_in, diameter_in), "in"), Quantity("p", distance_in, "in")),
                Quantity("p/D", distance_in / max(hole.diameter_in, diameter_in), ""),
                least.source,
                least.grade,
            ),
        ),
        advice="" if status is Status.PASS else f"{said} Shift the pattern, or pick up the existing hole.",
        holes=(hole.number,),
        place=(hole.x_in, hole.y_in),
        shortfall=max(0.0, limit_in - distance_in),
        uncertainty=hole.uncertainty_in,
    )


def _limit_in(pair: Spacing, least: Cited) -> float:
    return least.value * max(pair.first.diameter_in, pair.second.diameter_in)


def _pitches(
    survey: Survey, code: str, bound: Cited, concerns: Callable[[str], bool], *, at_least: bool
) -> Iterator[Finding]:
    """The pitches of each row against a bound that cautions: one finding a row, at its worst pitch."""
    rows: dict[str, list[Spacing]] = defaultdict(list)
    for pair in survey.pitches:
        if pair.first.kind == "rivet" and concerns(pair.first.row):
            rows[pair.first.row].append(pair)
    for name, pairs in rows.items():
        sign = 1.0 if at_least else -1.0
        worst = min(pairs, key=lambda pair: sign * pair.distance_in)
        status = judge_at_least(
            sign * worst.distance_in,
            sign * _limit_in(worst, bound),
            uncertainty=worst.uncertainty_in,
            short=Status.CAUTION,
        )
        yield _spacing(
            code, worst, bound, status, f"row '{name}', {'shortest' if at_least else 'longest'} at", sign
        )


def _spacing(
    code: str, pair: Spacing, bound: Cited, status: Status, where: str, sign: float = 1.0
) -> Finding:
    limit_in = _limit_in(pair, bound)
    diameter_in = max(pair.first.diameter_in, pair.second.diameter_in)
    missing_in = sign * (limit_in - pair.distance_in)
    if status is Status.PASS:
        advice = ""
    elif sign < 0:
        said = verdict_text(status, pair.uncertainty_in)
        advice = f"Longer than {bound.value:g}D by {missing_in:.3f}{said} Close it."
    else:
        advice = (
            f"{shortfall_text(missing_in)}{verdict_text(status, pair.uncertainty_in)} Move one of the holes, "
        )
        advice += (
            "or ask the holder of the data."
            if pair.first.is_made or pair.second.is_made
            else "or take fewer."
        )
    return Finding(
        code=code,
        status=status,
        subject=f"{where} {holes_named(pair.first, pair.second)}",
        value=pair.distance_in,
        limit=limit_in,
        unit="in",
        source=bound.source,
        grade=bound.grade,
        working=(
            Working(
                f"p {'>=' if sign > 0 else '<='} {bound.value:g} D",
                (Quantity("D", diameter_in, "in"), Quantity("p", pair.distance_in, "in")),
                Quantity("p/D", pair.distance_in / diameter_in, ""),
                bound.source,
                bound.grade,
            ),
        ),
        advice=advice,
        holes=(pair.first.number, pair.second.number),
        place=(
            (pair.first.x_in + pair.second.x_in) / 2.0,
            (pair.first.y_in + pair.second.y_in) / 2.0,
        ),
        shortfall=max(0.0, missing_in),
        uncertainty=pair.uncertainty_in,
    )
