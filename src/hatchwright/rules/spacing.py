"""R201 to R205, R212, R213: spacing of rivets, along the row, between rows, and to fasteners that are there already."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from hatchwright.finding import Finding
from hatchwright.judged import Status, judge_at_least
from hatchwright.layout.layout import Hole, Spacing
from hatchwright.layout.row_spacing import RowSpacing
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.readings import by_readings, choose_at_least, in_diameters
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, short_text
from hatchwright.rules.worst import least_sure, worst
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets import rivet_diameters
from hatchwright.workings import Quantity

DOUBLE_ROW_READINGS = ("circular, double row", "Navy manual, any row")
ROW_SPACING_READINGS = ("military manual", "circular's figure")


@rule("R201", Shelf.HOLDS, limits=("pitch_min_single_row",), reads=("near",), marks_holes=True)
def least_spacing(survey: Survey) -> Iterator[Finding]:
    """R201: spacing, any two rivets."""
    pairs = [pair for pair in survey.near if pair.first.kind == pair.second.kind == "rivet"]
    yield from _spacings("R201", pairs, survey.limit("pitch_min_single_row"), short=Status.STOP)


@rule("R212", Shelf.HOLDS, limits=("new_to_existing_spacing",), reads=("near",), marks_holes=True)
def screws_to_rivets(survey: Survey) -> Iterator[Finding]:
    """R212: spacing of screws to rivets."""
    pairs = [pair for pair in survey.near if pair.first.kind != pair.second.kind]
    yield from _spacings("R212", pairs, survey.limit("new_to_existing_spacing"), short=Status.CAUTION)


def _spacings(code: str, pairs: list[Spacing], least: Cited, *, short: Status) -> Iterator[Finding]:
    """A measured pair that does not pass speaks for itself; of the others the closest of its rows speaks for all."""
    alike: dict[tuple[Status, frozenset[str]], list[Spacing]] = defaultdict(list)
    for pair in pairs:
        status = judge_at_least(
            pair.distance_in, least.value * pair.diameter_in, uncertainty=pair.uncertainty_in, short=short
        )
        if (pair.first.is_made or pair.second.is_made) and status in (Status.STOP, Status.UNKNOWN):
            yield _spacing(code, pair, least, status, "between")
        else:
            rows = frozenset((pair.first.row, pair.second.row)) if status is not Status.PASS else frozenset()
            alike[status, rows].append(pair)
    for (status, _), some in alike.items():
        closest = min(some, key=lambda pair: pair.distance_in / pair.diameter_in)
        where = "closest of all," if status is Status.PASS else f"closest of {len(some)} pairs,"
        yield _spacing(code, closest, least, status, where)


def _spacing(code: str, pair: Spacing, least: Cited, status: Status, where: str) -> Finding:
    remedy = (
        "ask the holder of the data."
        if pair.first.is_made or pair.second.is_made
        else "take fewer before anything is drilled."
    )
    return _against_least(
        code,
        status,
        f"{where} {holes_named(pair.first, pair.second)}",
        pair,
        least,
        of=" of the larger",
        remedy=f"Move one of the holes, or {remedy}",
    )


def least_pitch(
    code: str, row: str, pair: Spacing, least: Cited, *, remedy: str, short: Status = Status.STOP
) -> Finding:
    """The shortest pitch of a row against a least number of diameters.

    Args:
        row: its name.
        pair: of neighbours in it.
        least: the least pitch [D].
        remedy: what to do when it is short.
        short: the answer then.
    Returns:
        Finding: with its working.
    """
    limit_in = least.value * pair.diameter_in
    status = judge_at_least(pair.distance_in, limit_in, uncertainty=pair.uncertainty_in, short=short)
    subject = f"row '{row}', shortest at {holes_named(pair.first, pair.second)}"
    return _against_least(code, status, subject, pair, least, remedy=remedy)


def _against_least(
    code: str, status: Status, subject: str, pair: Spacing, least: Cited, *, remedy: str, of: str = ""
) -> Finding:
    limit_in = least.value * pair.diameter_in
    missing_in = limit_in - pair.distance_in
    return against(
        code,
        status,
        subject,
        value=pair.distance_in,
        limit=limit_in,
        unit="in",
        cited=least,
        formula=f"p >= {least.value:g} D{of}",
        values=(Quantity("D", pair.diameter_in, "in"), Quantity("p", pair.distance_in, "in")),
        advice="" if status is Status.PASS else f"{short_text(missing_in, pair.uncertainty_in)} {remedy}",
        holes=(pair.first.number, pair.second.number),
        place=pair.middle,
        shortfall=missing_in,
        uncertainty=pair.uncertainty_in,
    )


def rivet_pitches(survey: Survey) -> dict[str, list[Spacing]]:
    """The neighbours along each rivet row.

    Returns:
        dict: row name to pairs of neighbours, never none.
    """
    found: dict[str, list[Spacing]] = defaultdict(list)
    for pair in survey.layout.pitches:
        if pair.first.kind == "rivet":
            found[pair.first.row].append(pair)
    return found


def least_pitches(survey: Survey) -> dict[str, tuple[Spacing, ...]]:
    """The neighbours along each rivet row that may be the worst for a least pitch.

    Returns:
        dict: row name to one pair of neighbours, or two; see `worst.least_sure`.
    """
    return {
        row: tuple(
            pairs[k]
            for k in least_sure([one.distance_in for one in pairs], [one.uncertainty_in for one in pairs])
        )
        for row, pairs in rivet_pitches(survey).items()
    }


@rule(
    "R202",
    Shelf.HOLDS,
    limits=("pitch_min_double_row", "pitch_min_absolute"),
    readings=DOUBLE_ROW_READINGS,
    reads=("pattern", "pitches"),
    marks_holes=True,
)
def pitch_in_double_rows(survey: Survey) -> Iterator[Finding]:
    """R202: pitch in double rows."""
    circular, navy = DOUBLE_ROW_READINGS
    least = {circular: survey.limit("pitch_min_double_row"), navy: survey.limit("pitch_min_absolute")}
    for row, pairs in least_pitches(survey).items():
        if len(survey.pattern(row)) == 2:
            yield worst(_double_row(survey, row, pair, least) for pair in pairs)


def _double_row(survey: Survey, row: str, pair: Spacing, least: dict[str, Cited]) -> Finding:
    judged = choose_at_least(
        survey.layout.job,
        "R202",
        in_diameters(least, "p", pair.distance_in, diameter_in=pair.diameter_in),
        pair.distance_in,
        uncertainty=pair.uncertainty_in,
        differ=Status.CAUTION,
    )
    missing_in = judged.by.limit - pair.distance_in
    return by_readings(
        "R202",
        f"row '{row}', shortest at {holes_named(pair.first, pair.second)}",
        judged,
        value=pair.distance_in,
        unit="in",
        advice=""
        if judged.status is Status.PASS
        else f"{short_text(missing_in, pair.uncertainty_in)} Take fewer rivets in the row.",
        holes=(pair.first.number, pair.second.number),
        place=pair.middle,
        shortfall=missing_in,
        uncertainty=pair.uncertainty_in,
    )


@rule("R213", Shelf.HOLDS, limits=("pitch_min_triple_row",), reads=("pattern", "pitches"), marks_holes=True)
def pitch_in_triple_rows(survey: Survey) -> Iterator[Finding]:
    """R213: pitch in triple rows."""
    least = survey.limit("pitch_min_triple_row")
    for row, pairs in least_pitches(survey).items():
        if len(survey.pattern(row)) >= 3:
            yield worst(
                least_pitch("R213", row, pair, least, remedy="Take fewer rivets in the row.")
                for pair in pairs
            )


@rule(
    "R204",
    Shelf.HOLDS,
    limits=("transverse_pitch_min", "transverse_pitch_min_fig4_5"),
    readings=ROW_SPACING_READINGS,
    reads=("row_spacings",),
    marks_holes=True,
)
def row_spacing(survey: Survey) -> Iterator[Finding]:
    """R204: row spacing."""
    manual, figure = ROW_SPACING_READINGS
    least = {
        manual: survey.limit("transverse_pitch_min"),
        figure: survey.limit("transverse_pitch_min_fig4_5"),
    }
    beside: dict[frozenset[str], list[RowSpacing]] = defaultdict(list)
    for found in survey.row_spacings:
        beside[found.rows].append(found)
    for some in beside.values():
        yield worst(_row_spacing(survey, found, least) for found in some)


def _row_spacing(survey: Survey, found: RowSpacing, least: dict[str, Cited]) -> Finding:
    hole, u_in = found.hole, found.uncertainty_in
    judged = choose_at_least(
        survey.layout.job,
        "R204",
        in_diameters(least, "s", found.distance_in, diameter_in=hole.diameter_in),
        found.distance_in,
        uncertainty=u_in,
    )
    missing_in = judged.by.limit - found.distance_in
    return by_readings(
        "R204",
        f"row '{hole.row}' to row '{found.other_row}', closest at {holes_named(hole)}",
        judged,
        value=found.distance_in,
        unit="in",
        advice="" if missing_in <= -u_in else f"{short_text(missing_in, u_in)} Move one of the rows.",
        holes=(hole.number,),
        place=(hole.x_in, hole.y_in),
        shortfall=missing_in,
        uncertainty=u_in,
    )


@rule("R205", Shelf.HOLDS, limits=("new_to_existing_spacing",), reads=("bay", "holes"), marks_holes=True)
def spacing_to_existing(survey: Survey) -> Iterator[Finding]:
    """R205: spacing to existing fasteners."""
    layout, least = survey.layout, survey.limit("new_to_existing_spacing")
    if not layout.holes:
        return
    points = points_of(layout.holes)
    diameters_in = np.array([hole.diameter_in for hole in layout.holes])
    uncertainty_in = np.array([hole.uncertainty_in for hole in layout.holes])
    there: list[tuple[str, npt.NDArray[np.float64], float]] = []
    for row in layout.job.bay.rows:
        at, axis = (row.x, 0) if row.x else (row.y, 1)
        if row.diameter and at:
            there.append((f"row of {row.name}", np.abs(points[:, axis] - at.inch), row.diameter.inch))
    for index, one in enumerate(layout.job.bay.existing, start=1):
        x_in, y_in = one.at[0].inch, one.at[1].inch
        apart = np.hypot(points[:, 0] - x_in, points[:, 1] - y_in)
        there.append((f"existing fastener {index}", apart, one.diameter.inch))
    for name, apart, diameter_in in there:
        needed = least.value * np.maximum(diameters_in, diameter_in)
        yield worst(
            _to_existing(layout.holes[k], float(apart[k]), diameter_in, name, least)
            for k in least_sure(apart - needed, uncertainty_in)
        )
    yield from _rows_of_unknown_size(survey, points, least)


def _rows_of_unknown_size(survey: Survey, points: npt.NDArray[np.float64], least: Cited) -> Iterator[Finding]:
    """Rows so near to a new hole that the largest of rivets would be too near, whose own diameter was not entered."""
    largest_in = least.value * rivet_diameters()[-1].value
    for row in survey.layout.job.bay.rows:
        at, axis = (row.x, 0) if row.x else (row.y, 1)
        if row.diameter or at is None:
            continue
        apart = np.abs(points[:, axis] - at.inch)
        nearest = int(np.argmin(apart))
        if apart[nearest] < largest_in:
            hole = survey.layout.holes[nearest]
            yield against(
                "R205",
                Status.UNKNOWN,
                f"{holes_named(hole)} to row of {row.name}, whose diameter is not given",
                value=float(apart[nearest]),
                limit=None,
                unit="in",
                cited=least,
                advice="Enter the diameter of its fasteners.",
                holes=(hole.number,),
                place=(hole.x_in, hole.y_in),
            )


def _to_existing(hole: Hole, distance_in: float, diameter_in: float, name: str, least: Cited) -> Finding:
    larger_in = max(hole.diameter_in, diameter_in)
    limit_in, u_in = least.value * larger_in, hole.uncertainty_in
    missing_in = limit_in - distance_in
    status = judge_at_least(distance_in, limit_in, uncertainty=u_in)
    return against(
        "R205",
        status,
        f"{holes_named(hole)} to {name}",
        value=distance_in,
        limit=limit_in,
        unit="in",
        cited=least,
        formula=f"p >= {least.value:g} D of the larger",
        values=(Quantity("D", larger_in, "in"), Quantity("p", distance_in, "in")),
        advice=""
        if status is Status.PASS
        else f"{short_text(missing_in, u_in)} Shift the pattern, or pick up the existing hole.",
        holes=(hole.number,),
        place=(hole.x_in, hole.y_in),
        shortfall=missing_in,
        uncertainty=u_in,
    )
