"""R1xx: edge distance, from the hole centre to the nearest edge of each part it goes through."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from hatchwright.finding import Finding, Quantity, Status, Working, judge_at_least
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import EdgeDistances, Survey
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, shortfall_text, verdict_text
from hatchwright.tables.cited import Cited
from hatchwright.tables.limits import limit
from hatchwright.tables.rivets import parse_rivet


@rule("R101", "Edge distance, protruding heads", "edge_min_single_row_protruding")
def edge_distance_protruding(survey: Survey) -> Iterator[Finding]:
    """The centre of a protruding-head rivet lies at least two diameters from every edge of every part it goes through,
    measured to the true edge, corner arcs included."""
    yield from _edge_distances(
        survey, "R101", limit("edge_min_single_row_protruding"), lambda hole: _is_rivet(hole, flush=False)
    )


@rule("R102", "Edge distance, flush heads", "edge_min_countersunk")
def edge_distance_flush(survey: Survey) -> Iterator[Finding]:
    """The centre of a flush-head rivet lies at least two and a half diameters from every edge of every part it goes
    through."""
    yield from _edge_distances(
        survey, "R102", limit("edge_min_countersunk"), lambda hole: _is_rivet(hole, flush=True)
    )


@rule("R103", "Edge distance, cover screws", "cover_screw_edge_distance")
def edge_distance_screws(survey: Survey) -> Iterator[Finding]:
    """The centre of a cover screw lies at least two diameters from every edge of every part it goes through; the rivet
    rule applied to screws, common practice without a source, so it cautions only."""
    yield from _edge_distances(
        survey,
        "R103",
        limit("cover_screw_edge_distance"),
        lambda hole: hole.kind == "screw",
        short=Status.CAUTION,
    )


def _is_rivet(hole: Hole, *, flush: bool) -> bool:
    return hole.kind == "rivet" and parse_rivet(hole.fastener).is_flush == flush


def _edge_distances(
    survey: Survey, code: str, least: Cited, concerns: Callable[[Hole], bool], *, short: Status = Status.STOP
) -> Iterator[Finding]:
    for row in survey.edges:
        chosen = [i for i, hole in enumerate(row.holes) if concerns(hole)]
        if chosen:
            yield from _one_edge(row, chosen, code, least, short)


def _one_edge(
    row: EdgeDistances, chosen: list[int], code: str, least: Cited, short: Status
) -> Iterator[Finding]:
    """A measured hole that does not pass speaks for itself; of the others the closest of its row speaks for all."""
    alike: dict[tuple[Status, str], list[int]] = {}
    for i in chosen:
        hole = row.holes[i]
        status = judge_at_least(
            float(row.distance_in[i]),
            least.value * hole.diameter_in,
            uncertainty=_uncertainty_in(row, i),
            short=short,
        )
        if hole.is_made and status in (Status.STOP, Status.UNKNOWN):
            yield _finding(row, [i], code, least, status)
        else:
            same_row = hole.row if status in (Status.STOP, Status.UNKNOWN) else ""
            alike.setdefault((status, same_row), []).append(i)
    for (status, _), some in alike.items():
        ratios = [row.distance_in[i] / row.holes[i].diameter_in for i in some]
        closest = some[int(np.argmin(ratios))]
        yield _finding(row, [closest, *(i for i in some if i != closest)], code, least, status)


def _uncertainty_in(row: EdgeDistances, i: int) -> float:
    return max(row.holes[i].uncertainty_in, row.edge.uncertainty_in)


def _finding(row: EdgeDistances, some: list[int], code: str, least: Cited, status: Status) -> Finding:
    """One finding on the first of some holes, which speaks for the others."""
    i = some[0]
    hole, distance_in = row.holes[i], float(row.distance_in[i])
    limit_in = least.value * hole.diameter_in
    uncertainty_in = _uncertainty_in(row, i)
    subject = f"{holes_named(hole)} to {row.edge.name} ({row.part.name})"
    if len(some) > 1:
        subject += f"; closest of {len(some)}"
    ratio = distance_in / hole.diameter_in
    working = Working(
        formula=f"e >= {least.value:g} D, e from the hole centre to the nearest point of the edge",
        values=(
            Quantity("D", hole.diameter_in, "in"),
            Quantity("e", distance_in, "in"),
            Quantity("foot X", float(row.foot_in[i][0]), "in"),
            Quantity("foot Y", float(row.foot_in[i][1]), "in"),
            Quantity("u", uncertainty_in, "in"),
        ),
        result=Quantity("e/D", ratio, ""),
        source=least.source,
        grade=least.grade,
    )
    return Finding(
        code=code,
        status=status,
        subject=subject,
        value=distance_in,
        limit=limit_in,
        unit="in",
        source=least.source,
        grade=least.grade,
        working=(working,),
        advice=_advice(hole, row, ratio, distance_in, limit_in, uncertainty_in, status),
        holes=tuple(sorted(row.holes[j].number for j in some))
        if status is not Status.PASS
        else (hole.number,),
        place=(hole.x_in, hole.y_in),
        shortfall=max(0.0, limit_in - distance_in),
        uncertainty=uncertainty_in,
    )


def _advice(
    hole: Hole,
    row: EdgeDistances,
    ratio: float,
    distance_in: float,
    limit_in: float,
    uncertainty_in: float,
    status: Status,
) -> str:
    if status is Status.PASS:
        return ""
    if distance_in < 0:
        return f"The centre lies off the {row.part.name}. Check the row and the outline."
    said = f"{ratio:.2f}D, {shortfall_text(limit_in - distance_in)}{verdict_text(status, uncertainty_in)}"
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
