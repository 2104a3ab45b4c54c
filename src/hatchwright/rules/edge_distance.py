"""R101 to R103: edge distance, from the hole centre to the nearest edge of each part it goes through."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import EdgeDistances, Survey
from hatchwright.register import Shelf
from hatchwright.rules.readings import Judged, by_readings, choose_at_least, in_diameters
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, is_flush, short_text
from hatchwright.tables.cited import Cited
from hatchwright.units import places_to_tell
from hatchwright.workings import Quantity

FLUSH_READINGS = ("handbook, flush heads", "circular, any head")


@rule(
    "R101",
    Shelf.HOLDS,
    limits=("edge_min_single_row_protruding",),
    reads=("distinct_edges",),
    marks_holes=True,
)
def edge_distance_protruding(survey: Survey) -> Iterator[Finding]:
    """R101: edge distance, protruding heads."""
    least = {"": survey.limit("edge_min_single_row_protruding")}
    yield from _edge_distances(
        survey, "R101", least, lambda hole: hole.kind == "rivet" and not is_flush(hole)
    )


@rule(
    "R102",
    Shelf.HOLDS,
    limits=("edge_min_countersunk", "edge_min_single_row_protruding"),
    readings=FLUSH_READINGS,
    reads=("distinct_edges",),
    marks_holes=True,
)
def edge_distance_flush(survey: Survey) -> Iterator[Finding]:
    """R102: edge distance, flush heads."""
    handbook, circular = FLUSH_READINGS
    least = {
        handbook: survey.limit("edge_min_countersunk"),
        circular: survey.limit("edge_min_single_row_protruding"),
    }
    yield from _edge_distances(survey, "R102", least, lambda hole: hole.kind == "rivet" and is_flush(hole))


@rule("R103", Shelf.HOLDS, limits=("cover_screw_edge_distance",), reads=("distinct_edges",), marks_holes=True)
def edge_distance_screws(survey: Survey) -> Iterator[Finding]:
    """R103: edge distance, cover screws."""
    least = {"": survey.limit("cover_screw_edge_distance")}
    yield from _edge_distances(survey, "R103", least, lambda hole: hole.kind == "screw", short=Status.CAUTION)


def _edge_distances(
    survey: Survey,
    code: str,
    least: dict[str, Cited],
    concerns: Callable[[Hole], bool],
    *,
    short: Status = Status.STOP,
) -> Iterator[Finding]:
    for row in survey.distinct_edges():
        chosen = np.flatnonzero([concerns(hole) for hole in row.holes])
        if len(chosen):
            yield from _one_edge(survey, row, chosen, code, least, short)


def _one_edge(
    survey: Survey,
    row: EdgeDistances,
    chosen: npt.NDArray[np.intp],
    code: str,
    least: dict[str, Cited],
    short: Status,
) -> Iterator[Finding]:
    """A measured hole that does not pass speaks for itself; of the others the closest of its row speaks for all."""
    ratio = row.distance_in[chosen] / row.diameter_in[chosen]
    sure = ratio - row.uncertainty_in[chosen] / row.diameter_in[chosen]
    clear = sure >= max(one.value for one in least.values()) - FLOAT_NOISE
    passing, doubtful = chosen[clear], chosen[~clear].tolist()
    alike: dict[tuple[Status, str], list[int]] = {}
    for i in doubtful:
        hole, judged = row.holes[i], _judged(survey, row, i, code, least, short)
        if hole.is_made and judged.status in (Status.STOP, Status.UNKNOWN):
            yield _finding(row, [i], code, judged)
        else:
            alike.setdefault((judged.status, "" if judged.status is Status.PASS else hole.row), []).append(i)
    if len(passing):
        alike.setdefault((Status.PASS, ""), []).extend(passing.tolist())
    for some in alike.values():
        closest = min(some, key=lambda i: row.distance_in[i] / row.diameter_in[i])
        ordered = [closest, *(i for i in some if i != closest)]
        yield _finding(row, ordered, code, _judged(survey, row, closest, code, least, short))


def _judged(
    survey: Survey, row: EdgeDistances, i: int, code: str, least: dict[str, Cited], short: Status
) -> Judged:
    distance_in, u_in = float(row.distance_in[i]), float(row.uncertainty_in[i])
    foot_x_in, foot_y_in = row.foot_in[i].tolist()
    readings = in_diameters(
        least,
        "e",
        distance_in,
        diameter_in=float(row.diameter_in[i]),
        said=", e from the hole centre to the nearest point of the edge",
        more=(
            Quantity("foot X", foot_x_in, "in"),
            Quantity("foot Y", foot_y_in, "in"),
            Quantity("u", u_in, "in"),
        ),
    )
    judged = choose_at_least(
        survey.layout.job,
        code,
        readings,
        distance_in,
        uncertainty=u_in,
        short=short,
    )
    whole = judge_at_least(distance_in, float(row.diameter_in[i]) / 2.0, uncertainty=u_in)
    return judged if whole is Status.PASS else replace(judged, status=whole)


def _finding(row: EdgeDistances, some: list[int], code: str, judged: Judged) -> Finding:
    """One finding on the first of some holes, which speaks for the others."""
    i = some[0]
    hole, distance_in = row.holes[i], float(row.distance_in[i])
    subject = f"{holes_named(hole)} to {row.edge.name} ({row.part.name})"
    if len(some) > 1:
        subject += f"; closest of {len(some)}"
    return by_readings(
        code,
        subject,
        judged,
        value=distance_in,
        unit="in",
        advice=_advice(hole, row, i, judged),
        holes=tuple(sorted(row.holes[j].number for j in some))
        if judged.status is not Status.PASS
        else (hole.number,),
        place=(hole.x_in, hole.y_in),
        shortfall=judged.by.limit - distance_in,
        uncertainty=float(row.uncertainty_in[i]),
    )


def _advice(hole: Hole, row: EdgeDistances, i: int, judged: Judged) -> str:
    distance_in = float(row.distance_in[i])
    if judged.status is Status.PASS:
        return ""
    if distance_in < 0:
        return f"The centre lies off the {row.part.name}. Check the row and the outline."
    if distance_in < hole.diameter_in / 2.0:
        return f"The hole breaks out through the {row.edge.name}. Check the row and the outline."
    missing = short_text(judged.by.limit - distance_in, float(row.uncertainty_in[i]))
    ratio, least = distance_in / hole.diameter_in, judged.by.limit / hole.diameter_in
    said = f"{ratio:.{places_to_tell(ratio, least, 2)}f}D, {missing}"
    if hole.kind == "screw":
        return f"{said} Move the screw line to the middle of the land, or widen the land."
    if not hole.is_made:
        return f"{said} Move the hole or the edge before anything is drilled."
    if row.edge.name == "opening edge":
        remedy = (
            "Enlarge the opening by moving this edge and remake doubler and cover to it, if the data allow; "
            "or ask the holder of the data for a disposition."
        )
    else:
        remedy = "Make the doubler larger, if it is not yet drilled; or ask the holder of the data for a disposition."
    return f"{said} {remedy}"
