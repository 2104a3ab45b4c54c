"""R104, R105: edge distances that are too long, and that leave no room for the next size."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import Finding, Quantity, Status, judge_at_least
from hatchwright.layout.survey import EdgeDistances, Survey
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, shortfall_text
from hatchwright.tables.limits import limit
from hatchwright.tables.rivets import next_rivet_diameter, parse_rivet


def _riveted_edges(survey: Survey) -> Iterator[tuple[EdgeDistances, list[int]]]:
    """Edges with the rivets through their part; a land that only carries the cover is no riveted edge."""
    for row in survey.edges:
        rivets = [i for i, hole in enumerate(row.holes) if hole.kind == "rivet"]
        if rivets and not _is_land(survey, row):
            yield row, rivets


def _is_land(survey: Survey, row: EdgeDistances) -> bool:
    """Whether the edge is the doubler's inner one, standing inside the opening to carry a flush cover."""
    layout = survey.layout
    return (
        row.edge.name == "doubler inner edge"
        and layout.job.doubler is not None
        and layout.job.doubler.inner is not None
    )


@rule("R104", "Edge distance, longest", "edge_max")
def longest_edge_distance(survey: Survey) -> Iterator[Finding]:
    """The row nearest to an edge lies no more than four diameters from it; farther away the edge can lift. It cautions
    only; a land that carries the cover, and the hole under a mounted base, are left out."""
    if survey.layout.job.mount:
        return
    most = limit("edge_max")
    for row, rivets in _riveted_edges(survey):
        closest = min(rivets, key=lambda i: row.distance_in[i])
        hole, distance_in = row.holes[closest], float(row.distance_in[closest])
        limit_in = most.value * hole.diameter_in
        over = distance_in > limit_in + 1e-9
        yield against(
            "R104",
            Status.CAUTION if over else Status.PASS,
            f"nearest row to the {row.edge.name} ({row.part.name}), closest at {holes_named(hole)}",
            value=distance_in,
            limit=limit_in,
            unit="in",
            cited=most,
            formula=f"e <= {most.value:g} D",
            values=(Quantity("D", hole.diameter_in, "in"), Quantity("e", distance_in, "in")),
            advice="The edge may lift: move the row out, or trim the part." if over else "",
            holes=(hole.number,),
            place=(hole.x_in, hole.y_in),
            shortfall=distance_in - limit_in,
        )


@rule(
    "R105", "Edge distance at the next rivet size", "edge_min_single_row_protruding", "edge_min_countersunk"
)
def edge_distance_at_next_size(survey: Survey) -> Iterator[Finding]:
    """A hole that is spoilt may take the next rivet size only when the edge distance still holds for it, so a layout
    with room to spare keeps two diameters (two and a half, flush) of the next size. It cautions only."""
    for row, rivets in _riveted_edges(survey):
        margins = []
        for i in rivets:
            hole = row.holes[i]
            is_flush = parse_rivet(hole.fastener).is_flush
            least = limit("edge_min_countersunk" if is_flush else "edge_min_single_row_protruding")
            try:
                next_in = next_rivet_diameter(hole.diameter_in, above=True).value
            except TableError:
                continue
            margins.append((float(row.distance_in[i]) - least.value * next_in, i, least, next_in))
        if not margins:
            continue
        margin_in, i, least, next_in = min(margins, key=lambda found: found[0])
        hole, distance_in = row.holes[i], float(row.distance_in[i])
        u_in = max(hole.uncertainty_in, row.edge.uncertainty_in)
        status = judge_at_least(distance_in, least.value * next_in, uncertainty=u_in, short=Status.CAUTION)
        short_of = int(np.sum([found[0] < -1e-9 for found in margins]))
        yield against(
            "R105",
            status,
            f"{holes_named(hole)} to {row.edge.name} ({row.part.name}) with the next size, {next_in:g} in",
            value=distance_in,
            limit=least.value * next_in,
            unit="in",
            cited=least,
            formula=f"e >= {least.value:g} D of the next size",
            values=(Quantity("D next", next_in, "in"), Quantity("e", distance_in, "in")),
            advice=""
            if status is Status.PASS
            else f"{shortfall_text(-margin_in)}; {short_of} of {len(rivets)} holes here could not take the next size. "
            "A spoilt hole would need data.",
            holes=(hole.number,),
            place=(hole.x_in, hole.y_in),
            shortfall=-margin_in,
            uncertainty=u_in,
        )
